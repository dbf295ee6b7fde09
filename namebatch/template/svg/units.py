"""Lengths, view boxes and transforms of SVG, in user units."""

import re
from math import cos, hypot, isfinite, radians, sin, sqrt, tan

from namebatch.curves import IDENTITY, Affine, compose

PX_MM = 25.4 / 96
"""A CSS pixel in mm (CSS Values and Units, 5.2)."""

# CSS Values and Units, 5.2, in px.
_UNITS = {
    "": 1.0,
    "px": 1.0,
    "in": 96.0,
    "cm": 96 / 2.54,
    "mm": 96 / 25.4,
    "q": 96 / 101.6,
    "pt": 96 / 72,
    "pc": 16.0,
}
NUMBER = r"[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?"
_LENGTH = re.compile(rf"\s*({NUMBER})\s*([a-zA-Z]*|%)\s*", re.ASCII)
_NUMBER = re.compile(NUMBER, re.ASCII)
_TRANSFORM = re.compile(r"[\s,]*([a-zA-Z]+)\s*\(([^()]*)\)[\s,]*", re.ASCII)
LONGEST = 400
"""Characters of a number or a length; no program writes half as many."""
LARGEST = 1e7
"""No number of a drawing may be larger; it keeps sums far from the end of a float."""


def number(text: str) -> float:
    """A plain number.

    Raises:
        ValueError: it is none, not finite, or far too large.
    """
    if len(text) > LONGEST or _NUMBER.fullmatch(text.strip()) is None:
        raise ValueError(f'"{text.strip()[:30]}" is not a number')
    value = float(text)
    if not isfinite(value) or abs(value) > LARGEST:
        raise ValueError(f"{text.strip()[:30]} is too large a number for a drawing")
    return value


def length(text: str, whole: float) -> float:
    """A length in user units.

    Args:
        text: a number with or without a unit.
        whole: what 100 % stands for.

    Raises:
        ValueError: it is none, or its unit depends on a typeface.
    """
    match = _LENGTH.fullmatch(text) if len(text) <= LONGEST else None
    if match is None:
        raise ValueError(f'"{text.strip()[:30]}" is not a length')
    value, unit = number(match[1]), match[2].lower()
    if unit == "%":
        return value / 100 * whole
    if unit not in _UNITS:
        raise ValueError(f'the unit of "{text.strip()[:30]}" is not known here; use mm')
    return value * _UNITS[unit]


def diagonal(width: float, height: float) -> float:
    """What a percentage counts from when it is neither across nor up (SVG 2, 8.9)."""
    return hypot(width, height) / sqrt(2)


def numbers(text: str) -> list[float]:
    """Numbers between spaces and commas.

    Raises:
        ValueError: something else is among them.
    """
    rest = _NUMBER.sub(" ", text)
    if rest.strip(" \t\r\n\f,"):
        raise ValueError(f'"{text.strip()[:30]}" is not a list of numbers')
    return [number(match) for match in _NUMBER.findall(text)]


def view_box(text: str) -> tuple[float, float, float, float]:
    """A ``viewBox``: left, top, width, height.

    Raises:
        ValueError: not four numbers, or one without area.
    """
    values = numbers(text)
    if len(values) != 4 or values[2] <= 0 or values[3] <= 0:
        raise ValueError("viewBox needs four numbers, the last two above zero")
    return values[0], values[1], values[2], values[3]


def fit(box: tuple[float, float, float, float], width: float, height: float, how: str) -> Affine:
    """From the user units of a view box to a viewport (SVG 2, 8.2).

    Args:
        box: the view box.
        width: of the viewport.
        height: of the viewport.
        how: ``preserveAspectRatio``; empty means ``xMidYMid meet``.

    Raises:
        ValueError: a word that SVG does not know.
    """
    words = [word for word in how.split() if word != "defer"] or ["xMidYMid"]
    align, mode = words[0], words[1] if len(words) > 1 else "meet"
    sx, sy = width / box[2], height / box[3]
    if not (sx <= LARGEST and sy <= LARGEST):
        raise ValueError("viewBox makes the drawing far too large")
    if align == "none":
        return sx, 0.0, 0.0, sy, -box[0] * sx, -box[1] * sy
    shares = {"Min": 0.0, "Mid": 0.5, "Max": 1.0}
    match = re.fullmatch(r"x(Min|Mid|Max)Y(Min|Mid|Max)", align)
    if match is None or mode not in ("meet", "slice"):
        raise ValueError(f'preserveAspectRatio "{how[:30]}" is not known')
    scale = min(sx, sy) if mode == "meet" else max(sx, sy)
    dx = (width - box[2] * scale) * shares[match[1]]
    dy = (height - box[3] * scale) * shares[match[2]]
    return scale, 0.0, 0.0, scale, dx - box[0] * scale, dy - box[1] * scale


def transform(text: str) -> Affine:
    """A ``transform`` attribute as one map; the first function is the outermost.

    Raises:
        ValueError: a function SVG does not know, or the wrong count of numbers.
    """
    if text.strip() == "none":
        return IDENTITY
    total = IDENTITY
    position = 0
    while position < len(text):
        match = _TRANSFORM.match(text, position)
        if match is None:
            if not text[position:].strip(" \t\r\n\f,"):
                break
            raise ValueError(f'transform "{text[position : position + 30].strip()}" is not known')
        total = compose(total, _function(match[1], numbers(match[2])))
        position = match.end()
    if not all(abs(value) <= LARGEST for value in total):
        raise ValueError("transform makes the drawing far too large")
    return total


def _function(name: str, values: list[float]) -> Affine:
    """One function of a transform."""
    match name, values:
        case "matrix", [a, b, c, d, e, f]:
            return a, b, c, d, e, f
        case "translate", [x]:
            return 1.0, 0.0, 0.0, 1.0, x, 0.0
        case "translate", [x, y]:
            return 1.0, 0.0, 0.0, 1.0, x, y
        case "scale", [s]:
            return s, 0.0, 0.0, s, 0.0, 0.0
        case "scale", [x, y]:
            return x, 0.0, 0.0, y, 0.0, 0.0
        case "rotate", [angle]:
            c, s = _turn(angle)
            return c, s, -s, c, 0.0, 0.0
        case "rotate", [angle, x, y]:
            c, s = _turn(angle)
            return c, s, -s, c, x - c * x + s * y, y - s * x - c * y
        case "skewX", [angle]:
            return 1.0, 0.0, tan(radians(angle)), 1.0, 0.0, 0.0
        case "skewY", [angle]:
            return 1.0, tan(radians(angle)), 0.0, 1.0, 0.0, 0.0
    raise ValueError(f"transform {name[:20]} with {len(values)} numbers is not known")


def _turn(angle: float) -> tuple[float, float]:
    """Cosine and sine; quarter turns are exact."""
    exact = {0.0: (1.0, 0.0), 90.0: (0.0, 1.0), 180.0: (-1.0, 0.0), 270.0: (0.0, -1.0)}
    return exact.get(angle % 360.0) or (cos(radians(angle)), sin(radians(angle)))
