"""Blocks as items of strips and back: nothing smaller, nothing elsewhere."""

from random import Random

import pytest
import shapely
from shapely import MultiPolygon, Point, Polygon, affinity, box, unary_union

from namebatch.sheet.blocks import Block, Member, Turned
from namebatch.sheet.strip import Spot
from namebatch.sheet.strip_shapes import Frame, Packable, item_of, keeps_gap, laid_of, packable_of
from tests.sheet.shapes import block_of

USABLE = (5.0, 7.0, 200.0, 280.0)
GAP = 2.0
QUARTERS = (0.0, 90.0, 180.0, 270.0)
HOOK = Polygon([(3, 4), (33, 4), (33, 14), (13, 14), (13, 44), (3, 44)])


def _bent(random: Random) -> Polygon:
    x = y = 0.0
    discs = []
    for _ in range(random.randint(3, 7)):
        discs.append(Point(x, y).buffer(random.uniform(5, 9), quad_segs=16))
        x, y = x + random.uniform(5, 8), y + random.uniform(-6, 6)
    return unary_union(discs)


def _two_faces(shape: Polygon) -> Block:
    """A shape and its mirror image side by side at each turn, as front and back lie."""
    turns = []
    for turn in QUARTERS:
        members, parts = [], []
        left = 0.0
        for face, scale in (("front", 1), ("back", -1)):
            own = affinity.rotate(
                affinity.scale(shape, scale, 1, origin=(0, 0)), turn, origin=(0, 0)
            )
            x0, y0, x1, _ = own.bounds
            members.append(Member("L2-1", face, scale < 0, left - x0, -y0))  # type: ignore[arg-type]
            parts.append(affinity.translate(own, left - x0, -y0))
            left += x1 - x0 + GAP
        both = MultiPolygon(parts)
        width, height = both.bounds[2:]
        turns.append(Turned(turn, width, height, tuple(members), both))
    return Block(tuple(turns), 2 * shape.area, 0, False)


@pytest.mark.parametrize("gap", [0.0, 0.5, 3.0])
def test_outline_covers_what_a_block_needs(gap: float) -> None:
    """An item contains its block grown by half the gap, and not much more, with fewer points."""
    for seed in range(8):
        shape = _bent(Random(seed))
        kind = packable_of(block_of(0, shape, (0.0,)), gap)
        item = Polygon(kind.outline)
        grown = shape.buffer(gap / 2, quad_segs=32)
        assert item.is_valid
        assert item.contains(grown)
        assert grown.buffer(0.13).contains(item)
        assert len(kind.outline) < len(grown.exterior.coords)


def test_holes_are_full_and_parts_are_one() -> None:
    """A ring is packed as a disc; two parts apart as one shape that covers both."""
    ring = Point(0, 0).buffer(20).difference(Point(0, 0).buffer(15))
    full = Polygon(packable_of(block_of(0, ring, (0.0,)), GAP).outline)
    assert full.contains(Point(full.centroid))
    parts = MultiPolygon([box(0, 0, 10, 10), box(30, 0, 40, 10)])
    joined = Polygon(packable_of(block_of(0, parts, (0.0,)), GAP).outline)
    assert all(joined.contains(affinity.translate(part, 0, 0).buffer(1.0)) for part in parts.geoms)


def _on_sheet(shape: Polygon, spot: Spot, frame: Frame) -> Polygon:
    """An item of a strip, where the strip lies on the sheet; written out by hand."""
    _, turn, along, up = spot
    lying = affinity.translate(affinity.rotate(shape, turn, origin=(0, 0)), along - 1, up - 1)
    if frame.along_x:
        return lying
    # the strip's length runs up the sheet, its height to the left
    return affinity.translate(affinity.rotate(lying, 90, origin=(0, 0)), USABLE[2], 0)


