"""The proof of filled sheets: a good job passes, each broken promise is found and named."""

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from namebatch.errors import SheetError
from namebatch.job import Job
from namebatch.sheet.entry import Entry, entered
from namebatch.sheet.lines import Line, cut_lines
from namebatch.sheet.model import CutPath, Operation, Placement, Sheet
from namebatch.sheet.prove import _forms, _is_at, prove, prove_lines


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
        "cut short": (
            replace(
                path,
                points=(path.points[0], *path.points[2:]),
                bulges=(path.bulges[0], *path.bulges[2:]),
            ),
        ),
    }
    assert path.bulges
    cuts = (*sheet.cuts[:at], *instead[fault], *sheet.cuts[at + 1 :])
    piece = path.owner.partition(".")[0]
    line = int(piece[1:].partition("-")[0])
    with pytest.raises(SheetError, match=rf'"(Marlo|Wren)" \(line {line} of the list, {piece}'):
        _lines_of(job, cuts, sheet.placements)


def test_a_line_may_be_entered_anywhere(job: Job) -> None:
    """The same line from another node on, or from a point on a stretch, is the proven one."""
    sheet = job.sheets[0]
    pieces = {piece_id: piece for piece in job.pieces for piece_id in piece.ids}
    kerf = job.workshop.materials[sheet.material].kerf_mm
    cuts: list[CutPath] = []
    for p in sheet.placements:
        outer, *inner = cut_lines(pieces[p.piece].outline, p.mirrored, p.rotation_deg, kerf)
        for number, line in enumerate((*inner, outer)):
            points, bulges = line.moved(p.x_mm, p.y_mm)
            assert bulges
            points, bulges = (*points[1:], points[0]), (*bulges[1:], bulges[0])
            name: Operation = "inner" if number < len(inner) else "outer"
            cuts.append(CutPath(name, f"{p.piece}.{p.face}", points, False, bulges))
    _lines_of(job, tuple(cuts), sheet.placements)
    _lines_of(job, sheet.cuts, sheet.placements)


def test_an_entry_beside_its_line_is_named(job_of: Callable[..., Job]) -> None:
    """A beginning within a stretch that is moved off it would leave a notch."""
    job = job_of("name\nMarlo\n", "stencil-plate")
    (sheet,) = job.sheets
    path = next(path for path in sheet.cuts if path.operation == "outer")
    assert path.bulges[-1] == path.bulges[0] == 0.0
    (x, y), rest = path.points[0], path.points[1:]
    for by in ((0.002, 0.0), (0.0, 0.002)):
        bad = replace(path, points=((x + by[0], y + by[1]), *rest))
        cuts = tuple(bad if one is path else one for one in sheet.cuts)
        if _across(path, by):
            with pytest.raises(SheetError, match=f"{path.owner}. are not those"):
                _lines_of(job, cuts, sheet.placements)
        else:
            _lines_of(job, cuts, sheet.placements)


def _across(path: CutPath, by: tuple[float, float]) -> bool:
    """True if a move leads off the straight stretch in which a path begins."""
    (x0, y0), (x1, y1) = path.points[-1], path.points[1]
    across = abs(by[0] * (y1 - y0) - by[1] * (x1 - x0)) / ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5
    return bool(across > 0.0005)


def test_a_piece_cut_free_too_early_is_named(job: Job) -> None:
    """An outer line that runs before the inner ones is no order to cut in."""
    sheet = job.sheets[0]
    cuts = (*sheet.cuts[-1:], *sheet.cuts[:-1])
    with pytest.raises(SheetError, match="after pieces that are already cut free"):
        prove([replace(sheet, cuts=cuts)], _ordered(sheet))


@pytest.mark.parametrize("bulge", [0.0, 1e-9, -3e-8, 1e-6, 0.4, -1.0, 3.7, -8.0])
@pytest.mark.parametrize("share", [0.1, 0.5, 0.83])
def test_any_arc_may_be_entered_midway(bulge: float, share: float) -> None:
    """The two parts of a stretch as they are written are known for the whole, flat or round."""
    line = Line(np.array([[0.0, 0.0], [90.0, 7.0], [40.0, 50.0]]), np.array([bulge, 0.2, 0.0]))
    points, bulges = entered(line, Entry(0, share)).moved(3.2, 1.7)
    path = CutPath("outer", "a", points, False, bulges)
    assert _is_at(_forms(path), line, (3.2, 1.7))
    assert not _is_at(_forms(path), line, (3.203, 1.7))
    x, y = points[0]
    for off in ((x + 0.1, y + 0.1), (x - 0.01, y + 0.01)):
        moved = replace(path, points=(off, *points[1:]))
        assert not _is_at(_forms(moved), line, (3.2, 1.7))
