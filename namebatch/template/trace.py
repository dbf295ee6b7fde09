"""A base from the artwork itself: the outline of what is seen in a picture. Lengths in mm."""

from dataclasses import dataclass
from math import ceil

import numpy as np
import numpy.typing as npt
import shapely
from contourpy import contour_generator
from shapely import MultiPolygon, Polygon

from namebatch.finding import Finding, warn
from namebatch.template import lost
from namebatch.template.coverage import Coverage, Grid, coverage
from namebatch.template.model import RasterPicture
from namebatch.template.problems import FileProblem
from namebatch.template.smooth import smoothed

LEAST_DPI = 75.0
GOOD_DPI = 150.0
SIMPLER_MM = 0.01
"""Points nearer than this to the line between their neighbours are left out."""

SOFT, HARD = (0.15, 16.0), (0.6, 24.0)
"""Half width of the tube and length of waves taken out, in pixels, for partly covered edges
and for edges of hard pixels, whose steps may be long."""

FADE = 1.2
"""An edge that takes more than so many pixels to fade from none to all is a soft one.

Blurred by a Gaussian of one pixel's deviation it takes √(2π) of them."""

SOFT_PX = 3.0
"""Edges that fade over more are told if their rim is seen."""

CHORD_QUARTER = 24
"""Chords a quarter circle where the line turns round a corner."""

PINHOLE_MM = 1.0
"""Holes, and gaps of a border, narrower than this are closed: nothing is gained by them."""

LOST = 0.01
"""Parts that lie apart and make up more than this share of the artwork cannot just be lost."""

MOST_RINGS = 20_000
"""A picture that falls into more pieces is noise."""

MOST_STEPS = 500_000
"""And so is one with edges between more neighbouring pixels; that many take a quarter minute."""

_NOISE = "falls into thousands of specks; smooth it or cut it out first."


@dataclass(frozen=True, slots=True)
class Trace:
    """An outline found in a picture.

    Attributes:
        shape: valid, one part; origin at the picture's bottom left corner, y up. None with
            problems.
        by: "alpha" or "background".
        dpi: pixels an inch at the final size.
        seen: what stands out of a plain background, half a pixel less so that no rim of it
            is left; None where the picture has its own alpha. Origin as of `shape`.
        warnings: what should be looked at.
        problems: why it cannot be used.
    """

    shape: Polygon | None
    by: str
    dpi: float
    seen: MultiPolygon | None
    warnings: tuple[Finding, ...]
    problems: tuple[str, ...]


def trace_artwork(
    picture: RasterPicture,
    size_mm: tuple[float, float],
    inset_mm: float = 0.5,
    speck_mm2: float = 1.0,
    keep_holes: bool = False,
    name: str = "The picture",
) -> Trace:
    """Find the outline of an artwork.

    The edge is where half of a pixel is covered, found between pixel centres (marching
    squares). With a plain background, what has its colour inside the artwork stays; the
    background is what can be reached from the border.

    Args:
        picture: read by `read_raster`, or an SVG drawn by `rasterise`.
        size_mm: width and height of the whole picture.
        inset_mm: the line runs this far inside the edge; below 0 outside, for a white border.
        speck_mm2: smaller parts and holes are dropped.
        keep_holes: see-through places inside stay open.
        name: of the picture, for messages.
    """
    dpi = min(px / side * 25.4 for px, side in zip(picture.size_px, size_mm, strict=True))
    warnings, problems = _sharpness(dpi, name, size_mm)
    try:
        found = coverage(picture, name)
        parts, fade_px = _parts(found, size_mm, speck_mm2, keep_holes, name)
        moved = _moved(parts, inset_mm, keep_holes)
        if not moved:
            raise FileProblem(
                name,
                f"is nowhere wide enough for an outline {inset_mm:g} mm inside its edge; make "
                "it larger or take a smaller inset_mm."
                if parts
                else "shows nothing to trace; the artwork must differ from its background.",
            )
    except FileProblem as problem:
        return Trace(None, "", dpi, None, tuple(warnings), (*problems, str(problem)))
    gone = sum(part.area for part in moved[1:]) / sum(part.area for part in moved)
    if gone > LOST:
        problems.append(lost.apart(name, moved))
    elif len(moved) > 1:
        warnings.append(warn("trace-parts-apart", lost.apart(name, moved)))
    warnings += lost.thin(name, parts, moved, inset_mm)
    if fade_px > SOFT_PX:
        warnings += lost.fading(name, fade_px * 25.4 / dpi * found.scale, inset_mm)
    shape = None if problems else _simpler(moved[0])
    seen = _seen(parts, 12.7 / dpi) if found.by == "background" else None
    return Trace(shape, found.by, dpi, seen, tuple(warnings), tuple(problems))


def _seen(parts: list[Polygon], rim_mm: float) -> MultiPolygon:
    """The parts without holes and less a rim, where pixels mix them with the background."""
    whole = MultiPolygon(parts)
    less = shapely.simplify(shapely.buffer(whole, -rim_mm, quad_segs=4), SIMPLER_MM)
    return MultiPolygon(_sorted(less) or parts)


def _sharpness(
    dpi: float, name: str, size_mm: tuple[float, float]
) -> tuple[list[Finding], list[str]]:
    """Warnings and problems with the resolution at final size."""
    # A picture of 150 dpi has a whole number of pixels, so it may lack half of one.
    if round(dpi) >= GOOD_DPI:
        return [], []
    more = ceil(10 * GOOD_DPI / dpi) / 10
    line = (
        f"{name} has only {dpi:.0f} pixels an inch at {size_mm[0]:.1f} × {size_mm[1]:.1f} mm, and "
        f"its outline is no finer; use a picture {more:.1f} times as wide and high."
    )
    return ([], [line]) if dpi < LEAST_DPI else ([warn("trace-coarse", line)], [])


