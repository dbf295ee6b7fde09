"""The small-parts test: dimensions, thickness of what was built up, who is told of.

Limits of the test cylinder (31.7 mm wide, 25.4 to 57.1 mm deep): 16 CFR 1501.4, EN 71-1 §8.2.
"""

from dataclasses import replace

import pytest
from shapely import Polygon, affinity, box

from namebatch.job import Job
from namebatch.output.cautions import cautions
from namebatch.output.smallparts import (
    dimensions_mm,
    small_parts,
    thickness_mm,
)
from namebatch.piece import BoardPart
from namebatch.template.model import Finish
from tests.output import jobs


def _sized(job: Job, *sizes: tuple[float, float]) -> Job:
    """The same job with pieces of other sizes, in turn; the last one for all further pieces."""
    sizes = (*sizes, *[sizes[-1]] * len(job.pieces))
    pieces = tuple(
        replace(piece, outline=box(0, 0, *size))
        for piece, size in zip(job.pieces, sizes, strict=False)
    )
    return replace(job, pieces=pieces)


def _verdict(job: Job) -> tuple[str, str, bool]:
    return next(
        (one.title, one.text, one.urgent) for one in cautions(job) if "Small parts" in one.title
    )


@pytest.mark.parametrize(
    ("width", "height", "small"),
    [
        (31.0, 57.0, True),
        (31.75, 57.0, False),  # as wide as the limit
        (31.0, 57.15, False),  # as long as the limit
        (20.0, 60.0, False),
        (40.0, 40.0, False),
        (10.0, 10.0, True),
    ],
)
def test_small_parts(width: float, height: float, small: bool) -> None:
    """Told of if the middle dimension is below 31.75 and the longest below 57.15 mm."""
    job = _sized(jobs.bare_job(), (width, height))
    assert bool(small_parts(job).pieces) is small
    title, text, urgent = _verdict(job)
    assert (title == "Small parts: not for children under 3") is urgent is small
    assert f"is 3 × {width:g} × {height:g} mm" in text


def test_thickness_is_one_of_the_three_dimensions() -> None:
    """A piece that is thicker than it is wide: 35 mm thick, 20 × 50 mm, is no small part."""
    outline = replace(jobs.bare_job().pieces[0], outline=box(0, 0, 20, 50))
    assert dimensions_mm(outline, 35.0) == pytest.approx((20, 35, 50))
    assert dimensions_mm(outline, 3.0) == pytest.approx((3, 20, 50))


def test_dimensions_do_not_depend_on_the_turn() -> None:
    """A piece drawn askew is as small as it is."""
    piece = replace(jobs.bare_job().pieces[0], outline=affinity.rotate(box(0, 0, 50, 20), 37))
    assert dimensions_mm(piece, 3.0) == pytest.approx((3.0, 20.0, 50.0))


def test_a_board_that_stands_out_counts() -> None:
    """A print of 29 × 50 mm on a board that stands out 2 mm all round is 33 × 54 mm."""
    piece = replace(jobs.bare_job().pieces[0], outline=box(0, 0, 50, 29))
    board = replace(piece, board=BoardPart(box(-2, -2, 52, 31), piece.proof))
    assert dimensions_mm(board, 3.0) == pytest.approx((3, 33, 54))
    smaller = replace(piece, board=BoardPart(box(1, 1, 49, 28), piece.proof))
    assert dimensions_mm(smaller, 3.0) == pytest.approx((3, 29, 50))


def test_the_box_that_fits_is_found() -> None:
    """A box that passes goes before a narrower one that is too long: the piece is told of.

    A right-angled triangle of 30 and 58 mm: along its short sides 30 × 58, too long; along the
    third 65.3 × 26.6. Cut off at 57 mm it fits: 30 × 57.
    """
    piece = jobs.bare_job().pieces[0]
    triangle = replace(piece, outline=Polygon([(0, 0), (58, 0), (0, 30)]))
    assert dimensions_mm(triangle, 3.0)[2] > 57.15
    cut = replace(piece, outline=triangle.outline.intersection(box(0, 0, 57, 30)))
    assert dimensions_mm(cut, 3.0) == pytest.approx((3, 30, 57))


def test_ids_are_told() -> None:
    """Of some pieces their ids, copies and all; of all pieces that they are all."""
    job = jobs.bare_job()
    assert len(job.pieces) > 1
    assert small_parts(_sized(job, (60, 60))).told == ""
    some = _sized(job, (20, 30), (60, 60))
    assert small_parts(some).told == ", ".join(some.pieces[0].ids)
    assert small_parts(some).smallest == f"{some.pieces[0].ids[0]}, is 3 × 20 × 30 mm"
    every = _sized(job, (20, 30))
    assert small_parts(every).told == f"All {sum(len(p.ids) for p in job.pieces)} pieces"
    title, text, _ = _verdict(some)
    assert title == "Small parts: not for children under 3"
    assert text.startswith(f"{some.pieces[0].ids[0]}")


def test_many_ids_are_shortened() -> None:
    """A card has room for twelve ids; the number of the others is told."""
    job = _sized(jobs.bare_job(), (20, 30), (60, 60))
    job = replace(job, pieces=(replace(job.pieces[0], copies=40), *job.pieces[1:]))
    assert small_parts(job).told.endswith("L2-12 and 28 more")


def test_thickness_counts_prints_and_board() -> None:
    """Two cards of 0.2 mm on plywood of 3 mm; bare plywood alone."""
    assert thickness_mm(jobs.faced_job()) == pytest.approx(3.4)
    assert thickness_mm(jobs.bare_job()) == pytest.approx(3.0)


@pytest.mark.parametrize(
    ("finish", "thickness"),
    [
        (Finish("pouch", 0.08), 3.4 + 4 * 0.08),
        (Finish("film", 0.05), 3.4 + 2 * 0.05),
        (Finish(tape="face", tape_mm=0.2), 3.4 + 2 * 0.2),
        (Finish(tape="board"), 3.4),
        (Finish("pouch", 0.125, "board", 0.11), 3.4 + 4 * 0.125 + 2 * 0.11),
    ],
)
def test_laminate_and_tape_count(finish: Finish, thickness: float) -> None:
    """A pouch lies on both sides of each of the two prints, film and tape on one.

    Pouches of 80 and 125 µm a side, thin double-sided tape of 0.11 to 0.26 mm (trade numbers).
    """
    job = jobs.faced_job()
    job = replace(job, template=replace(job.template, finish=finish))
    assert thickness_mm(job) == pytest.approx(thickness)


def test_back_to_back_prints_share_a_pouch() -> None:
    """Two pages of 0.2 mm in one pouch of 0.08 mm a side."""
    job = jobs.faced_job()
    template = replace(
        job.template, build="printed", board=None, faces=("front", "back"),
        finish=Finish("pouch", 0.08),
    )  # fmt: skip
    assert thickness_mm(replace(job, template=template)) == pytest.approx(0.56)
