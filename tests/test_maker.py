"""Rows made from a template whose holes are found: texts and pictures kept off, told by name."""

import re
from collections.abc import Callable
from pathlib import Path

import pytest
from shapely import Point, affinity, box

from namebatch.errors import TemplateError
from namebatch.job import Job
from namebatch.template import find_template, load_template
from tests.plates import PLATE

JobOf = Callable[..., Job]

TEMPLATE = (
    PLATE
    + """
[[hole]]
shape = "round"
find = "top"
diameter_mm = 4
wall_mm = 2
tab = {tab}

[[text]]
column = "name"
box_mm = {box}
fonts = ["Noto Sans"]
min_height_mm = 2
max_height_mm = 8
"""
)


def _template(folder: Path, box_mm: list[int], tab: bool) -> str:
    folder.mkdir(exist_ok=True)
    text = TEMPLATE.format(box=box_mm, tab=str(tab).lower())
    (folder / "template.toml").write_text(text, encoding="utf-8")
    return str(folder)


def test_a_found_hole_stays_off_the_text_boxes(job_of: JobOf, tmp_path: Path) -> None:
    """On a base that all rows share, the hole leaves the box of the name free."""
    job = job_of("name\nMarlo Teasel\nBo\n", _template(tmp_path / "t", [5, 20, 50, 9], tab=False))
    assert job.totals.made == 2
    [ring] = job.pieces[0].outline.interiors
    assert ring.distance(box(5, 20, 55, 29)) > 0


def test_a_name_under_a_found_hole_is_told_as_the_hole_s(job_of: JobOf, tmp_path: Path) -> None:
    """Where the name fills the plate, the hold is about the hole that was placed, and named."""
    job = job_of(
        "name\nHHHHHHHHH\n",
        _template(tmp_path / "t", [1, 18, 58, 11], tab=False),
    )
    [row] = job.rows
    [finding] = [f for f in row.findings if f.severity == "hold"]
    assert finding.code == "hole-over-text"
    assert "The ring hole of 4 mm near the top found no place beside" in finding.message
    assert [f.code for f in row.findings] == ["hole-over-text"]


def test_a_lean_is_told_on_made_rows_only(job_of: JobOf, tmp_path: Path) -> None:
    """How a held piece would have hung is of no interest."""
    text = TEMPLATE.format(box=[5, 4, 50, 8], tab="false")
    start, end = text.index("[[hole]]"), text.index("[[text]]")
    # the first carries the piece and leans; the second lies under a long name
    holes = "".join(
        f'[[hole]]\nshape = "round"\nat_mm = [{x}, {y}]\ndiameter_mm = 4\n\n'
        for x, y in ((5, 24), (44, 8))
    )
    plate = text[:start] + holes + text[end:].replace("fonts", 'align = "left"\nfonts')
    folder = tmp_path / "t"
    folder.mkdir()
    (folder / "template.toml").write_text(plate, encoding="utf-8")
    made, held = job_of("name\nBo\nHHHHHHHHHHHH\n", str(folder)).rows
    assert [f.code for f in made.findings] == ["hangs-askew"]
    assert [f.code for f in held.findings] == ["text-leaves-piece"]


@pytest.mark.parametrize("name", ["Åse", "نورة"])
def test_an_ornament_is_not_pierced_in_its_kite(job_of: JobOf, name: str) -> None:
    """The hole of an ornament spares the painted kite where a tab or the ground has room."""
    job = job_of(f"name\n{name}\n", "ornament")
    [piece] = job.pieces
    kite = load_template(find_template("ornament")).base
    [ring] = piece.outline.interiors
    assert ring.distance(kite) > 0
    assert piece.proof.hang_tilt_deg == pytest.approx(0, abs=0.5)