def _parts(
    found: Coverage,
    size_mm: tuple[float, float],
    speck_mm2: float,
    keep_holes: bool,
    name: str,
) -> tuple[list[Polygon], float]:
    """What is seen, in mm, largest first; holes only where they are see-through.

    And over how many pixels of the grid the longest edge fades.
    """
    rows, columns = found.grid.shape
    to_mm = np.array([size_mm[0] / columns, size_mm[1] / rows])
    # With a margin of nothing, lines close at the picture's own edge.
    grid = np.pad(found.grid, 1)
    flags = grid > 0.5
    crossings = int(np.sum(flags[:, 1:] != flags[:, :-1]) + np.sum(flags[1:] != flags[:-1]))
    if crossings == 0:
        return [], 1.0
    if crossings > MOST_STEPS:
        raise FileProblem(name, _NOISE)
    soft = np.sum((grid > 0.1) & (grid < 0.9)) > 0.25 * crossings
    lines = contour_generator(z=grid, name="serial").lines(0.5)
    least_px2 = speck_mm2 / float(to_mm.prod())
    traced = [np.asarray(line, dtype=np.float64) for line in lines]
    rings = [ring for ring in traced if abs(_area(ring)) >= least_px2]
    if len(rings) > MOST_RINGS:
        raise FileProblem(name, _NOISE)
    outer: list[Polygon] = []
    inner: list[Polygon] = []
    longest = (0, 1.0)
    for ring in rings:
        fade_px = _fade_px(grid, ring)
        longest = max(longest, (len(ring), fade_px))
        points = smoothed(ring, *(SOFT if soft else HARD), max(1.0, fade_px / FADE))
        # Row 0 is the margin: pixel i, counted from 1, has its centre at i − 0.5 pixels.
        points = np.column_stack([points[:, 0] - 0.5, rows + 0.5 - points[:, 1]]) * to_mm
        polygon = _sound(Polygon(points))
        (outer if _area(ring) > 0 else inner).extend(polygon)
    return _nested(outer, inner if keep_holes and found.by == "alpha" else []), longest[1]


def _fade_px(grid: Grid, ring: npt.NDArray[np.float64]) -> float:
    """Over how many pixels an edge fades: one by its steepest slope, the median along a ring."""
    column, row = (np.clip(ring[:, i].astype(np.int64), 0, grid.shape[1 - i] - 2) for i in (0, 1))
    across = grid[row, column + 1] - grid[row, column]
    up = grid[row + 1, column] - grid[row, column]
    return 1.0 / max(float(np.median(np.hypot(across, up))), 1e-3)


def _nested(outer: list[Polygon], inner: list[Polygon]) -> list[Polygon]:
    """Parts less their holes, what lies in a hole included; largest first."""
    whole = shapely.union_all(outer)
    if inner:
        # Islands in holes: by size, every ring overrules those around it.
        whole = Polygon()
        for ring, sign in sorted(
            [(r, 1) for r in outer] + [(r, -1) for r in inner], key=lambda pair: -pair[0].area
        ):
            whole = shapely.union(whole, ring) if sign > 0 else shapely.difference(whole, ring)
    return _sorted(whole)


def _area(ring: npt.NDArray[np.float64]) -> float:
    """Area of a closed ring, positive where the artwork lies inside it.

    contourpy keeps higher values to the left of its lines.
    """
    x, y = ring[:, 0], ring[:, 1]
    return float(np.dot(x[:-1], y[1:]) - np.dot(x[1:], y[:-1])) / 2


def _sound(polygon: Polygon) -> list[Polygon]:
    """The polygon in valid parts; smoothing may let a hair-thin line cross itself."""
    if polygon.is_valid:
        return [polygon]
    return _sorted(shapely.make_valid(polygon, method="structure"))


def _sorted(shape: shapely.Geometry) -> list[Polygon]:
    """Polygons of a shape, largest first."""
    parts = [p for p in shapely.get_parts(shape) if isinstance(p, Polygon) and p.area > 0]
    return sorted(parts, key=lambda part: (-part.area, part.bounds))


def _moved(parts: list[Polygon], inset_mm: float, keep_holes: bool) -> list[Polygon]:
    """The line moved in or out; going out joins parts that are close enough."""
    # A border also bridges gaps that are too narrow to cut and rounds its inside corners.
    closing = PINHOLE_MM / 2 if inset_mm < 0 else 0.0
    moved = shapely.buffer(MultiPolygon(parts), closing - inset_mm, quad_segs=CHORD_QUARTER)
    if closing:
        moved = shapely.buffer(moved, -closing, quad_segs=CHORD_QUARTER)
    found = []
    for part in _sorted(moved):
        holes = [ring for ring in part.interiors if keep_holes and _usable(ring)]
        found.append(Polygon(part.exterior, holes))
    return found


def _usable(ring: shapely.LinearRing) -> bool:
    return not shapely.buffer(Polygon(ring), -PINHOLE_MM / 2).is_empty


def _simpler(shape: Polygon) -> Polygon:
    """Fewer points, and still valid."""
    simple = shapely.simplify(shape, SIMPLER_MM)
    return simple if isinstance(simple, Polygon) and simple.is_valid else shape
