"""groundcheck rules."""

from pathlib import Path

import click

from groundcheck.cli.progress import quiet_option


@click.command()
@click.argument("rule", required=False)
@click.option("--rules", "folders", multiple=True, type=click.Path(path_type=Path), help="Folder of further rules.")
@click.option("--check", is_flag=True, help="Run the examples of the folders' rules, or of all, and try each limit.")
@click.option("--page", type=click.Path(path_type=Path), help="Write the whole rulebook as one page, .html.")
@quiet_option
@click.pass_context
def rules(
    ctx: click.Context, rule: str | None, folders: tuple[Path, ...], check: bool, page: Path | None, quiet: bool
) -> None:
    """
    List the rules that would run, or show one RULE with its query and examples.

    With --check every example must give the outcome that its label says, and some example must notice if a comparison
    takes the other side or a limit is half as large again; exit status 1 if not.

    \b
    Example:
      groundcheck rules
    """
    from groundcheck.audit import describe_rule, find_rule, list_rules, load_rulebooks, try_rulebook
    from groundcheck.cli.progress import shown_progress
    from groundcheck.report.rulebook_page import write_rulebook_page

    book = load_rulebooks(folders)
    if check:
        own = [str(folder) for folder in folders] or None
        tried = [loaded for loaded in book.rules.values() if own is None or loaded.rulebook in own]
        with shown_progress(quiet) as progress:
            problems = try_rulebook(book, own, progress)
        click.echo("\n".join([*problems, f"{len(tried)} rules tried, {len(problems)} problems"]))
        ctx.exit(1 if problems else 0)
    if page is not None:
        write_rulebook_page(book, page)
        click.echo(page)
        return
    click.echo(list_rules(book) if rule is None else describe_rule(find_rule(book, rule)))
