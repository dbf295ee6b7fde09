"""Fronts and backs on two pages: rasterised, the back turned over, laid on front and cut file.

PDFium renders the pages; the cut file is read by a reader of our own. Nothing of the product
places anything here.
"""

import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
import pypdfium2 as pdfium
import pytest
from numpy.typing import NDArray
from shapely import Point, Polygon

from namebatch.output.atomic import write_job
from namebatch.pipeline import Settings, make_job, plan_job
from tests.conftest import silent
from tests.output.readers import svg_rings
from tests.outside.boards import WORKSHOP
from tests.template.folders import written

Flags = NDArray[np.bool_]
DPI = 600
PX_MM = 25.4 / DPI
AGREE_MM = 0.05
KERF = (0.08, 0.12)
BLEED_MM = 1.0
CORNER_MM = 1.5
"""Inside of a piece's box: there the bleed of a cut corner is not, that of a round one is."""
TEMPLATE = """
format = 1
title = "Saltmarsh pass"
build = "printed"
faces = ["front", "back"]
material = "card"
bleed_mm = 1
turns_deg = {turns}
[base]
shape = "luggage-tag"
width_mm = 60
height_mm = 34
corner_mm = 4
chamfer_mm = 9
[[hole]]
shape = "round"
at_mm = [9, 17]
diameter_mm = 6
[artwork.front]
file = "front.svg"
[artwork.back]
file = "back.svg"
[[text]]
column = "name"
box_mm = [20, 10, 30, 12]
fonts = ["Fredoka SemiBold"]
colour = "#000000"
min_height_mm = 2
max_height_mm = 8
"""
# 1 mm of bleed round 60 × 34 mm; the mark of the back is near its bottom left corner as one
# sees the back
PICTURE = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="62mm" height="36mm" viewBox="0 0 62 36">'
    '<rect width="62" height="36" fill="{colour}"/>{mark}</svg>'
)
MARK = '<rect x="7" y="27" width="8" height="4" fill="#0000ff"/>'


@dataclass(frozen=True, slots=True)
class Made:
    """What was written: the manifest, each sheet's pages as pixels, its cut lines."""

    manifest: dict[str, Any]
    pages: list[NDArray[np.uint8]]
    cuts: list[dict[tuple[str, str], list[list[tuple[float, float]]]]]


def made(folder: Path, turns: list[int], copies: int = 4) -> Made:
    """Passes for three names."""
    home = written(
        folder / "template",
        TEMPLATE.format(turns=turns),
        front__svg=PICTURE.format(colour="#00aa00", mark=""),
        back__svg=PICTURE.format(colour="#ff9900", mark=MARK),
    )
    workshop, names = folder / "workshop.toml", folder / "names.csv"
    workshop.write_text(WORKSHOP.format(card=KERF, ply=KERF), encoding="utf-8")
    rows = "".join(f"{name},{copies}\n" for name in ("Marlo", "Inka", "Wren"))
    names.write_text(f"name,quantity\n{rows}", encoding="utf-8")
    job = make_job(plan_job(names, Settings(str(home), workshop)), silent)
    write_job(job, folder / "job", replace=False, progress=silent)
    manifest = json.loads((folder / "job" / "job.json").read_text(encoding="utf-8"))
    document = pdfium.PdfDocument(str(folder / "job" / "print.pdf"))
    pages = [page.render(scale=DPI / 72).to_numpy()[:, :, :3][:, :, ::-1] for page in document]
    cuts = [
        svg_rings((folder / "job" / "cut" / f"{sheet['id']}.svg").read_bytes())
        for sheet in manifest["sheets"]
    ]
    return Made(manifest, [page.copy() for page in pages], cuts)


def ink(page: NDArray[np.uint8]) -> Flags:
    """Everything that is not white."""
    flags: Flags = page.min(axis=2) < 128
    return flags


def line_middle(flags: Flags, axis: int) -> float:
    """Where a black line across a strip lies, in mm from the strip's beginning."""
    share = flags.mean(axis=axis)
    return float((np.average(np.arange(share.size), weights=share) + 0.5) * PX_MM)


