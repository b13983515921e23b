"""How every rule ended in every district: the numbers of the rule by district table."""

from typing import Any

from groundcheck.report.cell_text import clean_text
from groundcheck.report.page.findings_index import NO_DISTRICT
from groundcheck.report.rows import fetch
from groundcheck.store import Store

_QUERY = f"""
    SELECT o.rule, coalesce(nullif(s.district, ''), '{NO_DISTRICT}') AS district,
           sum(o.exceptions)::BIGINT, sum(o.satisfied)::BIGINT, sum(o.not_assessable)::BIGINT,
           sum(o.not_applicable)::BIGINT
    FROM audit.outcome o
    LEFT JOIN (SELECT substation, any_value(district) AS district FROM inventory.substation GROUP BY ALL) s
      USING (substation)
    GROUP BY ALL ORDER BY ALL
"""


def matrix(store: Store) -> dict[str, Any]:
    """Districts; for each rule lists of district's place, exceptions, satisfied, not assessable, not applicable."""
    districts: dict[str, int] = {}
    rules: dict[str, list[list[int]]] = {}
    for rule, district, *counts in sorted(
        fetch(store, _QUERY), key=lambda row: (row[1] == NO_DISTRICT, row[1], row[0])
    ):
        place = districts.setdefault(clean_text(district), len(districts))
        rules.setdefault(rule, []).append([place, *(int(number or 0) for number in counts)])
    return {"districts": list(districts), "rules": rules}
