"""The README of the sample inventory: the scenario, and the answer key that the audit is held to."""

from collections.abc import Iterable, Sequence
from dataclasses import astuple
from typing import Any

from register import Register

SCENARIO = """\
# Sample inventory

An invented owner's records, as its districts would send them in. No company, place or person here is real.

Ormscar Vale Electricity runs 19 substations in three districts, 110 kV down to 400 V at 50 Hz. Quillmoor Board Mill,
its largest customer, runs five more and counts here as the fourth district. Each district keeps its own workbook in
its own way.

{stories}

`python tests/sample_fleet/build.py` writes all files in this folder, this one included. `tests/test_sample_fleet.py`
holds the audit to the tables below: every finding listed is found, and nothing else is.

Stations without a finding: {clean}.

The key holds for audits as of any day from {first} to {last}. After that the records of the stations
become old and inspections overdue, as they would at any owner's, and an audit says so. With `--as-of {first}`
it answers as of the first day.
"""

# What is overdue is so by the first day, and nothing else is before the last.
KEY_HOLDS = ("2025-04-01", "2030-01-28")

FINDINGS = """
## Findings

Each defect was put in on purpose and gives one finding; where one cause rightly gives two, both are listed and the
words of the second say 'the same'. All plant that is not listed is sound: rated for its duty, grounded as declared,
detected, bonded, inspected.

"""

WAITING = """
## Quarantine

Rows that can't be used, each with the reason it must be given. `asset` is the tag as written in the row.

"""

UNREAD = """
## Cells that can't be read

The row is used; the field stays blank.

"""

QUESTIONS = """
## Expected questions

Checks for which the record is too thin. Each is not assessable, and names the field to ask the district for.

"""

ASKED = """
## To be settled

What a file leaves open. Until a person says it in a column map, the cells count as not on record.

"""


def readme(registers: Sequence[Register]) -> str:
    """The whole README as Markdown."""
    seeds = sorted(astuple(s) for r in registers for s in r.seeds)
    defective = {station for _, station, *_ in seeds}
    return "".join(
        (
            SCENARIO.format(
                stories="\n\n".join(f"{r.story} File: `{r.file}`." for r in registers),
                clean=", ".join(sorted(_stations(registers) - defective)),
                first=KEY_HOLDS[0],
                last=KEY_HOLDS[1],
            ),
            FINDINGS,
            _table(("rule", "station", "asset kind", "asset", "what was seeded"), seeds),
            WAITING,
            _table(
                ("file", "station", "table", "asset", "reason", "what is wrong with it"),
                sorted((r.file, *astuple(w)) for r in registers for w in r.waiting),
            ),
            UNREAD,
            _table(
                ("file", "station", "table", "asset", "field", "what is written there"),
                sorted((r.file, *astuple(u)) for r in registers for u in r.unread),
            ),
            QUESTIONS,
            _table(
                ("rule", "station", "asset kind", "asset", "field to ask for"),
                sorted(astuple(q) for r in registers for q in r.questions),
            ),
            ASKED,
            _table(
                ("file", "cell", "subject", "what is open"),
                sorted((r.file, *astuple(a)) for r in registers for a in r.asked),
            ),
        )
    )


def _stations(registers: Iterable[Register]) -> set[str]:
    """Stations listed in the first sheet of each workbook; a register without one lists none."""
    return {
        str(row[0])
        for register in registers
        if not register.file.endswith(".csv")
        for row in register.sheets[0].tables[0].row_cells()
    }


def _table(headings: Sequence[str], rows: Iterable[Sequence[Any]]) -> str:
    lines = [headings, ["---"] * len(headings), *rows]
    return "".join("| " + " | ".join(str(cell) for cell in line) + " |\n" for line in lines)
