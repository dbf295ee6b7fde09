"""What the beam leaves: the cut lines less half the kerf, against the finished outline. mm.

The lines are taken as they are drawn, arcs and kerf included, and half the kerf is taken off in x
and in y by a GEOS buffer. What is left, L, is compared with the finished outline P, whose
narrowest place n was measured when it was made:

- L is one part, with exactly one hole in each hole of P; outside, and in every round hole, it has
  P's place and size within 0.02 mm (and the 0.004 mm that chords may feign);
- every place of L's edge that lies inside P is within d of P's edge. Nothing that is deeper in P
  than d is lost then: L contains P less a rim of d. P less a rim of half of n is still one part
  round all its holes, hence so is L less a rim of half of n − 2·d. No place of L that holds
  these together is narrower than n − 2·d, and no second search for necks is needed.

Outside P the line may stand off: the beam is round and does not reach the bottom of notches. Where
n − 2·d is not enough, or some place is deeper than d, the narrowest place of L itself is measured,
and an erosion has to agree before a piece is held.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import hypot, pi, radians
from typing import Any, TypeAlias

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon, affinity

from namebatch.curves import Point
from namebatch.outline.arc_shape import along_ring
from namebatch.outline.arrays import Flags, Floats, Ints
from namebatch.outline.chords import BULGE_MM
from namebatch.outline.compiled import compiled
from namebatch.outline.kept import Alike
from namebatch.outline.kerf import LEAST_MM
from namebatch.outline.thickness import holds_together, narrowest
from namebatch.piece import Piece
from namebatch.sheet.lines import Line, cut_lines
from namebatch.sheet.model import Placement

Rings: TypeAlias = NDArray[Any]
"""Of one shape, as shapely's linear rings, the outer one first."""

SIZE_MM = 0.02
"""Size of what is left, and its narrowest place, are right within this much."""
LOSS_MM = 0.0135
"""Arcs stray 0.01 mm, their chords 0.002 mm, those of the beam 0.001 mm; d of the proof above."""
FEIGNED_MM = BULGE_MM + 4 * LOSS_MM
"""Arcs may make a stroke's end seem wider than its root by the latter: no neck to break at."""
CHORD_MM = 0.002
STEP_MM = 0.2
"""The edge of what is left is looked at in places no farther apart than this."""
CRUMB_MM2 = 0.002
"""Dust: smaller than a square of 0.05 mm."""
QUARTER = 8
"""Chords of a quarter turn of the beam: 0.0012 mm off at a kerf of 0.5 mm."""
LOOK_UP_TO = 4.0
CORNER_RAD = radians(30)
"""Chords of a round hole turn by less, corners by more."""
FLAT_RAD = 1e-6

WIDER = "Make that place wider: a larger size, a heavier typeface, or a smaller kerf if it is less."
ROOMIER = "Make that hole larger, or correct the kerf in the workshop file if it is less."
REDRAWN = "Choose another size or spelling."


@dataclass(frozen=True, slots=True)
class Fault:
    """What the cut would spoil.

    Attributes:
        what: the beginning of a sentence.
        at: where, in the coordinates of the lines; None for the piece as a whole.
        end: how the sentence goes on after the place.
        remedy: a sentence.
    """

    what: str
    at: Point | None = None
    end: str = ""
    remedy: str = WIDER

    def said(self, kerf_mm: tuple[float, float], at: Point | None) -> str:
        """Both sentences, with the place as the piece has it."""
        where = f" near x {at[0]:.1f}, y {at[1]:.1f} mm" if at else ""
        kerf = f"with a kerf of {kerf_mm[0]:g} × {kerf_mm[1]:g} mm"
        return f"{self.what}{where}{self.end} {kerf}. {self.remedy}"


CROSSED = Fault("its cut lines cross each other", remedy=REDRAWN)


