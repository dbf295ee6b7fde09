"""A picture whose outline was traced from a plain ground: only what was traced is printed."""

from collections.abc import Callable
from io import BytesIO
from pathlib import Path

import numpy as np
import pytest
import resvg_py
from PIL import Image
from shapely import Point, box

from namebatch.job import Job
from namebatch.output.preview import preview_svg
from namebatch.output.printpdf import print_pdf
from namebatch.output.proof import write as write_proof
from tests.output.pdfreader import Window
from tests.template.cutouts import cover, disc, on_ground
from tests.template.folders import written
from tests.template.images import saved

SKY = (150, 190, 230)
RED = (200, 40, 30)
TOML = """\
format = 1
title = "Kite with a border"
build = "printed"
rule = "contour"
material = "card-160"
turns_deg = [0]
[base]
trace = "front"
width_mm = 60
inset_mm = 0
[contour]
distance_mm = 5
[artwork.front]
file = "kite.FILE"
[[text]]
column = "name"
box_mm = [8, 8, 14, 14]
fonts = ["Noto Sans SemiBold"]
min_height_mm = 1
max_height_mm = 4
"""
SVG = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="40mm" viewBox="0 0 60 40">'
    '<rect width="60" height="40" fill="#96bee6"/><circle cx="30" cy="20" r="15" fill="#c8281e"/>'
    "</svg>"
)


def _file(kind: str) -> bytes:
    """A red disc of 30 mm on a plain sky, 200 dpi or as a drawing."""
    if kind == "svg":
        return SVG.encode()
    picture = on_ground(cover(disc(30, 20, 15), (60, 40), 200), RED, SKY)
    return saved(picture, "PNG") if kind == "png" else saved(picture, "JPEG", quality=90)


@pytest.fixture(params=["png", "jpg", "svg"])
def job(request: pytest.FixtureRequest, job_of: Callable[..., Job], tmp_path: Path) -> Job:
    """One piece of each kind of file."""
    kind = request.param
    folder = written(tmp_path / "t", TOML.replace("FILE", kind), **{f"kite__{kind}": _file(kind)})
    return job_of("name\nMarlo\n", str(folder))


def test_the_ground_is_not_printed(job: Job) -> None:
    """Inside the disc it is red; from its edge to the cut line and beyond the paper stays white."""
    placed = job.sheets[0].placements[0]
    assert (placed.rotation_deg, placed.mirrored) == (0.0, False)
    x, y = placed.x_mm, placed.y_mm
    window = Window(print_pdf(job, lambda done, total: None), (x - 6, y - 6, x + 36, y + 36), 300)
    assert window.colour(x + 15, y + 3) == pytest.approx(RED, abs=6)
    for reach in (0.5, 2.5, 4.5, 5.5):
        assert window.colour(x + 15, y - reach) == (255, 255, 255)
        assert window.colour(x + 30 + reach, y + 15) == (255, 255, 255)
    left, bottom, right, top = window.ink_bounds(230)
    assert (right - left, top - bottom) == pytest.approx((30, 30), abs=0.2)


def _colours(pixels: np.ndarray) -> set[str]:
    """Which of the picture's two colours a rendered page or preview shows."""
    flat = pixels.reshape(-1, 3).astype(int)
    near = {"sky": SKY, "red": RED}
    return {name for name, c in near.items() if (np.abs(flat - c).sum(axis=1) < 24).sum() > 40}


def test_preview_and_proof_show_what_is_printed(job: Job, tmp_path: Path) -> None:
    """The kite is there and its ground is not."""
    svg = preview_svg(job, job.pieces[0])
    png = resvg_py.svg_to_bytes(svg_string=svg, dpi=200, background="#ffffff")
    assert _colours(np.asarray(Image.open(BytesIO(bytes(png))).convert("RGB"))) == {"red"}
    write_proof(job, tmp_path, lambda done, total: None)
    page = Window((tmp_path / "proof.pdf").read_bytes(), (0, 0, 210, 297), 100)
    assert _colours(page.pixels) == {"red"}


def test_the_mask_is_the_trace(job: Job) -> None:
    """What is printed of the picture lies on the base, to half a pixel."""
    seen = job.template.artwork["front"].seen
    assert seen is not None
    assert seen.symmetric_difference(Point(15, 15).buffer(15, 64)).area < 0.15 * 30 * np.pi
    assert box(-0.1, -0.1, 30.1, 30.1).contains(seen)
