"""Published strip-packing instances and circles in a square: nobody's sheet is fuller than these.

Instances fu and shapes0 as published with Gardeyn et al., arXiv 2509.13329, after ESICUP; the best
known densities are of that paper. A fill that beats one of them has pieces on top of each other.
Circles: Graham & Lubachevsky 1996 and later tables, radius of n equal circles in a unit square.
"""

import pytest
from shapely import Point, Polygon, affinity

from namebatch.sheet import tries
from namebatch.sheet.blocks import Block
from namebatch.sheet.bounds import most_discs
from namebatch.sheet.equal import best_sheet
from namebatch.sheet.strip_shapes import Frame
from namebatch.sheet.tight_stuff import Stuff, Wanted
from namebatch.sheet.tries import in_tries
from tests.sheet.shapes import block_of, placed_shapes, proven

Corners = list[tuple[int, int]]

FU_HEIGHT = 38.0038
FU_BEST = 92.396
FU: list[tuple[int, Corners]] = [
    (1, [(0, 0), (10, 0), (10, 10), (0, 10)]),
    (1, [(0, 0), (10, 0), (10, 10), (0, 10)]),
    (1, [(0, 0), (14, 0), (14, 9), (0, 9)]),
    (1, [(0, 0), (14, 0), (7, 7)]),
    (1, [(0, 9), (0, 0), (14, 9)]),
    (1, [(0, 0), (14, 0), (14, 14), (0, 14)]),
    (1, [(0, 0), (10, 4), (10, 9), (0, 9)]),
    (1, [(0, 0), (5, 0), (5, 9), (0, 9)]),
    (1, [(0, 0), (14, 0), (14, 14)]),
    (1, [(0, 0), (10, 0), (10, 10), (0, 14)]),
    (1, [(0, 8), (4, 0), (8, 8)]),
    (1, [(0, 0), (14, 0), (7, 12)]),
]
SHAPES0_HEIGHT = 40.004
SHAPES0_BEST = 69.978
SHAPES0: list[tuple[int, Corners]] = [
    (15, [(0, 0), (2, 0), (2, 3), (12, 3), (12, 0), (14, 0), (14, 5), (0, 5)]),
    (7, [(0, 0), (6, -6), (12, 0), (6, 6)]),
    (
        9,
        [
            (0, 0),
            (6, 0),
            (6, -2),
            (7, -2),
            (11, 2),
            (11, 4),
            (8, 4),
            (8, 1),
            (2, 1),
            (2, 4),
            (0, 4),
        ],
    ),
    (
        12,
        [
            (0, 0),
            (2, 0),
            (2, -2),
            (4, -2),
            (4, 0),
            (6, 0),
            (6, 2),
            (4, 2),
            (4, 4),
            (2, 4),
            (2, 2),
            (0, 2),
        ],
    ),
]

STEPS = 600
SIDE_MM = 200.0
"""Instances are made as large as a sheet of this height."""
CIRCLES = (
    (2, 0.292893),
    (3, 0.254333),
    (4, 0.25),
    (5, 0.207107),
    (6, 0.187681),
    (7, 0.174458),
    (8, 0.170541),
    (9, 0.166667),
    (10, 0.148204),
)