def left_by_beam(lines: Polygon, kerf_mm: tuple[float, float]) -> Polygon | None:
    """Take off half the kerf all round: a beam that is an ellipse of the two kerfs.

    Args:
        lines: the cut lines as chords.
        kerf_mm: width of the cut in x and in y.

    Returns:
        What is left; None if it is not one part. Dust does not count.
    """
    kx, ky = (max(kerf, LEAST_MM) for kerf in kerf_mm)
    flat = affinity.scale(lines, 1.0, kx / ky, origin=(0, 0)) if kx != ky else lines
    whole = shapely.buffer(flat, -kx / 2, quad_segs=QUARTER)
    if kx != ky:
        whole = affinity.scale(whole, 1.0, ky / kx, origin=(0, 0))
    parts = [part for part in shapely.get_parts(whole) if part.area > CRUMB_MM2]
    return parts[0] if len(parts) == 1 and isinstance(parts[0], Polygon) else None


def spoiled_by_cut(
    piece: Piece, mirrored: bool, turn_deg: float, kerf_mm: tuple[float, float]
) -> str | None:
    """What is wrong with a piece when its lines are cut at a turn.

    Pieces of the same shape are looked at once. Where the kerf is the same in x and y the lines
    are fitted once for all turns, and one proof serves them all.

    Returns:
        What is wrong and a remedy, as one sentence or two; None if the proof holds.

    Raises:
        OutlineError: the lines close up when they are moved for the kerf.
    """
    if kerf_mm[0] == kerf_mm[1]:
        mirrored, turn_deg = False, 0.0
    proof, alike = piece.proof, Alike(piece.outline)
    return _spoiled(alike, mirrored, turn_deg, kerf_mm, proof.narrowest_mm, proof.required_mm)


@lru_cache(maxsize=128)
def _spoiled(
    alike: Alike,
    mirrored: bool,
    turn_deg: float,
    kerf_mm: tuple[float, float],
    narrowest_mm: float,
    required_mm: float,
) -> str | None:
    outline = alike.shape
    cut = cut_lines(outline, mirrored, turn_deg, kerf_mm)
    a, b, c, d, e, f = Placement("", "front", 0.0, 0.0, turn_deg, mirrored).outline_affine
    if mirrored or turn_deg:
        outline = affinity.affine_transform(outline, (a, c, b, d, e, f))
    for chord_mm in (CHORD_MM, CHORD_MM / 10):
        lines = _in_chords(cut, chord_mm)
        wrong = wrong_with(lines, outline, kerf_mm, narrowest_mm, required_mm)
        if wrong is not CROSSED:  # arcs that all but touch may cross as coarse chords
            break
    if wrong is None:
        return None
    at = wrong.at
    if at is not None:  # a turn or a mirror: its transpose leads back
        x, y = at[0] - e, at[1] - f
        at = a * x + b * y, c * x + d * y
    return wrong.said(kerf_mm, at)


def _in_chords(cut: Sequence[Line], chord_mm: float) -> Polygon:
    outer, *inner = (along_ring(line.points, line.bulges, chord_mm) for line in cut)
    return Polygon(outer, inner)


def wrong_with(
    lines: Polygon,
    outline: Polygon,
    kerf_mm: tuple[float, float],
    narrowest_mm: float,
    required_mm: float,
) -> Fault | None:
    """Compare what the beam leaves with the finished outline.

    Args:
        lines: cut lines, arcs as chords.
        outline: what is to be left, in the same place and turn.
        kerf_mm: width of the cut in x and in y.
        narrowest_mm: of the outline.
        required_mm: least width of the material.

    Returns:
        What is wrong; None if nothing is.
    """
    if not shapely.is_valid(lines):
        return CROSSED
    left = left_by_beam(lines, kerf_mm)
    if left is None:
        return Fault("the cut leaves no single part")
    rings, others = shapely.get_rings(left), shapely.get_rings(outline)
    pairs = _paired(rings, others)
    if pairs is None:
        return _odd_hole(rings, others)
    off = _off_size(rings, others[pairs], kerf_mm)
    if off is not None:
        return off
    least = required_mm - SIZE_MM
    loses = _loses(rings, others, outline)
    if narrowest_mm - 2 * LOSS_MM >= least and not loses:
        return None
    neck = narrowest(left, required_mm, LOOK_UP_TO * required_mm, FEIGNED_MM)
    # without a loss, what hangs at a thin place has been looked at with the outline
    sure = neck.width_mm + FEIGNED_MM / 2 if loses else least
    if neck.width_mm >= least or holds_together(left, sure):
        return None
    return Fault(
        f"the cut leaves only {neck.width_mm:.2f} mm",
        neck.at,
        f", where this material needs {required_mm:g} mm,",
    )


