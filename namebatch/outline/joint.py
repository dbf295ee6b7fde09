"""The shape of a joint: a straight line across a piece, with keys on it where they have room. mm.

A key is a dovetail: its neck stands on the line, its head is wider and reaches into the other
part, so that the parts hold together in their plane and go together from above. How wide keys
are, how far they reach and how they are rounded is plain practice of wood joints and jigsaw
pieces, without a source; what is certain is that no neck of a key is below twice the least width
of the material, and that keys keep the least width to every edge and off all lettering.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot, pi, tan

import numpy as np
import shapely
from shapely import LineString, MultiPolygon, Polygon, affinity

from namebatch.curves import Point
from namebatch.outline.arrays import Floats
from namebatch.outline.model import NO_INK
from namebatch.template.model import JointKind

LEAST_NECK = 2.0
MOST_NECK = 8.0
"""Of the least width of the material: what a key's neck may measure."""
NECK_SHARE = 0.1
"""Of the joint's length, within these bounds."""
DEPTH_SHARE = 0.75
FLANK = tan(15 * pi / 180)
ROUND_SHARE = 0.12
"""How far a key reaches, how its flanks lean, how it is rounded, in necks."""
PITCH = 4.0
"""One key for so many necks of a joint's length."""
STEP_MM = 0.5
"""Places for keys are tried in steps so long, or the joint in so many."""
MOST_STEPS = 400
QUARTER = 16
BEYOND_MM = 10.0
"""Lines begin and end so far beyond the piece."""
AROUND_MM = 100.0
"""The half plane of a joint reaches so far beyond the piece, its size added."""


@dataclass(frozen=True, slots=True)
class JointLine:
    """A straight line right across a piece.

    Attributes:
        start, end: beyond the piece on either side; the first part lies on the left of the way.
    """

    start: Point
    end: Point

    @property
    def line(self) -> LineString:
        """As a geometry."""
        return LineString([self.start, self.end])

    def to_piece(self, shape: shapely.Geometry) -> shapely.Geometry:
        """From the line's own axes to the piece: x along it from its start, y into the first part.

        Args:
            shape: what is turned and moved.
        """
        (x0, y0), (x1, y1) = self.start, self.end
        length = hypot(x1 - x0, y1 - y0)
        c, s = (x1 - x0) / length, (y1 - y0) / length
        return affinity.affine_transform(shape, (c, -s, s, c, x0, y0))

    def from_piece(self, shape: shapely.Geometry) -> shapely.Geometry:
        """The way back from `to_piece`."""
        (x0, y0), (x1, y1) = self.start, self.end
        length = hypot(x1 - x0, y1 - y0)
        c, s = (x1 - x0) / length, (y1 - y0) / length
        return affinity.affine_transform(shape, (c, s, -s, c, -c * x0 - s * y0, s * x0 - c * y0))


@dataclass(frozen=True, slots=True)
class JointOrder:
    """What is asked of the joints of a piece.

    Attributes:
        kind: straight or keyed.
        fit_mm: clear gap between two parts.
        required_mm: least width of the material.
        kerf_mm: the larger of x and y: no corner of a key is rounded less than the beam.
        key_mm: neck of a key, None to follow from joint and material.
        board_mm: least width of a board that is split with it; keys are as stout as both ask for.
        ink: all lettering, of both faces, as it lies on the front.
        avoid: other joint lines that keys keep off.
    """

    kind: JointKind
    fit_mm: float
    required_mm: float
    kerf_mm: float = 0.0
    key_mm: float | None = None
    board_mm: float = 0.0
    ink: MultiPolygon = NO_INK
    avoid: shapely.Geometry = NO_INK

    def neck_mm(self, length_mm: float) -> float:
        """Width of the neck of a key on a joint of a length."""
        required = max(self.required_mm, self.board_mm)
        least, most = LEAST_NECK * required + self.fit_mm, MOST_NECK * required
        return max(least, self.key_mm or min(NECK_SHARE * length_mm, most))

    def reach_mm(self, length_mm: float) -> float:
        """How far keys on a joint of a length reach out of it; 0 without keys."""
        return DEPTH_SHARE * self.neck_mm(length_mm) if self.kind == "keyed" else 0.0


@dataclass(frozen=True, slots=True)
class JointShape:
    """A joint in a piece.

    Attributes:
        first_side: the half plane of the first part, with its keys.
        keys: how many there are.
        bare: stretches of the joint that have none, although keys are asked for.
    """

    first_side: Polygon
    keys: int
    bare: int


def joint_shape(
    part: Polygon, at: JointLine, order: JointOrder, both_ways: bool = True
) -> JointShape:
    """The shape of a joint where a line crosses a part.

    Args:
        part: what is split.
        at: the line.
        order: what is asked.
        both_ways: keys may also reach from the second part into the first.
    """
    own = at.from_piece(part)
    x0, _, x1, _ = own.bounds
    reach = AROUND_MM + max(own.bounds[3] - own.bounds[1], x1 - x0)
    half = shapely.box(x0 - reach, 0.0, x1 + reach, reach + abs(own.bounds[3]))
    if order.kind == "straight":
        return JointShape(at.to_piece(half), 0, 0)
    room = _room(own, at, order)
    grown, taken, count, bare = [half], [], 0, 0
    for start, end in _stretches(own):
        neck = order.neck_mm(end - start)
        keys, into = _keys_in(room, start, end, neck, both_ways)
        corner = max(order.kerf_mm / 2, ROUND_SHARE * neck)
        if into < 0:
            grown.append(_rounded(shapely.union_all([half, *keys]), corner))
        else:
            without = shapely.difference(half, shapely.union_all(keys))
            taken.append(shapely.difference(half, _rounded(without, corner)))
        count += len(keys)
        bare += not keys
    shape = shapely.difference(shapely.union_all(grown), shapely.union_all(taken))
    return JointShape(at.to_piece(shape), count, bare)


