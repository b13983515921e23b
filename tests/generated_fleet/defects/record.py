"""Defects of the record itself."""

from datetime import timedelta

import numpy as np
from generated_fleet.defects.register import changed, defect, one, scaled
from generated_fleet.station import TODAY, Rows


@defect("record/highest-below-nominal")
def decimal_point(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """A highest voltage below the nominal."""
    bus = one(rows, rng, "bus")
    return None if bus is None else changed(rows, bus, highest_voltage=round(bus["nominal_voltage"] * 0.9, 2))


@defect("record/unresolved-reference", secondaries__ground_record="the transformer that it belongs to has none then")
def tag_of_another_list(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """A circuit that names a transformer which is not on record."""
    return changed(rows, one(rows, rng, "secondary_circuit"), instrument_transformer="VT 97")


@defect("record/left-out")
def switch_between_two_voltages(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """A coupler on record between buses of different voltage."""
    if "switch" not in rows:
        return None
    high = next(b["bus"] for b in rows["bus"] if b["nominal_voltage"] > 20)
    rows["switch"].append({**rows["switch"][0], "switch": "Q9", "bus_b": high})
    return rows


@defect(
    "record/contradicting-mentions",
    record__blocking_fields="the voltage of its bus is then not known",
    return_path__source_outage="the transformer is left out",
)
def winding_of_another_voltage(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """A transformer row in which the voltage of another bus was written."""
    return scaled(rows, one(rows, rng, "transformer"), "lv_voltage", 2.2)


@defect("record/stale")
def not_compared_for_years(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """A record that nobody compared with the station for years."""
    return changed(rows, rows["substation"][0], recorded_on=TODAY - timedelta(days=int(rng.integers(2200, 6000))))


@defect("record/duplicated")
def one_arrester_under_two_spellings(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """The list of another office has the same arrester, with a hyphen in its tag."""
    arrester = one(rows, rng, "arrester", position="phase")
    if arrester is None:
        return None
    rows["arrester"].append({**arrester, "arrester": arrester["arrester"].replace(" ", "-")})
    return rows


@defect("record/implausible")
def ohms_in_a_column_of_milliohms(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """A strap of less than a microohm."""
    return changed(rows, one(rows, rng, "bond"), measured_resistance=round(rng.uniform(0.0002, 0.0009), 5))


@defect("record/implausible", mat__computed_agreement="a mat in such soil has next to no resistance")
def resistivity_in_another_unit(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """Soil of half an ohm meter."""
    return changed(rows, rows["ground_grid"][0], soil_resistivity=0.5)


@defect("record/voltage-agreement")
def machine_of_another_voltage(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """A machine rated a ninth above its bus."""
    return scaled(rows, one(rows, rng, "generator"), "rated_voltage", rng.uniform(1.113, 1.118))


@defect("record/blocking-fields")
def supply_left_blank(rows: Rows, rng: np.random.Generator) -> Rows | None:
    """The impedance of a transformer, left blank, where protection and plant that hang on it are on record."""
    if len(rows.get("ground_relay", [])) < 3:
        return None
    return changed(rows, one(rows, rng, "transformer"), impedance=None, z0=None)
