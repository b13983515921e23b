"""A rule that cannot be used is refused with file, line and reason; the others run."""

import pytest

from groundcheck.audit import load_rulebooks
from groundcheck.errors import SourceNotFound

BUS_QUERY = '''"""
SELECT substation, 'bus' AS asset_kind, bus AS asset, 1 AS actual, 2 AS required, 'kV' AS unit,
       {ok}
FROM inventory.bus
"""'''


@pytest.fixture
def refusals(tmp_path):
    """What is refused of the folder of rules."""

    def load():
        book = load_rulebooks([tmp_path])
        return [str(r).replace(f"{tmp_path.as_posix()}/", "") for r in book.refused if r.rulebook == str(tmp_path)]

    return load


def test_a_rule_of_a_folder_is_named_for_its_path(tmp_path, rule_file):
    rule_file(tmp_path / "bus_bars" / "declared_grounding.py")
    loaded = load_rulebooks([tmp_path]).rules["bus-bars/declared-grounding"]
    assert (loaded.rulebook, loaded.rule.asks) == (str(tmp_path), "bus")


def test_one_file_may_be_named_instead_of_a_folder(tmp_path, rule_file):
    file = rule_file(tmp_path / "spare.py")
    assert "spare" in load_rulebooks([file]).rules


def test_the_installed_rulebook_is_found_by_its_entry_point():
    assert any(loaded.rulebook == "groundcheck_rules" for loaded in load_rulebooks().rules.values())


def test_a_folder_that_does_not_exist_is_an_error(tmp_path):
    with pytest.raises(SourceNotFound) as error:
        load_rulebooks([tmp_path / "none"])
    assert str(error.value) == f"{tmp_path / 'none'}: no such folder of rules"


def test_a_folder_without_rules_is_said(tmp_path):
    (tmp_path / "readme.txt").write_text("nothing here")
    (tmp_path / "_private.py").write_text("RULE = None")
    refused = [r for r in load_rulebooks([tmp_path]).refused if r.rulebook == str(tmp_path)]
    assert [str(r) for r in refused] == [f"{tmp_path}: the folder holds no rule module"]


@pytest.mark.parametrize(
    ("fields", "problem"),
    [
        ({"severity": "'grave'"}, "line 5: `severity` is 'grave'; high, medium or low is expected"),
        ({"title": "''"}, "line 4: `title` is ''; a text is expected"),
        ({"asks": "'busbar'"}, "line 8: `asks` is 'busbar', which is no kind of asset; nearest is `bus`"),
        (
            {"inputs": "(\n'bus.nominal_voltage',\n'bus.declared_groundng',)"},
            "line 11: the input `bus.declared_groundng` names no column of inventory.bus; "
            "nearest is `bus.declared_grounding`",
        ),
        (
            {"inputs": "('buss.nominal_voltage',)"},
            "line 9: the input `buss.nominal_voltage` names no table of inventory or study; nearest is `bus`",
        ),
        (
            {"policy": "{'margin': 'insulation.margn'}"},
            "line 20: no policy entry `insulation.margn`; nearest is `insulation.margin`",
        ),
        (
            {"query": BUS_QUERY.format(ok="TRUE AS okay")},
            "line 10: the query returns no column `ok`",
        ),
        (
            {"query": BUS_QUERY.format(ok="1 AS ok")},
            "line 10: the query's column `ok` is INTEGER; BOOLEAN is expected",
        ),
        (
            {"query": BUS_QUERY.format(ok="nominal_voltage > $limit AS ok")},
            "line 12: the query uses $limit, which the rule's policy does not list",
        ),
        (
            {"query": BUS_QUERY.format(ok="nominal_voltage > 1 AS ok, bus AS unit")},
            "line 11: the query returns the column `unit` twice; name each column once",
        ),
        ({"message": "'{colour}'"}, "line 15: the message needs the column `colour`, which the query does not return"),
        ({"remedy": "'{asset'"}, "line 17: the remedy is not a valid template (expected '}' before end of string)"),
        ({"titel": "'x'", "title": ""}, "line 3: a rule has no field `titel`; nearest is `title`"),
        ({"title": ""}, "line 3: the rule has no `title`"),
    ],
)
def test_a_faulty_field_is_named_with_its_line(tmp_path, rule_file, refusals, fields, problem):
    rule_file(tmp_path / "spare.py", **fields)
    assert refusals() == [f"spare.py, {problem}"]


