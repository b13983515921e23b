"""The inputs of each finding: value, unit, and the cell that it was read from."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from typing import Any

from groundcheck.audit.inputs import Input, inputs_of, locate
from groundcheck.audit.rule import Rule
from groundcheck.audit.wording import NOT_ON_RECORD, in_digits
from groundcheck.store import Store


@dataclass(frozen=True)
class Evidence:
    """An input of an exception; `field` is None where no cell can hold it."""

    position: int
    input: str
    kind: str | None
    substation: str
    asset: str | None
    field: str | None
    value: str
    unit: str | None


def gather_evidence(
    store: Store, rule: Rule, columns: Collection[str], exceptions: list[dict[str, Any]]
) -> tuple[dict[int, list[Evidence]], set[int]]:
    """The inputs of each exception by its answer number, and the answer numbers that rest on an assumed value."""
    provisional = {row["answer_number"] for row in exceptions if row.get("provisional")}
    by_number = {row["answer_number"]: row for row in exceptions}
    evidence: dict[int, list[Evidence]] = {number: [] for number in by_number}
    for each in inputs_of(rule) if exceptions else ():
        query = locate(rule, each, columns, "ok IS FALSE")
        if query is None:
            for number, answer in by_number.items() if each.column in columns else ():
                evidence[number] += _told_by_answer(each, answer)
            continue
        seen: set[int] = set()
        ordered = f"SELECT * FROM ({query}) ORDER BY answer_number, value IS NULL, station, tag"
        for number, kind, station, tag, _, value, assumed in store.connection.execute(ordered).fetchall():
            if assumed:
                provisional.add(number)
            if number not in seen and tag is not None and _is_about(each, by_number[number]):
                seen.add(number)
                home = station or by_number[number]["substation"]
                field = None if each.computed else each.column
                text = in_digits(value) or NOT_ON_RECORD
                evidence[number].append(Evidence(each.position, each.name, kind, home, tag, field, text, each.unit))
    return evidence, provisional


def _told_by_answer(each: Input, answer: Mapping[str, Any]) -> list[Evidence]:
    """The value where only the answers' own column of that name tells it."""
    text = in_digits(answer[each.column])
    if text is None:
        return []
    return [Evidence(each.position, each.name, None, answer["substation"], None, None, text, each.unit)]


def _is_about(each: Input, answer: Mapping[str, Any]) -> bool:
    """Whether the input is the one that the answer is about, where the query says so with a column `field`."""
    field = answer.get("field")
    return field is None or (each.table, each.column) == (answer["asset_kind"], field)
