"""
Shapes of the symbols, as paths from a point downward: IEC 60617 in single-line form (recalled, not re-read).

Each function returns path data at (x, y) in whole or half units; what is filled or dotted its caller says.
"""

R = 13.0  # radius of a winding's circle
CENTRES = 18.0  # between two overlapping windings


def n(value: float) -> str:
    """A coordinate, short."""
    text = f"{value:.1f}"
    return text[:-2] if text[-1] == "0" else text


def circle(x: float, y: float, r: float) -> str:
    """A circle about (x, y)."""
    return f"M{n(x - r)} {n(y)}a{n(r)} {n(r)} 0 1 0 {n(2 * r)} 0a{n(r)} {n(r)} 0 1 0 {n(-2 * r)} 0z"


def line(x1: float, y1: float, x2: float, y2: float) -> str:
    """A straight piece, level or upright ones in short form."""
    if y1 == y2:
        return f"M{n(x1)} {n(y1)}H{n(x2)}"
    if x1 == x2:
        return f"M{n(x1)} {n(y1)}V{n(y2)}"
    return f"M{n(x1)} {n(y1)}L{n(x2)} {n(y2)}"


def ground(x: float, y: float) -> str:
    """Three bars, 8 high."""
    return f"M{n(x - 8)} {n(y)}h16m-13 4h10m-7 4h4"


def rectangle(x: float, y: float, width: float = 10, height: float = 26) -> str:
    """A resistor hanging from (x, y)."""
    return f"M{n(x - width / 2)} {n(y)}h{n(width)}v{n(height)}h{n(-width)}z"


def coil(x: float, y: float, turns: int = 4) -> str:
    """An inductor hanging from (x, y), 6.5 a turn."""
    return f"M{n(x)} {n(y)}" + "a3.5 3.25 0 0 1 0 6.5" * turns


def tuning_arrow(x: float, y: float) -> str:
    """The slanting arrow of what can be adjusted, across a symbol 26 high."""
    return f"M{n(x - 9)} {n(y + 23)}L{n(x + 13)} {n(y + 2)}m-5.5 1l5.5 -1l-1.5 5"


def arrester(x: float, y: float) -> str:
    """A rectangle with an arrow into it, 26 high."""
    return rectangle(x, y, 12) + f"M{n(x)} {n(y)}v17m-3.5 -6l3.5 6l3.5 -6"


def network(x: float, y: float) -> str:
    """A hatched square, 22 high: the network behind an infeed."""
    square = f"M{n(x - 11)} {n(y)}h22v22h-22z"
    return square + "m0 11l11 -11m-11 22l22 -22m-11 22l11 -11m-22 0l11 11m-11 -22l22 22m-11 -22l11 11"


def star(x: float, y: float, size: float = 5) -> str:
    """Wye."""
    return (
        f"M{n(x)} {n(y)}v{n(size)}M{n(x)} {n(y)}l{n(-size)} {n(-size * 0.8)}M{n(x)} {n(y)}l{n(size)} {n(-size * 0.8)}"
    )


def delta(x: float, y: float, size: float = 5) -> str:
    """Delta."""
    return f"M{n(x)} {n(y - size)}l{n(size)} {n(1.7 * size)}h{n(-2 * size)}z"


def open_delta(x: float, y: float, size: float = 4) -> str:
    """Delta with one corner open."""
    s = size
    return f"M{n(x + 0.4 * s)} {n(y + 0.7 * s)}h{n(-1.4 * s)}l{n(s)} {n(-1.7 * s)}l{n(s)} {n(1.7 * s)}"


def zigzag(x: float, y: float, size: float = 5) -> str:
    """Interconnected star."""
    s = size
    return (
        f"M{n(x)} {n(y)}v{n(0.6 * s)}l{n(0.5 * s)} {n(0.5 * s)}"
        f"M{n(x)} {n(y)}l{n(-0.6 * s)} {n(-0.5 * s)}l{n(-0.5 * s)} {n(0.5 * s)}"
        f"M{n(x)} {n(y)}l{n(0.6 * s)} {n(-0.5 * s)}v{n(-0.6 * s)}"
    )


CONNECTIONS = {"Y": star, "YN": star, "D": delta, "Z": zigzag, "ZN": zigzag, "A": star}


def down_arrow(x: float, y: float) -> str:
    """Tip at (x, y)."""
    return f"M{n(x)} {n(y)}l-4 -9h8z"


def up_arrow(x: float, y: float) -> str:
    """Tip at (x, y)."""
    return f"M{n(x)} {n(y)}l-4 9h8z"


MARKS = {
    "triangle-up": lambda x, y: f"M{n(x)} {n(y - 5)}l5 9h-10z",
    "diamond": lambda x, y: f"M{n(x)} {n(y - 5)}l5 5l-5 5l-5 -5z",
    "circle": lambda x, y: circle(x, y, 4),
    "square": lambda x, y: f"M{n(x - 4)} {n(y - 4)}h8v8h-8z",
    "cross": lambda x, y: f"M{n(x - 5)} {n(y)}h10m-5 -5v10",
}
