"""Places for text beside the rectangle: from their tables to arcs, paths and safe areas."""

from collections.abc import Mapping
from dataclasses import dataclass, field

import shapely
from shapely import LineString, Polygon
from shapely.affinity import affine_transform

from namebatch.template.guide import (
    LEAST_STRETCH,
    SHARPEST_DEG,
    guide_along,
    sharpest_corner,
)
from namebatch.template.problems import Problems
from namebatch.template.regions import (
    CLOSEST,
    Bounds,
    bounds_of_arc,
    box_round,
    fold_at,
    meets_itself,
)
from namebatch.template.schema import ArcTable, Head, PathTable, SafeAreaTable, Text
from namebatch.template.textbox import AlongPath, Arc, FaceName, SafeArea

NO_BOX: Bounds = (0.0, 0.0, 1.0, 1.0)
"""Of a text whose place could not be read; it is told, and nothing is made."""
BELOW, ABOVE = 0.35, 1.3
"""Room for descenders and for accents on capitals, in heights of capitals, until the typefaces
are known."""
QUAD_SEGMENTS = 32


@dataclass(frozen=True, slots=True)
class Ground:
    """What text can be placed on.

    Attributes:
        base: from the origin; None when it could not be read, empty when there is none.
        holes: those with a given place.
        found_holes: whether holes are to be found for each piece.
        lines: of the base drawing, by id; None when it is no drawing.
    """

    base: Polygon | None
    holes: tuple[Polygon, ...] = ()
    found_holes: bool = False
    lines: Mapping[str, LineString] | None = field(default=None)


@dataclass(frozen=True, slots=True)
class Standing:
    """Where a text goes.

    Attributes:
        box_mm: as given, or round all that its ink may reach.
        place: None for a rectangle.
        key: of the table that says so.
        least_mm: the box that has to lie on the base: `box_mm`, or round the smallest letters
            where the room is not given.
    """

    box_mm: Bounds
    place: Arc | AlongPath | SafeArea | None
    key: str
    least_mm: Bounds


def standing_of(text: Text, place: str, head: Head, ground: Ground, problems: Problems) -> Standing:
    """The place of a text; what is wrong with it is noted.

    Args:
        text: with one of the four places, or none (that is told elsewhere).
        place: of the table, ``text[2]``.
        head: for the rule and the faces.
        ground: what it is placed on.
        problems: gets one line for each thing in the way.
    """
    if text.box_mm is not None:
        x, y, width, height = text.box_mm
        _check_baseline(text, place, height, problems)
        return Standing((x, y, width, height), None, "box_mm", (x, y, width, height))
    _check_keys(text, place, problems)
    if text.arc is not None:
        return _on_arc(text.arc, text, f"{place}.arc", problems)
    if text.path is not None:
        return _on_path(text.path, text, f"{place}.path", ground, problems)
    if text.safe_area is not None:
        return _in_area(text.safe_area, text, f"{place}.safe_area", head, ground, problems)
    return _nowhere("box_mm")


def guides_wanted(data: object) -> tuple[str, ...]:
    """Ids of the lines that texts follow, from ``[[text]]`` as it was read from the file."""
    entries = data if isinstance(data, list) else []
    paths = [entry.get("path") for entry in entries if isinstance(entry, dict)]
    ids = [path.get("id") for path in paths if isinstance(path, dict)]
    return tuple(dict.fromkeys(name for name in ids if isinstance(name, str)))


def _check_keys(text: Text, place: str, problems: Problems) -> None:
    """Keys of a rectangle that mean nothing elsewhere."""
    if text.vertical != "middle":
        remedy = "give line_mm in its table instead" if text.safe_area else "leave it out"
        problems.add(f"{place}.vertical", f"goes only with box_mm; {remedy}.")


