"""Every rule of every installed rulebook: its examples, and whether they would notice a change of the rule."""

import re

import pytest

from groundcheck.audit import LoadedRule, Rule, load_rulebooks
from groundcheck.audit.examples import check_example, trace_example
from groundcheck.audit.mutation import unnoticed_limits, unnoticed_swaps

BOOK = load_rulebooks()
RULES = [pytest.param(loaded, id=name) for name, loaded in BOOK.rules.items()]
EXAMPLES = [
    pytest.param(loaded.rule, label, id=f"{name} | {label}")
    for name, loaded in BOOK.rules.items()
    for label in loaded.rule.examples
]


def test_every_installed_rule_module_loads():
    assert [str(refusal) for refusal in BOOK.refused] == []
    assert BOOK.rules


@pytest.mark.parametrize("loaded", RULES)
def test_a_rule_shows_each_outcome(loaded: LoadedRule):
    shown = {label.partition(":")[0] for label in loaded.rule.examples}
    assert {"exception", "satisfied"} <= shown
    assert "not assessable" in shown or loaded.rule.always_assessable


@pytest.mark.parametrize("loaded", RULES)
def test_a_rule_names_its_authority_and_its_caution(loaded: LoadedRule):
    assert re.search(r"\b(IEEE|IEC|ICEA|NFPA|NERC|DIN)\b|common practice|Reference Book", loaded.rule.basis)
    assert loaded.rule.caution or loaded.name.startswith("record/")
    compares_quantities = re.search(r"'(A|kA|V|kV|s|ohm|mohm|mm2|kVA|kJ)'\s+AS unit", loaded.rule.query)
    assert loaded.rule.formula or not compares_quantities


@pytest.mark.parametrize(("rule", "label"), EXAMPLES)
def test_example_gives_the_outcome_it_is_labelled_with(rule: Rule, label: str):
    assert check_example(rule, label, rule.examples[label]) == []


@pytest.mark.parametrize(("rule", "label"), [p for p in EXAMPLES if p.values[1].startswith("not assessable")])
def test_what_is_not_assessable_names_a_field_to_fill_in(rule: Rule, label: str):
    traced = trace_example(rule, rule.examples[label])
    assert traced
    assert all(fields for fields in traced.values()), traced


@pytest.mark.parametrize("loaded", RULES)
def test_an_example_notices_each_swapped_comparison(loaded: LoadedRule):
    assert unnoticed_swaps(loaded.rule) == []


@pytest.mark.parametrize("loaded", RULES)
def test_an_example_notices_each_limit_scaled(loaded: LoadedRule):
    assert unnoticed_limits(loaded.rule) == []


def test_a_rule_imports_the_rule_type_and_nothing_else_of_the_project():
    for loaded in BOOK.rules.values():
        own = [line for line in loaded.file.read_text(encoding="utf-8").splitlines() if "import" in line.split("#")[0]]
        assert [line for line in own if "groundcheck" in line] == ["from groundcheck.audit import Rule"], loaded.name
