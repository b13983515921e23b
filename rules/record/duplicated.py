"""Two assets that may be one, since their tags differ by punctuation or leading zeros only."""

from groundcheck.audit import Rule

T1 = {"substation": "ELM", "transformer": "T1", "hv_bus": "B132"}
G1 = {"substation": "ELM", "generator": "G1", "bus": "B11"}


def inventory(*tags, **fields):
    """Transformers of one station."""
    return {"transformer": [T1 | {"transformer": tag} | fields for tag in tags]}


# Of each kind: what tells where it stands. Two at different places are two.
PLACES = {
    "infeed": "bus",
    "generator": "bus",
    "transformer": "hv_bus",
    "line": "from_bus",
    "neutral_device": "list_aggregate(list_sort(connected_to), 'string_agg', '; ')",
    "grounding_transformer": "bus",
    "arrester": "bus",
    "ground_relay": "measures",
    "ground_grid": "NULL",
}
ASSETS = " UNION ALL ".join(
    f"SELECT substation, '{kind}' AS asset_kind, {kind} AS asset, {place} AS place FROM inventory.{kind}"
    for kind, place in PLACES.items()
)

RULE = Rule(
    title="Two assets on record may be one",
    severity="low",
    why="An asset that is on record twice feeds or grounds the network twice. Fault currents come out too high, and a "
    "zone with one ground source seems to have two.",
    basis="common practice, no source",
    asks="record",
    inputs=tuple(f"{kind}.{kind}" for kind in PLACES),
    query=f"""
        WITH plain AS (
            SELECT *, regexp_replace(regexp_replace(regexp_replace(lower(asset),
                          '([0-9])[^\\p{{L}}\\p{{N}}]+([0-9])', '\\1/\\2', 'g'),
                          '[^\\p{{L}}\\p{{N}}/]+', '', 'g'),
                          '(^|[^0-9])0+([0-9])', '\\1\\2', 'g') AS form
            FROM ({ASSETS})
        )
        SELECT substation, asset_kind, asset,
               min(asset) OVER alike           AS first,
               asset                           AS actual,
               'one tag for one asset'         AS required,
               ''                              AS unit,
               asset = first                   AS ok,
               asset_kind                      AS field,
               replace(asset_kind, '_', ' ')   AS kind,
               coalesce(' at ' || place, '')   AS at_place
        FROM plain
        WINDOW alike AS (PARTITION BY substation, asset_kind, form, place)
        QUALIFY asset <> first OR count(*) OVER alike = 1
    """,
    message="{kind} {asset} and {kind} {first}{at_place} may be one asset",
    working="both tags read alike without punctuation, blanks, case and leading zeros: {asset}, {first}",
    remedy="if they are one, keep one tag in all sheets, or say so in the column map; if they are two, give them tags "
    "that cannot be taken for one another",
    caution="Until it is settled, take fault currents for too high and grounding for too good.",
    cannot_see="Twins of one rating with tags of their own are customary and are not asked about, nor is one asset "
    "under two quite different tags.",
    always_assessable=True,
    examples={
        "exception: a hyphen": inventory("T1", "T-1"),
        "exception: leading zeros": inventory("T1", "T01"),
        "exception: a blank and a dot": inventory("TX.2", "TX 2"),
        "exception: three of one": inventory("T1", "T-1", "T 01"),
        "exception: resistors of one neutral": {
            "neutral_device": [
                {"substation": "ELM", "neutral_device": "NER1", "connected_to": ["T1"]},
                {"substation": "ELM", "neutral_device": "NER-01", "connected_to": ["T1"]},
            ]
        },
        "satisfied: twins": inventory("T1", "T2"),
        "satisfied: one alone": inventory("T-01"),
        "satisfied: 1-1 is not 11": inventory("T1-1", "T11"),
        "satisfied: at different buses": {
            "generator": [G1, G1 | {"generator": "G-1", "bus": "B12"}],
        },
        "satisfied: of different kinds": {
            "transformer": [T1],
            "ground_grid": [{"substation": "ELM", "ground_grid": "T-1"}],
        },
        "satisfied: in different stations": {"transformer": [T1, T1 | {"substation": "ASH", "transformer": "T01"}]},
    },
)
