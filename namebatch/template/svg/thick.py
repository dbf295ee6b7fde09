"""A line with its width as an area, for lines that a map stretches unevenly."""

from shapely import LinearRing, LineString, MultiLineString, MultiPolygon, Polygon

from namebatch.curves import Flattener, Path, draw, ring_path, transform
from namebatch.template.svg.extent import scales
from namebatch.template.svg.outline import chords
from namebatch.template.svg.units import number
from namebatch.template.svg.walk_model import Drawn

CHORD_MM = 0.01
MOST_POINTS = 50_000
_JOINS = {"miter": "mitre", "round": "round", "bevel": "bevel"}
_CAPS = {"butt": "flat", "round": "round", "square": "square"}


def line_area(drawn: Drawn, width: float, cap: str, join: str) -> Path:
    """The inked area of a shape's line in mm, to be filled even-odd.

    The line is thickened in its own units, where its width is even, then mapped.

    Raises:
        ValueError: the line has too many points.
    """
    tolerance = CHORD_MM / max(scales(drawn.affine)[1], 1e-9)
    if chords(drawn.path, tolerance) > MOST_POINTS:
        raise ValueError("has too fine a line under an uneven transform; simplify the curve")
    flattener = Flattener(tolerance)
    draw(drawn.path, flattener)
    flattener.finish()
    lines = [
        LinearRing(ring) if closed and len(ring) > 2 else LineString(ring)
        for ring, closed in zip(flattener.rings, flattener.closed, strict=True)
    ]
    if not lines:
        return ()
    area = MultiLineString(lines).buffer(
        width / 2,
        quad_segs=16,
        cap_style=_CAPS[cap],
        join_style=_JOINS[join],
        mitre_limit=max(1.0, number(drawn.style["stroke-miterlimit"])),
    )
    polygons = area.geoms if isinstance(area, MultiPolygon) else [area]
    rings = [
        [(x, y) for x, y, *_ in ring.coords]
        for polygon in polygons
        if isinstance(polygon, Polygon) and not polygon.is_empty
        for ring in (polygon.exterior, *polygon.interiors)
    ]
    return transform(ring_path(rings), drawn.affine)