def _paired(rings: Rings, others: Rings) -> Ints | None:
    """The other ring that belongs to each ring, the outer first; None if some have none."""
    if len(rings) != len(others):
        return None
    pairs = np.zeros(len(rings), dtype=np.int64)
    if len(rings) > 1:
        off = np.abs(shapely.bounds(rings[1:])[:, None] - shapely.bounds(others[1:])[None])
        nearest = off.max(axis=2).argmin(axis=1)
        holes, places = shapely.polygons(others[1:]), _places_in(rings[1:])
        if not shapely.contains(holes[nearest], places).all():
            # the end of a notch that the beam does not reach: the boxes differ
            inside = shapely.contains(holes[None, :], places[:, None])
            if not inside.any(axis=1).all():
                return None
            nearest = inside.argmax(axis=1)
        if len(np.unique(nearest)) != len(nearest):
            return None
        pairs[1:] = nearest + 1
    return pairs


def _places_in(rings: Rings) -> Rings:
    """A point in each of some rings."""
    return np.asarray(shapely.point_on_surface(shapely.polygons(rings)), dtype=np.object_)


def _odd_hole(rings: Rings, others: Rings) -> Fault:
    """Say which hole is closed, or else which is not of the piece."""
    for what, some, all_others in (
        ("the cut closes a hole", others[1:], rings[1:]),
        ("the cut opens a hole", rings[1:], others[1:]),
    ):
        for ring, place in zip(some, _places_in(some), strict=True):
            inside = shapely.contains(shapely.polygons(ring), _places_in(all_others))
            beyond = shapely.contains(shapely.polygons(all_others), place)
            if not inside.any() and not beyond.any():
                return Fault(what, (float(place.x), float(place.y)), remedy=ROOMIER)
    return Fault("the cut parts a hole in two", remedy=ROOMIER)


def _off_size(rings: Rings, others: Rings, kerf_mm: tuple[float, float]) -> Fault | None:
    """The ring whose box is farthest off its place or size; None if chords alone may feign it.

    A beam does not come into the corners of a hole, so among holes only those that it can follow
    all round have to have their size.
    """
    sides = shapely.bounds(rings) - shapely.bounds(others)
    off = np.abs(np.column_stack([sides, sides[:, 2:] - sides[:, :2]])).max(axis=1)
    for k in np.argsort(-off, kind="stable").tolist():
        if off[k] <= SIZE_MM + 2 * CHORD_MM:
            break
        size = f" {off[k]:.2f} mm off its size"
        if k == 0:
            return Fault("the cut leaves the piece", None, size, REDRAWN)
        if _is_round(shapely.get_coordinates(others[k])) and _is_followed(others[k], kerf_mm):
            middle = others[k].centroid
            return Fault("the cut leaves the hole", (middle.x, middle.y), f"{size},", ROOMIER)
    return None


def _is_followed(ring: shapely.LinearRing, kerf_mm: tuple[float, float]) -> bool:
    """True if the beam comes to all four sides of a hole: an opening keeps its box."""
    kx, ky = (max(kerf, LEAST_MM) for kerf in kerf_mm)
    hole = affinity.scale(Polygon(ring), 1.0, kx / ky, origin=(0, 0))
    inner = shapely.buffer(hole, -kx / 2, quad_segs=QUARTER)
    opened = shapely.buffer(inner, kx / 2, quad_segs=QUARTER)
    if opened.is_empty:
        return False
    off = np.abs(shapely.bounds(opened) - shapely.bounds(hole)) * (1.0, ky / kx, 1.0, ky / kx)
    return bool(off.max() <= CHORD_MM)


