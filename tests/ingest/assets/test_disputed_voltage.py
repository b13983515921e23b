"""Two voltages for one bus that is only named, from the workbook to the finding."""

import pytest

from groundcheck import audit

TX = ["Station", "Transformer", "HV bus", "LV bus", "MVA", "HV kV", "LV kV", "Vector group"]
GENERATORS = ["Station", "Generator", "Bus", "MVA", "kV"]


@pytest.mark.parametrize(("bus", "cell"), [("B11", "G2"), ("B12", "E2")])
def test_the_finding_cites_the_cell_of_the_first_voltage(book, bus, cell):
    tx = [TX, ["Ash Lane", "T1", "B33", "B11", 12, 33, 11, "Dyn11"]]
    generators = [GENERATORS, ["Ash Lane", "G1", "B12", 5, 11], ["Ash Lane", "G2", "B12", 5, 3.3]]
    if bus == "B11":
        tx.append(["Ash Lane", "T2", "B33", "B11", 12, 33, 6.6, "Dyn11"])
        generators = generators[:2]
    made = audit([book({"Tx": tx, "Generators": generators})])
    rule = "record/contradicting-mentions"
    found = made.store.sql("SELECT asset, cell FROM audit.finding WHERE rule = $rule", {"rule": rule}).fetchall()
    made.store.close()
    assert found == [(bus, cell)]
