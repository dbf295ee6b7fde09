"""Independent readers agree on every file of real jobs, frame and pieces, to 0.05 mm.

resvg draws the cut SVG, GDAL (through pyogrio) and ezdxf read the DXF, PDFium draws the print;
the manifest says what they should find.
"""

import io
import json
import re
from pathlib import Path

import ezdxf.filemanagement
import ezdxf.path
import ezdxf.units
import numpy as np
import pyogrio
import pytest
import resvg_py
import shapely
from ezdxf.entities.lwpolyline import LWPolyline
from ezdxf.path import make_path
from numpy.typing import NDArray
from PIL import Image

from namebatch.output.atomic import write_job
from namebatch.pipeline import Settings, make_job, plan_job
from namebatch.resources import bundled
from tests.conftest import silent
from tests.output.pdfreader import Window

Bounds = tuple[float, float, float, float]
TOLERANCE_MM = 0.05
MARGIN_MM = 1.0
PIXELS_PER_MM = 50
CARD_KERF_MM = 0.09


@pytest.fixture(scope="module", params=["medal", "place-card", "bag-tag", "stencil-plate"])
def job(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A job folder of a bundled template, made from the first rows of its example list."""
    name = request.param
    folder = tmp_path_factory.mktemp(name)
    lines = (bundled("examples") / f"{name}.csv").read_text(encoding="utf-8").splitlines()
    (folder / "list.csv").write_text("\n".join(lines[:4]) + "\n", encoding="utf-8")
    made = make_job(plan_job(folder / "list.csv", Settings(name, gap_mm=8)), silent)
    write_job(made, folder / "out", False, silent)
    return folder / "out"


def _dxf_bounds(path: Path) -> dict[str, Bounds]:
    """Owner → bounds of its outer line, through ezdxf; the file passes its audit."""
    document = ezdxf.filemanagement.readfile(path)
    assert not document.audit().has_errors
    assert document.units == ezdxf.units.MM
    found: dict[str, Bounds] = {}
    for line in document.modelspace().query('LWPOLYLINE[layer=="op-outer"]'):
        assert isinstance(line, LWPolyline)
        owner = next(value for code, value in line.get_xdata("NAMEBATCH") if code == 1000)
        xy = np.array([(p.x, p.y) for p in make_path(line).flattening(1e-4)])
        found[owner] = (*xy.min(axis=0), *xy.max(axis=0))
    return found


def _gdal_bounds(path: Path, layer: str) -> list[Bounds]:
    """Bounds of a layer's lines, through GDAL."""
    # GDAL makes chords of arcs, every 4 degrees unless told otherwise
    pyogrio.set_gdal_config_options({"OGR_ARC_STEPSIZE": "0.2"})
    _, _, geometry, fields = pyogrio.raw.read(path, columns=["Layer"])
    wanted = fields[0] == layer
    return [tuple(b) for b in shapely.bounds(shapely.from_wkb(geometry[wanted]))]


def _resvg_bounds(svg: str, owner: str, near: Bounds, height: float) -> Bounds:
    """Bounds of one owner's outer path as resvg fills it, cropped and enlarged."""
    outer = svg[svg.index('id="op-outer"') :]
    group = re.search(rf'<g id="{re.escape(owner)}"[^>]*>(.*?)</g>', outer, re.DOTALL)
    assert group is not None
    d = re.search(r' d="([^"]+)"', group.group(1))
    assert d is not None
    path, across = d.group(1), 2 * MARGIN_MM
    low, high = (
        (near[0] - MARGIN_MM, near[1] - MARGIN_MM),
        (near[2] - MARGIN_MM, near[3] - MARGIN_MM),
    )
    wide, tall = high[0] - low[0] + across, high[1] - low[1] + across
    # along each side of its box: all of a large piece would be millions of pixels
    left = _ink(path, (*low, across, tall), height).any(axis=0)
    right = _ink(path, (high[0], low[1], across, tall), height).any(axis=0)
    bottom = _ink(path, (*low, wide, across), height).any(axis=1)
    top = _ink(path, (low[0], high[1], wide, across), height).any(axis=1)
    return (
        low[0] + float(np.flatnonzero(left)[0]) / PIXELS_PER_MM,
        low[1] + across - float(np.flatnonzero(bottom)[-1] + 1) / PIXELS_PER_MM,
        high[0] + float(np.flatnonzero(right)[-1] + 1) / PIXELS_PER_MM,
        high[1] + across - float(np.flatnonzero(top)[0]) / PIXELS_PER_MM,
    )


def _ink(path: str, window: Bounds, height: float) -> NDArray[np.bool_]:
    """Where resvg fills a path within x, y, width and height of a sheet; lines from above."""
    x, y, w, h = window
    columns, rows = round(w * PIXELS_PER_MM), round(h * PIXELS_PER_MM)
    picture = resvg_py.svg_to_bytes(
        svg_string=f'<svg xmlns="http://www.w3.org/2000/svg" width="{columns}" height="{rows}" '
        f'viewBox="{x} {height - y - h} {columns / PIXELS_PER_MM} {rows / PIXELS_PER_MM}">'
        f'<path d="{path}"/></svg>'
    )
    return np.asarray(np.asarray(Image.open(io.BytesIO(bytes(picture))))[:, :, 3] > 127)


def test_cut_files_agree(job: Path) -> None:
    """resvg, ezdxf and GDAL find every piece in the same place."""
    manifest = json.loads((job / "job.json").read_text(encoding="utf-8"))
    for sheet in manifest["sheets"]:
        height = sheet["size_mm"][1]
        svg = (job / "cut" / f"{sheet['id']}.svg").read_text(encoding="utf-8")
        dxf = job / "cut" / f"{sheet['id']}.dxf"
        by_owner = _dxf_bounds(dxf)
        assert set(by_owner) == {f"{p['piece']}.{p['face']}" for p in sheet["placements"]}
        # sorted by what both readers agree on: the last digits of an arc's end differ
        gdal, ours = (
            sorted(boxes, key=lambda box: [round(float(value), 2) for value in box])
            for boxes in (_gdal_bounds(dxf, "op-outer"), by_owner.values())
        )
        assert np.allclose(gdal, ours, atol=1e-3)
        x, y, w, h = sheet["usable_mm"]
        for owner, bounds in by_owner.items():
            seen = _resvg_bounds(svg, owner, bounds, height)
            assert seen == pytest.approx(bounds, abs=TOLERANCE_MM), owner
            assert x - 1e-3 <= bounds[0] < bounds[2] <= x + w + 1e-3
            assert y - 1e-3 <= bounds[1] < bounds[3] <= y + h + 1e-3


def test_print_agrees_with_the_cut(job: Path) -> None:
    """What PDFium draws reaches past every cut line by the bleed, and the frame is the jig's."""
    manifest = json.loads((job / "job.json").read_text(encoding="utf-8"))
    if not (job / "print.pdf").exists():
        assert all(sheet["kind"] == "board" for sheet in manifest["sheets"])
        return
    print_pdf = (job / "print.pdf").read_bytes()
    sheet = manifest["sheets"][0]
    x, y, w, h = sheet["frame_mm"]
    [frame] = _gdal_bounds(job / "jig.dxf", "op-mark")
    assert frame == pytest.approx((x, y, x + w, y + h), abs=1e-3)
    printed = Window(print_pdf, (x - 2, y - 2, x + w + 2, y + h + 2), dpi=600).ink_bounds()
    line = 0.1  # half the printed line
    assert printed == pytest.approx(
        (x - line, y - line, x + w + line, y + h + line), abs=TOLERANCE_MM
    )
    # pieces lie 8 mm apart here, so that the whole bleed of each is seen on white
    grown = manifest["bleed_mm"] - CARD_KERF_MM / 2
    for owner, bounds in _dxf_bounds(job / "cut" / f"{sheet['id']}.dxf").items():
        expected = (
            bounds[0] - grown,
            bounds[1] - grown,
            bounds[2] + grown,
            bounds[3] + grown,
        )
        around = (bounds[0] - 3, bounds[1] - 3, bounds[2] + 3, bounds[3] + 3)
        seen = Window(print_pdf, around).ink_bounds(254)
        assert seen == pytest.approx(expected, abs=TOLERANCE_MM), owner


WELDED = """
format = 1
title = "Printed name on a bar"
build = "printed"
rule = "weld"
material = "card-300"
turns_deg = [0]

[base]
shape = "rounded-rectangle"
width_mm = 90
height_mm = 12
corner_mm = 2

[[text]]
column = "name"
box_mm = [5, 0, 80, 40]
fonts = ["Pacifico"]
made = "outline"
colour = "#8a1f1f"
vertical = "baseline"
baseline_mm = 10
min_height_mm = 6
max_height_mm = 20
"""


def test_welded_letters_are_printed_past_their_cut(tmp_path: Path) -> None:
    """Letters that are cut along their edge reach past it by the bleed, upwards as sideways."""
    (tmp_path / "bar").mkdir()
    (tmp_path / "bar" / "template.toml").write_text(WELDED, encoding="utf-8")
    (tmp_path / "list.csv").write_text("name\nWren\nMarlo\n", encoding="utf-8")
    settings = Settings(str(tmp_path / "bar"), gap_mm=8)
    write_job(
        make_job(plan_job(tmp_path / "list.csv", settings), silent), tmp_path / "o", False, silent
    )
    manifest = json.loads((tmp_path / "o" / "job.json").read_text(encoding="utf-8"))
    print_pdf = (tmp_path / "o" / "print.pdf").read_bytes()
    bounds_of = _dxf_bounds(tmp_path / "o" / "cut" / "face-001.dxf")
    assert len(bounds_of) == 2
    for bounds in bounds_of.values():
        around = (bounds[0] - 3, bounds[1] - 3, bounds[2] + 3, bounds[3] + 3)
        top = Window(print_pdf, around).ink_bounds(254)[3]
        expected = bounds[3] + manifest["bleed_mm"] - CARD_KERF_MM / 2
        assert top == pytest.approx(expected, abs=TOLERANCE_MM)
