"""Marks are told apart in color, in print and by those who see no color, and can be read."""

from itertools import combinations

import pytest

from groundcheck.report.marks import HIGH, MEDIUM, OUTCOMES, PHASES, STANDINGS, Mark, of_finding, paper, zone_tint


def luminance(color: str) -> float:
    """Relative luminance of a color; W3C, WCAG 2.2, definition of relative luminance."""
    parts = [int(color[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return sum(weight * part for weight, part in zip((0.2126, 0.7152, 0.0722), linear, strict=True))


def contrast(one: str, other: str) -> float:
    """Contrast ratio; W3C, WCAG 2.2, definition of contrast ratio."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


# Limits: W3C, WCAG 2.2, success criteria 1.4.3 (text, 4.5:1) and 1.4.11 (graphics, 3:1).
@pytest.mark.parametrize("dark", [False, True])
@pytest.mark.parametrize("mark", [*STANDINGS.values(), *OUTCOMES.values()], ids=lambda mark: mark.key)
def test_marks_and_their_words_stand_out_from_the_paper(mark: Mark, dark: bool) -> None:
    assert contrast(mark.color(dark), paper(dark).ground) >= 3
    if mark.key != "not_applicable":  # a mark only, no word
        assert contrast(mark.ink(dark), paper(dark).ground) >= 4.5
    if mark.filled:
        assert contrast(mark.ink_on(dark), mark.color(dark)) >= 4.5


def test_no_two_standings_share_their_shape_and_filling() -> None:
    assert all(
        (one.shape, one.filled) != (other.shape, other.filled) and one.glyph != other.glyph
        for one, other in combinations(STANDINGS.values(), 2)
    )


def test_high_is_darker_than_medium_in_print() -> None:
    assert contrast(HIGH.light, MEDIUM.light) >= 2  # visible as two grays: common practice, no source


@pytest.mark.parametrize("dark", [False, True])
def test_what_stands_on_a_zone_tint_can_be_read(dark: bool) -> None:
    for tint in map(zone_tint, range(9)):
        assert contrast(paper(dark).ink, tint.fill(dark)) >= 4.5
        assert contrast(tint.edge(dark), tint.fill(dark)) >= 4.5
    assert zone_tint(8).label == "Z9"


def test_phases_and_zones_differ_without_color() -> None:
    assert len({phase.dash for phase in PHASES}) == 3
    assert len({zone_tint(place).dash for place in range(8)}) == 8


def test_a_waived_finding_is_shown_as_waived() -> None:
    assert of_finding("high", "waived").word == "waived"
    assert of_finding("high", "open") is HIGH
