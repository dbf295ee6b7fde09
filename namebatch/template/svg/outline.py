"""A base drawing as the one polygon that is cut, in mm."""

from collections.abc import Collection
from dataclasses import dataclass
from math import ceil, hypot, sqrt

from shapely import LinearRing, Polygon, STRtree, is_simple
from shapely.validation import explain_validity

from namebatch.curves import Flattener, Path, Point, draw, transform
from namebatch.template.problems import FileProblem, Problems
from namebatch.template.shapes import CHORD_MM, at_origin
from namebatch.template.svg.density import too_close
from namebatch.template.svg.extent import path_bounds
from namebatch.template.svg.walk import read_drawing
from namebatch.template.svg.walk_model import Drawing, Drawn

GAP_MM = 0.01
"""Ends of a line nearer than this meet; drawing programs round their figures."""
LEAST_AREA_MM2 = 0.05
LEAST_MM = 2.0
MOST_MM = 2000.0
MOST_POINTS = 20_000
"""Eight times the finest bundled base; the time to find the necks of a rough line grows with
their square: half a minute for so many."""
MOST_RINGS = 2_000
"""Every pair is looked at; nobody cuts this many holes into one piece."""
FARTHEST_MM = 10_000.0
MOST_TOLD = 20
"""So many problems of a kind are enough to find the cause."""


@dataclass(frozen=True, slots=True)
class Outlined:
    """The base of a drawing.

    Attributes:
        polygon: from the origin, its holes cut out.
        corner: where the drawing, in mm and y up, has that origin.
    """

    polygon: Polygon
    corner: Point


def outline_from_svg(
    data: bytes, name: str, problems: Problems, guides: Collection[str] = ()
) -> Outlined | None:
    """The base of a drawing: even-odd over all its closed lines.

    Every line counts, painted or not, unless it is hidden (``display``, ``visibility``).

    Args:
        data: the file's bytes.
        name: of the file, for messages.
        problems: gets one line for each thing in the way.
        guides: ids of lines that text follows; an open one is no part of the base.

    Returns:
        None with problems noted.
    """
    before = len(problems)
    try:
        drawing = read_drawing(data, name, problems)
        _refuse_effects(drawing, name, problems)
        rings = _rings(drawing, problems, guides)
        if len(problems) > before:
            return None
        return _polygon(rings, name, problems)
    except FileProblem as problem:
        problems.add(problem.place, problem.message)
        return None


def _refuse_effects(drawing: Drawing, name: str, problems: Problems) -> None:
    """What would make the cut differ from what is seen."""
    if not drawing.sized:
        problems.add(
            name,
            "gives no width and height in mm, so its scale is not known; write for example "
            'width="85mm" height="54mm" on the svg element.',
        )
    for place in drawing.texts:
        problems.add(place, "is text, which is not cut; turn the letters into outlines.")
    for place, what in drawing.effects:
        if what in ("clip-path", "mask", "a picture"):
            problems.add(place, f"uses {what}, which no cutter follows; draw the line itself.")


def _rings(
    drawing: Drawing, problems: Problems, guides: Collection[str]
) -> list[tuple[LinearRing, str]]:
    """All closed lines in mm, with their places."""
    rings: list[tuple[LinearRing, str]] = []
    total = 0
    for drawn in drawing.shapes:
        x0, y0, x1, y1 = path_bounds(drawn.path, drawn.affine)
        if max(abs(x0), abs(y0), abs(x1), abs(y1)) > FARTHEST_MM:
            problems.add(drawn.place, "lies more than 10 m away; look at transform and viewBox.")
            continue
        path = transform(drawn.path, drawn.affine)
        total += chords(path, CHORD_MM)
        if total > MOST_POINTS:
            raise FileProblem(
                drawn.place, f"takes the drawing past {MOST_POINTS} points; simplify the curves."
            )
        guide = drawn.name in guides
        found = _closed(path, drawn, guide, problems)
        if len(rings) + len(found) > MOST_RINGS:
            raise FileProblem(
                drawn.place, f"takes the drawing past {MOST_RINGS} closed lines; simplify it."
            )
        rings += ((LinearRing(ring), drawn.place) for ring in found)
    return rings


def chords(path: Path, tolerance: float) -> int:
    """At least as many points as flattening will give, found without doing it."""
    total = 0
    pen: Point = (0.0, 0.0)
    for segment in path:
        total += 1
        points = (pen, *segment.points)
        bend = max(
            (
                hypot(a[0] - 2 * b[0] + c[0], a[1] - 2 * b[1] + c[1])
                for a, b, c in zip(points, points[1:], points[2:], strict=False)
            ),
            default=0.0,
        )
        total += ceil(sqrt(0.75 * bend / tolerance))
        pen = points[-1]
    return total


