"""Order, grouping and turning of cut lines."""

from math import sqrt

from namebatch.outline.arc_shape import along_ring, ring_area
from namebatch.output.cutlines import by_operation, oriented
from namebatch.sheet.model import CutPath

SQUARE = ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0))


def scaled(inset: float) -> tuple[tuple[float, float], ...]:
    """The square, smaller by `inset` on every side."""
    return tuple(
        (inset + x * (10 - 2 * inset) / 10, inset + y * (10 - 2 * inset) / 10) for x, y in SQUARE
    )


def lines(*rings: tuple[tuple[float, float], ...]) -> list[CutPath]:
    """Filled lines without arcs."""
    return [CutPath("engrave", "L2-1.front", ring, True) for ring in rings]


def winding(cuts: tuple[CutPath, ...], x: float, y: float) -> int:
    """How often rings run round a point (crossings of a ray to the right, signed)."""
    count = 0
    for cut in cuts:
        ring = [(float(px), float(py)) for px, py in along_ring(cut.points, cut.bulges)]
        for (x0, y0), (x1, y1) in zip(ring, (*ring[1:], ring[0]), strict=True):
            if (y0 <= y) != (y1 <= y) and x0 + (y - y0) / (y1 - y0) * (x1 - x0) > x:
                count += 1 if y1 > y0 else -1
    return count


def test_operations_come_in_run_order_whatever_the_order_given() -> None:
    """A loose part is cut out last: marks, engraving, inner lines, then outer ones."""
    cuts = [CutPath(name, "L2-1.front", SQUARE) for name in ("outer", "inner", "engrave", "mark")]
    layers = [operation.layer for operation in by_operation(cuts, {})]
    assert layers == ["op-mark", "op-engrave", "op-inner", "op-outer"]


def test_owners_keep_the_order_of_their_first_line() -> None:
    """The cut order of the sheet room is kept, as far as one group a face allows."""
    cuts = [CutPath("inner", owner, SQUARE) for owner in ("L9-1.front", "L2-1.front", "L9-1.front")]
    (operation,) = by_operation(cuts, {"inner": "#00ff00"})
    assert [owner.owner for owner in operation.owners] == ["L9-1.front", "L2-1.front"]
    assert len(operation.owners[0].cuts) == 2
    assert operation.colour == "#00ff00"


def test_oriented_rings_fill_by_winding_what_even_odd_fills() -> None:
    """An island in a hole in a letter is filled, the hole is not, whichever way they ran."""
    rings = oriented(lines(scaled(0), tuple(reversed(scaled(2))), tuple(reversed(scaled(4)))))
    assert [winding(rings, at, 5.03) for at in (1.0, 3.0, 5.0)] == [1, 0, 1]


def test_oriented_keeps_the_first_point() -> None:
    """Where the cutter starts is the sheet room's choice."""
    (ring,) = oriented(lines(tuple(reversed(SQUARE))))
    assert ring.points[0] == SQUARE[-1]
    assert winding((ring,), 5.0, 5.0) == 1


def test_arcs_are_turned_with_their_ring() -> None:
    """A clockwise circle of two arcs around another becomes a ring with its inside open."""
    outer = CutPath("engrave", "a", ((0.0, 5.0), (10.0, 5.0)), True, (-1.0, -1.0))
    quarters = ((3.0, 5.0), (5.0, 3.0), (7.0, 5.0), (5.0, 7.0))
    inner = CutPath("engrave", "a", quarters, True, (sqrt(2) - 1,) * 4)
    turned = oriented([outer, inner])
    assert [round(ring_area(cut.points, cut.bulges), 3) for cut in turned] == [78.540, -12.566]
    assert [winding(turned, at, 5.03) for at in (1.0, 5.0)] == [1, 0]
    assert [cut.points[0] for cut in turned] == [outer.points[0], inner.points[0]]