@pytest.mark.parametrize(
    ("items", "height", "turns", "best", "least"),
    [
        (FU, FU_HEIGHT, (0.0, 90.0, 180.0, 270.0), FU_BEST, 75.0),
        (SHAPES0, SHAPES0_HEIGHT, (0.0,), SHAPES0_BEST, 52.0),
    ],
    ids=["fu", "shapes0"],
)
def test_strip_density(
    items: list[tuple[int, Corners]],
    height: float,
    turns: tuple[float, ...],
    best: float,
    least: float,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """A strip is well filled, proven, and never fuller than the best that is known.

    What is called well filled is what was reached when this was written, less some per cent.
    """
    monkeypatch.setattr(tries, "LOOKS", 1.5e9)  # fewer tries than a job gets
    blocks = _blocks(items, height, turns)
    area = sum(block.area_mm2 for block in blocks)
    usable = (0.0, 0.0, 2 * area / SIDE_MM, SIDE_MM)
    filled = in_tries(blocks, usable, 0.0, upright=[False])
    sheets = [
        [place for _, turned, x, y in sheet for place in turned.place(x, y)] for sheet in filled
    ]
    assert proven(sheets, blocks, usable, 0.0) == ""
    [sheet] = sheets
    length = max(shape.bounds[2] for shape in placed_shapes(sheet, blocks))
    density = 100 * area / (length * SIDE_MM)
    assert least <= density <= best


def _blocks(
    items: list[tuple[int, Corners]], height: float, turns: tuple[float, ...]
) -> list[Block]:
    scale = SIDE_MM / height
    blocks: list[Block] = []
    for kind, (demand, corners) in enumerate(items):
        shape = affinity.scale(Polygon(corners), scale, scale, origin=(0, 0))
        for _ in range(demand):
            blocks.append(block_of(len(blocks), shape, turns, kind=kind))
    return blocks


@pytest.mark.parametrize(
    ("items", "height", "turns", "best", "least"),
    [
        (FU, FU_HEIGHT, (0.0, 90.0, 180.0, 270.0), FU_BEST, 80.0),
        (SHAPES0, SHAPES0_HEIGHT, (0.0,), SHAPES0_BEST, 56.0),
    ],
    ids=["fu", "shapes0"],
)
def test_tight_strip_density(
    items: list[tuple[int, Corners]],
    height: float,
    turns: tuple[float, ...],
    best: float,
    least: float,
) -> None:
    """A strip that is shortened step by step is proven, and never fuller than the best known.

    It ends at the density that it is to reach, which was reached in a second when this was written.
    """
    blocks = _blocks(items, height, turns)
    area = sum(block.area_mm2 for block in blocks)
    usable = (0.0, 0.0, 2 * area / SIDE_MM, SIDE_MM)
    stuff = Stuff(blocks, usable, 0.0)
    stuff.prepare(range(len(blocks)))
    share = 50.0 / least  # the whole strip is filled by half
    wanted = Wanted(tuple(range(len(blocks))), Frame(usable, 0.0, True), (share,), 1, STEPS)
    [got] = stuff.pack([wanted], lambda: True)
    sheets = stuff.placements((got.laid,))
    assert proven(sheets, blocks, usable, 0.0) == ""
    length = max(shape.bounds[2] for shape in placed_shapes(sheets[0], blocks))
    assert least <= 100 * area / (length * SIDE_MM) <= best


@pytest.mark.parametrize(("count", "radius"), CIRCLES)
def test_circles_in_a_square(count: int, radius: float) -> None:
    """No sheet takes more circles than the square is known to take, nor fewer by much.

    A radius that is larger than the best known by a thousandth leaves room for fewer circles.
    """
    disc = Point(0, 0).buffer(100 * radius * 1.001, quad_segs=256)
    laid = best_sheet(block_of(0, disc, (0.0,)), (0.0, 0.0, 100.0, 100.0), 0.0, 99)
    assert count // 2 <= len(laid) < count


@pytest.mark.parametrize(("count", "radius"), CIRCLES)
def test_bound_of_discs_in_a_square(count: int, radius: float) -> None:
    """The bound on discs is never below what is known to have room."""
    assert count <= most_discs(radius - 1e-6, (1.0, 1.0), 0.0) <= count + 2


@pytest.mark.parametrize(
    ("size", "shape", "best"),
    [
        ((206, 293), "tag", 32),
        ((596, 296), "tag", 93),
        ((206, 293), "disc", 21),
        ((296, 196), "disc", 20),
        ((596, 296), "disc", 66),
    ],
)
def test_equal_pieces_reach_the_best_known(
    size: tuple[float, float], shape: str, best: int
) -> None:
    """As many tags (55 × 30) and discs with a tab (50 mm) on a sheet as a slow search found.

    Counts of a strip-packing heuristic given seconds (spyrrow), gap 2 mm; the tab of the discs is
    10 × 8 mm here.
    """
    tag = Polygon([(0, 0), (55, 0), (55, 30), (0, 30)])
    tab = Polygon([(20, 45), (30, 45), (30, 58), (20, 58)])
    disc = Point(25, 25).buffer(25, quad_segs=64).union(tab)
    block = block_of(0, {"tag": tag, "disc": disc}[shape], (0.0, 90.0, 180.0, 270.0))
    assert len(best_sheet(block, (0.0, 0.0, *size), 2.0, 99)) >= best
