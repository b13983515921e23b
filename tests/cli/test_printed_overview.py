"""What the terminal tells at the end of an audit, and what the other sub-commands print."""

import re
import tomllib
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from sample_audit import FIRST_DAY, SAMPLE

from groundcheck.audit import load_rulebooks
from groundcheck.cli import main
from groundcheck.policy import load_policy, policy_text
from groundcheck.report.cautions import CAUTION_LINE

REPORTS = (
    *("exceptions.xlsx", "report.html", "inspection_findings.pdf", "data_requests.xlsx", "findings.csv"),
    *("outcomes.csv", "rulebook.html", "ingest_log.txt", "annotated", "data"),
)


@pytest.fixture(scope="module")
def audited(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Result]:
    """The sample inventory audited with every report, and what was said of it."""
    out = tmp_path_factory.mktemp("audited") / "reports"
    wished = ("--annotate", "--sheet-by-district", "--data", "csv", "--junit", str(out.parent / "junit.xml"))
    words = ("audit", str(SAMPLE), "--out", str(out), "--as-of", str(FIRST_DAY))
    return out, CliRunner().invoke(main, [*words, *wished], catch_exceptions=False)


def test_audit_tells_what_was_read_found_and_where_the_reports_are(audited: tuple[Path, Result]) -> None:
    out, result = audited
    lines = result.stdout.splitlines()
    labels = [line.split()[0] for line in lines if line]
    for label in ("read", "rows", "findings", "result"):
        assert label in labels
    assert [line for line in lines if line.startswith(str(out.parent))] == [
        *(str(out / name) for name in REPORTS),
        str(out.parent / "junit.xml"),
    ]
    assert sorted(path.name for path in out.iterdir()) == sorted(REPORTS)
    assert lines[-1] == CAUTION_LINE


def test_annotate_adds_the_marked_copies(audited: tuple[Path, Result]) -> None:
    assert sorted(path.suffix for path in (audited[0] / "annotated").iterdir()) == [".xlsx"] * 5


def test_help_names_every_report() -> None:
    told = CliRunner().invoke(main, ["audit", "--help"]).stdout
    again = CliRunner().invoke(main, ["reports", "--help"]).stdout
    for name in (*REPORTS, "report_stations"):
        assert name in told
        assert name in again


def test_progress_goes_to_standard_error_a_line_a_stage(audited: tuple[Path, Result]) -> None:
    lines = audited[1].stderr.splitlines()
    assert [line.split(":")[0] for line in lines] == [
        *("reading", "recognizing tables", "storing", "study", "rules", "reports")
    ]
    rules = len(load_rulebooks(try_queries=False).rules)
    assert re.fullmatch(rf"rules: {rules} in \d+\.\d s", lines[-2])
    assert re.fullmatch(r"reports: 11 in \d+\.\d s", lines[-1])


def test_quiet_audit_tells_results_only(run: Callable[..., Result]) -> None:
    result = run("audit", "sample_inventory", "--quiet")
    assert result.stderr == ""
    assert result.stdout.splitlines()[-1] == CAUTION_LINE


def test_unreadable_file_is_named(run: Callable[..., Result], folder: Path) -> None:
    (folder / "sample_inventory" / "broken.xlsx").write_bytes(b"PK\x03\x04 cut short")
    result = run("audit", "sample_inventory")
    assert result.exit_code == 0
    assert "broken.xlsx" in result.stdout


def test_refused_rule_is_named_with_its_reason(run: Callable[..., Result], folder: Path) -> None:
    (folder / "own").mkdir()
    (folder / "own" / "spare.py").write_text('"""A file that is no rule."""\nRULE = 1\n')
    result = run("audit", "sample_inventory", "--rules", "own")
    assert result.exit_code == 0
    assert [line for line in result.stdout.splitlines() if line.startswith("refused") and "spare" in line]
    listed = run("rules", "--rules", "own").stdout.splitlines()
    assert [line for line in listed if line.startswith("refused: ") and "spare" in line]


def test_rule_page_shows_query_and_examples(run: Callable[..., Result]) -> None:
    name = run("rules").stdout.split()[1]
    page = run("rules", name).stdout
    for part in (name, "severity", "basis", "SELECT", "examples", "exception"):
        assert part in page


def test_proposed_columns_are_toml(run: Callable[..., Result]) -> None:
    assert tomllib.loads(run("columns", "sample_inventory").stdout) is not None


def test_printed_policy_is_the_policy_in_force(run: Callable[..., Result], folder: Path) -> None:
    (folder / "own.toml").write_text('[ground_relay]\nreach = 2\nstanding_fault_functions = "a \\"quoted\\" \\\\d"\n')
    printed = run("policy", "--policy", "own.toml").stdout
    (folder / "again.toml").write_text(printed)
    assert load_policy(folder / "again.toml").entries == load_policy(folder / "own.toml").entries
    assert "reach = 2.0  # set by the owner; shipped: 1.5" in printed


def test_shipped_policy_is_printed_as_it_is_kept() -> None:
    policy = load_policy()
    assert tomllib.loads(policy_text(policy)) == policy.tree


def test_dictionary_alone_needs_no_workbook(run: Callable[..., Result], folder: Path) -> None:
    assert run("template", "--dictionary", "page.md").exit_code == 0
    assert (folder / "page.md").read_text(encoding="utf-8").startswith("# Data dictionary")


def test_template_without_a_file_asks_for_one(run: Callable[..., Result]) -> None:
    result = run("template")
    assert result.exit_code == 2
    assert "name the workbook to write, or --dictionary FILE" in result.stderr
