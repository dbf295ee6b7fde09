"""``[base] trace = "front"``: the base is the outline of the front's artwork."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TypeAlias

from shapely import MultiPolygon, Polygon, affinity

from namebatch.finding import Finding
from namebatch.template import artwork
from namebatch.template.base import read_bytes
from namebatch.template.folder import member
from namebatch.template.model import RasterPicture
from namebatch.template.problems import FileProblem, Problems, shown, validated
from namebatch.template.schema import TracedBase
from namebatch.template.shapes import at_origin
from namebatch.template.svg import node
from namebatch.template.svg.outline import LEAST_MM, MOST_MM
from namebatch.template.svg.picture import read_artwork
from namebatch.template.svg.raster import rasterise
from namebatch.template.trace import trace_artwork

INSET_MM = 0.5
"""So far inside the artwork's edge a cut that is a little off still shows no white."""

Box: TypeAlias = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class Traced:
    """A base and where its artwork lies on it.

    Attributes:
        base: the outline, its bounding box from the origin.
        box_mm: of the whole picture.
        seen: what is printed of it, None for all.
        warnings: for the template's maker.
    """

    base: Polygon
    box_mm: Box
    seen: MultiPolygon | None
    warnings: tuple[Finding, ...]


def read_traced(
    data: Mapping[str, Any], pictures: object, files: Mapping[str, Path], problems: Problems
) -> Traced | None:
    """The base of a template that traces its artwork; None with problems noted.

    Args:
        data: the table ``base``.
        pictures: the table ``artwork`` as it was read.
        files: of the template.
        problems: gets one line for each.
    """
    table = validated(TracedBase, data, "base", problems)
    if table is None:
        return None
    if table.inset_mm is not None and table.outset_mm is not None:
        problems.add("base", "has both inset_mm and outset_mm; keep one of them.")
        return None
    front = pictures.get("front") if isinstance(pictures, dict) else None
    name = front.get("file") if isinstance(front, dict) else None
    if not isinstance(name, str):
        problems.add("base.trace", "needs a picture to trace; add [artwork.front] with its file.")
        return None
    if isinstance(front, dict) and "box_mm" in front:
        problems.add(
            "artwork.front.box_mm",
            "follows from the base, which is traced from this picture; leave it out.",
        )
        return None
    try:
        return _traced(table, name, files, problems)
    except FileProblem as problem:
        problems.add(problem.place, problem.message)
        return None


def _traced(
    table: TracedBase, name: str, files: Mapping[str, Path], problems: Problems
) -> Traced | None:
    place = "artwork.front.file"
    kind = artwork.kind_of(name)
    if kind is None:
        raise FileProblem(place, f"{shown(name)} must be an .svg, .png, .jpg or .jpeg file.")
    path = member(files, name, place)
    if kind == "raster":
        data = read_bytes(path, name, artwork.LARGEST_BYTES)
        picture = artwork.read_raster(data, name)
        size = _size(table, (float(picture.size_px[0]), float(picture.size_px[1])), None)
    else:
        data = read_bytes(path, name, node.LARGEST_BYTES)
        drawing = read_artwork(data, name, problems)
        if drawing is None:
            return None
        size = _size(table, drawing.picture.size_mm, drawing.picture.size_mm)
        picture = rasterise(data, name, size)
    return _outlined(table, picture, size, name, problems)


def _size(
    table: TracedBase, proportions: tuple[float, float], own: tuple[float, float] | None
) -> tuple[float, float]:
    """Final width and height of the whole picture."""
    width, height = table.width_mm, table.height_mm
    if (width is None) == (height is None):
        if width is None and own is not None:
            return own
        given = "both width_mm and height_mm" if width is not None else "no size"
        raise FileProblem(
            "base",
            f"has {given}; give width_mm or height_mm of the whole picture, the other side "
            "follows from it.",
        )
    share = proportions[0] / proportions[1]
    size = (width, width / share) if width is not None else ((height or 1.0) * share, height or 1.0)
    if max(size) > MOST_MM or min(size) < LEAST_MM:
        raise FileProblem(
            "base",
            f"is traced from a picture of {size[0]:.4g} × {size[1]:.4g} mm; its sides must be "
            f"{LEAST_MM:g} to {MOST_MM:g} mm.",
        )
    return size


def _outlined(
    table: TracedBase,
    picture: RasterPicture,
    size: tuple[float, float],
    name: str,
    problems: Problems,
) -> Traced | None:
    inset = INSET_MM if table.inset_mm is None else table.inset_mm
    if table.outset_mm is not None:
        inset = -table.outset_mm
    found = trace_artwork(picture, size, inset, table.speck_mm2, table.keep_holes, name)
    for line in found.problems:
        problems.add("base.trace", line)
    if found.shape is None:
        return None
    x0, y0, x1, y1 = found.shape.bounds
    if min(x1 - x0, y1 - y0) < LEAST_MM:
        problems.add(
            "base.trace",
            f"gives a base of {x1 - x0:.4g} × {y1 - y0:.4g} mm; that is too small. Give a larger "
            "width_mm or height_mm.",
        )
        return None
    box = (round(-x0, 6) + 0.0, round(-y0, 6) + 0.0, round(size[0], 6), round(size[1], 6))
    seen = None if found.seen is None else affinity.translate(found.seen, box[0], box[1])
    return Traced(at_origin(found.shape), box, seen, found.warnings)
