"""Words of a vocabulary, and yes or no."""

import pytest

from groundcheck.ingest.values import read_cell
from groundcheck.ingest.values.words import normal_words
from groundcheck.schema import INVENTORY_TABLES, Column
from groundcheck.schema.vocabulary import GROUNDING, NEUTRAL_DEVICE_KINDS, SWITCH_STATE

KIND = Column("kind", "choice", "", accepted=NEUTRAL_DEVICE_KINDS)
DECLARED = Column("declared_grounding", "choice", "", accepted=GROUNDING)
STATE = Column("normal_state", "choice", "", accepted=SWITCH_STATE)
YES_NO = Column("monitored", "yes_no", "")

CHOICES = [
    column for table in INVENTORY_TABLES.values() for column in table.columns().values() if column.kind == "choice"
]


@pytest.mark.parametrize(
    ("text", "column", "word"),
    [
        ("NER", KIND, "resistor"),
        ("arc_suppression_coil", KIND, "arc_suppression_coil"),
        ("Arc-Suppression  Coil", KIND, "arc_suppression_coil"),
        ("PETERSEN COIL", KIND, "arc_suppression_coil"),
        ("neutral\u00a0earthing resistor.", KIND, "resistor"),
        ("n/o", STATE, "open"),
        ("N.O.", STATE, "open"),
        ("NC", STATE, "closed"),
        ("Solidly Earthed", DECLARED, "solid"),
        ("LRG", DECLARED, "low_resistance"),
    ],
)
def test_a_word_in_any_dress(text, column, word):
    assert read_cell(text, column) == (word, None, None, None, None)


def test_every_spelling_of_every_vocabulary_leads_to_its_word():
    for column in CHOICES:
        for word, synonyms in column.accepted.items():
            assert read_cell(word, column).value == word
            for synonym in synonyms:
                if normal_words(synonym) not in map(normal_words, column.accepted):
                    assert read_cell(synonym.upper(), column) == (word, None, None, None, None), (column.name, synonym)


def test_a_word_of_the_vocabulary_is_never_blank():
    assert read_cell("none", DECLARED).value == "ungrounded"
    assert read_cell("none", KIND) == (None, None, None, None, None)


def test_a_misspelling_of_one_word_is_read_and_noted():
    assert read_cell("nuetral earthing resistor", KIND) == ("resistor", None, "close match", None, None)


@pytest.mark.parametrize("text", ["solidly ungrounded", "not effectively grounded", "ineffectively earthed"])
def test_the_opposite_is_no_close_match(text):
    assert read_cell(text, DECLARED).problem.reason == "unknown_word"


def test_other_digits_are_no_close_match():
    column = Column("core_form", "choice", "", accepted={"x": ("core with 3 limbs",), "y": ()})
    assert read_cell("core with 4 limbs", column).problem == ("unknown_word", "one of x, y")


def test_an_unknown_word_is_answered_with_the_accepted_ones():
    assert read_cell("box", STATE).problem == ("unknown_word", "one of closed, open")


def test_a_spelling_of_two_words_is_asked_about():
    column = Column("side", "choice", "", accepted={"hv": ("main",), "lv": ("main",)})
    assert read_cell("Main", column).problem == ("ambiguous", "either hv or lv")


@pytest.mark.parametrize(
    "text",
    [
        "Y",
        "yes",
        "TRUE",
        "t",
        "1",
        "x",
        "X",
        "✓",
        "✔",
        "J",
        "ja",
        "oui",
        "si",
        "Sí",
        "sim",
        "fitted",
        "present",
        "✔️",
        "ok",
        True,
        1,
        1.0,
    ],
)
def test_yes(text):
    assert read_cell(text, YES_NO).value is True


@pytest.mark.parametrize(
    "text",
    [
        "N",
        "no",
        "False",
        "f",
        "0",
        "✗",
        "nein",
        "nee",
        "non",
        "não",
        "absent",
        "not fitted",
        "not present",
        "not connected",
        False,
        0,
        0.0,
    ],
)
def test_no(text):
    assert read_cell(text, YES_NO).value is False


@pytest.mark.parametrize("text", ["No (removed 2019)", "yes and no", "2", 2.0, "none", "maybe", "☒", "not", "yes?"])
def test_neither_yes_nor_no(text):
    assert read_cell(text, YES_NO).problem == ("unreadable", "yes or no")


def test_yes_or_no_not_given():
    assert [read_cell(text, YES_NO) for text in ("", "?", "TBC", None)] == [(None, None, None, None, None)] * 4
