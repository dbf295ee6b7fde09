"""Colours of the operations' lines: people look for them in the cutter's program."""

from collections.abc import Mapping
from itertools import combinations
from math import dist
from typing import Final

from namebatch.template.problems import Problems

LEAST_DIFFERENCE: Final = 15.0
"""In CIE Lab. What can just be told side by side is 2.3 (Mahy and others, 1994, from memory); thin
lines on a screen want more: common practice, no source. Pure yellow is 97 away from white."""
WHITE: Final = "#ffffff"
_D65: Final = (0.95047, 1.0, 1.08883)  # white point, IEC 61966-2-1
_SRGB: Final = (
    (0.4124564, 0.3575761, 0.1804375),
    (0.2126729, 0.7151522, 0.0721750),
    (0.0193339, 0.1191920, 0.9503041),
)


def check_line_colours(colours: Mapping[str, str], problems: Problems) -> None:
    """Note colours that can hardly be seen on white, or told from each other.

    Args:
        colours: operation → ``#rrggbb``.
        problems: grows.
    """
    figure = f"(difference in CIE Lab {{:.0f}}, at least {LEAST_DIFFERENCE:g} is needed)"
    for operation, colour in colours.items():
        seen = difference(colour, WHITE)
        if seen < LEAST_DIFFERENCE:
            problems.add(
                f"cutter.colours.{operation}",
                f"{colour} can hardly be seen on white {figure.format(seen)}; take a darker or a "
                "stronger colour.",
            )
    for first, second in combinations(colours, 2):
        one, other = colours[first], colours[second]
        if one == other:
            problems.add(
                f"cutter.colours.{second}",
                f"has the colour of {first}, so the cutter could not tell them apart; change one.",
            )
        elif (apart := difference(one, other)) < LEAST_DIFFERENCE:
            problems.add(
                f"cutter.colours.{second}",
                f"{other} is nearly the colour of {first}, {one} {figure.format(apart)}, so nobody "
                "could tell them apart; change one.",
            )


def difference(one: str, other: str) -> float:
    """How far two colours ``#rrggbb`` look apart: their distance in CIE 1976 L*a*b* (CIE 15).

    0 for the same, 100 for black and white.
    """
    return dist(_lab(one), _lab(other))


def _lab(colour: str) -> tuple[float, float, float]:
    """From sRGB (IEC 61966-2-1) through XYZ for D65."""
    shares = [int(colour[k : k + 2], 16) / 255 for k in (1, 3, 5)]
    linear = [s / 12.92 if s <= 0.04045 else ((s + 0.055) / 1.055) ** 2.4 for s in shares]
    x, y, z = (
        _root(sum(a * b for a, b in zip(row, linear, strict=True)) / white)
        for row, white in zip(_SRGB, _D65, strict=True)
    )
    return 116 * y - 16, 500 * (x - y), 200 * (y - z)


def _root(share: float) -> float:
    """The cube root, with a straight line near black."""
    return float(share ** (1 / 3)) if share > 216 / 24389 else (24389 / 27 * share + 16) / 116
