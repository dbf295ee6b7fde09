"""The middle of a line, as the ink reaches or as the eye takes it."""

from collections.abc import Sequence
from math import inf

from namebatch.text.setting import Line, Sign

FARTHEST = 0.05
"""Of the capitals' height: no farther is the eye's middle from that of the extent of a line in
several faces, whose shapes are too unlike to be weighed against each other."""


def middle_of(line: Line, optical: bool) -> float:
    """X of a line's middle in its own units.

    For the eye that lies half way between the middle of the ink's extent and its centre of
    mass: a long thin stroke, a full stop or a comma counts for little (common practice, no
    source). Where several faces set the line, each counts by the width that its signs take and
    not by how heavy it is, and the middle stays within `FARTHEST` of that of the extent.
    """
    if line.bounds is None:
        return line.advance / 2
    extent = (line.bounds[0] + line.bounds[2]) / 2
    if not optical:
        return extent
    weight, moment = 0.0, 0.0
    lightness = _lightness(line.signs)
    for sign in line.signs:
        area, centre = sign.face.mass(sign.gid)
        share = area * sign.scale**2 * lightness.get(sign.face.name, 1.0)
        weight += share
        moment += share * (sign.x + centre * sign.scale)
    if weight == 0:
        return extent
    most = FARTHEST * line.face.cap_height if lightness else inf
    return extent + min(max((moment / weight - extent) / 2, -most), most)


def _lightness(signs: Sequence[Sign]) -> dict[str, float]:
    """Face → the widths of its signs over their ink; empty for a single face."""
    names = dict.fromkeys(sign.face.name for sign in signs)
    if len(names) < 2:
        return {}
    widths, ink = dict.fromkeys(names, 0.0), dict.fromkeys(names, 0.0)
    for sign in signs:
        area, _ = sign.face.mass(sign.gid)
        if area:
            widths[sign.face.name] += sign.face.width(sign.gid) * sign.scale
            ink[sign.face.name] += area * sign.scale**2
    return {name: widths[name] / ink[name] for name in names if ink[name]}
