"""A rule reads inventory and study; it cannot write, and it cannot reach a file."""

import pytest

from groundcheck.audit.fault import RuleFault
from groundcheck.audit.question import ask
from groundcheck.audit.single_select import read_select

MAY_READ = "a rule reads tables written inventory.NAME or study.NAME"


@pytest.mark.parametrize(
    ("query", "problem"),
    [
        ("DELETE FROM inventory.bus", "the query is a statement of kind DELETE; one SELECT is expected"),
        ("SELECT 1; DROP TABLE inventory.bus", "the query holds 2 statements; one SELECT is expected"),
        ("COPY (SELECT 1) TO 'out.csv'", "the query is a statement of kind COPY; one SELECT is expected"),
        ("ATTACH 'other.db'", "the query is a statement of kind ATTACH; one SELECT is expected"),
        ("", "the query holds 0 statements; one SELECT is expected"),
        ("SELECT * FROM 'north.csv'", f"the query reads from north.csv; {MAY_READ}"),
        ("SELECT * FROM read_csv('north.csv')", f"the query reads from read_csv(); {MAY_READ}"),
        ("SELECT (SELECT content FROM read_text('x'))", f"the query reads from read_text(); {MAY_READ}"),
        ("SELECT * FROM query('SELECT 1')", f"the query reads from query(); {MAY_READ}"),
        ('WITH "north.csv" AS (SELECT 1) SELECT * FROM "north.csv"', f"the query reads from north.csv; {MAY_READ}"),
        ("SELECT * FROM audit.finding", f"the query reads from audit.finding; {MAY_READ}"),
        ("SELECT * FROM raw.row", f"the query reads from raw.row; {MAY_READ}"),
        ("SELECT * FROM bus", f"the query reads from bus; {MAY_READ}"),
        ("SELECT * FROM inventory.buss", f"the query reads from inventory.buss; {MAY_READ}"),
        ("SHOW TABLES", f"the query reads from show ref; {MAY_READ}"),
    ],
)
def test_what_is_not_one_select_over_inventory_and_study_is_refused(query, problem):
    with pytest.raises(RuleFault) as fault:
        read_select(query)
    assert str(fault.value) == problem


def test_an_insert_hidden_in_a_with_clause_is_refused():
    with pytest.raises(RuleFault):
        read_select("WITH w AS (INSERT INTO study.zone (zone) VALUES ('z') RETURNING zone) SELECT * FROM w")


@pytest.mark.parametrize(
    "query",
    [
        "SELECT * FROM inventory.bus",
        "WITH w AS (SELECT * FROM study.zone) SELECT * FROM w JOIN INVENTORY.Bus USING (substation)",
        "SELECT x FROM inventory.bus, unnest([1, 2]) AS u(x), generate_series(1, 2) UNION ALL SELECT 1;",
        "WITH RECURSIVE w AS (SELECT 1 AS n UNION ALL SELECT n + 1 FROM w WHERE n < 3) SELECT * FROM w -- three rows",
    ],
)
def test_what_reads_inventory_and_study_may_run(query):
    assert read_select(query).text


def test_a_write_that_passed_the_check_fails_in_the_read_only_transaction(store, make_rule, monkeypatch):
    """The second lock holds by itself: the check is bypassed here."""
    from groundcheck.audit import question
    from groundcheck.audit.single_select import Select

    columns = "'S' AS substation, 'bus' AS asset_kind, 'B' AS asset, 1 AS actual, 1 AS required, '' AS unit, TRUE AS ok"
    write = f"WITH w AS (INSERT INTO study.zone (zone) VALUES ('z') RETURNING zone) SELECT {columns} FROM w"
    monkeypatch.setattr(question, "read_select", lambda query: Select(query, frozenset()))
    with pytest.raises(RuleFault):
        ask(store, make_rule(query=write), {})
    assert store.connection.execute("SELECT count(*) FROM study.zone").fetchone() == (0,)


def test_a_frame_of_the_program_is_not_found_by_name(store, make_rule, monkeypatch):
    """A name of the query is never looked up among the program's own variables."""
    import pandas as pd

    from groundcheck.audit import question
    from groundcheck.audit.single_select import Select

    secret = pd.DataFrame({"substation": ["S"]})
    query = "SELECT * FROM secret"
    monkeypatch.setattr(question, "read_select", lambda query: Select(query, frozenset()))
    with pytest.raises(RuleFault, match="secret does not exist"):
        ask(store, make_rule(query=query), {})
    assert len(secret) == 1


def test_no_extension_is_fetched(store):
    names = ("autoinstall_known_extensions", "autoload_known_extensions")
    assert [store.connection.execute(f"SELECT current_setting('{name}')").fetchone() for name in names] == [
        (False,)
    ] * 2


def test_the_store_can_be_written_after_a_rule_ran(store, put, make_rule, run):
    run(make_rule())
    put("inventory.bus", {"substation": "ELM", "bus": "B1"})
    assert store.connection.execute("SELECT count(*) FROM inventory.bus").fetchone() == (1,)