def _is_round(ring: Floats) -> bool:
    """True if a ring bulges outwards everywhere and has no corners: a round hole or a slot."""
    way = ring[1:] - ring[:-1]
    angle = np.arctan2(way[:, 1], way[:, 0])
    turn = (np.roll(angle, -1) - angle + pi) % (2 * pi) - pi
    one_way = (turn >= -FLAT_RAD).all() or (turn <= FLAT_RAD).all()
    return bool(one_way and np.abs(turn).max() <= CORNER_RAD)


def _loses(rings: Rings, others: Rings, outline: Polygon) -> bool:
    """True if something deeper inside the outline than `LOSS_MM` is not left."""
    far = _far_from(*_vertices(others), *_vertices(rings), LOSS_MM, STEP_MM)
    return bool(len(far)) and bool(shapely.contains_xy(outline, far).any())


def _vertices(rings: Rings) -> tuple[Floats, Ints]:
    """All vertices, and where each ring begins and the last one ends."""
    counts = shapely.get_num_coordinates(rings)
    return shapely.get_coordinates(rings), np.concatenate([[0], np.cumsum(counts)])


@compiled
def _far_from(
    xy: Floats, starts: Ints, asked: Floats, asked_starts: Ints, within: float, step: float
) -> Floats:
    """Places along some rings that are farther than a distance from other rings.

    Each ring's first vertex is repeated at its end. Neighbours in turn lie near the same edge,
    so the search begins where the last one ended.
    """
    joins = np.zeros(xy.shape[0], np.bool_)  # from the end of one ring to the start of the next
    joins[starts[1:] - 1] = True
    along = np.zeros(xy.shape[0])
    for i in range(1, xy.shape[0]):
        along[i] = along[i - 1] + hypot(xy[i, 0] - xy[i - 1, 0], xy[i, 1] - xy[i - 1, 1])
    far = np.empty((64, 2))
    count, last = 0, 0
    for r in range(asked_starts.size - 1):
        for i in range(asked_starts[r], asked_starts[r + 1] - 1):
            ux, uy = asked[i + 1, 0] - asked[i, 0], asked[i + 1, 1] - asked[i, 1]
            pieces = int(hypot(ux, uy) / step) + 1
            for k in range(pieces):
                x, y = asked[i, 0] + ux * k / pieces, asked[i, 1] + uy * k / pieces
                near = _near(xy, joins, along, last, x, y, within)
                if near >= 0:
                    last = near
                    continue
                if count == far.shape[0]:
                    far = np.concatenate((far, np.empty((count, 2))))
                far[count, 0], far[count, 1] = x, y
                count += 1
    return far[:count]


@compiled
def _near(
    xy: Floats, joins: Flags, along: Floats, last: int, x: float, y: float, within: float
) -> int:
    """An edge that is no farther from a place than asked; -1 if there is none."""
    n, enough = xy.shape[0] - 1, within * within
    for i in range(last, min(last + 3, n)):
        if not joins[i] and _square(xy, i, x, y) <= enough:
            return i
    i = 0
    while i < n:
        reach = 0.0
        if not joins[i]:
            square = _square(xy, i, x, y)
            if square <= enough:
                return i
            # no way along the ring that is shorter than what is lacking leads near enough
            reach = along[i] + square**0.5 - within
        i += 1
        while i < n and not joins[i] and along[i + 1] < reach:
            i += 1
    return -1


@compiled
def _square(xy: Floats, i: int, x: float, y: float) -> float:
    """Distance squared of a place from an edge."""
    ux, uy = xy[i + 1, 0] - xy[i, 0], xy[i + 1, 1] - xy[i, 1]
    px, py = x - xy[i, 0], y - xy[i, 1]
    t, run = px * ux + py * uy, ux * ux + uy * uy
    if t > 0.0:
        t = t / run if t < run else 1.0
        px -= t * ux
        py -= t * uy
    return float(px * px + py * py)
