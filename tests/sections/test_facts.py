"""What is kept of a section, and what the whole is told from it."""

from dataclasses import replace

import pytest

from namebatch.finding import note
from namebatch.output.smallparts import SmallFound, of_all
from namebatch.sections.facts import (
    Facts,
    Made,
    Need,
    SheetFacts,
    facts_from,
    facts_json,
    grown_room_mm2,
)
from namebatch.sections.whole import bounds_of
from namebatch.sheet import Stock, board_page
from namebatch.template import load_workshop

SHEET = SheetFacts(
    "board-001",
    "board",
    "plywood-3",
    (600.0, 300.0),
    (5.0, 5.0, 590.0, 290.0),
    (0.0, 0.0, 600.0, 300.0),
    3.0,
    0.5,
    {"board": 2},
    ("inner", "outer"),
    100.0,
    50.0,
    7.5,
    "",
    False,
)
FACTS = Facts(
    {3: (note("tidied", "Line 3: half a pair \ud800 and Zoë."),)},
    (Made(2, 2, 1, 0), Made(3, 1, 0, 2)),
    ("no room",),
    (SHEET,),
    (Need(10.0, 12.5, 0, 1),),
    (4.5, 9.0),
    SmallFound(3, 1, ((2, "L2-1"),), (2, "L2-1", (3.0, 20.0, 30.0))),
    "ab",
)


@pytest.mark.parametrize("facts", [FACTS, replace(FACTS, heights=None, small=None)])
def test_facts_are_read_as_they_were_written(facts: Facts) -> None:
    """Nothing is lost on the way through the file, whatever signs stand in a name."""
    assert facts_from(facts_json(facts)) == facts


def stock() -> Stock:
    """Boards of plywood."""
    material = load_workshop(None).materials["plywood-3"]
    return Stock("board", board_page((600.0, 300.0), material), material, ("board",), (0.0,), 3.0)


def test_bounds_add_areas_and_not_sheets() -> None:
    """Two sections that need a third of a board each need one together, not two."""
    some = stock()
    width, height = some.page.usable_mm[2:]
    third = Need(width * height / 3, grown_room_mm2(some) / 3, 0, 1)
    [bounds] = bounds_of([some], [[third], [third]])
    assert (bounds.area, bounds.sheets) == (1, 1)
    [bounds] = bounds_of([some], [[third]] * 4)
    assert (bounds.area, bounds.sheets) == (2, 2)


def test_large_pieces_add_up() -> None:
    """Pieces of more than half a board need one each, in whichever sections they are."""
    some = stock()
    large = Need(1.0, 1.0, 2, 2)
    [bounds] = bounds_of([some], [[large], [large]])
    assert bounds.sheets == 4


def test_small_parts_of_all() -> None:
    """Ids come in list order, the rest is counted, and the smallest of all is named."""
    first = SmallFound(
        20, 14, tuple((n, f"L{n}-1") for n in range(2, 14)), (9, "L9-1", (3, 20, 30))
    )
    other = SmallFound(5, 1, ((3, "L3-2"),), (3, "L3-2", (3.0, 19.5, 40.0)))
    found = of_all([other, first])
    assert found.told == (
        "L2-1, L3-2, L3-1, L4-1, L5-1, L6-1, L7-1, L8-1, L9-1, L10-1, L11-1, L12-1 and 3 more"
    )
    assert found.smallest == "L3-2, is 3 × 19.5 × 40 mm"
    assert of_all([replace(other, pieces=1), replace(first, pieces=14)]).told == "All 15 pieces"
