"""The colors of the page as custom properties of CSS, from the one source of marks."""

from collections.abc import Iterator

from groundcheck.report.marks import OUTCOMES, PHASES, STANDINGS, paper


def color_rules() -> str:
    """Light, then dark where the system asks for it or the reader has chosen it; on paper always light."""
    light, dark = "".join(_properties(False)), "".join(_properties(True))
    return (
        f":root {{ color-scheme: light; {light}}}\n"
        f"@media screen and (prefers-color-scheme: dark) {{ :root:not([data-theme=light]) "
        f"{{ color-scheme: dark; {dark}}} }}\n"
        f"@media screen {{ :root[data-theme=dark] {{ color-scheme: dark; {dark}}} }}\n"
    )


def mark_words() -> dict[str, dict[str, str]]:
    """Word and glyph of each severity, standing and outcome."""
    return {key: {"word": mark.word, "glyph": mark.glyph} for key, mark in {**STANDINGS, **OUTCOMES}.items()}


def _properties(dark: bool) -> Iterator[str]:
    ground = paper(dark)
    yield f"--ground: {ground.ground}; --ink: {ground.ink}; --quiet: {ground.quiet_ink}; --line: {ground.rule}; "
    yield f"--tint: {'#1d2227' if dark else '#f3f5f7'}; --link: {'#8fc1f0' if dark else '#1f5c99'}; "
    for key, mark in {**STANDINGS, **OUTCOMES}.items():
        name = key.replace("_", "-")
        yield f"--{name}: {mark.color(dark)}; --{name}-ink: {mark.ink(dark)}; "
    for phase in PHASES:
        yield f"--phase-{phase.letter.lower()}: {phase.color(dark)}; "
