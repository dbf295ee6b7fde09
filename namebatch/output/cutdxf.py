"""Cut lines as DXF R2010: millimetres, y up, one layer an operation.

Each line carries its owner (``L14-2.front``) as extended data of the application NAMEBATCH.
"""

from collections.abc import Mapping, Sequence
from io import StringIO

import ezdxf
from ezdxf.document import Drawing
from ezdxf.entities.lwpolyline import LWPolylinePoints
from ezdxf.filemanagement import new
from ezdxf.units import MM

from namebatch.curves import Point
from namebatch.output.cutlines import OperationCuts, by_operation
from namebatch.output.numbers import rgb
from namebatch.sheet.model import CutPath

APPLICATION = "NAMEBATCH"

# The library stamps files with the clock and with random ids unless told not to; the same job
# must give the same bytes. Set once, when the module is read, so that no two jobs race for it.
ezdxf.options.write_fixed_meta_data_for_testing = True  # type: ignore[attr-defined]

_INDEX_COLOURS = {
    1: (255, 0, 0),
    2: (255, 255, 0),
    3: (0, 255, 0),
    4: (0, 255, 255),
    5: (0, 0, 255),
    6: (255, 0, 255),
    7: (0, 0, 0),
}


def cut_dxf(
    cuts: Sequence[CutPath], size_mm: tuple[float, float], colours: Mapping[str, str]
) -> bytes:
    """The cut drawing of one sheet, board or jig.

    Args:
        cuts: lines in mm from the bottom left corner, y up.
        size_mm: width and height of the sheet, kept as the drawing's limits.
        colours: operation → ``#rrggbb``.

    Returns:
        A DXF file, arcs as bulges; layers are named as the groups of the SVG, only those used.
    """
    document = new("R2010", units=MM)
    document.header["$MEASUREMENT"] = 1
    document.appids.new(APPLICATION)
    for operation in by_operation(cuts, colours):
        _draw_layer(document, operation)
    _set_limits(document, size_mm)
    # the library names its classes from a set, in an order that changes from run to run
    for name in sorted(document.entitydb.dxf_types_in_use()):
        document.classes.add_class(name)
    stream = StringIO()
    document.write(stream)
    return document.encode(stream.getvalue())


def _set_limits(document: Drawing, size_mm: tuple[float, float]) -> None:
    """Limits and extents are the sheet, so that a program opens the drawing whole."""
    corner = (*size_mm, 0.0)
    space = document.modelspace()
    space.reset_extents((0.0, 0.0, 0.0), corner)
    space.reset_limits((0.0, 0.0), size_mm)
    document.header["$EXTMIN"] = (0.0, 0.0, 0.0)
    document.header["$EXTMAX"] = corner
    document.header["$LIMMIN"] = (0.0, 0.0)
    document.header["$LIMMAX"] = size_mm


def _draw_layer(document: Drawing, operation: OperationCuts) -> None:
    """The operation's layer and its closed polylines."""
    layer = document.layers.add(operation.layer, color=_nearest_index(operation.colour))
    layer.rgb = rgb(operation.colour)
    space = document.modelspace()
    for owner in operation.owners:
        for cut in owner.cuts:
            line = space.add_lwpolyline((), close=True, dxfattribs={"layer": operation.layer})
            line.lwpoints = _vertices(cut.points, cut.bulges)
            line.set_xdata(APPLICATION, [(1000, owner.owner)])


def _vertices(points: Sequence[Point], bulges: Sequence[float]) -> LWPolylinePoints:
    """A polyline's points on the grid of 0.0001 mm with their bulges, without widths.

    A bulge is the tangent of a quarter of the included angle (DXF reference, LWPOLYLINE, group
    code 42), as in `CutPath`. Handed over whole: point by point the library takes half as long
    again.
    """
    rows = [
        (round(x, 4) + 0.0, round(y, 4) + 0.0, 0.0, 0.0, bulge)
        for (x, y), bulge in zip(points, bulges or [0.0] * len(points), strict=True)
    ]
    return LWPolylinePoints(data=rows)


def _nearest_index(colour: str) -> int:
    """The closest of the seven numbered colours, for cutters that know no others."""
    wanted = rgb(colour)

    def distance(index: int) -> int:
        known = _INDEX_COLOURS[index]
        return sum((a - b) ** 2 for a, b in zip(wanted, known, strict=True))

    return min(_INDEX_COLOURS, key=distance)
