"""Welded names: print covers all of a letter, on the back as on the front."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
import shapely
from shapely import affinity, box

from namebatch.job import Job
from namebatch.output.picture import piece_picture
from namebatch.output.printpdf import print_pdf
from namebatch.output.welded import texts_seen
from namebatch.text.glyphs import as_multipolygon
from tests.output.pdfreader import Window
from tests.template.folders import written

RED, SAND, SKY = (161, 52, 32), (226, 161, 44), (207, 232, 239)
TOML = """\
format = 1
title = "Rail, two faces"
build = "faced"
rule = "weld"
faces = ["front", "back"]
material = "card-160"
board = "plywood-3"
turns_deg = [0]
[base]
shape = "rounded-rectangle"
width_mm = 90
height_mm = 18
corner_mm = 4
[artwork.front]
file = "front.svg"
[artwork.back]
file = "back.svg"
[[text]]
name = "name"
column = "name"
box_mm = [10, 10, 70, 34]
fonts = ["Lobster"]
made = "outline"
colour = "#a13420"
align = "left"
vertical = "baseline"
baseline_mm = 5
min_height_mm = 8
max_height_mm = 20
"""


def _ground(colour: str, width: float = 93, height: float = 21) -> str:
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" '
        f'viewBox="0 0 {width} {height}"><rect width="{width}" height="{height}" fill="{colour}"/>'
        "</svg>"
    )


def _made(job_of: Callable[..., Job], folder: Path, toml: str = TOML, **files: str) -> Job:
    pictures = {"front__svg": _ground("#e2a12c"), "back__svg": _ground("#cfe8ef"), **files}
    return job_of("name\nJiří\n", str(written(folder, toml, **pictures)))


@pytest.fixture
def job(job_of: Callable[..., Job], tmp_path: Path) -> Job:
    """One name with accents on a rail: it has bridges, and thickened strokes."""
    return _made(job_of, tmp_path / "t")


def _page(job: Job, face: str) -> tuple[Window, tuple[float, float]]:
    """The printed face and the place of its own bottom left corner on the page."""
    placed = next(p for p in job.sheets[0].placements if p.face == face)
    assert placed.rotation_deg == 0
    x = placed.x_mm - (90 if placed.mirrored else 0)
    box = (x - 4, placed.y_mm - 4, x + 94, placed.y_mm + 48)
    return Window(print_pdf(job, lambda done, total: None), box, 300), (x, placed.y_mm)


@pytest.mark.parametrize("face", ["front", "back"])
def test_every_part_beside_the_base_is_printed(job: Job, face: str) -> None:
    """Letters, bridges and thickened strokes outside the base are red on both faces."""
    window, (x, y) = _page(job, face)
    beside = job.pieces[0].outline.difference(job.template.base.buffer(0.1)).buffer(-0.15)
    if face == "back":
        beside = affinity.affine_transform(beside, (-1, 0, 0, 1, 90, 0))
    bridges = [bridge.shape.centroid for bridge in job.pieces[0].bridges]
    assert bridges
    points = shapely.get_coordinates(shapely.segmentize(beside, 0.5))
    wrong = [p for p in points if window.colour(x + p[0], y + p[1]) != pytest.approx(RED, abs=3)]
    assert len(points) > 200
    assert not wrong


def test_the_print_runs_past_the_letters_of_the_back(job: Job) -> None:
    """The back has its bleed too: a cut that is a little off shows no white."""
    window, (x, y) = _page(job, "back")
    top = job.pieces[0].outline.bounds[3]
    highest = max(shapely.get_coordinates(job.pieces[0].outline), key=lambda p: p[1])
    assert top == highest[1]
    assert window.colour(x + 90 - highest[0], y + top + 0.8) == pytest.approx(RED, abs=3)
    assert window.colour(x + 90 - highest[0], y + top + 2.2) == (255, 255, 255)


def test_the_base_keeps_its_own_picture_on_the_back(job: Job) -> None:
    """On the back only what stands out of the base is red; the name is not painted mirrored."""
    window, (x, y) = _page(job, "back")
    text = job.pieces[0].letterings[0].shape
    inside = text.intersection(job.template.base).representative_point()
    assert window.colour(x + 90 - inside.x, y + inside.y) == SKY
    window, (x, y) = _page(job, "front")
    assert window.colour(x + inside.x, y + inside.y) == pytest.approx(RED, abs=3)


def test_a_picture_that_reaches_everywhere_is_the_ground(
    job_of: Callable[..., Job], tmp_path: Path
) -> None:
    """Where the template's picture of the back covers the whole piece, nothing is added."""
    toml = TOML.replace('"back.svg"', '"back.svg"\nbox_mm = [-5, -5, 100, 60]')
    job = _made(job_of, tmp_path / "t", toml, back__svg=_ground("#cfe8ef", 100, 60))
    assert texts_seen(job.template, job.pieces[0], "back") == ()
    window, (x, y) = _page(job, "back")
    at = job.pieces[0].outline.difference(job.template.base).representative_point()
    assert window.colour(x + 90 - at.x, y + at.y) == SKY


def test_pictures_show_the_same(job: Job) -> None:
    """Preview and proof have the red part of the back within its outline."""
    front, back = piece_picture(job, job.pieces[0]).faces
    assert [ink.colour for ink in back.inks] == ["#a13420"]
    bare = back.outline.difference(job.template.base.buffer(0.02)).difference(back.inks[0].shape)
    assert bare.area < 0.01
    assert [ink.colour for ink in front.inks] == ["#a13420"] * 2
    painted = shapely.union_all([ink.shape for ink in front.inks])
    bare = front.outline.difference(job.template.base.buffer(0.02)).difference(painted)
    assert bare.area < 0.01


def test_without_colour_nothing_is_added(job: Job) -> None:
    """A name that has no print has none on the back either."""
    piece = job.pieces[0]
    plain = replace(piece, letterings=(replace(piece.letterings[0], colour=None),))
    assert texts_seen(job.template, plain, "front") == plain.letterings
    assert texts_seen(job.template, plain, "back") == ()


def test_two_colours_share_what_they_touch(job: Job) -> None:
    """Texts that run into each other keep their own letters; nothing beside the base is bare."""
    piece = job.pieces[0]
    (whole,) = piece.letterings
    x0, y0, x1, y1 = whole.shape.bounds
    middle = (x0 + x1) / 2
    halves = [
        replace(whole, box=name, colour=colour, shape=as_multipolygon(whole.shape & part))
        for name, colour, part in (
            ("left", "#a13420", box(x0 - 1, y0 - 1, middle, y1 + 1)),
            ("right", "#123a44", box(middle, y0 - 1, x1 + 1, y1 + 1)),
        )
    ]
    two = replace(piece, letterings=tuple(halves))
    back = texts_seen(job.template, two, "back")
    assert [text.colour for text in back] == ["#a13420", "#123a44"]
    left, right = (affinity.affine_transform(t.shape, (-1, 0, 0, 1, 90, 0)) for t in back)
    assert left.intersection(halves[1].shape).area < 0.02 * halves[1].shape.area
    assert right.intersection(halves[0].shape).area < 0.02 * halves[0].shape.area
    bare = piece.outline - job.template.base.buffer(0.02) - left - right
    assert bare.area < 0.01
