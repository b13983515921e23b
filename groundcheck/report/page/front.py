"""What the head of the page says: what was audited, as of when, what came out, what changed."""

from typing import Any

from groundcheck.report import overview
from groundcheck.report.cautions import CAUTION_LINE, CAUTIONS, WORDS
from groundcheck.report.cell_text import clean_text
from groundcheck.report.change_text import counts_text
from groundcheck.report.marks import SEVERITIES
from groundcheck.report.rows import fetch
from groundcheck.store import Store


def front(store: Store) -> dict[str, Any]:
    """What the template's head and its last view need, as text."""
    run = fetch(
        store, "SELECT made_at, as_of, version, method, policy, tolerances FROM audit.run ORDER BY run DESC LIMIT 1"
    )
    made_at, as_of, version, method, policy, tolerances = run[0] if run else (None,) * 6
    read = overview.reading(store)
    outcomes = overview.outcomes(store)
    open_counts = overview.findings_by_severity(store)
    return {
        "read": read,
        "as_of": str(as_of) if as_of else None,
        "made_at": _moment(made_at),
        "version": version or "of unknown version",
        "method": method or "not recorded",
        "policy": clean_text(policy or "Not recorded."),
        "tolerances": tolerances,
        "verdict": outcomes.verdict,
        "outcomes": outcomes,
        "severities": [(mark, open_counts.get(key, 0)) for key, mark in SEVERITIES.items()],
        "change": _change(store),
        "audits": fetch(store, "SELECT count(*) FROM audit.run")[0][0],
        "notices": [clean_text(each) for each in (*overview.notices(store), *_waivers(store))],
        "unread": [tuple(clean_text(str(part)) for part in each) for each in overview.unreadable_files(store)],
        "refused": [tuple(clean_text(part) for part in each) for each in overview.refused_rules(store)],
        "caution_line": CAUTION_LINE,
        "cautions": CAUTIONS,
        "words": [(word, said) for word, said in WORDS if "sheet" not in said and "Unread" not in said],
    }


def _moment(made_at: str | None) -> str:
    """'2026-11-29 05:57 UTC' of a time written as ISO 8601."""
    if not made_at:
        return "a time not recorded"
    day, _, clock = made_at.partition("T")
    zone = "UTC" if clock.endswith("+00:00") else ""
    return f"{day} {clock[:5]} {zone}".strip()


def _change(store: Store) -> str:
    """One sentence on the audit before."""
    since = overview.changes_since(store)
    if since is None:
        return "The store holds no earlier audit to compare with."
    run, made_at, counts = since
    return f"Since audit {run} of {_moment(made_at)}: {counts_text(counts)}."


def _waivers(store: Store) -> list[str]:
    return [each.removesuffix(": sheet Waivers") + " (exceptions.xlsx, sheet Waivers)" for each in
            overview.waivers_that_do_not_hold(store)]  # fmt: skip
