"""Cut lines in the order and grouping in which every cut file gives them."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from shapely import STRtree
from shapely.geometry.polygon import Polygon

from namebatch.outline.arc_shape import along_ring, turned_round
from namebatch.sheet.model import RUN_ORDER, CutPath, Operation

FALLBACK_COLOUR = "#000000"

_CHORD_MM = 0.005
"""Fine enough to see which ring lies inside which."""


@dataclass(frozen=True, slots=True)
class OwnerCuts:
    """All lines of one operation on one placed face, in run order."""

    owner: str
    cuts: tuple[CutPath, ...]


@dataclass(frozen=True, slots=True)
class OperationCuts:
    """All lines of one operation.

    Attributes:
        operation: what the cutter does.
        layer: name of its SVG group and its DXF layer.
        colour: ``#rrggbb`` from the workshop file.
        owners: placed faces in the order of their first line.
    """

    operation: Operation
    layer: str
    colour: str
    owners: tuple[OwnerCuts, ...]


def by_operation(cuts: Sequence[CutPath], colours: Mapping[str, str]) -> tuple[OperationCuts, ...]:
    """The lines of a sheet by operation, then by owner; operations without lines left out."""
    result = []
    for operation in RUN_ORDER:
        owners: dict[str, list[CutPath]] = {}
        for cut in cuts:
            if cut.operation == operation:
                owners.setdefault(cut.owner, []).append(cut)
        if owners:
            colour = colours.get(operation, FALLBACK_COLOUR)
            grouped = tuple(OwnerCuts(owner, tuple(lines)) for owner, lines in owners.items())
            result.append(OperationCuts(operation, f"op-{operation}", colour, grouped))
    return tuple(result)


def oriented(cuts: Sequence[CutPath]) -> tuple[CutPath, ...]:
    """Lines turned so that the non-zero rule fills what the even-odd rule would.

    A ring inside an even number of others runs counter-clockwise (y up), the rest clockwise.
    Rings must not cross each other, as the rings of a valid shape do not.
    """
    polygons = [Polygon(along_ring(cut.points, cut.bulges, _CHORD_MM)) for cut in cuts]
    tree = STRtree(polygons)
    depth = [0] * len(cuts)
    inside, around = tree.query(polygons, predicate="within")
    for inner, outer in zip(inside.tolist(), around.tolist(), strict=True):
        depth[inner] += inner != outer
    turned = []
    for cut, polygon, level in zip(cuts, polygons, depth, strict=True):
        if polygon.exterior.is_ccw != (level % 2 == 0):
            points, bulges = turned_round(cut.points, cut.bulges)
            cut = replace(cut, points=points, bulges=bulges)
        turned.append(cut)
    return tuple(turned)
