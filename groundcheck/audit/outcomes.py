"""How each rule ended for each asset, and the counts of the four outcomes for each rule and station."""

import pandas as pd

from groundcheck.audit.discovery import LoadedRule
from groundcheck.audit.missing import missing_texts
from groundcheck.store import Store


def write_results(store: Store, loaded: LoadedRule, messages: dict[int, str]) -> None:
    """Write audit.result from the temporary tables `answer` and `lack`, and the messages by answer number."""
    said = pd.DataFrame({"answer_number": list(messages), "message": list(messages.values())})
    store.connection.register("messages", said.astype({"answer_number": "int64", "message": "str"}))
    try:
        store.connection.execute(_RESULTS, {"rule": loaded.name})
    finally:
        store.connection.unregister("messages")


_RESULTS = f"""
        INSERT INTO audit.result BY NAME
        SELECT $rule AS rule, a.substation, a.asset_kind, a.asset, a.item,
               CASE WHEN a.ok IS NULL THEN 'not_assessable' WHEN a.ok THEN 'satisfied' ELSE 'exception' END AS outcome,
               f.message, m.missing
        FROM answer a
        LEFT JOIN messages f USING (answer_number)
        LEFT JOIN ({missing_texts()}) m USING (answer_number)
        ORDER BY a.answer_number
        """


def write_outcomes(store: Store, loaded: LoadedRule) -> None:
    """Write audit.outcome, a row a station; not applicable are the assets of the kind asked about without an answer."""
    asks = loaded.rule.asks
    nobody = "(SELECT substation FROM inventory.substation WHERE FALSE)"
    population = {"zone": "study.zone", "record": nobody}.get(asks, f'inventory."{asks}"')
    of_any_kind = asks in ("zone", "record")
    counted = "TRUE" if of_any_kind else "asset_kind = $asks"
    parameters = {"rule": loaded.name} | ({} if of_any_kind else {"asks": asks})
    store.connection.execute(
        f"""
        INSERT INTO audit.outcome BY NAME
        WITH answered AS (
            SELECT substation,
                   count(*) FILTER (ok)            AS satisfied,
                   count(*) FILTER (NOT ok)        AS exceptions,
                   count(*) FILTER (ok IS NULL)    AS not_assessable,
                   count(DISTINCT asset) FILTER ({counted}) AS assets
            FROM answer GROUP BY substation
        ),
        there AS (SELECT substation, count(*) AS assets FROM {population} GROUP BY substation),
        station AS (SELECT substation FROM inventory.substation UNION SELECT substation FROM answered)
        SELECT $rule AS rule, s.substation,
               coalesce(a.satisfied, 0)      AS satisfied,
               coalesce(a.exceptions, 0)     AS exceptions,
               coalesce(a.not_assessable, 0) AS not_assessable,
               greatest(coalesce(t.assets, 0) - coalesce(a.assets, 0), 0) AS not_applicable
        FROM station s
        LEFT JOIN answered a USING (substation)
        LEFT JOIN there t USING (substation)
        ORDER BY s.substation
        """,
        parameters,
    )
