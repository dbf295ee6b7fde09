"""Whole pieces with text on arcs, along lines and in safe areas: cut, engraved, printed."""

from collections.abc import Callable
from pathlib import Path

import pytest
import shapely

from namebatch.job import Job
from tests.template.drawing import svg

JobOf = Callable[..., Job]

HEAD = """
format = 1
title = "Test disc"
build = "bare"
rule = "{rule}"
material = "plywood-3"

[base]
drawing = "base.svg"

[[text]]
column = "name"
fonts = ["{font}", "Noto Sans Arabic SemiBold", "Noto Sans Devanagari SemiBold"]
made = "{made}"
min_height_mm = {least}
max_height_mm = {most}
tracking = {tracking}
"""
DISC = '<circle cx="50" cy="50" r="{r}"/>'
NAMES = "name\nSaltmarsh\nمحمد\nक्षितिज\nÅsa Jyl\n"


def template(
    folder: Path,
    place: str,
    rule: str = "base",
    made: str = "engrave",
    font: str = "Pacifico",
    drawing: str = DISC.format(r=34),
    heights: tuple[float, float] = (4, 14),
    tracking: float = 0.0,
) -> str:
    """A folder with one text."""
    folder.mkdir()
    least, most = heights
    head = HEAD.format(rule=rule, made=made, font=font, least=least, most=most, tracking=tracking)
    (folder / "template.toml").write_text(head + place, encoding="utf-8")
    head_mm = 'width="100mm" height="100mm" viewBox="0 0 100 100"'
    (folder / "base.svg").write_text(svg(drawing, head_mm), encoding="utf-8")
    return str(folder)


def test_names_welded_onto_a_rim_are_proven(job_of: JobOf, tmp_path: Path) -> None:
    """Letters on an arc that sink into a disc become one outline with every neck wide enough."""
    arc = "[text.arc]\ncentre_mm = [34, 34]\nradius_mm = 32\nsweep_deg = 200\nroom_mm = [6, 22]"
    job = job_of(NAMES, template(tmp_path / "t", arc, "weld", "outline", heights=(9, 16)))
    assert job.totals.made == 4, [f.message for row in job.rows for f in row.findings]
    for piece in job.pieces:
        assert piece.proof.parts == 1
        assert piece.proof.narrowest_mm >= piece.proof.required_mm - 0.005
        assert piece.outline.bounds[3] > 72, "the name stands out over the disc"


def test_letters_cut_through_along_an_arc_are_tied(job_of: JobOf, tmp_path: Path) -> None:
    """Islands of letters that are cut through along the inside of a rim are tied back."""
    arc = (
        '[text.arc]\ncentre_mm = [34, 34]\nradius_mm = 27\nsweep_deg = 200\nside = "inside"\n'
        "room_mm = [3, 14]"
    )
    home = template(
        tmp_path / "t", arc, "open", "outline", "Noto Sans SemiBold", heights=(8, 11), tracking=0.15
    )
    job = job_of("name\nDOROA\nBOA\n", home)
    assert job.totals.made == 2, [f.message for row in job.rows for f in row.findings]
    for piece in job.pieces:
        assert piece.proof.parts == 1
        assert piece.proof.bridges > 0
        assert piece.proof.narrowest_mm >= piece.proof.required_mm - 0.005


@pytest.mark.parametrize("letters", ["turned", "upright"])
def test_names_on_an_arc_are_alike_without_a_room(
    job_of: JobOf, tmp_path: Path, letters: str
) -> None:
    """Where the template says no room, deep and marked letters have it: one size for all."""
    arc = f'[text.arc]\ncentre_mm = [34, 34]\nradius_mm = 20\nletters = "{letters}"'
    home = template(tmp_path / "t", arc, font="Fredoka SemiBold", heights=(2, 5))
    job = job_of("name\nJgy\nAnn\nÅgot\nBo\n", home)
    assert job.totals.made == 4, [f.message for row in job.rows for f in row.findings]
    heights = [piece.letterings[0].height_mm for piece in job.pieces]
    assert heights == pytest.approx([5.0] * 4, abs=1e-6)


@pytest.mark.parametrize(
    ("place", "drawing"),
    [
        (
            '[text.path]\nid = "wave"\nroom_mm = [4, 9]',
            '<path id="wave" d="M22 54 Q 36 44 50 50 T 78 46"/>',
        ),
        ("[text.safe_area]\nmargin_mm = 3", '<circle cx="50" cy="28" r="4"/>'),
    ],
    ids=["path", "safe area"],
)
def test_engraved_along_a_line_and_in_a_safe_area(
    job_of: JobOf, tmp_path: Path, place: str, drawing: str
) -> None:
    """Engraved names lie on the piece, off its edge and its hole."""
    home = template(tmp_path / "t", place, drawing=DISC.format(r=34) + drawing)
    job = job_of(NAMES, home)
    assert job.totals.made == 4, [f.message for row in job.rows for f in row.findings]
    for piece in job.pieces:
        [lettering] = piece.letterings
        assert piece.outline.buffer(0.01).contains(lettering.shape)
        if "safe" in place:
            edge = shapely.union_all([piece.outline.exterior, *piece.outline.interiors])
            assert lettering.shape.distance(edge) > 2.99
