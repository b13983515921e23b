"""The fields that would make an answer assessable."""

from collections.abc import Collection

from groundcheck.audit.cells import cells_of
from groundcheck.audit.inputs import Input, inputs_of, locate
from groundcheck.audit.rule import Rule
from groundcheck.schema import INVENTORY_TABLES
from groundcheck.store import Store

# How sure it is that a field is what is missing; a later kind counts only for an answer that has none before it.
BLANK, ABSENT, COMPUTED, NOT_TOLD = 0, 1, 2, 3


def trace_missing(store: Store, rule: Rule, columns: Collection[str]) -> None:
    """Leave the temporary table `lack`: for each answer kept that is not assessable, the fields that it lacks."""
    run = store.connection.execute
    run(
        """
        CREATE OR REPLACE TEMP TABLE lack (
            answer_number BIGINT, certainty INTEGER, position INTEGER, station VARCHAR, kind VARCHAR, tag VARCHAR,
            field VARCHAR)
        """
    )
    if not store.connection.execute("SELECT 1 FROM answer WHERE ok IS NULL LIMIT 1").fetchone():
        return
    for each in inputs_of(rule):
        asked = _asked(each, columns)
        rows = locate(rule, each, columns, asked)
        if rows is None:
            run(f"INSERT INTO lack {_not_told(each, asked)}")
        elif each.computed:
            run(f"INSERT INTO lack {_computed(each, rows)}")
        else:
            run(f"INSERT INTO lack {_on_record(rule, each, rows)}")
    run(
        f"""
        DELETE FROM lack l WHERE certainty >= {COMPUTED} AND EXISTS (
            SELECT 1 FROM lack o WHERE o.answer_number = l.answer_number
            AND o.certainty < l.certainty)
        """
    )


def write_missing(store: Store, name: str) -> None:
    """Write audit.missing_field, without cells, for the rule of that name from the temporary tables of its answers."""
    store.connection.execute(
        """
        INSERT INTO audit.missing_field BY NAME
        SELECT DISTINCT $rule AS rule, a.substation, a.asset_kind, a.asset, a.item,
               l.station AS blocking_substation, l.kind AS blocking_asset_kind, coalesce(l.tag, '') AS blocking_asset,
               l.field
        FROM lack l JOIN answer a USING (answer_number)
        """,
        {"rule": name},
    )


def add_cells_to_fill_in(store: Store) -> None:
    """Add file, sheet and cell to audit.missing_field; no cell where an asset was only named, or has no such column."""
    wanted = """(
        SELECT blocking_asset_kind AS kind, blocking_substation AS substation, blocking_asset AS asset, field
        FROM audit.missing_field WHERE NOT contains(field, '.')
    )"""
    store.connection.execute(
        f"""
        UPDATE audit.missing_field
        SET source_file = c.source_file, sheet = c.sheet, cell = if(c.inferred, NULL, c.cell)
        FROM ({cells_of(wanted)}) c
        WHERE c.kind = blocking_asset_kind AND c.substation = blocking_substation AND c.asset = blocking_asset
          AND c.field = missing_field.field
        """
    )


def missing_texts() -> str:
    """The query that says in words what each answer lacks: answer_number, missing."""
    return f"""
        SELECT answer_number, string_agg(said, '; ' ORDER BY first_position, said) AS missing FROM (
            SELECT l.answer_number, min(l.position) AS first_position,
                   CASE WHEN l.certainty = {ABSENT} AND l.tag IS NULL
                        THEN 'no ' || replace(l.kind, '_', ' ') || ' on record for it'
                        WHEN l.certainty = {ABSENT}
                        THEN replace(l.kind, '_', ' ') || ' ' || l.tag || ' is not on record'
                        WHEN contains(l.field, '.') THEN l.field || coalesce(' of ' || l.tag, '')
                        ELSE l.kind || '.' || l.field || coalesce(' of ' ||
                             if(l.station <> a.substation, l.station || ':', '') || l.tag, '') END AS said
            FROM lack l JOIN answer a USING (answer_number)
            GROUP BY ALL
        ) GROUP BY answer_number
    """


def _asked(each: Input, columns: Collection[str]) -> str:
    """The answers that this input is missing for; a query may say with a list `needs` which inputs a row needs."""
    if "needs" not in columns:
        return "ok IS NULL"
    return f"ok IS NULL AND (needs IS NULL OR list_contains(needs, '{each.name}'))"


def _on_record(rule: Rule, each: Input, rows: str) -> str:
    """A blank field; or no such row, which is a blank reference of the asset where it has one."""
    reference = _reference_to(rule, each.table)
    own = INVENTORY_TABLES.get(rule.asks)
    if reference is None or own is None:
        blank_reference, owner = "FALSE", ""
    else:
        blank_reference = f'v.tag IS NULL AND o.substation IS NOT NULL AND o."{reference}" IS NULL'
        owner = f'LEFT JOIN inventory."{rule.asks}" o ON o.substation = a.substation AND o."{rule.asks}" = a.asset'
    return f"""
        SELECT DISTINCT v.answer_number,
               if(v.present OR {blank_reference}, {BLANK}, {ABSENT}), {each.position},
               CASE WHEN {blank_reference} THEN a.substation ELSE v.station END,
               CASE WHEN {blank_reference} THEN '{rule.asks}' ELSE '{each.table}' END,
               CASE WHEN {blank_reference} THEN a.asset ELSE v.tag END,
               CASE WHEN {blank_reference} THEN '{reference}' ELSE '{each.column}' END
        FROM ({rows}) v JOIN answer a USING (answer_number) {owner}
        WHERE v.value IS NULL
    """


def _reference_to(rule: Rule, table: str) -> str | None:
    own = INVENTORY_TABLES.get(rule.asks)
    if own is None or table == rule.asks:
        return None
    names = [name for name, column in own.columns().items() if table in column.refers_to]
    return names[0] if len(names) == 1 else None


def _computed(each: Input, rows: str) -> str:
    """What blocks a quantity; the quantity itself where nothing says."""
    whole = each.name.removesuffix("_low").removesuffix("_high")
    return f"""
        WITH unknown AS (SELECT DISTINCT answer_number, kind, station, tag FROM ({rows}) WHERE value IS NULL)
        SELECT DISTINCT u.answer_number, if(b.field IS NULL, {COMPUTED}, {BLANK}), {each.position},
               if(b.field IS NULL, u.station, b.blocking_substation),
               if(b.field IS NULL, u.kind, b.blocking_asset_kind),
               if(b.field IS NULL, u.tag, b.blocking_asset), coalesce(b.field, '{each.name}')
        FROM unknown u
        LEFT JOIN study.blocked b
               ON b.asset_kind = u.kind AND b.substation = u.station AND b.asset = u.tag
              AND b.quantity IN ('{each.name}', '{whole}')
    """


def _not_told(each: Input, asked: str) -> str:
    field = each.name if each.computed else each.column
    return f"""
        SELECT answer_number, {NOT_TOLD}, {each.position}, substation, '{each.table}', NULL, '{field}'
        FROM answer WHERE {asked}
    """
