"""Setting the memoranda: data and template to a PDF, and what is wrong with an owner's template in one line."""

import json
import re
from collections.abc import Sequence
from datetime import UTC, datetime
from importlib.resources import files
from pathlib import Path
from typing import Any, cast
from unicodedata import category

import typst

from groundcheck.errors import TemplateError
from groundcheck.report.memorandum.document import document
from groundcheck.report.memorandum.plain_text import BREAK, MANY_BREAK, on_paper
from groundcheck.store import Store

PAPERS = ("a4", "us-letter")
_STANDARDS = ["ua-1", "a-2a"]  # PDF/UA-1 and PDF/A-2a: read aloud, and kept; what the shipped template satisfies
_NO_GLYPH = re.compile(r"the text `\"(.*?)\"` could not be displayed")
_PLACE = re.compile(r"┌─ (.*):(\d+):(\d+)")


def shipped_template() -> str:
    """The template that is used where an owner gives none."""
    return (files("groundcheck.report.memorandum") / "memorandum.typ").read_text(encoding="utf-8")


def write_memoranda(
    store: Store,
    path: Path,
    *,
    template: Path | None = None,
    districts: Sequence[str] = (),
    substations: Sequence[str] = (),
    paper: str = "a4",
) -> None:
    """
    Write one PDF: a memorandum for each district and station named, or, if none is, for each district of the fleet.

    `template` is an owner's in place of the shipped one, `paper` one of PAPERS or what else typst knows. The same
    store gives the same bytes.

    Raises
    ------
    NoSuchStation
        The store does not hold a district or station that was named.
    TemplateError
        The template can't be read, or does not compile; the line is named.
    """
    if template is not None and not template.is_file():
        raise TemplateError(f"{template}: no such file; groundcheck memorandum --print-template shows the shipped one")
    data = on_paper(document(store, paper, districts, substations))
    content = _compiled(data, template)
    path.write_bytes(content)  # nothing is written before all is set


def _compiled(data: dict[str, Any], template: Path | None) -> bytes:
    text = json.dumps(data, ensure_ascii=False)
    unusual = {letter for letter in set(text) if ord(letter) > 0x24F} - {BREAK, MANY_BREAK}
    with_system_fonts = template is not None
    missing = _without_glyph(unusual, with_system_fonts)
    if missing and not with_system_fonts:
        with_system_fonts = True
        missing = _without_glyph(missing, with_system_fonts)
    # Private and unassigned letters have no meaning outside the program that wrote them; PDF/A refuses them.
    missing |= {letter for letter in unusual if category(letter) in ("Co", "Cn", "Cs")}
    for letter in sorted(missing):
        text = text.replace(letter, f"[U+{ord(letter):04X}]")
    made_at = _made_at(data)
    try:
        return _set(text, template, made_at, with_system_fonts)
    except typst.TypstError as error:
        if template is not None:
            raise TemplateError(_in_one_line(template, error)) from error
        if not unusual:
            raise  # the shipped template is ours
    # Each letter has a glyph, and yet some joined to others have none that the standards admit.
    for letter in sorted(unusual):
        text = text.replace(letter, f"[U+{ord(letter):04X}]")
    return _set(text, template, made_at, with_system_fonts)


def _set(text: str, template: Path | None, made_at: int, with_system_fonts: bool) -> bytes:
    own = {"pdf_standards": _STANDARDS} if template is None else {"root": str(template.resolve().parent)}
    made = typst.compile(
        shipped_template().encode() if template is None else str(template),
        format="pdf",
        ignore_system_fonts=not with_system_fonts,
        sys_inputs={"data": text},
        timestamp=made_at,
        **own,
    )
    return cast(bytes, made)


def _without_glyph(letters: set[str], with_system_fonts: bool) -> set[str]:
    """The letters that no font at hand can show: a PDF that must be accessible is refused with them."""
    if not letters:
        return set()
    page = (
        '#set document(title: "letters")\n#set text(font: "Libertinus Serif")\n'
        "#for letter in json(bytes(sys.inputs.letters)) [#letter\n\n]"
    )
    try:
        typst.compile(
            page.encode(),
            format="pdf",
            ignore_system_fonts=not with_system_fonts,
            pdf_standards="ua-1",
            sys_inputs={"letters": json.dumps(sorted(letters))},
        )
    except typst.TypstError as error:
        refused = "".join(_NO_GLYPH.findall(error.diagnostic))
        return {letter for letter in letters if letter in refused or f"\\u{{{ord(letter):x}}}" in refused}
    return set()


def _in_one_line(template: Path, error: typst.TypstError) -> str:
    found = _PLACE.search(error.diagnostic)
    line = f", line {found[2]}" if found else ""
    where = f"{template}{line}"
    if found and Path(found[1]).name != template.name:
        where = f"{template}, in {found[1]}{line}"
    hints = "".join(f"; {hint}" for hint in error.hints)
    return f"{where}: {' '.join(error.message.split())}{hints}"


def _made_at(data: dict[str, Any]) -> int:
    """Seconds since 1970 of the audit, which is the date of the document."""
    try:
        made_at = datetime.fromisoformat(str(data["audit"]["made_at"]).replace(BREAK, ""))
    except ValueError:
        return 0
    return int((made_at if made_at.tzinfo else made_at.replace(tzinfo=UTC)).timestamp())
