"""How each rule ended for each asset, and the counts of the four outcomes for each rule and station."""

import pandas as pd

from groundcheck.audit.discovery import LoadedRule
from groundcheck.audit.missing import missing_texts
from groundcheck.schema import INVENTORY_TABLES
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


def write_outcomes(store: Store) -> None:
    """
    Write audit.outcome from audit.rule and audit.result, a row a rule and station.

    Not applicable are the assets of the kind asked about without an answer; a rule about any record has none.
    """
    tables = {kind: f'inventory."{kind}"' for kind in INVENTORY_TABLES} | {"zone": "study.zone"}
    each = (
        f"SELECT '{kind}' AS asks, substation, count(*) AS assets FROM {name} GROUP BY ALL"
        for kind, name in tables.items()
    )
    store.connection.execute(
        f"""
        INSERT INTO audit.outcome BY NAME
        WITH ran AS (SELECT rule, asks FROM audit.rule WHERE problem IS NULL),
        answered AS (
            SELECT r.rule, r.substation,
                   count(*) FILTER (r.outcome = 'satisfied')      AS satisfied,
                   count(*) FILTER (r.outcome = 'exception')      AS exceptions,
                   count(*) FILTER (r.outcome = 'not_assessable') AS not_assessable,
                   count(DISTINCT r.asset) FILTER (n.asks IN ('zone', 'record') OR r.asset_kind = n.asks) AS assets
            FROM audit.result r JOIN ran n USING (rule)
            GROUP BY r.rule, r.substation
        ),
        there AS ({" UNION ALL ".join(each)}),
        asked AS (
            SELECT rule, substation FROM ran CROSS JOIN inventory.substation UNION SELECT rule, substation FROM answered
        )
        SELECT q.rule, q.substation,
               coalesce(a.satisfied, 0)      AS satisfied,
               coalesce(a.exceptions, 0)     AS exceptions,
               coalesce(a.not_assessable, 0) AS not_assessable,
               greatest(coalesce(t.assets, 0) - coalesce(a.assets, 0), 0) AS not_applicable
        FROM asked q
        JOIN ran n USING (rule)
        LEFT JOIN answered a ON a.rule = q.rule AND a.substation = q.substation
        LEFT JOIN there t ON t.asks = n.asks AND t.substation = q.substation
        ORDER BY q.rule, q.substation
        """
    )
