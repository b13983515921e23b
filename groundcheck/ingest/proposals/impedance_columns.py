"""Finding impedances that a network register gives as R and X in per cent on a common base."""

import re
from dataclasses import dataclass, field
from statistics import median

from groundcheck.ingest.mapping.feeds import Feed
from groundcheck.ingest.mapping.headings import normalize, table_columns
from groundcheck.ingest.sheets import Sheet, is_blank
from groundcheck.ingest.tables.header_row import Region
from groundcheck.ingest.toml_text import quoted
from groundcheck.ingest.values import read_column
from groundcheck.schema import Column

_BASE = 100.0  # MVA: the usual common base of network registers; common practice, no source
_HV_LV = r"( hv[ /-]lv)?"
_HV_TV = r" hv[ /-](tertiary|tv)"
_LV_TV = r" lv[ /-](tertiary|tv)"
_PER_CENT = Column("", "quantity", "Per cent.", unit="%")


@dataclass
class Impedances:
    """Fields of the column map as TOML text, each with its reason; whether they stand on the common base, and why."""

    fields: dict[str, tuple[str, str]] = field(default_factory=dict)
    columns: set[int] = field(default_factory=set)
    on_common_base: bool = False
    why: str = ""


def find_impedances(sheet: Sheet, region: Region, feed: Feed) -> Impedances | None:
    """The impedances of a transformer register that has reactances; None for any other sheet."""
    if feed.table != "transformer" or "impedance" in feed.fields:
        return None
    reactance = _column(region, rf"x1?{_HV_LV}")
    if reactance is None:
        return None
    resistance = _column(region, rf"r1?{_HV_LV}")
    found = Impedances()
    pair = {"r": resistance, "x": reactance} if resistance is not None else {"x": reactance}
    written = ", ".join(f"{key} = {_heading(region, column)}" for key, column in pair.items())
    found.fields["impedance"] = (f"{{ {written} }}", _numeric(sheet, region, reactance))
    found.columns |= set(pair.values())
    for name, pattern in (
        ("z0", rf"x0{_HV_LV}"),
        ("hv_tv_impedance", rf"x1?{_HV_TV}"),
        ("lv_tv_impedance", rf"x1?{_LV_TV}"),
    ):
        column = _column(region, pattern)
        if column is not None and name not in feed.fields:
            found.fields[name] = (_heading(region, column), _numeric(sheet, region, column))
            found.columns.add(column)
    _judge_base(found, sheet, region, feed, reactance)
    return found


def _judge_base(found: Impedances, sheet: Sheet, region: Region, feed: Feed, reactance: int) -> None:
    values = _numbers(sheet, region, reactance)
    limit = table_columns("transformer")["impedance"].le or 0.0
    above = sum(value > limit for value in values)
    heading = region.headings[reactance]
    rating = feed.fields.get("rated_power")
    size = median(_numbers(sheet, region, rating.columns[0]) or [0.0]) if rating else 0.0
    own = median(values or [0.0]) * size / _BASE
    found.on_common_base = above > 0.5 * len(values)
    found.why = (
        f"{above / max(len(values), 1):.2f}: {heading} is above {limit:g} % in {above:,} of {len(values):,} rows; "
        f"on {_BASE:g} MVA the median transformer of {size:g} MVA has {own:.0f} % on its own rating"
    )


def _numeric(sheet: Sheet, region: Region, column: int) -> str:
    filled = sum(column < len(row) and not is_blank(row[column]) for row in (sheet.rows[i] for i in region.body))
    numbers = len(_numbers(sheet, region, column))
    return f"{numbers / max(filled, 1):.2f}: by heading; {numbers:,} of {filled:,} cells are numbers"


def _numbers(sheet: Sheet, region: Region, column: int) -> list[float]:
    cells = [sheet.rows[index][column] for index in region.body if column < len(sheet.rows[index])]
    values = read_column(cells, _PER_CENT, decimal_comma=sheet.decimal_comma).values
    return [float(value) for value in values if isinstance(value, int | float)]


def _column(region: Region, pattern: str) -> int | None:
    return next((c for c, h in region.headings.items() if re.fullmatch(pattern, normalize(h))), None)


def _heading(region: Region, column: int) -> str:
    return quoted(region.headings[column])
