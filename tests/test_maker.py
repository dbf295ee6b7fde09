"""Rows made from a template whose holes are found: texts and pictures kept off, told by name."""

from collections.abc import Callable
from pathlib import Path

import pytest
from shapely import affinity, box

from namebatch.job import Job
from namebatch.template import find_template, load_template

JobOf = Callable[..., Job]

TEMPLATE = """
format = 1
title = "Test plate"
build = "printed"
rule = "base"
material = "card-300"

[base]
shape = "rounded-rectangle"
width_mm = 60
height_mm = 30
corner_mm = 2

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
