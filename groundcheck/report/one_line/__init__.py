"""
One-line diagrams of stations, drawn from their records: what stands where, layout, symbols, SVG.

Imports what `groundcheck.report` may. `one_line_svg(station, findings)` is for a page, with `standalone=True` a file.
"""

from groundcheck.report.one_line.draw import one_line_svg
from groundcheck.report.one_line.key import one_line_key_svg
from groundcheck.report.one_line.style import page_style

__all__ = ["one_line_key_svg", "one_line_svg", "page_style"]
