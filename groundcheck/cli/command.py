"""The command and its sub-commands."""

from typing import Any

import click
import duckdb

from groundcheck.cli.audit import audit
from groundcheck.cli.columns import columns
from groundcheck.cli.compare import compare
from groundcheck.cli.data import data
from groundcheck.cli.figure import figure
from groundcheck.cli.finding import finding
from groundcheck.cli.memorandum import memorandum
from groundcheck.cli.policy import policy
from groundcheck.cli.reports import reports
from groundcheck.cli.rules import rules
from groundcheck.cli.template import template
from groundcheck.cli.waivers import waivers
from groundcheck.errors import GroundcheckError


class OneLineErrors(click.Group):
    """A group that turns what a request got wrong into one line and exit status 2."""

    def invoke(self, ctx: click.Context) -> Any:
        """Run the sub-command."""
        try:
            return super().invoke(ctx)
        except GroundcheckError as error:
            click.echo(f"groundcheck: {' '.join(str(error).split())}", err=True)
            ctx.exit(2)
        except (KeyboardInterrupt, click.Abort, duckdb.InterruptException, RuntimeError) as error:
            if isinstance(error, RuntimeError) and not _stopped_a_query(error):
                raise
            click.echo("groundcheck: stopped; what was there before is left as it was", err=True)
            ctx.exit(130)


def _stopped_a_query(error: RuntimeError) -> bool:
    """Whether it is what the database makes of Ctrl-C; click's own ways to end are such errors too."""
    return isinstance(error, click.Abort) or str(error) == "Query interrupted"


@click.group(cls=OneLineErrors)
@click.version_option(package_name="groundcheck")
def main() -> None:
    """
    Audit the neutral-grounding records of a fleet of substations.

    Exit status: 0 no finding at or above the severity asked for, 1 there are, 2 the request could not be met,
    130 it was stopped with Ctrl-C.

    \b
    Example:
      groundcheck audit sample_inventory
    """


for command in (
    *(audit, reports, memorandum, figure, data, finding, compare),
    *(columns, template, rules, policy, waivers),
):
    main.add_command(command)
