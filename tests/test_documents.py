"""What the README and the page for contributors show is so."""

import re
from pathlib import Path

import openpyxl
import pandas as pd
import pytest
from click.testing import CliRunner

import groundcheck
from groundcheck.audit import limits_read, load_rulebooks, try_rulebook
from groundcheck.audit.examples import check_examples
from groundcheck.cli import main
from groundcheck.policy import load_policy
from groundcheck.report.workbook import write_workbook
from groundcheck.rule_choices import check_names
from groundcheck.waivers.toml_file import read_waiver_file

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")


def test_rule_shown_to_contributors_passes_its_own_examples():
    (code,) = [block for block in re.findall(r"```python\n(.*?)```", DEVELOPERS, re.S) if "RULE = Rule(" in block]
    names: dict[str, object] = {}
    exec(code, names)
    assert check_examples(names["RULE"]) == []


def test_rule_shown_to_contributors_is_one_file_in_a_folder_of_rules(tmp_path):
    (code,) = [block for block in re.findall(r"```python\n(.*?)```", DEVELOPERS, re.S) if "RULE = Rule(" in block]
    assert len(code.splitlines()) <= 40
    (tmp_path / "busbars").mkdir()
    (tmp_path / "busbars" / "highest_voltage.py").write_text(code, encoding="utf-8")
    assert try_rulebook(load_rulebooks([tmp_path]), [str(tmp_path)]) == []
    bus = {"substation": "ELM", "bus": "B1", "nominal_voltage": 33.0, "highest_voltage": 31.0}
    made = groundcheck.audit({"bus": pd.DataFrame([bus])}, rules=[tmp_path])
    assert "busbars/highest-voltage" in set(made.findings().rule)


def toml_in_the_readme(word, path):
    """The one block of the README that holds a word, as a file."""
    (block,) = [block for block in re.findall(r"```toml\n(.*?)```", README, re.S) if word in block]
    path.write_text(block, encoding="utf-8")
    return path


def test_policy_in_the_readme_is_one(tmp_path):
    policy = load_policy(toml_in_the_readme("[[rule]]", tmp_path / "policy.toml"))
    check_names(policy.choices, limits_read(load_rulebooks(try_queries=False)))
    assert policy["neutral_device.current_margin"] != load_policy()["neutral_device.current_margin"]


def test_waiver_in_the_readme_is_one(tmp_path):
    (waiver,) = read_waiver_file(toml_in_the_readme("[[waiver]]", tmp_path / "waivers.toml"))
    assert waiver.by == "A. Owner"


@pytest.mark.parametrize(
    "command", sorted(set(re.findall(r"(?:`|bin/|^)groundcheck (?!audits)([a-z]+) ", README, re.M)))
)
def test_command_in_the_readme_is_one(command):
    assert command in main.commands


def test_sheets_in_the_readme_are_those_of_the_workbook(sample_store, tmp_path):
    write_workbook(sample_store, tmp_path / "exceptions.xlsx")
    named = [name for row in re.findall(r"^\| ([A-Z][^|]*?) \|", README, re.M) for name in row.split(", ")]
    sheets = openpyxl.load_workbook(tmp_path / "exceptions.xlsx", read_only=True).sheetnames
    assert set(named) | {"Summary"} == set(sheets)


def test_each_set_up_is_one_line_with_its_own_environment():
    lines = [line for line in README.splitlines() if line.startswith("python3 -m venv")]
    assert [("audit sample_inventory" in line, "pytest" in line) for line in lines] == [(True, False), (False, True)]


def test_options_in_the_readme_are_options_of_audit():
    shown = CliRunner().invoke(main, ["audit", "--help"]).output
    for option in set(re.findall(r"groundcheck audit[^`\n]*?(--[a-z-]+)", README)):
        assert option in shown
