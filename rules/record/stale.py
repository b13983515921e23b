"""Stations whose record was last compared with what stands there too long ago."""

from datetime import date

from groundcheck.audit import Rule

# 1 January 2022 to 1 January 2026, the date of the audit: exactly four years of 365.25 days.
ELM = {"substation": "ELM", "district": "North", "recorded_on": date(2022, 1, 1)}


def inventory(recorded_on, years=4.0):
    """One station."""
    return {"substation": [ELM | {"recorded_on": recorded_on}], "policy": {"years": years}}


RULE = Rule(
    title="The record of the station is old",
    severity="low",
    why="Plant is exchanged and neutrals are treated anew without a word to whoever keeps the record. An audit of an "
    "old record may call a station sound that is not.",
    basis="common practice, no source",
    asks="substation",
    inputs=("substation.recorded_on",),
    policy={"years": "record.age_limit", "everywhere": "record.dates_expected"},
    formula="t_audit - t_recorded <= t_limit",
    query="""
        WITH dated AS (
            SELECT DISTINCT coalesce(district, '') AS district FROM inventory.substation WHERE recorded_on IS NOT NULL
        )
        SELECT s.substation, 'substation' AS asset_kind, s.substation AS asset,
               date_diff('day', s.recorded_on, $audit_date) / 365.25  AS actual,
               $years                                                 AS required,
               'years'                                                AS unit,
               actual <= required                                     AS ok,
               s.recorded_on
        FROM inventory.substation s
        LEFT JOIN dated d ON d.district = coalesce(s.district, '')
        WHERE d.district IS NOT NULL OR $everywhere
    """,
    message="the record of {asset} was last compared with the station on {recorded_on}, {actual:.1f} years ago",
    working="last compared {recorded_on}, audit {audit_date}\n{actual:.2f} years > {required:g} years",
    remedy="walk the station with the record in hand, correct it, and note the date",
    caution="Keep to the station's own rules for entry: an old record is no guide to what is live.",
    cannot_see="What changed since. Where no station of a district has a date, none is asked for unless the policy "
    "says so.",
    examples={
        "exception: a day too old": inventory(date(2021, 12, 31)),
        "satisfied: exactly the limit": inventory(date(2022, 1, 1)),
        "satisfied: last year": inventory(date(2025, 5, 1)),
        "not assessable: no date, where the owner asks for one": {
            "substation": [ELM | {"recorded_on": None}],
            "policy": {"everywhere": True},
        },
        "not applicable: the district keeps no dates": inventory(None),
        "exception: six years of the shipped five": inventory(date(2020, 1, 1)) | {"policy": {}},
    },
)
