"""A row becomes a piece, or is held with its reason; never both, never neither."""

from collections.abc import Callable

import pytest
from shapely import box

from namebatch.finding import is_held
from namebatch.job import Job
from namebatch.template import find_template, load_template

JobOf = Callable[..., Job]


def test_every_face_of_a_tag(job_of: JobOf) -> None:
    """A two-faced tag carries the name on both faces, inside its boxes."""
    job = job_of("name,village\nMarlo Teasel,Holm\n", "bag-tag")
    [piece] = job.pieces
    boxes = {b.name: b.box_mm for b in job.template.boxes}
    assert {lettering.face for lettering in piece.letterings} == {"front", "back"}
    for lettering in piece.letterings:
        x, y, w, h = boxes[lettering.box]
        assert box(x, y, x + w, y + h).buffer(0.01).contains(lettering.shape)


def test_copies_share_a_drawing(job_of: JobOf) -> None:
    """Quantity 3 gives three ids of one piece."""
    job = job_of("name,village,quantity\nMarlo,Holm,3\n", "bag-tag")
    assert job.pieces[0].ids == ("L2-1", "L2-2", "L2-3")
    assert job.totals.pieces == 3


def test_optional_field_may_be_empty(job_of: JobOf) -> None:
    """A tag without a village is made without it."""
    job = job_of("name,village\nMarlo,\n", "bag-tag")
    assert job.totals.made == 1
    assert "village" not in {lettering.box for lettering in job.pieces[0].letterings}


def test_welded_name_is_one_part_with_the_bar(job_of: JobOf) -> None:
    """A script name joins the winder as one outline that contains all its letters."""
    job = job_of("name\nWren\n", "line-winder")
    [piece] = job.pieces
    assert piece.proof.parts == 1
    assert piece.proof.narrowest_mm >= piece.proof.required_mm - 0.02
    letters = next(part.shape for part in piece.letterings if part.made == "outline")
    assert piece.outline.buffer(1e-6).contains(letters)
    assert piece.outline.area > load_template(find_template("line-winder")).base.area + 50


def test_loose_dots_are_held(job_of: JobOf) -> None:
    """The dots of i stand alone in a welded name: held, and said where."""
    job = job_of("name\nLivia\nWren\n", "line-winder")
    held = job.rows[0]
    assert is_held(held.findings)
    loose = next(f for f in held.findings if f.code == "parts-not-joined")
    assert loose.message.startswith("Line 2: ")
    assert [piece.line for piece in job.pieces] == [3]


def test_stencil_letters_are_cut_through(job_of: JobOf) -> None:
    """The plate loses the area of its letters and stays one part."""
    job = job_of("name\nBEA\n", "stencil-plate")
    [piece] = job.pieces
    base = job.template.base
    letters = piece.letterings[0].shape
    assert piece.outline.area == pytest.approx(base.area - letters.area, rel=1e-6)
    assert piece.proof.parts == 1


def test_font_option_comes_first(job_of: JobOf) -> None:
    """A chosen face sets the names; fixed lines keep the template's."""
    job = job_of("name,village\nMarlo,Holm\n", "bag-tag", font="Lobster")
    fonts = {lettering.box: lettering.font for lettering in job.pieces[0].letterings}
    assert fonts["name"] == fonts["village"] == "Lobster"
    assert fonts["festival"] != "Lobster"
