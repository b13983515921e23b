"""Memoranda of records made by hand: hostile text, waivers, too many findings, an owner's template."""

import re
import shutil
import subprocess
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from groundcheck.errors import NoSuchStation, TemplateError
from groundcheck.report.memorandum import document as document_module
from groundcheck.report.memorandum import shipped_template, write_memoranda
from groundcheck.report.memorandum.document import document
from groundcheck.report.memorandum.plain_text import BREAK, MANY_BREAK, on_paper, paper_text
from groundcheck.report.memorandum.shown import share_out
from groundcheck.store import Store

needs_poppler = pytest.mark.skipif(shutil.which("pdftotext") is None, reason="needs poppler-utils (pdftotext)")
MARKUP = '#panic("ran") $x$ *bold* _it_ `raw` @ref <label> #eval("1") [b] \\ // cut = head'
LONG = "x" * 3000


def text_of(path: Path) -> str:
    return subprocess.run(["pdftotext", "-raw", str(path), "-"], capture_output=True, text=True, check=True).stdout


def squeezed(text: str) -> str:
    return re.sub(r"\s+", "", text)


@needs_poppler
def test_text_of_a_record_is_never_read_as_markup(
    empty_store: Store,
    fill: Callable[..., None],
    finding: dict[str, Any],
    hostile_texts: dict[str, str],
    tmp_path: Path,
) -> None:
    texts = {**hostile_texts, "typst": MARKUP, "long": LONG, "unshown": "\ue123 \U00013000 漢"}
    fields = ("message", "working", "remedy", "caution", "basis", "asset", "item", "actual", "waiver", "source_file")
    for number, hostile in enumerate(texts.values()):
        row = finding | dict.fromkeys((*fields, "sheet", "cell", "unit"), hostile) | {"finding": f"f-{number}"}
        fill(empty_store, "audit.finding", row)
        fill(empty_store, "audit.evidence", {
            "finding": f"f-{number}", "position": 1, "role": "input", "computed": False, "input": hostile,
            **dict.fromkeys(("asset", "value", "unit", "source_file", "sheet", "cell", "found"), hostile),
        })  # fmt: skip
        name = hostile[:200]
        fill(empty_store, "inventory.substation", {"substation": f"ASH{number}", "name": name, "owner": name})
    fill(empty_store, "inventory.substation", {"substation": "ASH", "name": MARKUP, "district": MARKUP})
    write_memoranda(empty_store, tmp_path / "out.pdf", substations=["ASH"])
    held = squeezed(text_of(tmp_path / "out.pdf"))
    for name in ("formula", "call", "plus", "markup", "rich", "escape", "link"):
        assert held.count(squeezed(texts[name])) >= len(fields), name
    assert squeezed(MARKUP) in held
    assert "x" * 3000 in re.sub(r"[^x]", "", held)
    assert "abcd" in held
    assert "U+E123" in held or "\ue123" in held


def test_a_long_word_can_be_broken_and_nothing_else_of_it_changes() -> None:
    assert paper_text("short words stay") == "short words stay"
    word = "quillmoor_electrical_register.xlsx"
    assert paper_text(word).replace(BREAK, "") == word
    assert max(len(part) for part in paper_text(LONG).split(MANY_BREAK)) <= 16
    assert paper_text("a\u202eb\u2066c") == "abc"
    assert on_paper({"n": float("inf"), "m": float("nan"), "d": [1, True, None]}) == {
        "n": "no limit", "m": None, "d": [1, True, None],
    }  # fmt: skip


@needs_poppler
def test_waivers_in_force_stand_apart_from_those_that_lapsed(
    filled_store: Store, fill: Callable[..., None], tmp_path: Path
) -> None:
    waiver = {"rule": "neutral-devices/rated-current", "substation": "ASH", "asset_kind": "neutral_device"}
    for name, state, who in (("f-1", "in_force", "R. Ibbot"), ("f-2", "expired", "K. Lund")):
        fill(filled_store, "audit.waiver", waiver | {
            "finding": name, "state": state, "accepted_by": who, "reason": "spare ordered", "asset": name,
        })  # fmt: skip
    write_memoranda(filled_store, tmp_path / "out.pdf", districts=["North"])
    told = " ".join(text_of(tmp_path / "out.pdf").split())
    in_force, lapsed = told.index("In force"), told.index("No longer in force")
    assert in_force < told.index("R. Ibbot") < lapsed < told.index("K. Lund")
    assert "lapsed: the finding is open again" in told


