"""groundcheck policy."""

from pathlib import Path

import click


@click.command()
@click.option("--policy", "file", type=click.Path(path_type=Path), help="TOML file over the default policy.")
def policy(file: Path | None) -> None:
    """
    Print the default policy, or the policy in force with FILE.

    \b
    Example:
      groundcheck policy
    """
    from groundcheck.policy import load_policy, policy_text

    click.echo(policy_text(load_policy(file)), nl=False)
