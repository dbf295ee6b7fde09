"""A row becomes a piece, or is held with its reason; never both, never neither."""

from collections.abc import Callable
from pathlib import Path

import pytest
from shapely import box

from namebatch.errors import FontError, TemplateError
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


def test_loose_dots_are_tied(job_of: JobOf) -> None:
    """The dots of i in a welded name get a bridge each; they are counted and noted."""
    job = job_of("name\nLivia\n", "line-winder")
    [piece] = job.pieces
    assert piece.proof.parts == 1
    assert piece.proof.bridges == len(piece.bridges) == 2
    assert any(f.code == "bridges" and f.message.startswith("Line 2: ") for f in piece.findings)


def test_islands_are_tied_back(job_of: JobOf) -> None:
    """A plain face may be used for a stencil: the insides of its letters stay."""
    job = job_of("name\nOBA\n", "stencil-plate", font="Fredoka SemiBold")
    [piece] = job.pieces
    assert piece.proof.parts == 1
    assert piece.proof.bridges >= 6


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


TEMPLATE = """
format = 1
title = "Test plate"
build = "printed"
rule = "base"
material = "card-300"

[base]
{base}

[[text]]
column = "name"
box_mm = [0, 0, 40, 12]
fonts = ["Noto Sans"]
min_height_mm = 2
max_height_mm = 12
"""


def _template(folder: Path, text: str) -> str:
    folder.mkdir(exist_ok=True)
    (folder / "template.toml").write_text(text, encoding="utf-8")
    return str(folder)


def test_text_over_the_edge_is_held(job_of: JobOf, tmp_path: Path) -> None:
    """A box may reach past a round piece; ink that would be cut off may not."""
    plate = TEMPLATE.format(base='shape = "circle"\ndiameter_mm = 40')
    job = job_of("name\nAnna Bartholomew\n", _template(tmp_path / "disc", plate))
    assert job.totals.held == 1
    assert "reaches over the edge" in job.rows[0].findings[-1].message


def test_text_into_a_hole_is_held(job_of: JobOf, tmp_path: Path) -> None:
    """A hole under the letters would punch them."""
    plate = TEMPLATE.format(
        base='shape = "rounded-rectangle"\nwidth_mm = 40\nheight_mm = 20\ncorner_mm = 2\n'
        '[[hole]]\nshape = "round"\nat_mm = [20, 6]\ndiameter_mm = 4'
    )
    job = job_of("name\nAnna Bartholomew\n", _template(tmp_path / "plate", plate))
    assert job.totals.held == 1
    assert "into a hole" in job.rows[0].findings[-1].message


def test_base_that_cannot_be_cut_is_the_templates_fault(job_of: JobOf, tmp_path: Path) -> None:
    """A hole too near the edge is said once, of the template, with the right remedy."""
    plate = TEMPLATE.format(
        base='shape = "rounded-rectangle"\nwidth_mm = 60\nheight_mm = 30\ncorner_mm = 2\n'
        '[[hole]]\nshape = "round"\nat_mm = [55, 27]\ndiameter_mm = 5'
    )
    with pytest.raises(TemplateError, match="Move holes inwards"):
        job_of("name\nAnna\n", _template(tmp_path / "plate", plate))


def test_fixed_line_that_no_face_sets_is_the_templates_fault(job_of: JobOf, tmp_path: Path) -> None:
    """No row is blamed for a fixed line."""
    plate = TEMPLATE.format(
        base='shape = "rounded-rectangle"\nwidth_mm = 60\nheight_mm = 30\ncorner_mm = 2'
    )
    plate += (
        '\n[[text]]\nname = "fixed"\nline = "𓅯"\nbox_mm = [2, 14, 40, 10]\n'
        'fonts = ["Noto Sans"]\nmin_height_mm = 2\nmax_height_mm = 8\n'
    )
    with pytest.raises(TemplateError, match='text "fixed"'):
        job_of("name\nAnna\n", _template(tmp_path / "plate", plate))


def test_every_missing_face_is_told_at_once(job_of: JobOf, tmp_path: Path) -> None:
    """Two unknown typefaces are two lines of one message."""
    plate = TEMPLATE.format(
        base='shape = "rounded-rectangle"\nwidth_mm = 60\nheight_mm = 30\ncorner_mm = 2'
    ).replace('["Noto Sans"]', '["Nowhere Sans", "Nowhere Serif"]')
    with pytest.raises(FontError) as told:
        job_of("name\nAnna\n", _template(tmp_path / "plate", plate))
    assert len(told.value.problems) == 2


def test_marks_of_a_contour_know_their_letters(job_of: JobOf, tmp_path: Path) -> None:
    """Under `contour` each dot is tied to the stem below it, as under `weld`."""
    text = (
        'format = 1\ntitle = "t"\nbuild = "bare"\nrule = "contour"\nmaterial = "plywood-3"\n'
        "[contour]\ndistance_mm = 0.3\ngap_mm = 0.2\n"
        '[[text]]\ncolumn = "name"\nbox_mm = [0, 0, 120, 40]\nfonts = ["Fredoka SemiBold"]\n'
        "min_height_mm = 5\nmax_height_mm = 24\n"
    )
    job = job_of("name\niii\n", _template(tmp_path / "contour", text))
    [piece] = job.pieces
    [lettering] = piece.letterings
    assert len(lettering.letters) == 3
    for letter in lettering.letters:
        x0, _, x1, _ = letter.shape.bounds
        upright = [
            bridge
            for bridge in piece.bridges
            if x0 <= bridge.start[0] <= x1 and abs(bridge.start[0] - bridge.end[0]) < 0.5
        ]
        assert len(upright) == 1, letter