def test_a_failing_query_is_named_with_the_line_that_fails(tmp_path, rule_file, refusals):
    rule_file(tmp_path / "spare.py", query=BUS_QUERY.format(ok="colour = 'red' AS ok"))
    (problem,) = refusals()
    assert problem.startswith("spare.py, line 12: the query fails: Binder Error:")
    assert '"colour"' in problem


@pytest.mark.parametrize(
    ("text", "problem"),
    [
        ("x = 1\nRULE = Rule(\n", "line 2: it is not valid Python ('(' was never closed)"),
        ("x = 1\n", "it has no RULE"),
        ("x = 1\nRULE = 'a rule'\n", "line 2: its RULE is a str; a Rule is expected"),
        ("x = 1\ny = x / 0\n", "line 2: it can't be loaded (ZeroDivisionError: division by zero)"),
        ("import sys\nsys.exit(3)\n", "line 2: it can't be loaded (SystemExit: 3)"),
    ],
)
def test_a_module_that_gives_no_rule_is_named(tmp_path, refusals, text, problem):
    (tmp_path / "spare.py").write_text(text)
    separator = ", " if problem.startswith("line") else ": "
    assert refusals() == [f"spare.py{separator}{problem}"]


def test_of_two_rules_of_one_name_the_second_is_refused(tmp_path, rule_file):
    one, other = tmp_path / "one", tmp_path / "other"
    rule_file(one / "spare.py")
    rule_file(other / "spare.py")
    book = load_rulebooks([one, other])
    assert book.rules["spare"].rulebook == str(one)
    assert [str(r) for r in book.refused if r.rulebook == str(other)] == [
        f"{(other / 'spare.py').as_posix()}, line 3: a rule named spare is already loaded from "
        f"{(one / 'spare.py').as_posix()}"
    ]


def test_the_other_rules_of_the_folder_run(tmp_path, rule_file):
    rule_file(tmp_path / "bad.py", severity="'grave'")
    rule_file(tmp_path / "good.py")
    book = load_rulebooks([tmp_path])
    assert "good" in book.rules
    assert "bad" not in book.rules


def test_what_was_refused_is_in_the_store(store, tmp_path, rule_file, rows):
    from groundcheck.audit import run_rules
    from groundcheck.policy import load_policy

    rule_file(tmp_path / "bad.py", severity="'grave'")
    rule_file(tmp_path / "good.py")
    run_rules(store, load_rulebooks([tmp_path]), load_policy())
    found = dict(rows(f"SELECT rule, problem FROM audit.rule WHERE rulebook = '{tmp_path}'"))
    line = f"{(tmp_path / 'bad.py').as_posix()}, line 5: `severity` is 'grave'; high, medium or low is expected"
    assert found == {"good": None, "bad": line}


ELM = {"substation": "ELM"}


def test_a_rule_that_answers_twice_for_an_asset_is_refused_and_leaves_no_rows(put, make_rule, run, rows):
    put("inventory.neutral_device", ELM | {"neutral_device": "NR1", "kind": "resistor", "rated_current": 100.0})
    put("study.neutral_duty", *[ELM | {"neutral_device": "NR1", "current_a": amps} for amps in (200.0, 300.0)])
    largest = "SELECT substation, neutral_device, max(current_a) AS current_a FROM study.neutral_duty GROUP BY ALL"
    sound = make_rule(query=make_rule().query.replace("study.neutral_duty", f"({largest})"))
    run(own__twice=make_rule(), own__sound=sound)
    problems = dict(rows("SELECT rule, problem FROM audit.rule"))
    assert problems == {
        "own/sound": None,
        "own/twice": "own/twice.py: the query answers 2 times for neutral_device NR1 of ELM; return one row an asset, "
        "or tell the rows apart with a column `item`",
    }
    assert rows("SELECT DISTINCT rule FROM audit.result") == [("own/sound",)]


def test_a_format_that_does_not_fit_refuses_the_rule_before_it_writes(put, make_rule, run, rows):
    put("inventory.neutral_device", ELM | {"neutral_device": "NR1", "kind": "resistor", "rated_current": 100.0})
    put("study.neutral_duty", ELM | {"neutral_device": "NR1", "current_a": 200.0})
    run(make_rule(message="{asset:.0f}"))
    assert rows("SELECT problem FROM audit.rule") == [
        ("own/rule.py: the message shows `asset` as `.0f`, which does not fit 'NR1'",)
    ]
    assert rows("SELECT count(*) FROM audit.result") == [(0,)]
