"""The answers of the rule in hand, numbered, as the other parts of the audit read them."""

from typing import Any

import pyarrow as pa

from groundcheck.audit.fault import RuleFault
from groundcheck.store import Store


def keep_answers(store: Store, answers: pa.Table) -> None:
    """
    Leave the temporary table `answer`: the answers in a fixed order, numbered from 1 in `answer_number`.

    Raises
    ------
    RuleFault
        An answer names no asset, or two answers are told apart by nothing.
    """
    store.connection.register("incoming_answers", answers)
    try:
        store.connection.execute(
            """
            CREATE OR REPLACE TEMP TABLE answer AS
            SELECT * REPLACE (item::VARCHAR AS item, substation::VARCHAR AS substation, asset::VARCHAR AS asset),
                   row_number() OVER (ORDER BY substation, asset_kind, asset, item) AS answer_number
            FROM incoming_answers
            """
        )
    finally:
        store.connection.unregister("incoming_answers")
    _check_identity(store)


def _check_identity(store: Store) -> None:
    blank = store.connection.execute(
        "SELECT count(*) FROM answer WHERE substation IS NULL OR asset_kind IS NULL OR asset IS NULL"
    ).fetchone()
    if blank and blank[0]:
        raise RuleFault(f"the query returns {blank[0]} rows without substation, asset_kind or asset", "query")
    twice = store.connection.execute(
        """
        SELECT asset_kind, substation, asset, item, count(*) AS times FROM answer
        GROUP BY ALL HAVING times > 1 ORDER BY ALL LIMIT 1
        """
    ).fetchone()
    if twice:
        kind, substation, asset, item, times = twice
        which = f", item {item}" if item else ""
        raise RuleFault(
            f"the query answers {times} times for {kind} {asset} of {substation}{which}; "
            "return one row an asset, or tell the rows apart with a column `item`",
            "query",
        )


def exceptions_kept(store: Store) -> list[dict[str, Any]]:
    """The answers kept that are exceptions."""
    rows = store.connection.sql("SELECT * FROM answer WHERE ok IS FALSE ORDER BY answer_number").to_arrow_table()
    return list(rows.to_pylist())
