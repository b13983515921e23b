"""groundcheck rules."""

from pathlib import Path

import click


@click.command()
@click.argument("rule", required=False)
@click.option("--rules", "folders", multiple=True, type=click.Path(path_type=Path), help="Folder of further rules.")
def rules(rule: str | None, folders: tuple[Path, ...]) -> None:
    """
    List the rules that would run, or show one RULE with its query and examples.

    \b
    Example:
      groundcheck rules
    """
    from groundcheck.audit import describe_rule, find_rule, list_rules, load_rulebooks

    book = load_rulebooks(folders)
    click.echo(list_rules(book) if rule is None else describe_rule(find_rule(book, rule)))
