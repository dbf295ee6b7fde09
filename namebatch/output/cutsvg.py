"""Cut lines as SVG: one user unit is one millimetre, y down, no transforms.

The only module that turns y over. The bytes depend on nothing but the lines.
"""

from collections.abc import Iterable, Mapping, Sequence
from math import hypot
from xml.etree import ElementTree

import svgwrite

from namebatch.output.cutlines import OperationCuts, OwnerCuts, by_operation, oriented
from namebatch.output.numbers import number
from namebatch.sheet.model import CutPath

STROKE_WIDTH_MM = 0.1
_FLAT_MM = 0.00005
"""An arc no higher than half the grid of the coordinates is written as a line."""
_STEEP = 0.5


def cut_svg(
    cuts: Sequence[CutPath], size_mm: tuple[float, float], colours: Mapping[str, str]
) -> bytes:
    """The cut drawing of one sheet, board or jig.

    Args:
        cuts: lines in mm from the bottom left corner, y up.
        size_mm: width and height of the sheet.
        colours: operation → ``#rrggbb``.

    Returns:
        UTF-8 SVG: one group an operation in run order, in it one group a placed face with
        closed paths of lines and arcs in sheet coordinates, ``y_svg = height − y``, four decimals.
    """
    width, height = size_mm
    drawing = svgwrite.Drawing(
        size=(f"{number(width)}mm", f"{number(height)}mm"),
        viewBox=f"0 0 {number(width)} {number(height)}",
        # the library's own check of every number takes far longer than writing them
        debug=False,
    )
    for operation in by_operation(cuts, colours):
        drawing.add(_operation_group(drawing, operation, height))
    # svgwrite joins group and path ids as they are, so one id may stand in two operations
    root = drawing.get_xml()
    for empty in root.findall("defs"):
        root.remove(empty)
    ElementTree.indent(root)
    head = '<?xml version="1.0" encoding="utf-8"?>\n'
    return (head + ElementTree.tostring(root, encoding="unicode") + "\n").encode()


def _operation_group(
    drawing: svgwrite.Drawing, operation: OperationCuts, height: float
) -> svgwrite.container.Group:
    """``<g id="op-…">`` with one group an owner."""
    group = drawing.g(id=operation.layer, debug=False)
    for owner in operation.owners:
        inner = drawing.g(id=owner.owner, debug=False)
        for path in _paths(drawing, owner, operation.colour, height):
            inner.add(path)
        group.add(inner)
    return group


def _paths(
    drawing: svgwrite.Drawing, owner: OwnerCuts, colour: str, height: float
) -> Iterable[svgwrite.path.Path]:
    """Filled rings of an owner as one path, each other line as its own."""
    filled = [cut for cut in owner.cuts if cut.filled]
    if filled:
        data = "".join(path_data(cut, height) for cut in oriented(filled))
        yield drawing.path(d=data, stroke="none", fill=colour, debug=False)
    for cut in owner.cuts:
        if not cut.filled:
            yield drawing.path(
                d=path_data(cut, height),
                stroke=colour,
                stroke_width=number(STROKE_WIDTH_MM),
                fill="none",
                debug=False,
            )


def path_data(cut: CutPath, height: float) -> str:
    """A closed path in absolute coordinates; the last line closes it unless it is an arc.

    Args:
        cut: a line in mm, y up.
        height: of the sheet, from which y counts downwards.
    """
    texts = [f"{number(x)},{number(height - y)}" for x, y in cut.points]
    if not cut.bulges:
        return "M" + "L".join(texts) + "Z"
    parts = ["M", texts[0]]
    ends = zip(cut.points, (*cut.points[1:], cut.points[0]), cut.bulges, strict=True)
    for text, ((x0, y0), (x1, y1), bulge) in zip((*texts[1:], texts[0]), ends, strict=True):
        parts.append(_step(hypot(x1 - x0, y1 - y0), bulge))
        parts.append(text)
    if parts[-2] == "L":
        del parts[-2:]
    return "".join(parts) + "Z"


def _step(chord: float, bulge: float) -> str:
    """The command of a line or an arc up to its end point.

    Turning y over turns counter-clockwise (bulge above 0) into the sweep that SVG calls
    negative.
    """
    if abs(bulge) * chord / 2 < _FLAT_MM:
        return "L"
    radius = chord * (1 + bulge * bulge) / (4 * abs(bulge))
    # near half a circle the height of an arc hangs on its radius as a square root
    text = number(radius, 4 if abs(bulge) < _STEEP else 8)
    return f"A{text},{text} 0 {int(abs(bulge) > 1)} {int(bulge < 0)} "
