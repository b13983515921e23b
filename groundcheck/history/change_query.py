"""The query that holds the findings of two audits against each other."""

CHANGES = ("new", "worsened", "improved", "persisting", "cleared")
MOST_SAID = 5  # changed fields that are named for one finding

# How what is no longer a finding ended; only the store's last audit has its answers.
ENDED = """
    SELECT rule, substation, asset_kind, asset, item, outcome, missing FROM audit.result WHERE outcome <> 'exception'
"""
ENDED_NOT_KEPT = "SELECT rule, substation, asset_kind, asset, item, outcome, missing FROM audit.result WHERE FALSE"


def _rank(severity: str) -> str:
    return f"CASE {severity} WHEN 'high' THEN 3 WHEN 'medium' THEN 2 ELSE 1 END"


# 'resistor NR1 of station ELM: rated_current 300 -> 400', or that an asset came or went.
_CHANGED = """
    concat(replace(asset_kind, '_', ' '), ' ',
           if(contains(asset, ':') OR asset_kind = 'substation', '', substation || ':'), asset,
           CASE WHEN field = asset_kind AND coalesce(before, '') = '' THEN ' came'
                WHEN field = asset_kind AND coalesce(after, '') = '' THEN ' went'
                ELSE concat(' ', field, ' ', coalesce(nullif(before, ''), 'blank'), ' -> ',
                            coalesce(nullif(after, ''), 'blank')) END)
"""


def _listed(said: str, what: str) -> str:
    distinct = f"list_distinct({said})"
    return f"""CASE WHEN {said} IS NOT NULL THEN concat('{what}: ',
                    array_to_string(list_sort({distinct})[:{MOST_SAID}], ', '),
                    if(len({distinct}) > {MOST_SAID}, concat(' and ', len({distinct}) - {MOST_SAID}, ' more'), ''))
                END"""


_PAIRED = f"""
    SELECT coalesce(n.finding, o.finding) AS finding,
           CASE WHEN o.finding IS NULL THEN 'new'
                WHEN n.finding IS NULL THEN 'cleared'
                WHEN {_rank("n.severity")} > {_rank("o.severity")} THEN 'worsened'
                WHEN {_rank("n.severity")} < {_rank("o.severity")} THEN 'improved'
                WHEN d.shift IS NOT NULL THEN d.shift
                ELSE 'persisting' END AS change,
           coalesce(n.rule, o.rule) AS rule, coalesce(n.substation, o.substation) AS substation,
           coalesce(n.district, o.district) AS district, coalesce(n.asset_kind, o.asset_kind) AS asset_kind,
           coalesce(n.asset, o.asset) AS asset, coalesce(n.item, o.item) AS item,
           o.severity AS severity_before, n.severity, o.status AS status_before, n.status,
           o.message AS message_before, n.message, o.actual AS actual_before, n.actual,
           o.required AS required_before, n.required, coalesce(n.unit, o.unit) AS unit,
           coalesce(o.rests_on, []) || coalesce(n.rests_on, []) AS rests_on
    FROM old_finding o
    FULL JOIN new_finding n ON n.finding = o.finding
    LEFT JOIN shifted d ON d.finding = n.finding
"""

_REASONS = f"""
    spoken AS (SELECT *, {_CHANGED.strip()} AS words FROM changed_record),
    rests AS (
        SELECT DISTINCT finding, split_part(key, '.', 1) AS kind,
               split_part(split_part(key, ' of ', 1), '.', 2) AS field,
               substr(key, strpos(key, ' of ') + 4)           AS place
        FROM (SELECT finding, unnest(rests_on) AS key FROM paired)
        UNION SELECT finding, asset_kind, asset_kind, substation || ':' || asset FROM paired
    ),
    record AS (
        SELECT r.finding, list(c.words) AS said
        FROM rests r
        JOIN spoken c ON c.asset_kind = r.kind AND c.substation || ':' || c.asset = r.place
                     AND (c.field = r.field OR c.field = c.asset_kind)
        GROUP BY r.finding
    ),
    station AS (
        SELECT substation, list(words) AS said FROM spoken GROUP BY substation
    ),
    reason AS (
        SELECT p.*, q.policy_said,
               {_listed("r.said", "record changed")} AS record_said,
               {_listed("t.said", "changed at its station")} AS station_said,
               CASE WHEN w.rule IS NULL AND v.rule IS NULL THEN NULL
                    WHEN w.rule IS NULL THEN 'the rule is no longer run'
                    WHEN v.rule IS NULL THEN 'the rule was not run before'
                    WHEN v.digest <> w.digest THEN 'rule changed' END AS rule_said,
               CASE WHEN v.choices IS DISTINCT FROM w.choices
                    THEN 'policy changed: ' || coalesce(w.choices, 'it says nothing more of this rule')
                    END AS choice_said,
               CASE WHEN a.version <> b.version
                    THEN concat('program changed: ', a.version, ' -> ', b.version) END AS program_said,
               CASE WHEN a.as_of <> b.as_of
                    THEN concat('asked as of ', b.as_of::DATE, ', before as of ', a.as_of::DATE) END AS date_said
        FROM paired p
        CROSS JOIN old_run a
        CROSS JOIN new_run b
        LEFT JOIN record r ON r.finding = p.finding
        LEFT JOIN station t ON t.substation = p.substation
        LEFT JOIN policy_reason q ON q.rule = p.rule
        LEFT JOIN old_rule v ON v.rule = p.rule
        LEFT JOIN new_rule w ON w.rule = p.rule
    )
"""

CHANGE = f"""
    WITH paired AS ({_PAIRED}), {_REASONS}
    SELECT s.change, s.finding, s.rule, s.severity_before, s.severity, s.substation, s.district, s.asset_kind, s.asset,
           s.item, s.message_before, s.message, s.actual_before, s.actual, s.required_before, s.required, s.unit,
           s.status_before, s.status,
           if(s.change = 'cleared' AND e.outcome IS NOT NULL,
              concat(replace(e.outcome, '_', ' '), if(e.missing IS NULL, '', ': ' || e.missing)), NULL) AS now,
           CASE WHEN s.change = 'persisting' THEN NULL
                ELSE coalesce(nullif(concat_ws('; ', s.record_said, s.rule_said, s.choice_said, s.policy_said), ''),
                              s.program_said, s.date_said, s.station_said, 'not known') END AS why
    FROM reason s
    LEFT JOIN ended e ON e.rule = s.rule AND e.substation = s.substation AND e.asset_kind = s.asset_kind
                     AND e.asset = s.asset AND e.item IS NOT DISTINCT FROM s.item
    ORDER BY list_position({list(CHANGES)}, s.change), {_rank("coalesce(s.severity, s.severity_before)")} DESC,
             s.substation, s.asset, s.rule, s.finding
"""