def test_a_found_hole_stays_off_the_text_of_the_back(job_of: JobOf, tmp_path: Path) -> None:
    """A hole goes through both faces, so the back's texts count where they lie on the front."""
    text = TEMPLATE.format(box=[2, 2, 8, 4], tab="false")
    text = text.replace('"printed"', '"faced"').replace(
        'material = "card-300"',
        'material = "card-160"\nboard = "plywood-3"\nfaces = ["front", "back"]',
    )
    text += (
        '\n[[text]]\nname = "back"\nline = "Kite Day"\nface = "back"\nbox_mm = [22, 22, 16, 7]\n'
        'fonts = ["Noto Sans"]\nmin_height_mm = 2\nmax_height_mm = 6\n'
    )
    folder = tmp_path / "t"
    folder.mkdir()
    (folder / "template.toml").write_text(text, encoding="utf-8")
    job = job_of("name\nBo\n", str(folder))
    assert job.totals.made == 1
    [piece] = job.pieces
    [back] = [part for part in piece.letterings if part.face == "back"]
    seen = affinity.affine_transform(back.shape, (-1, 0, 0, 1, 60, 0))
    [ring] = piece.outline.interiors
    assert ring.distance(seen) > 0


FRAME = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="{w}mm" height="40mm" viewBox="0 0 {w} 40">'
    '<path d="M0 0H{w}V40H0Z M{t} {t}V{b}H{r}V{t}Z"/></svg>'
)


@pytest.mark.parametrize("rule", ["weld", "open"])
def test_a_base_thinner_than_its_material_is_refused(
    job_of: JobOf, tmp_path: Path, rule: str
) -> None:
    """A frame of 0.4 mm is the template's fault, told once with the figure."""
    folder = _framed_template(tmp_path / "t", rule, 0.4)
    with pytest.raises(TemplateError, match="cannot be made from this material") as told:
        job_of("name\nBo\nMarlo\n", folder)
    assert len(told.value.problems) == 1
    assert re.search(r"base: The narrowest place is 0\.[46]0? mm .*draw it wider", str(told.value))


@pytest.mark.parametrize("rule", ["weld", "open"])
def test_a_base_as_wide_as_its_material_asks_is_made(
    job_of: JobOf, tmp_path: Path, rule: str
) -> None:
    """A frame of 2 mm is taken, and keeps its size under a weld and an open name."""
    job = job_of("name\nI\n", _framed_template(tmp_path / "t", rule, 2.0))
    [row] = job.rows
    assert row.held == (rule == "open")  # a name in the window of an open frame is no name
    if rule == "weld":
        assert job.pieces[0].size_mm == pytest.approx((80, 40), abs=1e-6)


def _framed_template(folder: Path, rule: str, wide_mm: float) -> str:
    folder.mkdir()
    drawn = FRAME.format(w=80, t=wide_mm, b=40 - wide_mm, r=80 - wide_mm)
    (folder / "base.svg").write_text(drawn, encoding="utf-8")
    text = f"""
format = 1
title = "Test frame"
build = "bare"
rule = "{rule}"
material = "plywood-3"

[base]
drawing = "base.svg"

[[text]]
column = "name"
made = "outline"
box_mm = [10, 10, 60, 20]
fonts = ["Fredoka SemiBold"]
min_height_mm = 4
max_height_mm = 14
"""
    (folder / "template.toml").write_text(text, encoding="utf-8")
    return str(folder)


ON_ARC = (
    PLATE
    + """
[[hole]]
shape = "round"
near_mm = [30, 12]
diameter_mm = 4
wall_mm = 2

[[text]]
column = "name"
fonts = ["Noto Sans"]
min_height_mm = 2
max_height_mm = 4

[text.arc]
centre_mm = [30, 3]
radius_mm = 17
sweep_deg = 150
room_mm = [1, 5]
"""
)


def test_a_found_hole_may_lie_in_the_hollow_of_an_arc(job_of: JobOf, tmp_path: Path) -> None:
    """A hole keeps off the band that the letters can take, not off the box round the band."""
    home = tmp_path / "t"
    home.mkdir()
    (home / "template.toml").write_text(ON_ARC, encoding="utf-8")
    job = job_of("name\nMarlo\nBo\n", str(home))
    assert job.totals.made == 2
    [ring] = job.pieces[0].outline.interiors
    assert ring.centroid.distance(Point(30, 12)) < 0.1


def test_a_held_row_is_told_what_holds_it(job_of: JobOf) -> None:
    """How another text of it was set to fit does not matter on a row that is not made."""
    long = "Bartholomew-Maximilian Glasswort-Samphire the Elder"
    job = job_of(f"name\n{long}\nMarlo\n", "bag-tag")
    assert [finding.code for finding in job.rows[0].findings] == ["text-too-small"]
