"""One finding as text: what is wrong, how it was worked out, from which cells, what to do, and what it was before."""

from groundcheck.errors import NoSuchFinding
from groundcheck.nearest import nearest
from groundcheck.report.cautions import CAUTION_LINE
from groundcheck.report.cell_text import clean_text
from groundcheck.report.facts import EvidenceFacts, FindingFacts, finding_facts, with_unit
from groundcheck.report.field_names import kind_in_words
from groundcheck.report.rows import fetch
from groundcheck.store import Store


def finding_text(store: Store, identity: str) -> str:
    """
    The finding, its working line by line, its inputs with their cells, what is assumed behind it, and its history.

    Raises
    ------
    NoSuchFinding
        The store does not hold it; the nearest identity is named.
    """
    facts = _finding(store, identity)
    by_role = {role: [each for each in facts["evidence"] if each["role"] == role] for role in ("input", "basis")}
    blocks = [
        _facts(facts),
        ["working:", *(f"  {line}" for line in facts["working"])],
        ["evidence:", *(_evidence(by_role["input"]) or ["  none on record"])],
    ]
    if by_role["basis"]:
        blocks.append(["the computed ones come from, nearest first:", *_evidence(by_role["basis"])])
    if facts["assumed"]:
        blocks.append(["assumed, for want of a record:", *_assumed(facts)])
    blocks += [["history:", *_history(facts)], [CAUTION_LINE]]
    return "\n\n".join("\n".join(clean_text(line) for line in block) for block in blocks)


def _finding(store: Store, identity: str) -> FindingFacts:
    for facts in finding_facts(store, findings=[identity]):
        return facts
    known = [row[0] for row in fetch(store, "SELECT finding FROM audit.finding ORDER BY finding")]
    hint = f"nearest is {nearest(identity, known)}" if known else "it holds none"
    raise NoSuchFinding(f"no finding {identity} in the store; {hint}")


def _facts(facts: FindingFacts) -> list[str]:
    certainty = (facts["robustness"] or "") + (
        ", provisional: rests on an assumed value" if facts["provisional"] else ""
    )
    item = f", {facts['item']}" if facts["item"] else ""
    said = {
        "finding": f"{facts['finding']} ({facts['status']})",
        "waiver": facts["waiver"],
        "severity": facts["severity"],
        "asset": f"{facts['substation']}, {kind_in_words(facts['asset_kind'])} {facts['asset']}{item}",
        "district": facts["district"],
        "what is wrong": facts["message"],
        "actual": _within(facts["actual"], facts["actual_within"], facts["unit"]),
        "required": _within(facts["required"], facts["required_within"], facts["unit"]),
        "certainty": certainty,
        "source": _place(facts["file"], facts["sheet"], facts["cell"]),
        "remedy": facts["remedy"],
        "caution": facts["caution"],
        "rule": facts["rule"],
        "basis": facts["basis"],
        "formula": facts["formula"],
        "cannot see": facts["cannot_see"],
    }
    return [f"{name + ':':<15}{value}" for name, value in said.items() if value]


def _within(value: str | None, within: str | None, unit: str | None) -> str | None:
    shown = with_unit(value, unit)
    return f"{shown}, within its tolerances {within}" if shown is not None and within else shown


def _evidence(rows: list[EvidenceFacts]) -> list[str]:
    lines = []
    for row in rows:
        what = f"{row['input']} of {row['asset']}" if row["asset"] else row["input"]
        shown = with_unit(row["value"], row["unit"]) or "not on record"
        place = _place(row["file"], row["sheet"], row["cell"])
        found = f", found '{row['found']}'" if row["found"] is not None else ""
        origin = f" ({place}{found})" if place else " (computed)" if row["value"] is not None else ""
        lines.append(f"  {what} = {shown}{origin}")
    return lines


def _assumed(facts: FindingFacts) -> list[str]:
    return [f"  {each['field']} of {each['asset']} = {each['value']}: {each['why']}" for each in facts["assumed"]]


def _history(facts: FindingFacts) -> list[str]:
    """What each audit of the store said of it, in runs of audits that said the same."""
    lines: list[str] = []
    for past in facts["history"]:
        state = f"{past['status']}, {past['severity']}: {past['message']}" if past["message"] else "no finding"
        waiver = f" ({past['waiver']})" if past["waiver"] else ""
        lines.append(f"  from audit {past['run']} of {past['made_at']}: {state}{waiver}")
    return lines or ["  no audit is kept"]


def _place(*parts: str | None) -> str:
    return " · ".join(part for part in parts if part)