def _closed(path: Path, drawn: Drawn, guide: bool, problems: Problems) -> list[list[Point]]:
    """The closed contours of one shape; open ones are noted unless text follows them."""
    flattener = Flattener(CHORD_MM)
    draw(path, flattener)
    flattener.finish()
    crowded = too_close(flattener.rings)
    if crowded:
        raise FileProblem(drawn.place, f"{crowded}.")
    found = []
    for ring, closed in zip(flattener.rings, flattener.closed, strict=True):
        points = [p for i, p in enumerate(ring) if p != ring[i - 1]]
        gap = hypot(points[0][0] - points[-1][0], points[0][1] - points[-1][1]) if points else 0.0
        if not closed and gap > GAP_MM:
            if guide:
                continue
            problems.add(
                drawn.place,
                f"is an open line, its ends {gap:.2f} mm apart; close it, or hide it if it is "
                "not to be cut.",
            )
            continue
        if not closed and len(points) > 1:
            points.pop()
        sound = len(points) > 2 and is_simple(LinearRing(points))
        if len(points) > 2 and not sound:
            where = _mm_place(explain_validity(Polygon(points)))
            problems.add(drawn.place, f"crosses or touches itself{where}; untangle the line.")
        elif not sound or abs(Polygon(points).area) < LEAST_AREA_MM2:
            problems.add(drawn.place, "is a closed line that encloses nothing; delete it.")
        else:
            found.append(points)
    return found


def _polygon(rings: list[tuple[LinearRing, str]], name: str, problems: Problems) -> Outlined | None:
    """One outline with holes, or None with the reason noted."""
    if not rings:
        problems.add(name, "holds no closed line; draw the outline of the base in it.")
        return None
    if _meeting(rings, name, problems):
        return None
    depths = _depths(rings, problems)
    outer = [i for i, depth in enumerate(depths) if depth == 0]
    for i in outer[1:MOST_TOLD]:
        problems.add(
            rings[i][1],
            f"is a second outline beside {_bare(rings[outer[0]][1], name)}; a base is one piece.",
        )
    if len(outer) != 1 or max(depths) > 1:
        return None
    crowded = too_close([line.coords for line, _ in rings])
    if crowded:
        problems.add(name, f"{crowded}.")
        return None
    holes = [rings[i][0].coords for i, depth in enumerate(depths) if depth == 1]
    drawn = Polygon(rings[outer[0]][0].coords, holes)
    polygon = at_origin(drawn)
    if not polygon.is_valid:
        problems.add(name, f"has lines that meet{_mm_place(explain_validity(polygon))}; part them.")
        return None
    _, _, width, height = polygon.bounds
    if min(width, height) < LEAST_MM or max(width, height) > MOST_MM:
        problems.add(
            name,
            f"is {width:.4g} × {height:.4g} mm; a base has sides of {LEAST_MM:g} to "
            f"{MOST_MM:g} mm. Look at the drawing's width and height.",
        )
        return None
    return Outlined(polygon, (drawn.bounds[0], drawn.bounds[1]))


def _depths(rings: list[tuple[LinearRing, str]], problems: Problems) -> list[int]:
    """How many other lines lie round each line; what would fall out of a hole is noted."""
    areas = [Polygon(line) for line, _ in rings]
    tree = STRtree(areas)
    depths: list[int] = []
    loose = 0
    for area, (_, place) in zip(areas, rings, strict=True):
        # Itself is within itself.
        depths.append(len(tree.query(area, predicate="within")) - 1)
        if depths[-1] > 1:
            problems.add(place, "lies inside a hole and would fall out; delete it.")
            loose += 1
            if loose >= MOST_TOLD:
                break
    return depths


def _meeting(rings: list[tuple[LinearRing, str]], name: str, problems: Problems) -> bool:
    """Note pairs of lines that touch or cross; a few are enough to find the cause."""
    tree = STRtree([line for line, _ in rings])
    noted = 0
    for i, (line, place) in enumerate(rings):
        for j in sorted(int(k) for k in tree.query(line, predicate="intersects")):
            if j <= i:
                continue
            noted += 1
            if line.equals(rings[j][0]):
                other = "another in it" if place == rings[j][1] else _bare(place, name)
                problems.add(rings[j][1], f"is the same line as {other}; delete one of them.")
            elif place == rings[j][1]:
                problems.add(
                    place, "has two lines that touch or cross; join the two or move them apart."
                )
            else:
                problems.add(
                    rings[j][1],
                    f"touches or crosses {_bare(place, name)}; join the two or move them apart.",
                )
            if noted >= MOST_TOLD:
                return True
    return noted > 0


def _bare(place: str, name: str) -> str:
    """A place without the file's name in front."""
    return place.removeprefix(f"{name} ")


def _mm_place(explained: str) -> str:
    """Where GEOS found a fault, in mm from the drawing's bottom left corner."""
    _, bracket, rest = explained.partition("[")
    numbers = rest.rstrip("]").split()
    if not bracket or len(numbers) < 2:
        return ""
    return f" at x {float(numbers[0]):.2f}, y {float(numbers[1]):.2f} mm"
