"""Our own cut files, read back as cut lines: the SVG of lines and arcs, or the DXF. mm, y up."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from io import StringIO
from math import hypot, sqrt
from typing import Final, cast
from xml.etree.ElementTree import ParseError

from defusedxml.common import DefusedXmlException
from defusedxml.ElementTree import fromstring

from namebatch.curves import Point
from namebatch.errors import MeasureError
from namebatch.sheet.model import RUN_ORDER, CutPath

_SVG: Final = "{http://www.w3.org/2000/svg}"
_STEP: Final = re.compile(r"([MLAZ])([^MLAZ]*)")
_FARTHEST_MM: Final = 100_000.0
_OPERATIONS: Final = {f"op-{operation}": operation for operation in RUN_ORDER}


@dataclass(frozen=True, slots=True)
class Drawing:
    """A cut file.

    Attributes:
        cuts: in the order of the file.
        colours: operation → colour of its lines.
    """

    cuts: tuple[CutPath, ...]
    colours: dict[str, str]


def read_cut_svg(data: bytes, name: str, height_mm: float) -> Drawing:
    """A cut SVG as this program writes it.

    Args:
        data: the file.
        name: for messages.
        height_mm: of the sheet.

    Raises:
        MeasureError: it is not such a file.
    """
    try:
        root = fromstring(data, forbid_dtd=True)
        cuts: list[CutPath] = []
        colours: dict[str, str] = {}
        for group in root:
            operation = _OPERATIONS[group.get("id", "")]
            for owner in group:
                for path in owner.iter(f"{_SVG}path"):
                    filled = path.get("fill", "none") != "none"
                    colours[operation] = path.get("fill" if filled else "stroke", "#000000")
                    for points, bulges in _rings(path.get("d", ""), height_mm):
                        _check_ring(points, bulges)
                        cuts.append(CutPath(operation, owner.get("id", ""), points, filled, bulges))
    except (
        ParseError, DefusedXmlException, ValueError, LookupError, ArithmeticError
    ) as error:  # fmt: skip
        raise _not_ours(name) from error
    return Drawing(tuple(cuts), colours)


def read_cut_dxf(data: bytes, name: str) -> Drawing:
    """A cut DXF as this program writes it; for cutters that take no SVG.

    Raises:
        MeasureError: it is not such a file.
    """
    import ezdxf
    from ezdxf.entities.lwpolyline import LWPolyline

    from namebatch.output.cutdxf import APPLICATION

    try:
        document = ezdxf.read(StringIO(data.decode("utf-8")))  # type: ignore[attr-defined]
        cuts: list[CutPath] = []
        colours: dict[str, str] = {}
        for entity in document.modelspace().query("LWPOLYLINE"):
            line = cast(LWPolyline, entity)
            operation = _OPERATIONS[line.dxf.layer]
            red, green, blue = document.layers.get(line.dxf.layer).rgb or (0, 0, 0)
            colours[operation] = f"#{red:02x}{green:02x}{blue:02x}"
            owner = str(line.get_xdata(APPLICATION)[0].value)
            rows = list(line.get_points("xyb"))
            bulges = tuple(bulge for _, _, bulge in rows)
            points = tuple((x, y) for x, y, _ in rows)
            _check_ring(points, bulges)
            filled = operation == "engrave"
            cuts.append(CutPath(operation, owner, points, filled, bulges if any(bulges) else ()))
    except Exception as error:  # the library raises many kinds for broken files
        raise _not_ours(name) from error
    return Drawing(tuple(cuts), colours)


def _not_ours(name: str) -> MeasureError:
    return MeasureError(f"{name} is not a cut file of this program any more. Make the job again.")


def _check_ring(points: tuple[Point, ...], bulges: tuple[float, ...]) -> None:
    """Refuse a ring that encloses nothing or lies nowhere."""
    if len(points) < 2 or (len(points) < 3 and not any(bulges)):
        raise ValueError("a line that encloses nothing")
    figures = (*bulges, *(figure for point in points for figure in point))
    if not all(abs(figure) <= _FARTHEST_MM for figure in figures):
        raise ValueError("a line that leads far away")


def _rings(data: str, height: float) -> Iterator[tuple[tuple[Point, ...], tuple[float, ...]]]:
    """Closed rings of path data that knows M, L, A and Z, all absolute."""
    points: list[Point] = []
    bulges: list[float] = []
    end = 0
    for step in _STEP.finditer(data):
        if step.start() != end:
            raise ValueError(data[end : step.start()])
        end = step.end()
        values = [float(word) for word in step[2].replace(",", " ").split()]
        if step[1] == "Z":
            yield _closed(points, bulges)
            points, bulges = [], []
            continue
        x, y = values[-2:]
        if step[1] == "A":
            bulges.append(_bulge(points[-1], (x, height - y), values))
        elif points:
            bulges.append(0.0)
        points.append((x, height - y))
    if end != len(data) or points:
        raise ValueError("a line that is not closed")


def _closed(
    points: list[Point], bulges: list[float]
) -> tuple[tuple[Point, ...], tuple[float, ...]]:
    """A ring whose last step may already have come back to its start."""
    if len(points) > 1 and points[0] == points[-1]:
        points.pop()
    else:
        bulges.append(0.0)
    return tuple(points), tuple(bulges) if any(bulges) else ()


def _bulge(start: Point, end: Point, values: list[float]) -> float:
    """Bulge of an arc given by radius, size and sweep; y is turned over, and so is the sweep."""
    radius, _, _, large, sweep, _, _ = values
    half = hypot(end[0] - start[0], end[1] - start[1]) / 2
    across = sqrt(max(radius * radius - half * half, 0.0))
    height = radius + across if large else half * half / (radius + across)
    return height / half * (-1.0 if sweep else 1.0)
