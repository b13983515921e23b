"""The audit as a JUnit XML file, so that a build server that runs it on a schedule shows what became of each check."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

from junitparser import Error, Failure, JUnitXml, Skipped, TestCase, TestSuite

from groundcheck.report.cell_text import clean_text
from groundcheck.report.facts.streaming import Groups, stream_clean
from groundcheck.report.field_names import kind_in_words
from groundcheck.report.overview import counted
from groundcheck.report.rows import fetch, severity_order
from groundcheck.store import Store

_NO_DISTRICT = "district not on record"

# Every rule at every station where it asked something, numbered in the order in which they are written.
_ASKED = """
    WITH asked AS (
        SELECT *, row_number() OVER (ORDER BY rule, substation) AS n
        FROM audit.outcome WHERE satisfied + exceptions + not_assessable > 0
    )
"""
_OPEN = "f.status IS DISTINCT FROM 'waived'"


def write_junit(store: Store, path: str | Path) -> None:
    """
    Write a suite a rule and a case a station at which the rule asked something; the case's class is the district.

    A case fails if one finding or more is open: the failure's text holds all of them with their working. It is skipped
    if none is open and something could not be assessed: what was not checked is not passed. What is waived is told in
    its output. A rule that was refused has one case, an error.
    """
    made_at, totals = _made_at(store), _totals(store)
    cases = _cases(store)
    following = next(cases, None)
    with Path(path).open("wb") as file:
        file.write(b"<?xml version='1.0' encoding='utf-8'?>\n")
        file.write(_opening_tag(totals))
        for rule, title, severity, basis, problem in _rules(store):
            own = [_refused(problem)] if problem else []
            while following is not None and following[0] == rule:
                own.append(following[1])
                following = next(cases, None)
            suite = TestSuite(rule)
            if made_at:
                suite.timestamp = made_at
            for name, value in (("title", title), ("severity", severity), ("basis", basis)):
                if value:
                    suite.add_property(name, value)
            suite.add_testcases(own)
            file.write(suite.tostring() + b"\n")  # type: ignore[no-untyped-call] # junitparser leaves it untyped
        file.write(b"</testsuites>\n")


def _opening_tag(totals: dict[str, int]) -> bytes:
    root = JUnitXml("groundcheck")
    for name, number in totals.items():
        setattr(root, name, number)
    root.time = 0
    root.append(TestSuite("within"))  # type: ignore[no-untyped-call] # likewise
    opening: bytes = root.tostring().partition(b"<testsuite ")[0]  # type: ignore[no-untyped-call] # likewise
    return opening + b"\n"


def _totals(store: Store) -> dict[str, int]:
    """Counts of all cases; the suites count their own."""
    query = f"""
        {_ASKED}, found AS (SELECT DISTINCT rule, substation, TRUE AS open FROM audit.finding f WHERE {_OPEN})
        SELECT count(*), count(open), count(*) FILTER (open IS NULL AND not_assessable > 0)
        FROM asked LEFT JOIN found USING (rule, substation)
    """
    asked, failed, skipped = fetch(store, query)[0]
    (refused,) = fetch(store, "SELECT count(*) FROM audit.rule WHERE problem IS NOT NULL")[0]
    return {"tests": asked + refused, "failures": failed, "errors": refused, "skipped": skipped}


def _rules(store: Store) -> Iterator[tuple[Any, ...]]:
    """Name, title, severity, basis, and why it was refused; in the order of the cases."""
    columns = ["rule", "title", "severity", "basis", "problem"]
    rest = "FROM (SELECT rule FROM audit.rule UNION SELECT rule FROM audit.outcome) LEFT JOIN audit.rule USING (rule)"
    return stream_clean(store, columns, columns, f"{rest} ORDER BY rule")


def _cases(store: Store) -> Iterator[tuple[str, TestCase]]:
    """Each case with its rule."""
    findings = Groups(_findings(store))
    unanswered = Groups(_unanswered(store))
    columns = ["a.n", "a.rule", "a.substation", "s.name", "s.district", "a.satisfied", "a.not_assessable"]
    rest = "FROM asked a LEFT JOIN inventory.substation s USING (substation) ORDER BY a.n"
    rows = stream_clean(store, columns, columns[1:5], rest, start=_ASKED)
    for number, rule, station, name, district, satisfied, not_assessable in rows:
        case = TestCase(f"{station} {name}" if name else station, district or _NO_DISTRICT, 0)
        found = findings.take(number)
        still_open = [each for each in found if each[0]]
        waived = [each for each in found if not each[0]]
        waiting = [f"{kind_in_words(kind)} {asset}: {missing}" for kind, asset, missing in unanswered.take(number)]
        said = [f"{counted(not_assessable, 'check')} not assessable", *waiting] if not_assessable else []
        if still_open:
            worst, message = still_open[0][1], still_open[0][4]
            more = f" (and {counted(len(still_open) - 1, 'finding')} more)" if len(still_open) > 1 else ""
            failure = Failure(f"{message}{more}", worst)
            failure.text = "\n\n".join([*map(_finding_text, still_open), *(["\n".join(said)] if said else [])])
            case.result = [failure]
        elif said:
            skipped = Skipped(f"{said[0]}, {satisfied:,} satisfied", "not assessable")
            skipped.text = "\n".join(waiting)
            case.result = [skipped]
        if waived:
            case.system_out = "\n\n".join(map(_finding_text, waived))
        yield rule, case


def _findings(store: Store) -> Iterator[tuple[Any, ...]]:
    columns = [
        *("a.n", _OPEN, "f.severity", "f.finding", "f.waiver", "f.message", "f.asset_kind", "f.asset", "f.working"),
        *("f.remedy", "f.caution", "f.source_file", "f.sheet", "f.cell", "f.provisional"),
    ]
    rest = f"""
        FROM audit.finding f JOIN asked a USING (rule, substation)
        ORDER BY a.n, {_OPEN} DESC, {severity_order("f.severity")}, f.asset, f.finding
    """
    return stream_clean(store, columns, columns[2:-1], rest, start=_ASKED)


def _unanswered(store: Store) -> Iterator[tuple[Any, ...]]:
    columns = ["a.n", "r.asset_kind", "r.asset", "r.missing"]
    rest = """
        FROM audit.result r JOIN asked a USING (rule, substation)
        WHERE r.outcome = 'not_assessable' ORDER BY a.n, r.asset_kind, r.asset, r.item
    """
    return stream_clean(store, columns, columns[1:], rest, start=_ASKED)


def _finding_text(row: tuple[Any, ...]) -> str:
    """A finding as lines: what is wrong, the working, what to do and to beware of, where it stands."""
    (_, severity, finding, waiver, message, kind, asset, working, remedy, caution, *place, provisional) = row
    lines = [f"{severity}: {message}", f"{kind_in_words(kind)} {asset}, finding {finding}"]
    if waiver:
        lines.append(f"waiver: {waiver}")
    lines += [f"  {line}" for line in (working or "").splitlines()]
    if provisional:
        lines.append("provisional: rests on an assumed value")
    told = {"remedy": remedy, "caution": caution, "source": " · ".join(part for part in place if part)}
    lines += [f"{name}: {text}" for name, text in told.items() if text]
    return "\n".join(lines)


def _refused(problem: str) -> TestCase:
    case = TestCase("rule refused", "rulebook", 0)
    case.result = [Error(problem, "refused")]
    return case


def _made_at(store: Store) -> str | None:
    """When the last audit was made, in the form that the file has for it: without a time zone."""
    rows = fetch(store, "SELECT made_at FROM audit.run ORDER BY run DESC LIMIT 1")
    return clean_text(str(rows[0][0]))[:19] if rows and rows[0][0] else None
