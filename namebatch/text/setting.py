"""A line of text as ink: shared out among typefaces, shaped, placed and united."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import MultiPolygon

from namebatch.text.chain import Stretch, stretches
from namebatch.text.face import Face
from namebatch.text.glyphs import as_multipolygon
from namebatch.text.runs import items_of

FLATTEN_MM = 0.005
"""Largest distance of a chord from the curve at final size.

Half of what is allowed: arcs that are fitted later need the other half to be few.
"""

Bounds = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class Sign:
    """One placed glyph of a line, in units of the line's leading face.

    Attributes:
        face: what it comes from.
        gid: glyph id in that face.
        scale: units of the leading face to one of its own.
        x, y: its origin, from the start of the line and the baseline.
        cluster: index of the first character that it stands for.
    """

    face: Face
    gid: int
    scale: float
    x: float
    y: float
    cluster: int


@dataclass(frozen=True, slots=True)
class Line:
    """A shaped line whose ink is known but not yet placed, in units of its leading face.

    Attributes:
        face: the leading face, of which the line takes its measures.
        text: what was set.
        signs: its glyphs in visual order.
        advance: its width with the sides that the face gives.
        tolerance: flattening tolerance of the glyph shapes.
        bounds: ink from x0, y0 to x1, y1; None if there is no ink.
        stretches: which face sets what, in visual order.
    """

    face: Face
    text: str
    signs: tuple[Sign, ...]
    advance: float
    tolerance: float
    bounds: Bounds | None
    stretches: tuple[Stretch, ...]

    @property
    def font(self) -> str:
        """Names of the faces that set it, the leading one first."""
        names = [self.face.name, *(stretch.face.name for stretch in self.stretches)]
        used = [name for name in dict.fromkeys(names) if self._uses(name)]
        return " + ".join(used or names[:1])

    def _uses(self, name: str) -> bool:
        return any(stretch.face.name == name for stretch in self.stretches)


def set_line(
    faces: Face | Sequence[Face],
    text: str,
    largest_cap_mm: float,
    tracking: float = 0.0,
    language: str = "",
) -> Line:
    """Shape a text and measure its ink.

    Where several faces are needed, each is scaled so that its capitals are as high as those
    of the leading one, on one baseline.

    Args:
        faces: the typeface, or a chain in the order in which its faces are tried.
        text: one line; characters that no face has leave the mark of a missing glyph.
        largest_cap_mm: height of capitals at the largest size it may be used at; curves are
            flattened within `FLATTEN_MM` at that size and finer below.
        tracking: as `Face.shape`.
        language: as `Face.shape`.
    """
    chain = (faces,) if isinstance(faces, Face) else tuple(faces)
    shared = stretches(text, chain) or stretches_in(text, chain[0])
    lead = _leading(shared, chain)
    signs: list[Sign] = []
    x = 0.0
    for index, stretch in enumerate(shared):
        face = stretch.face
        scale = lead.cap_height / face.cap_height
        run = face.shape_item(text, stretch.item, tracking, language)
        signs += [
            Sign(face, g.gid, scale, x + g.x * scale, g.y * scale, g.cluster) for g in run.glyphs
        ]
        x += run.advance * scale
        if index + 1 < len(shared):
            x += face.space_after(stretch.item, tracking) * scale
    tolerance = FLATTEN_MM * lead.cap_height / largest_cap_mm
    return Line(lead, text, tuple(signs), x, tolerance, _bounds(signs, tolerance), shared)


def stretches_in(text: str, face: Face) -> tuple[Stretch, ...]:
    """A line in one face, whatever it lacks."""
    return tuple(Stretch(item, face) for item in items_of(text))


def _leading(shared: Sequence[Stretch], chain: Sequence[Face]) -> Face:
    """The first face of the chain that takes part."""
    used = {id(stretch.face) for stretch in shared}
    return next((face for face in chain if id(face) in used), chain[0])


@dataclass(frozen=True, slots=True)
class Letter:
    """The ink of one grapheme cluster, in mm: a letter with its marks, or letters in one glyph.

    Attributes:
        index: position of its first character in the text.
        text: its characters.
        shape: the ink.
    """

    index: int
    text: str
    shape: MultiPolygon


def ink_of(line: Line, scale: float, x: float, y: float) -> MultiPolygon:
    """The ink of a line, scaled and moved so that its origin is at x, y (mm).

    Overlapping glyphs are united; within a glyph the winding is non-zero already.
    """
    _, placed = placed_shapes(line, scale, x, y)
    return united(placed)


def letters_of(line: Line, scale: float, x: float, y: float) -> tuple[Letter, ...]:
    """The ink of a line cluster by cluster, in text order; placed as by `ink_of`."""
    return _letters(line, *placed_shapes(line, scale, x, y))


def ink_and_letters(
    line: Line, scale: float, x: float, y: float
) -> tuple[MultiPolygon, tuple[Letter, ...]]:
    """What `ink_of` and `letters_of` give, placed once."""
    signs, placed = placed_shapes(line, scale, x, y)
    return united(placed), _letters(line, signs, placed)


def _letters(line: Line, signs: Sequence[Sign], placed: NDArray[np.object_]) -> tuple[Letter, ...]:
    starts = sorted({sign.cluster for sign in line.signs})
    ends = dict(zip(starts, [*starts[1:], len(line.text)], strict=False))
    return tuple(
        Letter(
            start,
            line.text[start : ends[start]],
            united(placed[[i for i, sign in enumerate(signs) if sign.cluster == start]]),
        )
        for start in sorted({sign.cluster for sign in signs})
    )


def placed_shapes(
    line: Line, scale: float, x: float, y: float
) -> tuple[list[Sign], NDArray[np.object_]]:
    """The signs that leave ink, and their shapes in mm where they belong."""
    pairs = _shapes(line.signs, line.tolerance)
    shapes = np.array([shape for _, shape in pairs], dtype=object)
    if not pairs:
        return [], shapes
    origins = np.array([(sign.x, sign.y) for sign, _ in pairs])
    scales = np.array([[sign.scale] for sign, _ in pairs])
    coordinates, owner = shapely.get_coordinates(shapes, return_index=True)
    placed = (coordinates * scales[owner] + origins[owner]) * scale + (x, y)
    return [sign for sign, _ in pairs], shapely.set_coordinates(shapes, placed)


def united(shapes: NDArray[np.object_]) -> MultiPolygon:
    """The union of shapes of which each is valid; empty for none."""
    if len(shapes) == 0:
        return MultiPolygon()
    if len(shapes) == 1:
        return as_multipolygon(shapes[0])
    return as_multipolygon(shapely.disjoint_subset_union_all(shapes))


def _bounds(signs: Sequence[Sign], tolerance: float) -> Bounds | None:
    """The box round all ink, in units of the leading face."""
    x0, y0, x1, y1 = inf, inf, -inf, -inf
    for sign, shape in _shapes(signs, tolerance):
        left, bottom, right, top = shape.bounds
        x0, x1 = min(x0, left * sign.scale + sign.x), max(x1, right * sign.scale + sign.x)
        y0, y1 = min(y0, bottom * sign.scale + sign.y), max(y1, top * sign.scale + sign.y)
    return None if x0 == inf else (x0, y0, x1, y1)


def _shapes(signs: Sequence[Sign], tolerance: float) -> list[tuple[Sign, MultiPolygon]]:
    """The signs that leave ink, with their shapes in units of their own face."""
    pairs = ((sign, sign.face.glyph_shape(sign.gid, tolerance / sign.scale)) for sign in signs)
    return [(sign, shape) for sign, shape in pairs if not shape.is_empty]