@pytest.mark.parametrize("block", [block_of(0, HOOK, QUARTERS), _two_faces(HOOK)], ids=["1", "2"])
@pytest.mark.parametrize("along_x", [True, False])
def test_what_lies_in_a_strip_lies_on_the_sheet(block: Block, along_x: bool) -> None:
    """A block lies inside its item at every turn, whichever way the strip lies."""
    frame = Frame(USABLE, GAP, along_x)
    kind = packable_of(block, GAP)
    found = set()
    for turn in item_of(kind, 1, frame).turns_deg:
        spot = (0, turn, 101.0, 95.0)
        [(number, turned, x, y)] = laid_of([spot], [kind], [[7]], frame)
        item = _on_sheet(Polygon(kind.outline), spot, frame)
        shape = affinity.translate(turned.shape, x, y)
        assert number == 7
        assert all(item.contains(part.buffer(GAP / 2)) for part in shape.geoms)
        found.add(turned.turn_deg)
    assert found == set(QUARTERS)


def test_faces_of_a_turned_block_are_their_own() -> None:
    """Front and back of a block turned as a whole are each at that turn, apart by the gap."""
    kind = packable_of(_two_faces(HOOK), GAP)
    for turned in kind.turns:
        for member, part in zip(turned.members, turned.shape.geoms, strict=True):
            face = affinity.scale(HOOK, -1 if member.mirrored else 1, 1, origin=(0, 0))
            placed = affinity.translate(
                affinity.rotate(face, turned.turn_deg, origin=(0, 0)), member.x_mm, member.y_mm
            )
            assert placed.symmetric_difference(part).area < 1e-6
        front, back = turned.shape.geoms
        assert front.distance(back) == pytest.approx(GAP)
        assert turned.shape.bounds == pytest.approx((0, 0, turned.width_mm, turned.height_mm))


def test_too_near_or_outside_is_refused() -> None:
    """What would break the gap or leave the sheet is no arrangement; a hair outside is moved."""
    frame = Frame(USABLE, GAP, True)
    kinds: list[Packable] = [packable_of(block_of(0, box(0, 0, 20, 10), (0.0,)), GAP)]

    def laid(*places: tuple[float, float]) -> int:
        spots = [(0, 0.0, x + 1, y + 1) for x, y in places]
        return len(laid_of(spots, kinds, [list(range(len(places)))], frame))

    assert laid((0, 0), (22, 0)) == 2
    assert laid((0, 0), (21.9, 0)) == 0
    assert laid((-0.01, 0), (30, 270.01)) == 2
    assert laid((-0.1, 0)) == 0
    assert laid((0, 270.1)) == 0


def test_without_a_gap_blocks_may_touch() -> None:
    """Where no gap is asked for, edges may meet but not cross."""
    turned = block_of(0, box(0, 0, 20, 10), (0.0,)).turns[0]
    assert keeps_gap([(0, turned, 0, 0), (1, turned, 20, 0)], 0.0)
    assert not keeps_gap([(0, turned, 0, 0), (1, turned, 19.9, 0)], 0.0)


def test_turned_kerf_is_covered() -> None:
    """Where turns differ, as with a kerf that differs in x and y, the item covers all of them."""
    turns = []
    for turn, (width, height) in ((0.0, (30.0, 10.2)), (90.0, (10.0, 30.2))):
        shape = MultiPolygon([box(0, 0, width, height)])
        turns.append(Turned(turn, width, height, (Member("L2-1", "board", False, 0, 0),), shape))
    # turned by 90° about its corner, the second lies left of it
    turns[1] = Turned(
        90.0, 10.0, 30.2, (Member("L2-1", "board", False, 10.0, 0.0),), turns[1].shape
    )
    kind = packable_of(Block(tuple(turns), 300.0, 0, False), GAP)
    item = Polygon(kind.outline)
    assert item.contains(box(0, 0, 30, 10.2).buffer(1))
    assert item.contains(box(0, 0, 30.2, 10).buffer(1))
    assert shapely.area(item) < 35 * 15
