"""Trying a folder of rules before it is used: what its examples do not hold is said with file and line."""

from groundcheck.audit import load_rulebooks, try_rulebook

EXAMPLES = """{
    "exception: 31 kV": {"bus": [{"substation": "ELM", "bus": "B1", "nominal_voltage": 33.0, "highest_voltage": 31.0}]},
    "satisfied: %s kV": {"bus": [{"substation": "ELM", "bus": "B1", "nominal_voltage": 33.0, "highest_voltage": %s}]},
    "not assessable: blank": {"bus": [{"substation": "ELM", "bus": "B1", "nominal_voltage": 33.0}]},
}"""
QUERY = '''"""
SELECT substation, 'bus' AS asset_kind, bus AS asset, highest_voltage AS actual, nominal_voltage AS required,
       'kV' AS unit, highest_voltage >= nominal_voltage AS ok
FROM inventory.bus
"""'''
FIELDS = {"query": QUERY, "inputs": "('bus.highest_voltage', 'bus.nominal_voltage')"}


def tried(folder):
    return [line.replace(f"{folder}/", "") for line in try_rulebook(load_rulebooks([folder]), [str(folder)])]


def test_a_rule_whose_examples_hold_its_limit_passes(tmp_path, rule_file):
    rule_file(tmp_path / "own.py", **FIELDS, examples=EXAMPLES % (33, 33.0))
    assert tried(tmp_path) == []


def test_a_comparison_that_no_example_watches_is_said(tmp_path, rule_file):
    rule_file(tmp_path / "own.py", **FIELDS, examples=EXAMPLES % (36, 36.0))
    assert tried(tmp_path) == [
        "own.py, line 10: no example notices a comparison other than `highest_voltage >= nominal_voltage`"
    ]


def test_a_limit_that_no_example_watches_is_said(tmp_path, rule_file):
    query = QUERY.replace("highest_voltage >= nominal_voltage", "highest_voltage >= nominal_voltage AND $margin < 1e9")
    fields = FIELDS | {"query": query, "policy": "{'margin': 'arrester.margin'}"}
    rule_file(tmp_path / "own.py", **fields, examples=EXAMPLES % (33, 33.0))
    assert any("no example notices if the limit `margin` is 1.5 times as large" in line for line in tried(tmp_path))


def test_an_example_that_ends_otherwise_is_said_at_its_line(tmp_path, rule_file):
    file = rule_file(tmp_path / "own.py", **FIELDS, examples=EXAMPLES % (30, 30.0))
    line = next(n for n, text in enumerate(file.read_text().splitlines(), start=1) if "satisfied: 30 kV" in text)
    assert tried(tmp_path) == [
        f"own.py, line {line}: example 'satisfied: 30 kV': B1 is exception; satisfied was expected"
    ]


def test_an_outcome_without_an_example_is_said(tmp_path, rule_file):
    rule_file(tmp_path / "own.py", **FIELDS, examples="{'exception: x': {}}")
    assert "no example is labelled 'satisfied: ...'" in "\n".join(tried(tmp_path))


def test_a_refused_rule_is_among_the_problems(tmp_path, rule_file):
    rule_file(tmp_path / "own.py", severity="'grave'")
    assert tried(tmp_path) == ["own.py, line 5: `severity` is 'grave'; high, medium or low is expected"]


def test_a_rule_without_examples_does_not_run(tmp_path, rule_file):
    rule_file(tmp_path / "own.py", **FIELDS, examples="{}")
    book = load_rulebooks([tmp_path])
    assert "own" not in book.rules
    assert tried(tmp_path)[0].endswith("the rule has no examples; one of each outcome is expected")