def _room(own: Polygon, at: JointLine, order: JointOrder) -> shapely.Geometry:
    """Where keys may lie, in the line's axes: the least width off edges, lettering and lines."""
    wall = order.required_mm + order.fit_mm / 2
    free = shapely.buffer(own, -wall, quad_segs=8)
    for kept in (order.ink, order.avoid):
        if not kept.is_empty:
            free = shapely.difference(free, shapely.buffer(at.from_piece(kept), wall, quad_segs=8))
    return free


def _stretches(own: Polygon) -> list[tuple[float, float]]:
    """Where the line runs in material, in its own axes, from its start on."""
    x0, _, x1, _ = own.bounds
    inside = shapely.intersection(own, LineString([(x0 - 1.0, 0.0), (x1 + 1.0, 0.0)]))
    lines = [part for part in shapely.get_parts(inside) if part.length > STEP_MM]
    return sorted((line.bounds[0], line.bounds[2]) for line in lines)


def _keys_in(
    room: shapely.Geometry, start: float, end: float, neck: float, both_ways: bool
) -> tuple[list[Polygon], int]:
    """Keys on one stretch, spread evenly as far as they have room; and which way they reach."""
    step = max(STEP_MM, (end - start) / MOST_STEPS)
    places = np.arange(start, end, step)
    count = max(1, int((end - start) / (PITCH * neck)))
    wanted = start + (np.arange(count) + 0.5) / count * (end - start)
    best: tuple[list[Polygon], int] = ([], -1)
    shapely.prepare(room)
    for into in (-1, 1) if both_ways else (-1,):
        marks = _keys(places, neck, into, root=0.0)
        free = shapely.contains(room, marks)
        chosen = _spread(places[free], wanted, 2.0 * (1 + 2 * FLANK * DEPTH_SHARE) * neck)
        if len(chosen) > len(best[0]):
            root = min(0.5, 0.1 * neck)
            best = list(_keys(np.array(chosen), neck, into, root)), into
    return best


def _spread(places: Floats, wanted: Floats, apart: float) -> list[float]:
    """The free place nearest to each wanted one, no two nearer than so far."""
    chosen: list[float] = []
    for want in wanted.tolist():
        clear = [p for p in places.tolist() if all(abs(p - c) >= apart for c in chosen)]
        if clear:
            chosen.append(min(clear, key=lambda place: (round(abs(place - want), 6), place)))
    return chosen


def _keys(places: Floats, neck: float, into: int, root: float) -> np.ndarray:
    """Dovetails on the line, in its axes; with `into` −1 they reach into the second part."""
    depth = DEPTH_SHARE * neck
    half, head = neck / 2, neck / 2 + FLANK * depth
    corners = ((-half, -into * root), (-half, 0.0), (-head, into * depth))
    one = np.array([*corners, *((-x, y) for x, y in reversed(corners))])
    points = np.repeat(one[None, :, :], len(places), axis=0)
    points[:, :, 0] += places[:, None]
    return np.asarray(shapely.polygons(points), dtype=np.object_)


def _rounded(shape: Polygon, radius: float) -> Polygon:
    """All corners rounded by a radius, those inwards too."""
    closed = shapely.buffer(
        shapely.buffer(shape, radius, quad_segs=QUARTER), -2 * radius, quad_segs=QUARTER
    )
    return shapely.buffer(closed, radius, quad_segs=QUARTER)


def on_either_side(
    shape: JointShape, part: Polygon, fit_mm: float
) -> tuple[list[Polygon], list[Polygon]]:
    """The parts on the first and on the second side of a joint, the gap between them left out.

    Args:
        shape: of the joint.
        part: what is split.
        fit_mm: clear gap, half of it taken off each side.

    Returns:
        Parts, the largest first on each side; dust is left out.
    """
    half = fit_mm / 2
    near = shapely.buffer(shape.first_side, -half, join_style="mitre") if half else shape.first_side
    far = shapely.buffer(shape.first_side, half, join_style="mitre") if half else shape.first_side
    return (
        whole_parts(shapely.intersection(part, near)),
        whole_parts(shapely.difference(part, far)),
    )


DUST_MM2 = 1e-4


def whole_parts(shape: shapely.Geometry) -> list[Polygon]:
    """The polygons of a shape, the largest first; dust is left out."""
    parts: Sequence[shapely.Geometry] = shapely.get_parts(shape)
    found = [part for part in parts if isinstance(part, Polygon) and part.area > DUST_MM2]
    return sorted(found, key=lambda part: (-part.area, part.bounds))