def test_beyond_the_room_no_finding_is_lost_but_counted(
    filled_store: Store, finding: dict[str, Any], fill: Callable[..., None], monkeypatch: pytest.MonkeyPatch
) -> None:
    more = [finding | {"finding": f"g-{number}", "asset": f"NR{number}"} for number in range(30)]
    fill(filled_store, "audit.finding", *more)
    filled_store.connection.execute("UPDATE audit.outcome SET exceptions = 32 WHERE substation = 'ASH'")
    monkeypatch.setattr(document_module, "FINDINGS_IN_FULL", 20)
    monkeypatch.setattr(document_module, "HIGH_IN_FULL", 12)
    made = document(filled_store, "a4")
    assert made["shortened"]
    assert made["findings_in_full"] == 12
    counts = [memo["counts"] for memo in made["memoranda"]]
    assert sum(each["in_full"] + each["not_shown"] for each in counts) == made["findings"] == 33
    shown = [each for memo in made["memoranda"] for chapter in memo["chapters"] for each in chapter["findings"]]
    assert {each["severity"] for each in shown} == {"high"}
    one = document(filled_store, "a4", districts=["North"])
    assert not one["shortened"]
    assert one["memoranda"][0]["counts"]["in_full"] == 32


def test_room_is_shared_out_so_that_few_are_not_crowded_out_by_many() -> None:
    assert share_out([500, 3, 40], 60) == [29, 3, 28]
    assert share_out([2, 3], 60) == [2, 3]
    assert share_out([], 60) == []


@needs_poppler
def test_an_owner_can_replace_the_template(filled_store: Store, tmp_path: Path) -> None:
    own = tmp_path / "ours.typ"
    own.write_text(
        "#let data = json(bytes(sys.inputs.data))\n#for memo in data.memoranda [\n= Ours: #memo.name\n"
        '#for chapter in memo.chapters [#chapter.findings.map(each => each.finding).join(", ")\n\n]]\n'
    )
    write_memoranda(filled_store, tmp_path / "out.pdf", template=own)
    told = text_of(tmp_path / "out.pdf")
    assert "Ours: North\nf-1, f-2" in told
    assert "Ours: South\nf-3" in told


def test_the_template_runs_nothing_that_a_record_says() -> None:
    code = "\n".join(line for line in shipped_template().splitlines() if not line.startswith("//"))
    assert "eval" not in code


@pytest.mark.parametrize(
    ("template", "message"),
    [
        ("= Fine\n#let data = json(bytes(sys.inputs.data))\n#data.nothing\n", r"line 3: .*does not contain key"),
        ("= Fine\n#let x = (\n", r"line 2: unclosed delimiter"),
        ('\n\n\n#panic("no logo")\n', r"line 4: panicked with: .*no logo"),
    ],
)
def test_a_fault_of_an_owners_template_is_one_line_and_nothing_is_written(
    filled_store: Store, tmp_path: Path, template: str, message: str
) -> None:
    own = tmp_path / "ours.typ"
    own.write_text(template)
    with pytest.raises(TemplateError, match=f"ours.typ, {message}") as caught:
        write_memoranda(filled_store, tmp_path / "out.pdf", template=own)
    assert "\n" not in str(caught.value)
    assert not (tmp_path / "out.pdf").exists()


def test_what_is_not_in_the_store_is_named_with_the_nearest(filled_store: Store, tmp_path: Path) -> None:
    with pytest.raises(NoSuchStation, match=r"^no district Nort in the store; nearest is North$"):
        write_memoranda(filled_store, tmp_path / "out.pdf", districts=["Nort"])
    with pytest.raises(NoSuchStation, match=r"^no station ASHE in the store; nearest is ASH$"):
        write_memoranda(filled_store, tmp_path / "out.pdf", substations=["ASHE"])
    with pytest.raises(TemplateError, match=r"none\.typ: no such file; groundcheck memorandum --print-template shows"):
        write_memoranda(filled_store, tmp_path / "out.pdf", template=tmp_path / "none.typ")
    assert list(tmp_path.iterdir()) == []
