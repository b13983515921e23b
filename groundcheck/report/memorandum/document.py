"""All that the template is given, as one value of JSON; the head of memorandum.typ says what is where in it."""

from collections.abc import Sequence
from typing import Any

from groundcheck.report.cautions import CAUTION_LINE, CAUTIONS, WORDS
from groundcheck.report.memorandum.accepted import waivers
from groundcheck.report.memorandum.basis import annex, audit_of, policy_differences, refused_rules, rule_notes
from groundcheck.report.memorandum.by_part import Row
from groundcheck.report.memorandum.chapters import chapters, named_stations
from groundcheck.report.memorandum.not_seen import limits
from groundcheck.report.memorandum.parts import Part, fleet_parts, named_parts, stations_at_hand
from groundcheck.report.memorandum.room import FINDINGS_IN_FULL, HIGH_IN_FULL, SHORTENED, WHOLE
from groundcheck.report.memorandum.scope import rule_tables, scopes
from groundcheck.report.memorandum.shown import high_ones, number_of_findings
from groundcheck.store import Store

SUBJECT = "Neutral grounding of substations: what the records show"
_WORDS_AT_HAND = ("satisfied", "exception", "not assessable", "firm", "marginal", "provisional", "waived", "quarantine")


def document(store: Store, paper: str, districts: Sequence[str] = (), substations: Sequence[str] = ()) -> Row:
    """
    The memoranda of the districts and stations named, all findings in full; or of the fleet, a district each.

    Raises
    ------
    NoSuchStation
        The store does not hold a district or station that was named.
    """
    whole_fleet = not districts and not substations
    parts = fleet_parts(store) if whole_fleet else named_parts(store, districts, substations)
    with stations_at_hand(store, parts):
        number = number_of_findings(store)
        shortened = whole_fleet and number > FINDINGS_IN_FULL
        shown = high_ones(store, HIGH_IN_FULL) if shortened else None
        room = SHORTENED if shortened else WHOLE
        told = chapters(store, named_stations(part.stations for part in parts), shown, room)
        scope, limit, waived = (make(store, len(parts), room) for make in (scopes, limits, waivers))
        by_rule, notes = rule_tables(store), rule_notes(store)
    memoranda = [
        _memorandum(part, told)
        | {"scope": scope[place], "limits": limit[place], "waivers": waived[place], "by_rule": by_rule.get(place, [])}
        | {"annex": None if shortened else annex(notes.get(place, []))}
        for place, part in enumerate(parts)
    ]
    for memorandum in memoranda:
        _count(memorandum)
    return {
        "paper": paper,
        "title": "Inspection findings",
        "subject": SUBJECT,
        "audit": audit_of(store),
        "whole_fleet": whole_fleet,
        "shortened": shortened,
        "findings": number,
        "findings_in_full": sum(memorandum["counts"]["in_full"] for memorandum in memoranda),
        "caution_line": CAUTION_LINE,
        "cautions": list(CAUTIONS),
        "words": [{"word": word, "means": means} for word, means in WORDS if word in _WORDS_AT_HAND],
        "policy": policy_differences(store),
        "refused_rules": refused_rules(store),
        "annex": annex(_once(notes)) if shortened else None,
        "memoranda": memoranda,
    }


def _memorandum(part: Part, told: dict[str, Any]) -> Row:
    found = [told[station] for station in part.stations if station in told]
    name = f"{found[0]['name']} ({part.name})" if part.kind == "station" and found and found[0]["name"] else part.name
    return {
        "name": part.name,
        "kind": part.kind,
        "heading": name if part.kind == "station" else f"District {name}",
        "chapters": found,
        "stations": len(part.stations),
    }


def _count(memorandum: Row) -> None:
    """Add up what the table by rule holds: it is over all findings, also where only some are shown."""
    rules = memorandum["by_rule"]
    in_full = sum(len(chapter["findings"]) for chapter in memorandum["chapters"])
    memorandum["counts"] = {
        name: sum(rule[name] for rule in rules)
        for name in ("open", "waived", "satisfied", "not_assessable", "not_applicable")
    } | {"in_full": in_full}
    memorandum["counts"]["not_shown"] = memorandum["counts"]["open"] + memorandum["counts"]["waived"] - in_full


def _once(notes: dict[int, list[Row]]) -> list[Row]:
    """The rules of all memoranda."""
    return [rule for _, rule in sorted({note["rule"]: note for part in notes.values() for note in part}.items())]
