"""Making rulebook.html, from the rules at hand or from those of an audit with how often each was answered."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import groupby
from pathlib import Path
from typing import Any

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup, escape

from groundcheck.audit import Rulebook
from groundcheck.audit.catalogue import rule_record
from groundcheck.policy import entry_comments, load_policy
from groundcheck.report.cautions import CAUTIONS
from groundcheck.report.cell_text import clean_text
from groundcheck.report.field_names import kind_in_words
from groundcheck.report.overview import rule_counts
from groundcheck.schema import INVENTORY_TABLES, STUDY_TABLES
from groundcheck.schema.stages.audit import SEVERITIES
from groundcheck.store import Store

_PLACE = re.compile(r"\{(\w+)(?::[^}]*)?\}")


@dataclass(frozen=True)
class _Counts:
    """How often a rule was answered in an audit."""

    exceptions: int
    satisfied: int
    not_assessable: int
    not_applicable: int


def write_rulebook_page(rulebook: Rulebook, path: Path) -> None:
    """Write the page for the rules that would run with the shipped policy."""
    policy = load_policy()
    records = [rule_record(loaded, policy) for loaded in rulebook.rules.values()]
    path.write_text(_page(records, {}, [str(refusal) for refusal in rulebook.refused]), encoding="utf-8")


def write_rulebook_of_audit(store: Store, path: Path) -> None:
    """Write the page for the rules of the audit that the store holds, with how often each was answered."""
    cursor = store.connection.execute("SELECT * FROM audit.rule ORDER BY rule, problem")
    names = [column[0] for column in cursor.description or ()]
    records = [dict(zip(names, row, strict=True)) for row in cursor.fetchall()]
    counts = {rule: _Counts(*numbers) for rule, _, _, *numbers, problem in rule_counts(store) if not problem}
    refused = [str(record["problem"]) for record in records if record["problem"]]
    path.write_text(_page([r for r in records if not r["problem"]], counts, refused), encoding="utf-8")


def _page(records: Iterable[Mapping[str, Any]], counts: Mapping[str, _Counts], refused: list[str]) -> str:
    environment = Environment(
        loader=PackageLoader("groundcheck.report.rulebook_page", "."),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.filters["places"] = _with_places
    rules = sorted(({**_cleaned(record), **_shown(record)} for record in records), key=lambda each: each["rule"])
    subjects = [(name, list(group)) for name, group in groupby(rules, key=lambda each: each["subject"])]
    return environment.get_template("page.html.j2").render(
        subjects=subjects,
        total=len(rules),
        counts=counts,
        refused=[clean_text(each) for each in refused],
        severities=SEVERITIES,
        cautions=CAUTIONS,
    )


def _cleaned(record: Mapping[str, Any]) -> dict[str, Any]:
    return {key: clean_text(value) if isinstance(value, str) else value for key, value in record.items()}


def _shown(record: Mapping[str, Any]) -> dict[str, Any]:
    """What the page shows otherwise than the record has it."""
    subject, _, _ = str(record["rule"]).rpartition("/")
    examples = [line.partition(": ") for line in str(record["examples"] or "").splitlines()]
    return {
        "anchor": str(record["rule"]).replace("/", "--"),
        "subject": subject.replace("-", " ") or "of no subject",
        "asks": "any record" if record["asks"] == "record" else kind_in_words(str(record["asks"])),
        "inputs": [_input(each) for each in record["inputs"] or ()],
        "limits": [_limit(line) for line in str(record["limits"] or "").splitlines()],
        "working": str(record["working"] or "").splitlines(),
        "examples": [(outcome, label) for outcome, _, label in examples],
    }


def _input(name: str) -> tuple[str, str, str]:
    """An input, its unit and what it is."""
    table, _, column = name.partition(".")
    model = INVENTORY_TABLES.get(table) or STUDY_TABLES.get(table)
    facts = model.columns().get(column) if model else None
    return (name, (facts.unit or "") if facts else "", facts.description if facts else "")


def _limit(line: str) -> tuple[str, str, str, str]:
    """Short name, policy entry, value and comment."""
    short, entry, value = [*line.split(" = ", 2), "", ""][:3]
    return short, entry, value, entry_comments().get(entry, "")


def _with_places(template: str) -> Markup:
    """A text of a rule, each place for a number set apart."""
    return Markup(_PLACE.sub(r"<var>\1</var>", str(escape(template))))