def _check_baseline(text: Text, place: str, height_mm: float, problems: Problems) -> None:
    """A given baseline lies in its box, with room for the smallest capitals above it."""
    key, baseline = f"{place}.baseline_mm", text.baseline_mm
    if text.vertical != "baseline":
        return
    if baseline is None:
        problems.add(
            key,
            'is missing; vertical = "baseline" needs how far the baseline lies above the bottom of '
            f"the box, for example baseline_mm = {height_mm / 4:.2g}.",
        )
        return
    most = height_mm - text.min_height_mm
    if most >= 0 and not 0 <= baseline <= most:
        problems.add(
            key,
            f"is {baseline:g} mm; in a box {height_mm:g} mm high, with letters of "
            f"{text.min_height_mm:g} mm or more, it may be 0 to {most:.4g} mm above the bottom of "
            "the box.",
        )


def _nowhere(key: str) -> Standing:
    return Standing(NO_BOX, None, key, NO_BOX)


def _room(
    given: list[float] | None, text: Text, place: str, problems: Problems
) -> tuple[float, float]:
    """How far ink may reach below and above the baseline."""
    if given is None:
        return round(BELOW * text.max_height_mm, 6), round(ABOVE * text.max_height_mm, 6)
    below, above = given
    if above < text.min_height_mm:
        problems.add(
            f"{place}.room_mm",
            f"leaves {above:g} mm above the baseline, less than min_height_mm, "
            f"{text.min_height_mm:g} mm; give more room, or allow smaller letters.",
        )
    return below, above


def _on_arc(table: ArcTable, text: Text, place: str, problems: Problems) -> Standing:
    """A place along a circle."""
    below, above = _room(table.room_mm, text, place, problems)
    inwards = above if table.side == "inside" else below
    most = (1 - CLOSEST) * table.radius_mm
    if inwards > most:
        where = "above" if table.side == "inside" else "below"
        problems.add(
            f"{place}.radius_mm",
            f"is {table.radius_mm:g} mm; with {inwards:.3g} mm for letters {where} the baseline "
            f"they would crowd round the centre. Take a larger radius, or at most {most:.3g} mm "
            "in room_mm.",
        )
        return _nowhere("arc")
    middle = table.middle_deg
    if middle is None:
        middle = 90.0 if table.side == "outside" else 270.0
    x, y = table.centre_mm
    arc = Arc(
        (x, y),
        table.radius_mm,
        middle,
        table.sweep_deg,
        table.side,
        table.letters,
        (below, above),
        table.room_mm is not None,
    )
    bounds = bounds_of_arc(arc, arc.room_mm)
    least = (0.0, text.min_height_mm) if table.room_mm is None else arc.room_mm
    return Standing(bounds, arc, "arc", bounds_of_arc(arc, least))


def _on_path(
    table: PathTable, text: Text, place: str, ground: Ground, problems: Problems
) -> Standing:
    """A place along a line of the base drawing."""
    nowhere = _nowhere("path")
    room = _room(table.room_mm, text, place, problems)
    if ground.lines is None:
        problems.add(place, "needs a base from a drawing, with the line in it: drawing in [base].")
        return nowhere
    line = ground.lines.get(table.id)
    if line is None or ground.base is None:
        return nowhere  # told with the drawing
    turn, corner = sharpest_corner(line)
    if turn > SHARPEST_DEG:
        problems.add(
            place,
            f'"{table.id}" has a corner of {turn:.0f}°{_at(corner)}; letters would break over it. '
            f"Round it, or bend it by less than {SHARPEST_DEG:.0f}°.",
        )
        return nowhere
    if table.reverse:
        line = line.reverse()
    if text.face == "back":
        line = affine_transform(line, (-1, 0, 0, 1, ground.base.bounds[2], 0)).reverse()
    moved = _offset(line, table.offset_mm)
    if moved is None:
        problems.add(
            f"{place}.offset_mm",
            f'of {table.offset_mm:g} mm is more than the bends of "{table.id}" allow; take less.',
        )
        return nowhere
    box = _room_along(moved, room, table.id, place, problems)
    if box is None:
        return nowhere
    least = (0.0, text.min_height_mm) if table.room_mm is None else room
    strip = guide_along(moved, room).strip(*least)
    along = AlongPath(table.id, moved, table.letters, room, table.room_mm is not None)
    return Standing(box, along, "path", box_round(shapely.get_coordinates(strip)))


