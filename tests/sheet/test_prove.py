"""The proof of filled sheets: a good job passes, each broken promise is found and named."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from namebatch.errors import SheetError
from namebatch.job import Job
from namebatch.sheet.model import CutPath, Placement, Sheet
from namebatch.sheet.prove import prove, prove_lines


@pytest.fixture
def job(job_of: Callable[..., Job]) -> Job:
    """Three key fobs, two of them alike, on one board."""
    return job_of("name,quantity\nMarlo,1\nWren,2\n", "key-fob")


def _ordered(sheet: Sheet) -> list[tuple[str, str]]:
    return [(p.piece, p.face) for p in sheet.placements]


def _lines_of(job: Job, cuts: tuple[CutPath, ...], placements: tuple[Placement, ...]) -> None:
    pieces = {piece_id: piece for piece in job.pieces for piece_id in piece.ids}
    kerf = job.workshop.materials[job.sheets[0].material].kerf_mm
    prove_lines(placements, cuts, pieces, kerf)


def _moved(path: CutPath, by: float) -> CutPath:
    return replace(path, points=tuple((x + by, y) for x, y in path.points))


def test_a_good_sheet_passes(job: Job) -> None:
    """What the room itself made is in order."""
    (sheet,) = job.sheets[:1]
    prove([sheet], _ordered(sheet))
    _lines_of(job, sheet.cuts, sheet.placements)


def test_lacking_and_doubled_pieces_are_named(job: Job) -> None:
    """Each ordered face is there once: neither less nor more."""
    sheet = job.sheets[0]
    first = sheet.placements[0]
    name = f"{first.piece}.{first.face}"
    with pytest.raises(SheetError, match=f"exactly one sheet: {name}"):
        prove([replace(sheet, placements=sheet.placements[1:])], _ordered(sheet))
    with pytest.raises(SheetError, match=f"exactly one sheet: {name}"):
        prove([replace(sheet, placements=(*sheet.placements, first))], _ordered(sheet))


def test_a_piece_without_an_outer_line_is_refused(job: Job) -> None:
    """A placed face that would not be cut free is no piece."""
    sheet = job.sheets[0]
    owner = next(path.owner for path in sheet.cuts if path.operation == "outer")
    cuts = tuple(p for p in sheet.cuts if (p.owner, p.operation) != (owner, "outer"))
    with pytest.raises(SheetError, match="lacks the cut line of a piece"):
        prove([replace(sheet, cuts=cuts)], _ordered(sheet))


def test_pieces_too_near_or_outside_are_named(job: Job) -> None:
    """A gap that is wider than what is there, and a usable area that is smaller."""
    sheet = job.sheets[0]
    with pytest.raises(SheetError, match=r"L\d-\d\.board and L\d-\d\.board on sheet .* nearer"):
        prove([replace(sheet, gap_mm=sheet.gap_mm + 400)], _ordered(sheet))
    x, y, _, height = sheet.usable_mm
    with pytest.raises(SheetError, match=r"L\d-\d\.board.* leaves the usable area"):
        prove([replace(sheet, usable_mm=(x, y, 30.0, height))], _ordered(sheet))


def test_a_line_off_its_letter_is_named(job: Job) -> None:
    """A deviation above 0.02 mm is told with the piece."""
    sheet = job.sheets[0]
    bad = replace(sheet.cuts[-1], deviation_mm=0.021)
    with pytest.raises(SheetError, match=f"{bad.owner} on sheet .* is 0.021 mm off"):
        prove([replace(sheet, cuts=(*sheet.cuts[:-1], bad))], _ordered(sheet))


@pytest.mark.parametrize("operation", ["inner", "outer"])
@pytest.mark.parametrize("fault", ["moved", "lacking", "doubled", "straightened", "cut short"])
def test_lines_that_were_not_proved_are_named(job: Job, operation: str, fault: str) -> None:
    """A line elsewhere, lacking, twice, without its arcs or without a point is no proven line."""
    sheet = job.sheets[0]
    at = next(k for k, path in enumerate(sheet.cuts) if path.operation == operation)
    path = sheet.cuts[at]
    instead: dict[str, tuple[CutPath, ...]] = {
        "moved": (_moved(path, 0.002),),
        "lacking": (),
        "doubled": (path, path),
        "straightened": (replace(path, bulges=()),),
        "cut short": (replace(path, points=path.points[1:], bulges=path.bulges[1:]),),
    }
    assert path.bulges
    cuts = (*sheet.cuts[:at], *instead[fault], *sheet.cuts[at + 1 :])
    piece = path.owner.partition(".")[0]
    line = int(piece[1:].partition("-")[0])
    with pytest.raises(SheetError, match=rf'"(Marlo|Wren)" \(line {line} of the list, {piece}'):
        _lines_of(job, cuts, sheet.placements)
