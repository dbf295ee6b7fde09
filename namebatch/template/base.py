"""The base of a template with its holes, from the tables ``[base]`` and ``[[hole]]``."""

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from shapely import LineString, Polygon
from shapely.affinity import translate

from namebatch.template.folder import member
from namebatch.template.found import is_found, read_found
from namebatch.template.model import FoundHole
from namebatch.template.problems import FileProblem, Problems, did_you_mean, shown, validated
from namebatch.template.schema import BASES, HOLES, Drawing
from namebatch.template.shapes import base_polygon, hole_polygon
from namebatch.template.svg.guide import guide_lines
from namebatch.template.svg.node import LARGEST_BYTES
from namebatch.template.svg.outline import LEAST_MM, MOST_MM, Outlined, outline_from_svg

MOST_HOLES = 500
MOST_FOUND = 8


def read_base(
    data: object, files: Mapping[str, Path], problems: Problems, guides: Sequence[str] = ()
) -> Polygon | None:
    """The shape of ``[base]``, its bounding box from the origin; None with problems noted.

    Args:
        data: the table.
        files: of the template.
        problems: gets one line for each thing in the way.
        guides: ids of lines that text follows; an open one is no part of the base.
    """
    if not isinstance(data, dict):
        problems.add("[base]", "is missing; give a drawing or a shape in this table.")
        return None
    if "drawing" in data and "shape" in data:
        problems.add("base", "has both a drawing and a shape; keep one of them.")
        return None
    try:
        if "drawing" not in data:
            return _shape(data, problems)
        outlined = _drawing(data, files, problems, guides)
        return outlined.polygon if outlined else None
    except FileProblem as problem:
        problems.add(problem.place, problem.message)
        return None


def read_lines(
    data: object, files: Mapping[str, Path], problems: Problems, guides: Sequence[str]
) -> dict[str, LineString] | None:
    """The lines of the base drawing with these ids, in mm from the base's origin.

    What is wrong with the drawing itself is told by `read_base`.

    Returns:
        None when the base is no drawing; without those lines that are not there.
    """
    if not isinstance(data, dict) or "drawing" not in data:
        return None
    if not guides:
        return {}
    try:
        outlined = _drawing(data, files, Problems(), guides)
        if outlined is None:
            return {}
        name = data["drawing"]
        path = member(files, name, "base.drawing")
        found = guide_lines(read_bytes(path, name, LARGEST_BYTES), name, guides, problems)
    except FileProblem:
        return {}
    x, y = outlined.corner
    return {key: translate(line, -x, -y) for key, line in found.items()}


def _drawing(
    data: dict[str, Any], files: Mapping[str, Path], problems: Problems, guides: Sequence[str]
) -> Outlined | None:
    table = validated(Drawing, data, "base", problems)
    if table is None:
        return None
    if not table.drawing.lower().endswith(".svg"):
        raise FileProblem("base.drawing", f"{shown(table.drawing)} must be an .svg file.")
    path = member(files, table.drawing, "base.drawing")
    data_read = read_bytes(path, table.drawing, LARGEST_BYTES)
    return outline_from_svg(data_read, table.drawing, problems, guides)


def _shape(data: dict[str, Any], problems: Problems) -> Polygon | None:
    kind = data.get("shape")
    model = BASES.get(kind) if isinstance(kind, str) else None
    if model is None:
        said = f"{shown(kind)} is not a shape known here" if kind is not None else "is missing"
        raise FileProblem("base.shape", f"{said}; {did_you_mean(kind, BASES)}")
    table = validated(model, data, "base", problems)
    if table is None:
        return None
    try:
        polygon = base_polygon(table)
    except FileProblem as problem:
        raise FileProblem(f"base.{problem.place}", problem.message) from None
    _, _, width, height = polygon.bounds
    if min(width, height) < LEAST_MM or max(width, height) > MOST_MM or not polygon.is_valid:
        raise FileProblem(
            "base",
            f"is {width:.4g} × {height:.4g} mm; its sides must be {LEAST_MM:g} to {MOST_MM:g} mm.",
        )
    return polygon


def read_bytes(path: Path, name: str, most: int) -> bytes:
    """A file's bytes, one more than allowed at most, so that the reader can refuse it.

    Raises:
        FileProblem: the file cannot be read.
    """
    try:
        with path.open("rb") as file:
            return file.read(most + 1)
    except OSError as error:
        raise FileProblem(name, f"cannot be read ({error.strerror}).") from None


def read_holes(
    data: object, base: Polygon | None, problems: Problems
) -> tuple[tuple[Polygon, ...], tuple[FoundHole, ...]]:
    """The holes of all ``[[hole]]``: shapes in their place, and those that are to be found.

    Holes with a place that do not lie well inside the base are noted.
    """
    if not isinstance(data, list):
        problems.add("hole", "must be written as [[hole]], once for each hole.")
        return (), ()
    if len(data) > MOST_HOLES:
        problems.add("hole", f"there are more than {MOST_HOLES}; draw them in a base drawing.")
        return (), ()
    placed: list[tuple[str, Polygon]] = []
    found: list[FoundHole] = []
    for index, entry in enumerate(data):
        place = f"hole[{index + 1}]"
        if is_found(entry):
            wanted = read_found(entry, place, problems)
            found += [wanted] if wanted is not None else []
            continue
        hole = _hole(entry, place, problems)
        if hole is not None:
            placed.append((place, hole))
    if len(found) > MOST_FOUND:
        problems.add("hole", f"more than {MOST_FOUND} have their place to be found; give at_mm.")
    if base is not None:
        _check_places(placed, base, problems)
    return tuple(hole for _, hole in placed), tuple(found)


def _hole(entry: object, place: str, problems: Problems) -> Polygon | None:
    kind = entry.get("shape") if isinstance(entry, dict) else None
    model = HOLES.get(kind) if isinstance(kind, str) else None
    if isinstance(entry, dict) and model is None:
        said = f"{shown(kind)} is not a hole known here" if kind is not None else "is missing"
        problems.add(f"{place}.shape", f"{said}; {did_you_mean(kind, HOLES)}")
        return None
    table = validated(model or HOLES["round"], entry, place, problems)
    if table is None:
        return None
    try:
        return hole_polygon(table)
    except FileProblem as problem:
        problems.add(f"{place}.{problem.place}", problem.message)
        return None


def _check_places(found: Sequence[tuple[str, Polygon]], base: Polygon, problems: Problems) -> None:
    """Every hole inside the base, none at its edge or at another hole."""
    for index, (place, hole) in enumerate(found):
        if base.is_empty:
            problems.add(place, "needs a base to lie in; add [base], or find instead of at_mm.")
        elif not base.intersects(hole):
            problems.add(place, "lies outside the base; move it inside.")
        elif not base.contains_properly(hole):
            problems.add(place, "reaches the edge of the base or of a hole in it; move it inwards.")
        for other, earlier in found[:index]:
            if hole.intersects(earlier):
                problems.add(place, f"runs into {other}; move them apart.")


def pierced(base: Polygon, holes: Sequence[Polygon]) -> Polygon:
    """The base with holes cut out; they lie inside it, so their rings simply join its own."""
    rings = [*base.interiors, *(hole.exterior for hole in holes)]
    return Polygon(base.exterior.coords, [ring.coords for ring in rings])
