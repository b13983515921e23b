"""What is not assessable names the cells that somebody can fill in."""

import dataclasses

import pytest

ELM = {"substation": "ELM"}
AT_BUS = """
    SELECT i.substation, 'insulation' AS asset_kind, i.insulation AS asset, i.bus,
           i.rated_ground_voltage AS actual, f.healthy_phase_kv AS required, 'kV' AS unit, actual >= required AS ok
    FROM inventory.insulation i
    LEFT JOIN study.bus_fault f
           ON f.substation || ':' || f.bus = if(contains(i.bus, ':'), i.bus, i.substation || ':' || i.bus)
          AND f.condition = 'max'
"""


@pytest.fixture
def at_bus(make_rule):
    inputs = ("insulation.rated_ground_voltage", "bus_fault.healthy_phase_kv")
    return make_rule(asks="insulation", inputs=inputs, query=AT_BUS, message="{asset}", working="", remedy="")


@pytest.fixture
def missing(rows):
    def read():
        return rows(
            "SELECT asset, blocking_substation, blocking_asset_kind, blocking_asset, field FROM audit.missing_field "
            "ORDER BY ALL"
        )

    return read


@pytest.fixture
def words(rows):
    return lambda: dict(rows("SELECT asset, missing FROM audit.result"))


def insulation(tag, kv=10.0, bus="B1"):
    return ELM | {"insulation": tag, "bus": bus, "kind": "switchgear", "rated_ground_voltage": kv}


def fault(kv, condition="max", substation="ELM"):
    return {"substation": substation, "bus": "B1", "condition": condition, "healthy_phase_kv": kv}


def test_a_blank_field_of_the_asset_is_named(put, at_bus, run, missing, words):
    put("inventory.insulation", insulation("SG1", None), insulation("SG2"))
    put("study.bus_fault", fault(9.0), fault(None, "min"))
    run(at_bus)
    assert missing() == [("SG1", "ELM", "insulation", "SG1", "rated_ground_voltage")]
    assert words() == {"SG1": "insulation.rated_ground_voltage of SG1", "SG2": None}


def test_a_blank_study_quantity_is_traced_to_the_records_that_block_it(put, at_bus, run, missing, words):
    put("inventory.insulation", insulation("SG1"))
    put("study.bus_fault", fault(None))
    blocked = ELM | {"asset_kind": "bus", "asset": "B1", "quantity": "bus_fault.healthy_phase_kv"}
    put(
        "study.blocked",
        blocked | {"blocking_substation": "ELM", "blocking_asset_kind": "transformer", "blocking_asset": "T1",
                   "field": "vector_group"},
        blocked | {"blocking_substation": "OAK", "blocking_asset_kind": "infeed", "blocking_asset": "G1",
                   "field": "x_over_r"},
        blocked | {"quantity": "bus_fault.cog", "blocking_substation": "ELM", "blocking_asset_kind": "transformer",
                   "blocking_asset": "T9", "field": "z0"},
    )  # fmt: skip
    run(at_bus)
    assert missing() == [
        ("SG1", "ELM", "transformer", "T1", "vector_group"),
        ("SG1", "OAK", "infeed", "G1", "x_over_r"),
    ]
    assert words() == {"SG1": "infeed.x_over_r of OAK:G1; transformer.vector_group of T1"}


def test_a_quantity_without_a_study_row_is_traced_too(put, at_bus, run, missing):
    put("inventory.insulation", insulation("SG1"))
    put(
        "study.blocked",
        ELM | {"asset_kind": "bus", "asset": "B1", "quantity": "bus_fault.healthy_phase_kv",
               "blocking_substation": "ELM", "blocking_asset_kind": "bus", "blocking_asset": "B1",
               "field": "nominal_voltage"},
    )  # fmt: skip
    run(at_bus)
    assert missing() == [("SG1", "ELM", "bus", "B1", "nominal_voltage")]


def test_a_quantity_that_nothing_blocks_is_named_itself(put, at_bus, run, missing):
    put("inventory.insulation", insulation("SG1"))
    run(at_bus)
    assert missing() == [("SG1", "ELM", "bus", "B1", "bus_fault.healthy_phase_kv")]


def test_a_bus_of_another_station_is_looked_up_there(put, at_bus, run, missing):
    put("inventory.insulation", insulation("SG1", bus="OAK:B1"))
    put("study.bus_fault", fault(9.0), fault(None, substation="OAK"))
    run(at_bus)
    assert missing() == [("SG1", "OAK", "bus", "B1", "bus_fault.healthy_phase_kv")]


