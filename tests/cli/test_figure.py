"""Figures for documents from the command line."""

from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from groundcheck.cli import main
from groundcheck.cli.figure import KINDS
from groundcheck.report.figures import KINDS as DRAWN


@pytest.fixture(scope="module")
def store(sample_file: Path) -> Path:
    return sample_file


def draw(store: Path, out: Path, *words: str) -> Result:
    return CliRunner().invoke(
        main, ["figure", *words, "--store", str(store), "--out", str(out)], catch_exceptions=False
    )


def test_the_kinds_offered_are_those_drawn() -> None:
    assert KINDS == DRAWN


@pytest.mark.parametrize(
    "words",
    [
        ("fleet",),
        ("margins", "--dark"),
        ("blocking-fields",),
        ("one-line", "--station", "HAR"),
        ("phasors", "--zone", "LIN:B20"),
        ("phasors", "--station", "QM5", "--zone", "QM1:A66"),
    ],
)
@pytest.mark.parametrize(("suffix", "start"), [(".svg", b"<svg"), (".PNG", b"\x89PNG")])
def test_every_kind_is_written(store: Path, tmp_path: Path, words: tuple[str, ...], suffix: str, start: bytes) -> None:
    path = tmp_path / f"figures/one{suffix}"
    result = draw(store, path, *words)
    assert result.exit_code == 0, result.output
    assert path.read_bytes().startswith(start)
    title, description = result.stdout.splitlines()[:2]
    assert title.endswith(".")
    assert any(letter.isdigit() for letter in description)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("one-line", "--station", "HAX"), "no station HAX on record; nearest is HAR"),
        (("one-line",), "one-line is drawn of one station; name it with --station, such as ARD"),
        (("phasors", "--zone", "LIN:B2"), "no grounding zone LIN:B2 in the store; nearest is LIN:B20"),
        (
            ("phasors", "--station", "HAR"),
            "HAR lies in 2 grounding zones; name one with --zone: ARD:M110, BRN:B33",
        ),
        (("phasors", "--station", "HAR", "--zone", "ARD:M11"), "no grounding zone ARD:M11 at HAR; nearest is ARD:M110"),
        (("trend",), "The store holds one audit; a trend needs two."),
    ],
)
def test_what_cannot_be_drawn_is_one_line(store: Path, tmp_path: Path, words: tuple[str, ...], said: str) -> None:
    result = draw(store, tmp_path / "x.svg", *words)
    assert result.exit_code == 2
    assert result.stderr == f"groundcheck: {said}\n"


def test_a_file_of_another_kind_is_refused(store: Path, tmp_path: Path) -> None:
    result = draw(store, tmp_path / "x.gif", "fleet")
    assert (
        result.stderr == f"groundcheck: {tmp_path / 'x.gif'}: a figure is written as .svg or .png; name such a file\n"
    )
