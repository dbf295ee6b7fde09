"""Fronts and backs on pages of their own: the page behind, page numbers, words, counts."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from namebatch.curves import apply
from namebatch.job import Job
from namebatch.output.backs import pages_of, turned_over
from namebatch.output.materials import material_lines
from namebatch.output.worksteps import steps
from namebatch.sheet.cost import cost_of
from namebatch.sheet.frame import printed_page
from namebatch.sheet.model import Placement, ScaleBar
from tests.output import jobs

JobOf = Callable[..., Job]
LIST = "name,pitch,quantity\nMarlo,Dune,14\nInka,Creek,3\n"


@pytest.fixture
def passes(job_of: JobOf) -> Job:
    """Flyers' passes, on two sheets."""
    return job_of(LIST, "flyer-pass")


@pytest.mark.parametrize("turn", [0.0, 90.0, 180.0, 270.0])
def test_a_point_lies_behind_itself(turn: float) -> None:
    """A point of a piece, given from the back, lies on the back page behind itself."""
    placement = Placement("L2-1", "front", 31.0, 47.0, turn, mirrored=False)
    x, y = apply(placement.outline_affine, (12.0, 5.0))
    behind = apply(placement.behind_affine(60.0, 210.0), (60.0 - 12.0, 5.0))
    assert behind == pytest.approx((210.0 - x, y), abs=1e-9)


@pytest.mark.parametrize("turn", [0.0, 90.0, 180.0, 270.0])
def test_nothing_is_mirrored_on_the_back_page(turn: float) -> None:
    """The map of a back has a determinant of +1: text reads right."""
    a, b, c, d, _, _ = Placement("", "front", 5.0, 6.0, turn, False).behind_affine(60.0, 210.0)
    assert a * d - b * c == pytest.approx(1.0)


def test_the_frame_falls_onto_itself() -> None:
    """With unequal margins the frame still stands in the middle of the width."""
    page = printed_page((210.0, 297.0), (5.0, 4.0, 7.0, 6.5), 1.5, turned_over=True)
    x, _, width, _ = page.frame_mm
    assert x == pytest.approx(210.0 - x - width)
    assert x >= 6.5
    plain = printed_page((210.0, 297.0), (5.0, 4.0, 7.0, 6.5), 1.5)
    assert plain.frame_mm[2] > width


def test_bars_stay_off_the_backs() -> None:
    """The upright bar changes sides with the pieces, the level one stays where it is."""
    sheet = jobs.faced_job().sheets[0]
    level = ScaleBar((12.0, 8.0), (112.0, 8.0), 100.0)
    upright = ScaleBar((8.0, 12.0), (8.0, 112.0), 100.0)
    page, bars = turned_over(sheet, (level, upright))
    width = sheet.size_mm[0]
    assert bars[0] == level
    assert bars[1].start == (width - 8.0, 12.0)
    assert page.usable_mm[0] == pytest.approx(width - sheet.usable_mm[0] - sheet.usable_mm[2])
    assert page.id == f"{sheet.id} back"


def test_pages_are_numbered_in_turn(passes: Job) -> None:
    """Front and back of a sheet are neighbours in the print file; a faced sheet has one page."""
    assert len(passes.sheets) == 2
    assert pages_of(passes) == {"face-001": (1, 2), "face-002": (3, 4)}
    assert pages_of(jobs.faced_job()) == {"face-001": (1,)}


def test_pairing_comes_before_the_jig(passes: Job) -> None:
    """The steps print both, pair them by their frames, and only then cut."""
    told = steps(passes)
    titles = [step.title for step in told]
    assert titles.index("Measure") < titles.index("Pair fronts and backs")
    assert titles.index("Pair fronts and backs") < titles.index("Make the jig")
    assert "4 pages" in told[titles.index("Print")].text
    pair = told[titles.index("Pair fronts and backs")].text
    assert "face-001 with face-001 back" in pair
    assert "more than 1.5 mm" in pair
    assert not any("Pair" in step.title for step in steps(jobs.faced_job()))


def test_two_sheets_of_card_go_into_one(passes: Job) -> None:
    """Card is counted and paid twice."""
    [card] = [line for line in material_lines(passes) if line.name == "Card 300 g/m²"]
    assert card.amount == "4"
    priced = replace(passes.workshop.materials["card-300"], price=0.5)
    workshop = replace(passes.workshop, materials={"card-300": priced})
    cost = cost_of(passes.sheets, workshop)
    assert cost is not None
    assert cost.material == pytest.approx(4 * 0.5)