def test_bounds_are_traced_as_the_quantity_they_bound(put, make_rule, run, missing):
    put("inventory.neutral_device", ELM | {"neutral_device": "NR1", "kind": "resistor", "rated_current": 400.0})
    put("study.neutral_duty", ELM | {"neutral_device": "NR1"})
    put(
        "study.blocked",
        ELM | {"asset_kind": "neutral_device", "asset": "NR1", "quantity": "neutral_duty.current_a",
               "blocking_substation": "ELM", "blocking_asset_kind": "neutral_device", "blocking_asset": "NR1",
               "field": "resistance"},
    )  # fmt: skip
    run(make_rule(inputs=("neutral_device.rated_current", "neutral_duty.current_a_high")))
    assert missing() == [("NR1", "ELM", "neutral_device", "NR1", "resistance")]


ZONE_OF_BUS = """
    SELECT b.substation, 'bus' AS asset_kind, b.bus AS asset, 1 AS actual, 1 AS required, '' AS unit,
           z.grounding_class = b.declared_grounding AS ok
    FROM inventory.bus b
    LEFT JOIN study.zone_bus p USING (substation, bus)
    LEFT JOIN study.zone z ON z.zone = p.zone
"""


def test_a_zone_is_found_by_the_bus_and_traced_by_the_bus_that_names_it(put, make_rule, run, missing):
    put("inventory.bus", ELM | {"bus": "B2", "declared_grounding": "solid"})
    put("study.zone", ELM | {"zone": "ELM:B1", "bus": "B1"})
    put("study.zone_bus", *[ELM | {"zone": "ELM:B1", "bus": bus} for bus in ("B1", "B2")])
    put(
        "study.blocked",
        ELM | {"asset_kind": "bus", "asset": "B1", "quantity": "zone.grounding_class", "blocking_substation": "ELM",
               "blocking_asset_kind": "transformer", "blocking_asset": "T1", "field": "vector_group"},
    )  # fmt: skip
    run(make_rule(asks="bus", inputs=("bus.declared_grounding", "zone.grounding_class"), query=ZONE_OF_BUS))
    assert missing() == [("B2", "ELM", "transformer", "T1", "vector_group")]


CIRCUIT = """
    SELECT s.substation, 'secondary_circuit' AS asset_kind, s.secondary_circuit AS asset, s.instrument_transformer,
           t.secondary AS actual, 1 AS required, '' AS unit, t.secondary > 1 AS ok
    FROM inventory.secondary_circuit s
    LEFT JOIN inventory.instrument_transformer t USING (substation, instrument_transformer)
"""


def test_of_an_asset_that_is_not_on_record_the_reference_or_the_asset_is_named(put, make_rule, run, missing, words):
    put(
        "inventory.secondary_circuit",
        ELM | {"secondary_circuit": "C1", "instrument_transformer": None},
        ELM | {"secondary_circuit": "C2", "instrument_transformer": "CT9"},
        ELM | {"secondary_circuit": "C3", "instrument_transformer": "CT1"},
    )
    put("inventory.instrument_transformer", ELM | {"instrument_transformer": "CT1", "kind": "ct"})
    run(make_rule(asks="secondary_circuit", inputs=("instrument_transformer.secondary",), query=CIRCUIT))
    assert missing() == [
        ("C1", "ELM", "secondary_circuit", "C1", "instrument_transformer"),
        ("C2", "ELM", "instrument_transformer", "CT9", "secondary"),
        ("C3", "ELM", "instrument_transformer", "CT1", "secondary"),
    ]
    assert words()["C2"] == "instrument transformer CT9 is not on record"


def test_an_input_whose_asset_no_answer_tells_is_named_by_its_field(put, make_rule, run, missing, words):
    put("inventory.bus", ELM | {"bus": "B1"})
    query = """
        SELECT b.substation, 'bus' AS asset_kind, b.bus AS asset, 1 AS actual, 1 AS required, '' AS unit,
               d.method = 'lamps' AS ok
        FROM inventory.bus b LEFT JOIN inventory.ground_detector d USING (substation, bus)
    """
    run(make_rule(asks="bus", inputs=("ground_detector.method",), query=query))
    assert missing() == [("B1", "ELM", "ground_detector", "", "method")]
    assert words() == {"B1": "ground_detector.method"}


def test_an_answer_may_say_which_inputs_it_needs(put, at_bus, run, missing):
    put("inventory.insulation", insulation("SG1", None))
    needs = "i.bus, CASE WHEN i.kind = 'switchgear' THEN ['insulation.rated_ground_voltage'] END AS needs,"
    inputs = ("insulation.bil", *at_bus.inputs)
    run(dataclasses.replace(at_bus, inputs=inputs, query=at_bus.query.replace("i.bus,", needs, 1)))
    assert missing() == [("SG1", "ELM", "insulation", "SG1", "rated_ground_voltage")]
