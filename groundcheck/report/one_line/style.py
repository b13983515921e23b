"""How the drawing looks: rules of CSS, with custom properties where a page switches light and dark, plain for files."""

from functools import lru_cache

from groundcheck.report.marks import STANDINGS, paper, zone_tint

FONT = "'Liberation Sans',system-ui,'Segoe UI',Helvetica,Arial,'DejaVu Sans',sans-serif"
TINTS = 8


@lru_cache
def file_style(dark: bool = False) -> str:
    """For a file of its own: no custom properties, no media queries."""
    ink = paper(dark)
    fills = [(zone_tint(i).fill(dark), zone_tint(i).edge(dark)) for i in range(TINTS)]
    marks = {key: mark.color(dark) for key, mark in STANDINGS.items()}
    return _rules(ink.ground, ink.ink, ink.quiet_ink, fills, marks, FONT)


@lru_cache
def page_style() -> str:
    """For a drawing in a page: colors from the page's ink and its custom properties, light ones where it has none."""
    fills = [
        (f"var(--zone-{i + 1},{zone_tint(i).fill()})", f"var(--zone-{i + 1}-edge,{zone_tint(i).edge()})")
        for i in range(TINTS)
    ]
    marks = {key: f"var(--{key.replace('_', '-')},{mark.color()})" for key, mark in STANDINGS.items()}
    light = paper()
    rules = _rules(f"var(--ground,{light.ground})", "currentColor", f"var(--quiet,{light.quiet_ink})", fills, marks)
    return (
        f"{rules}.ol{{max-width:100%;height:auto}}"
        f"@media screen and (prefers-color-scheme:dark){{:root:not([data-theme=light]) .ol{{{_zones(True)}}}}}"
        f"@media screen{{:root[data-theme=dark] .ol{{{_zones(True)}}}}}"
    )


def _zones(dark: bool) -> str:
    return "".join(
        f"--zone-{i + 1}:{zone_tint(i).fill(dark)};--zone-{i + 1}-edge:{zone_tint(i).edge(dark)};" for i in range(TINTS)
    )


def _rules(
    ground: str, ink: str, quiet: str, fills: list[tuple[str, str]], marks: dict[str, str], font: str | None = None
) -> str:
    text = f"font-family:{font};" if font else ""
    zones = "".join(
        f".ol-z{i + 1}{{fill:{fill};stroke:{edge};"
        + (f"stroke-dasharray:{' '.join(map(str, zone_tint(i).dash))};" if zone_tint(i).dash else "")
        + "}"
        for i, (fill, edge) in enumerate(fills)
    )
    severities = "".join(f".ol-m-{key}{{fill:{color};stroke:{color}}}" for key, color in marks.items())
    return (
        f".ol{{{text}font-size:10px}}"
        f".ol text{{fill:{ink};stroke:{ground};stroke-width:2.5px;paint-order:stroke;stroke-linejoin:round}}"
        f".ol .ol-l text{{stroke:none}}.ol .ol-h{{font-weight:600}}.ol .ol-q{{fill:{quiet}}}"
        f".ol-w,.ol-n{{fill:none;stroke:{ink};stroke-width:1.2}}"
        f".ol-s{{fill:{ground};stroke:{ink};stroke-width:1.2}}"
        f".ol-d{{fill:none;stroke:{ink};stroke-width:1.2;stroke-dasharray:2 2.5}}"
        f".ol-f{{fill:{ink};stroke:{ink};stroke-width:1}}"
        f".ol-b{{fill:none;stroke:{ink};stroke-width:4.5}}"
        f".ol-b.ol-p{{stroke-width:3;stroke-dasharray:4 4}}"
        f".ol-z{{stroke-width:.8}}{zones}.ol-u{{fill:none;stroke-dasharray:1 4}}"
        f".ol-m{{stroke-width:1.2}}{severities}.ol-m-o{{fill:{ground}}}"
        f".ol-g{{fill:{ground}}}"
    )
