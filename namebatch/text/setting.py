"""A line of text in one face as ink: shaped, placed and united."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import MultiPolygon

from namebatch.text.face import Face, Glyph, GlyphRun
from namebatch.text.glyphs import as_multipolygon

FLATTEN_MM = 0.005
"""Largest distance of a chord from the curve at final size.

Half of what is allowed: arcs that are fitted later need the other half to be few.
"""


@dataclass(frozen=True, slots=True)
class Line:
    """A shaped line whose ink is known but not yet placed. Font units.

    Attributes:
        face: what set it.
        text: what was set.
        run: its glyphs.
        tolerance: flattening tolerance of the glyph shapes in font units.
        bounds: ink from x0, y0 to x1, y1; None if there is no ink.
    """

    face: Face
    text: str
    run: GlyphRun
    tolerance: float
    bounds: tuple[float, float, float, float] | None


def set_line(face: Face, text: str, largest_cap_mm: float, tracking: float = 0.0) -> Line:
    """Shape a text and measure its ink.

    Args:
        face: the typeface.
        text: one line.
        largest_cap_mm: height of capitals at the largest size it may be used at; curves are
            flattened within `FLATTEN_MM` at that size and finer below.
        tracking: as `Face.shape`.
    """
    run = face.shape(text, tracking)
    tolerance = FLATTEN_MM * face.cap_height / largest_cap_mm
    bounds = [
        np.asarray(shape.bounds) + (glyph.x, glyph.y, glyph.x, glyph.y)
        for glyph, shape in _shapes(face, run.glyphs, tolerance)
    ]
    if not bounds:
        return Line(face, text, run, tolerance, None)
    low = np.min([b[:2] for b in bounds], axis=0)
    high = np.max([b[2:] for b in bounds], axis=0)
    ink = (float(low[0]), float(low[1]), float(high[0]), float(high[1]))
    return Line(face, text, run, tolerance, ink)


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
    _, placed = _placed(line, scale, x, y)
    return _united(placed)


def letters_of(line: Line, scale: float, x: float, y: float) -> tuple[Letter, ...]:
    """The ink of a line cluster by cluster, in text order; placed as by `ink_of`."""
    glyphs, placed = _placed(line, scale, x, y)
    starts = sorted({glyph.cluster for glyph in line.run.glyphs})
    ends = dict(zip(starts, [*starts[1:], len(line.text)], strict=True))
    return tuple(
        Letter(
            start,
            line.text[start : ends[start]],
            _united(placed[[i for i, g in enumerate(glyphs) if g.cluster == start]]),
        )
        for start in sorted({glyph.cluster for glyph in glyphs})
    )


def _placed(
    line: Line, scale: float, x: float, y: float
) -> tuple[list[Glyph], NDArray[np.object_]]:
    """The glyphs that leave ink, and their shapes where they belong."""
    pairs = _shapes(line.face, line.run.glyphs, line.tolerance)
    shapes = np.array([shape for _, shape in pairs], dtype=object)
    if not pairs:
        return [], shapes
    origins = np.array([(glyph.x, glyph.y) for glyph, _ in pairs])
    coordinates, owner = shapely.get_coordinates(shapes, return_index=True)
    placed = (coordinates + origins[owner]) * scale + (x, y)
    return [glyph for glyph, _ in pairs], shapely.set_coordinates(shapes, placed)


def _united(shapes: NDArray[np.object_]) -> MultiPolygon:
    if len(shapes) == 0:
        return MultiPolygon()
    if len(shapes) == 1:
        return as_multipolygon(shapes[0])
    return as_multipolygon(shapely.disjoint_subset_union_all(shapes))


def _shapes(
    face: Face, glyphs: Sequence[Glyph], tolerance: float
) -> list[tuple[Glyph, MultiPolygon]]:
    pairs = ((glyph, face.glyph_shape(glyph.gid, tolerance)) for glyph in glyphs)
    return [(glyph, shape) for glyph, shape in pairs if not shape.is_empty]