def _offset(line: LineString, offset_mm: float) -> LineString | None:
    """The parallel line so far to the left, or None where it would fold or fall apart."""
    if offset_mm == 0.0:
        return line
    guide = guide_along(line, (abs(offset_mm), abs(offset_mm)))
    if guide.stretch(offset_mm).min() < LEAST_STRETCH:
        return None
    points = guide.points + offset_mm * guide.normals
    if line.is_closed:
        points[-1] = points[0]
    moved = LineString(points)
    drawn = shapely.offset_curve(line, offset_mm, quad_segs=QUAD_SEGMENTS)
    # the library's own parallel curve is cut back where the line comes near itself
    whole = isinstance(drawn, LineString) and abs(drawn.length - moved.length) < 0.02 * moved.length
    return moved if whole or line.is_closed else None


def _room_along(
    line: LineString, room: tuple[float, float], name: str, place: str, problems: Problems
) -> Bounds | None:
    """The box round all that letters may reach, if they have room along the whole line."""
    fold = fold_at(line, room)
    if fold is not None:
        sign, at = fold
        height, side = (room[1], "above") if sign > 0 else (room[0], "below")
        problems.add(
            place,
            f'"{name}" bends too tightly{_at(at)} for {height:.3g} mm {side} the '
            "baseline. Draw it calmer, or give less in room_mm or max_height_mm.",
        )
        return None
    if meets_itself(line, room):
        problems.add(
            place, f'"{name}" comes too near itself for letters so high; give less in room_mm.'
        )
        return None
    return box_round(shapely.get_coordinates(guide_along(line, room).strip(*room)))


def _at(point: tuple[float, float]) -> str:
    return f" at x {point[0]:.1f}, y {point[1]:.1f} mm"


def _in_area(
    table: SafeAreaTable,
    text: Text,
    place: str,
    head: Head,
    ground: Ground,
    problems: Problems,
) -> Standing:
    """The base less a margin."""
    nowhere = _nowhere("safe_area")
    if ground.base is None:
        return nowhere
    if ground.base.is_empty:
        problems.add(place, "needs a base, and there is none; add [base], or give box_mm.")
        return nowhere
    if ground.found_holes and head.rule == "base":
        problems.add(
            place,
            "cannot keep off a hole whose place is still to be found; give the hole at_mm, or "
            "the text box_mm.",
        )
        return nowhere
    margin = table.margin_mm
    area = shapely.buffer(ground.base, -margin, quad_segs=QUAD_SEGMENTS)
    for hole in ground.holes:
        area = shapely.difference(area, shapely.buffer(hole, margin, quad_segs=QUAD_SEGMENTS))
    parts = [p for p in shapely.get_parts(area) if isinstance(p, Polygon) and not p.is_empty]
    if not parts:
        problems.add(
            f"{place}.margin_mm", f"of {margin:g} mm leaves nothing of the base; take less."
        )
        return nowhere
    largest = _as_seen(max(parts, key=lambda p: p.area), text.face, ground.base.bounds[2])
    x0, y0, x1, y1 = largest.bounds
    line = table.line_mm
    if line is not None and not y0 < line < y1:
        problems.add(
            f"{place}.line_mm",
            f"of {line:g} mm is not in the area, which reaches from y {y0:.1f} to {y1:.1f} mm.",
        )
    box = x0, y0, x1 - x0, y1 - y0
    return Standing(box, SafeArea(margin, largest, line), "safe_area", box)


def _as_seen(area: Polygon, face: FaceName, width_mm: float) -> Polygon:
    """An area of the front as one sees it on a face."""
    if face == "front":
        return area
    flipped = affine_transform(area, (-1, 0, 0, 1, width_mm, 0))
    return shapely.orient_polygons(flipped)
