"""How a text is made, from the template to the cut files: engraved is filled, marked is a line."""

from collections.abc import Callable
from io import StringIO
from pathlib import Path

import ezdxf
import pytest
from defusedxml.ElementTree import fromstring
from ezdxf.entities.lwpolyline import LWPolyline

from namebatch.job import Job
from namebatch.output.cutdxf import cut_dxf
from namebatch.output.cutsvg import cut_svg
from tests.template.folders import written

JobOf = Callable[..., Job]
SVG = "{http://www.w3.org/2000/svg}"
TOML = """
format = 1
title = "Plate"
build = "bare"
rule = "base"
material = "plywood-3"
[base]
shape = "rounded-rectangle"
width_mm = 80
height_mm = 30
[[text]]
name = "name"
column = "name"
box_mm = [5, 14, 70, 12]
fonts = ["Noto Sans SemiBold"]
made = "engrave"
min_height_mm = 3
max_height_mm = 8
[[text]]
name = "team"
column = "team"
box_mm = [5, 4, 70, 7]
fonts = ["Noto Sans SemiBold"]
made = "mark"
min_height_mm = 2
max_height_mm = 5
"""


@pytest.fixture
def job(job_of: JobOf, tmp_path: Path) -> Job:
    """One plate: I is a single line, O has an inside."""
    return job_of("name,team\nIO,OI\n", str(written(tmp_path / "t", TOML)))


def test_engraved_letters_are_filled_and_marked_ones_lines(job: Job) -> None:
    """In the cut SVG each stands in its own operation, painted as the cutter is to take it."""
    [board] = job.sheets
    root = fromstring(cut_svg(board.cuts, board.size_mm, job.workshop.cutter.colours))
    groups = {group.attrib["id"]: list(group.iter(f"{SVG}path")) for group in root.iter(f"{SVG}g")}
    colours = job.workshop.cutter.colours
    engraved, marked = groups["op-engrave"], groups["op-mark"]
    assert {path.attrib["fill"] for path in engraved} == {colours["engrave"]}
    assert {path.attrib.get("stroke", "none") for path in engraved} == {"none"}
    assert {path.attrib["fill"] for path in marked} == {"none"}
    assert {path.attrib["stroke"] for path in marked} == {colours["mark"]}
    # three rings: the I, and the O with its inside
    assert sum(path.attrib["d"].count("M") for path in marked) == 3
    assert sum(path.attrib["d"].count("M") for path in engraved) == 3


def test_both_have_their_layer(job: Job) -> None:
    """In the DXF they are told apart by layer, each ring a closed line."""
    [board] = job.sheets
    data = cut_dxf(board.cuts, board.size_mm, job.workshop.cutter.colours).decode()
    document = ezdxf.read(StringIO(data))  # type: ignore[attr-defined]
    lines = [line for line in document.modelspace() if isinstance(line, LWPolyline)]
    assert all(line.closed for line in lines)
    layers = [line.dxf.layer for line in lines]
    assert layers.count("op-engrave") == layers.count("op-mark") == 3


def test_a_text_is_where_its_box_is(job: Job) -> None:
    """The engraved name stands above the marked team, each as wide as its letters."""
    [piece] = job.pieces
    bounds = {text.box: text.shape.bounds for text in piece.letterings}
    assert bounds["name"][1] > bounds["team"][3]
    assert [text.made for text in piece.letterings] == ["engrave", "mark"]