def frame_of(page: NDArray[np.uint8], frame_mm: list[float], height_mm: float) -> list[float]:
    """Left, right, top and bottom of the printed frame in mm, y down, near where it should be."""
    x, y, width, height = frame_mm
    sides = ((x, 0), (x + width, 0), (height_mm - y - height, 1), (height_mm - y, 1))
    middle = [slice(n // 2 - 40, n // 2 + 40) for n in page.shape[:2]]
    found = []
    for at, axis in sides:
        begin = round((at - 1.0) / PX_MM)
        strip = slice(begin, round((at + 1.0) / PX_MM))
        part = page[middle[0], strip] if axis == 0 else page[strip, middle[1]]
        found.append(begin * PX_MM + line_middle(ink(part), axis))
    return found


def bounds_near(flags: Flags, box: tuple[float, float, float, float]) -> list[float]:
    """Bounds in mm, y down, of what is set within a box."""
    x0, y0, x1, y1 = (round(value / PX_MM) for value in box)
    part = flags[y0:y1, x0:x1]
    rows, columns = np.flatnonzero(part.any(axis=1)), np.flatnonzero(part.any(axis=0))
    pixels = (x0 + columns[0], y0 + rows[0], x0 + columns[-1] + 1, y0 + rows[-1] + 1)
    return [float(value * PX_MM) for value in pixels]


@pytest.mark.parametrize("turns", [[0], [90], [270]])
def test_pages_agree_when_they_are_laid_back_to_back(turns: list[int], tmp_path: Path) -> None:
    """Frame lines and outlines of both pages and the cut file agree within 0.05 mm."""
    job = made(tmp_path, turns)
    for sheet, cut in zip(job.manifest["sheets"], job.cuts, strict=True):
        front, back = (job.pages[number - 1] for number in sheet["pages"])
        over = back[:, ::-1]
        inks = (ink(front), ink(over))
        height = sheet["size_mm"][1]
        marked = frame_of(front, sheet["frame_mm"], height)
        assert frame_of(over, sheet["frame_mm"], height) == pytest.approx(marked, abs=AGREE_MM)
        for place in sheet["placements"]:
            assert place["face"] == "front"
            assert place["rotation_deg"] == turns[0]
            owner = f"{place['piece']}.front"
            xs, ys = zip(*cut["op-outer", owner][0], strict=True)
            grow = [BLEED_MM - kerf / 2 for kerf in KERF]
            wanted = [
                *(min(xs) - grow[0], min(ys) - grow[1]),
                *(max(xs) + grow[0], max(ys) + grow[1]),
            ]
            room = (wanted[0] - 0.4, wanted[1] - 0.4, wanted[2] + 0.4, wanted[3] + 0.4)
            for inked in inks:
                assert bounds_near(inked, room) == pytest.approx(wanted, abs=AGREE_MM)
            printed = Polygon(cut["op-outer", owner][0]).buffer(BLEED_MM)
            corners = [
                (x, y)
                for x in (min(xs) + CORNER_MM, max(xs) - CORNER_MM)
                for y in (min(ys) + CORNER_MM, max(ys) - CORNER_MM)
            ]
            covered = [printed.contains(Point(corner)) for corner in corners]
            assert sum(covered) == 2  # two corners of the tag are cut off
            for inked in inks:
                places = ((round(y / PX_MM), round(x / PX_MM)) for x, y in corners)
                assert [bool(inked[place]) for place in places] == covered


@pytest.mark.parametrize("turns", [[0], [90], [180], [270]])
def test_a_back_reads_right_behind_its_own_front(turns: list[int], tmp_path: Path) -> None:
    """What is at the bottom left of the back lies behind the bottom right of its own front."""
    job = made(tmp_path, turns)
    sheet = job.manifest["sheets"][0]
    back = job.pages[sheet["pages"][1] - 1][:, ::-1]
    blue = (back[:, :, 2] > 200) & (back[:, :, 0] < 80)
    c, s = ((1, 0), (0, 1), (-1, 0), (0, -1))[turns[0] // 90]
    for place in sheet["placements"]:
        # on the back 6 to 14 mm from its left and 4 to 8 mm from below, so 46 to 54 on the front
        corners = [
            (place["x_mm"] + c * x - s * y, place["y_mm"] + s * x + c * y)
            for x, y in ((46, 4), (54, 8))
        ]
        xs = sorted(x for x, _ in corners)
        ys = sorted(sheet["size_mm"][1] - y for _, y in corners)
        wanted = [xs[0], ys[0], xs[1], ys[1]]
        room = (xs[0] - 2, ys[0] - 2, xs[1] + 2, ys[1] + 2)
        assert bounds_near(blue, room) == pytest.approx(wanted, abs=AGREE_MM)


def test_the_manifest_tells_fronts_from_backs(tmp_path: Path) -> None:
    """Each sheet has its two pages, in order, and one pair of cut files with fronts only."""
    job = made(tmp_path, [0], copies=10)
    sheets = job.manifest["sheets"]
    assert len(sheets) > 1
    assert [sheet["pages"] for sheet in sheets] == [
        [2 * n + 1, 2 * n + 2] for n in range(len(sheets))
    ]
    assert all(sheet["backs"] for sheet in sheets)
    assert len(job.pages) == 2 * len(sheets)
    owners = {owner.rpartition(".")[2] for cut in job.cuts for _, owner in cut}
    assert owners == {"front"}
    cut_files = [name for name in job.manifest["files"] if name.startswith("cut/")]
    assert sorted(cut_files) == sorted(
        f"cut/{sheet['id']}.{ending}" for sheet in sheets for ending in ("svg", "dxf")
    )
