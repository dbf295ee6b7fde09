"""The order in which a sheet is cut, as the files have it."""

import re
from collections.abc import Callable
from itertools import pairwise
from math import hypot

import numpy as np
import pytest
from shapely import LinearRing, Point, Polygon

from namebatch.job import Job
from namebatch.outline.arc_shape import along_ring
from namebatch.output.cutdxf import cut_dxf
from namebatch.output.cutsvg import cut_svg
from namebatch.sheet.cuts import cuts_of
from namebatch.sheet.model import RUN_ORDER, Sheet

NAMES = "name\nMarlo\nWren\nOtis\nPippa\nAda\nBea\nKai\nRosa\nTove\nJude\nNell\nIvo\n"


@pytest.fixture(params=["key-fob", "stencil-plate"])
def job(request: pytest.FixtureRequest, job_of: Callable[..., Job]) -> Job:
    """Twelve pieces: engraved fobs with holes, and plates with many holes."""
    return job_of(NAMES, request.param)


def starts_in_svg(sheet: Sheet) -> list[tuple[float, float]]:
    """Where each closed line of the drawing begins, in file order, y up."""
    text = cut_svg(sheet.cuts, sheet.size_mm, {}).decode()
    found = re.findall(r"M([-\d.]+),([-\d.]+)", text)
    return [(float(x), sheet.size_mm[1] - float(y)) for x, y in found]


def travel(starts: list[tuple[float, float]]) -> float:
    """From the zero point through all starts; every line ends where it begins."""
    along = [(0.0, 0.0), *starts]
    return sum(hypot(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(along))


def test_the_travel_told_is_that_of_the_files(job: Job) -> None:
    """Worked out again from the starts of the lines in the order of the SVG and of the DXF."""
    for sheet in job.sheets:
        starts = starts_in_svg(sheet)
        assert len(starts) == len(sheet.cuts)
        assert travel(starts) == pytest.approx(sheet.travel_mm, abs=0.01)
        lines = cut_dxf(sheet.cuts, sheet.size_mm, {}).decode().split("LWPOLYLINE\n")[1:]
        pairs = [re.search(r"\n 10\n(\S+)\n 20\n(\S+)\n", line) for line in lines]
        found = [(float(p[1]), float(p[2])) for p in pairs if p is not None]
        assert np.array(found) == pytest.approx(np.array([p.points[0] for p in sheet.cuts]))


def test_operations_in_their_order_and_pieces_together(job: Job) -> None:
    """Marks, engraving, holes, outlines; in each operation one piece after the other."""
    for sheet in job.sheets:
        turns = [RUN_ORDER.index(path.operation) for path in sheet.cuts]
        assert turns == sorted(turns)
        for operation in RUN_ORDER:
            owners = [path.owner for path in sheet.cuts if path.operation == operation]
            runs = 1 + sum(a != b for a, b in pairwise(owners))
            assert runs == len(set(owners)) or not owners


def test_travel_is_shorter_than_in_the_order_of_the_list(job: Job) -> None:
    """Against the same lines from the same entries, piece by piece as the sheet lists them."""
    sheet = job.sheets[0]
    place = {f"{p.piece}.{p.face}": k for k, p in enumerate(sheet.placements)}
    as_listed = sorted(
        sheet.cuts,
        key=lambda path: (RUN_ORDER.index(path.operation), place[path.owner], path.points[0]),
    )
    assert sheet.travel_mm < 0.8 * travel([path.points[0] for path in as_listed])


def test_outlines_are_entered_on_flat_and_stout_places(job: Job) -> None:
    """Within 2 mm of its beginning an outline hardly turns, and no hole is near."""
    for sheet in job.sheets:
        holes: dict[str, list[LinearRing]] = {}
        for path in sheet.cuts:
            if path.operation == "inner":
                ring = LinearRing(along_ring(path.points, path.bulges))
                holes.setdefault(path.owner, []).append(ring)
        for path in sheet.cuts:
            if path.operation != "outer":
                continue
            entry = Point(path.points[0])
            near = Polygon(along_ring(path.points, path.bulges)).intersection(entry.buffer(1.5))
            # half of the disc round a place on a straight line is material
            assert near.area / (np.pi * 1.5**2) == pytest.approx(0.5, abs=0.2)
            assert all(entry.distance(ring) > 2.0 for ring in holes.get(path.owner, []))


def test_the_same_sheet_is_cut_in_the_same_order(job: Job) -> None:
    """Nothing depends on chance or on what was asked before."""
    sheet = job.sheets[0]
    pieces = {piece_id: piece for piece in job.pieces for piece_id in piece.ids}
    kerf = job.workshop.materials[sheet.material].kerf_mm
    again = cuts_of(sheet.placements, pieces, kerf, job.template.size_mm[0])
    assert again == sheet.cuts


def test_an_empty_sheet_has_no_lines() -> None:
    """No placements, no lines."""
    assert cuts_of([], {}, (0.1, 0.1), 50.0) == ()
