"""Which row of which table each answer of a rule read an input from."""

import re
from collections.abc import Collection
from dataclasses import dataclass
from functools import cache

from groundcheck.audit.rule import Rule
from groundcheck.schema import INVENTORY_TABLES, STUDY_TABLES

NEUTRAL_OWNERS = ("transformer", "generator", "grounding_transformer")


@dataclass(frozen=True)
class Input:
    """An input 'table.column' and its place in the rule's list, from 1."""

    position: int
    table: str
    column: str

    @property
    def computed(self) -> bool:
        """Whether it is of the study."""
        return self.table not in INVENTORY_TABLES

    @property
    def name(self) -> str:
        """'table.column'."""
        return f"{self.table}.{self.column}"

    @property
    def unit(self) -> str | None:
        """Unit of the column."""
        model = STUDY_TABLES[self.table] if self.computed else INVENTORY_TABLES[self.table]
        return model.columns()[self.column].unit


@cache
def asset_kind_of(table: str) -> str | None:
    """
    The kind of asset that a row of a study table is about: that of the first tag in its key.

    'zone' where the zone is the key, 'asset' where the row itself says the kind, None where it is about none.
    """
    keys = STUDY_TABLES[table].key_columns()
    if "zone" in keys:
        return "zone"
    if "asset_kind" in keys and "asset" in keys:
        return "asset"
    return next((name for name in keys if name in INVENTORY_TABLES and name != "substation"), None)


def inputs_of(rule: Rule) -> list[Input]:
    """The rule's inputs in its order."""
    return [Input(number, *each.split(".")) for number, each in enumerate(rule.inputs, start=1)]


def locate(rule: Rule, each: Input, columns: Collection[str], outcome: str) -> str | None:
    """
    The query that finds the rows which an input was read from; None if the answers do not tell.

    It reads the temporary tables `answer` (those for which the condition `outcome` holds) and `asset_place`, and gives
    answer_number, kind, station, tag, present (whether there is such a row), value and provisional. The tag comes from
    the asset asked about if it is of that kind, else from the answers' column named like the kind, with the station
    from `<kind>_substation`, from the tag where it is written STATION:TAG, else from the answer.
    """
    if each.table == "neutral":
        return _locate_neutral(rule, each, columns, outcome)
    about = asset_kind_of(each.table) if each.computed else each.table
    if about == "zone":
        return _locate_zone(rule, each, columns, outcome)
    kind = rule.asks if about == "asset" else about
    if kind is None or kind not in INVENTORY_TABLES or not _pointed_at(rule, kind, columns):
        return None
    stage = "study" if each.computed else "inventory"
    tag = "substation" if kind == "substation" else f'"{kind}"'
    joined = f"t.substation = a.station AND t.{tag} = a.tag"
    if about == "asset":
        joined = f"t.substation = a.station AND t.asset_kind = '{kind}' AND t.asset = a.tag"
    further = _further_keys(rule, each, kind, columns) if each.computed else ""
    return f"""
        SELECT a.answer_number, '{kind}' AS kind, a.station, a.tag, t.substation IS NOT NULL AS present,
               t."{each.column}" AS value, {_provisional(each)} AS provisional
        FROM ({_pointer(kind, columns, outcome)}) a
        JOIN answer o ON o.answer_number = a.answer_number
        LEFT JOIN {stage}."{each.table}" t ON {joined}{further}
    """


def _pointed_at(rule: Rule, kind: str, columns: Collection[str]) -> bool:
    return kind in (rule.asks, "substation") or kind in columns or rule.asks == "record"


def _provisional(each: Input) -> str:
    has = each.computed and "provisional" in STUDY_TABLES[each.table].columns()
    return "coalesce(t.provisional, FALSE)" if has else "FALSE"


def _pointer(kind: str, columns: Collection[str], outcome: str) -> str:
    """Answer number, station and tag of the asset of a kind; a tag of another station is taken apart."""
    if kind == "substation":
        return f"SELECT answer_number, substation AS station, substation AS tag FROM answer WHERE {outcome}"
    tag = f'"{kind}"' if kind in columns else "NULL"
    home = f'coalesce("{kind}_substation", substation)' if f"{kind}_substation" in columns else "substation"
    return f"""
        SELECT g.answer_number,
               if(g.abroad, split_part(g.named, ':', 1), g.home)                   AS station,
               if(g.abroad, substr(g.named, strpos(g.named, ':') + 1), g.named)    AS tag
        FROM (
            SELECT a.answer_number, a.home, a.named, contains(a.named, ':') AND p.asset IS NULL AS abroad
            FROM (
                SELECT answer_number,
                       if(asset_kind = '{kind}', asset, {tag})::VARCHAR AS named,
                       if(asset_kind = '{kind}', substation, {home})    AS home
                FROM answer WHERE {outcome}
            ) a
            LEFT JOIN asset_place p ON p.kind = '{kind}' AND p.substation = a.home AND p.asset = a.named
        ) g
    """


def _further_keys(rule: Rule, each: Input, kind: str, columns: Collection[str]) -> str:
    """Of several rows about one asset, that which the answer's columns of the same names tell, as in `condition`."""
    keys = [
        key for key in STUDY_TABLES[each.table].key_columns() if key not in ("substation", kind, "asset_kind", "asset")
    ]
    told = "".join(f' AND t."{key}" IS NOT DISTINCT FROM o."{key}"' for key in keys if key in columns)
    if "condition" in columns or "condition" not in keys:
        return told
    named = [name for name in ("max", "min") if re.search(rf"'{name}'", rule.query)]
    return told + (f" AND t.condition IN ({', '.join(repr(name) for name in named)})" if named else "")


_NO_POINTER = "SELECT NULL::BIGINT AS answer_number, NULL::VARCHAR AS station, NULL::VARCHAR AS tag"


def _locate_zone(rule: Rule, each: Input, columns: Collection[str], outcome: str) -> str | None:
    named = "zone" in columns or rule.asks == "zone"
    by_bus = _pointed_at(rule, "bus", columns)
    if not (named or by_bus):
        return None
    zone = '"zone"' if "zone" in columns else "NULL"
    bus = _pointer("bus", columns, outcome) if by_bus else _NO_POINTER
    further = _further_keys(rule, each, "zone", columns)
    return f"""
        SELECT a.answer_number, 'bus' AS kind, coalesce(n.substation, b.station, a.substation) AS station,
               coalesce(n.bus, b.tag) AS tag, t.zone IS NOT NULL AS present,
               t."{each.column}" AS value, {_provisional(each)} AS provisional
        FROM (
            SELECT answer_number, substation, if(asset_kind = 'zone', asset, {zone})::VARCHAR AS zone
            FROM answer WHERE {outcome}
        ) a
        LEFT JOIN ({bus}) b ON b.answer_number = a.answer_number
        LEFT JOIN study.zone_bus z ON z.substation = b.station AND z.bus = b.tag
        JOIN answer o ON o.answer_number = a.answer_number
        LEFT JOIN study.zone n ON n.zone = coalesce(a.zone, z.zone)
        LEFT JOIN study."{each.table}" t ON t.zone = n.zone{further}
    """


def _locate_neutral(rule: Rule, each: Input, columns: Collection[str], outcome: str) -> str | None:
    owner = next((kind for kind in (rule.asks, *NEUTRAL_OWNERS) if kind in NEUTRAL_OWNERS and
                  _pointed_at(rule, kind, columns)), None)  # fmt: skip
    if owner is None and not _pointed_at(rule, "neutral_device", columns):
        return None
    winding = '"winding"' if "winding" in columns else "if(item IN ('hv', 'lv', 'tv'), item, NULL)"
    if owner is None:
        pointer, joined = (
            _pointer("neutral_device", columns, outcome),
            ("t.neutral_device = a.tag AND coalesce(t.device_substation, t.substation) = a.station"),
        )
    else:
        pointer = _pointer(owner, columns, outcome)
        joined = f"t.asset_kind = '{owner}' AND t.asset = a.tag AND t.substation = a.station"
    return f"""
        SELECT a.answer_number, coalesce(t.asset_kind, '{owner or "neutral_device"}') AS kind,
               coalesce(t.substation, a.station) AS station, coalesce(t.asset, a.tag) AS tag,
               t.asset IS NOT NULL AS present, t."{each.column}" AS value, {_provisional(each)} AS provisional
        FROM ({pointer}) a
        JOIN (SELECT answer_number, {winding} AS winding FROM answer WHERE {outcome}) w USING (answer_number)
        LEFT JOIN study.neutral t ON {joined} AND (w.winding IS NULL OR t.winding IS NULL OR t.winding = w.winding)
    """
