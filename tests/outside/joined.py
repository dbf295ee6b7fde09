"""A long name board in parts: made, read back from its files, and put together again."""

from collections.abc import Iterator
from math import ceil, cos, radians, sin
from pathlib import Path
from typing import Any

import numpy as np
import pypdfium2 as pdfium
import shapely
from numpy.typing import NDArray
from shapely import Polygon, affinity

from namebatch.job import Job
from namebatch.output.cutsvg import cut_svg
from namebatch.piece import Piece
from namebatch.pipeline import Settings, make_job, plan_job
from namebatch.sheet.model import Placement, Sheet
from tests.conftest import silent
from tests.outside.beam import left_of, svg_lines
from tests.template.folders import written

POINTS = 72 / 25.4

WORKSHOP = """
[printer]
name = "Test printer"
sheet = "a4"
margins_mm = [5, 5, 7, 5]
[cutter]
name = "Test cutter"
bed_mm = [{bed}]
travel_mm_s = 300
acceleration_mm_s2 = 1500
[material.card]
title = "Test card"
thickness_mm = 0.2
kerf_mm = 0.09
minimum_width_mm = 0.8
speeds_mm_s = {{ outer = 60, inner = 60, engrave = 200, mark = 60 }}
[material.ply]
title = "Test ply"
sheet_mm = [{board}]
thickness_mm = 3
kerf_mm = {kerf}
minimum_width_mm = 1.5
edge_mm = 3
speeds_mm_s = {{ outer = 15, inner = 15, engrave = 200, mark = 60 }}
"""
BOARD = """\
format = 1
title = "Long name board"
build = "{build}"
faces = [{faces}]
material = "{material}"
{more}
[base]
shape = "rounded-rectangle"
width_mm = {width}
height_mm = {height}
corner_mm = 12

[[hole]]
shape = "round"
at_mm = [15, 60]
diameter_mm = 5

[[text]]
name = "name"
column = "name"
box_mm = [40, 30, {box}, 62]
fonts = ["Fredoka SemiBold"]
made = "{made}"
{colour}
min_height_mm = 10
max_height_mm = 60
"""
FRONT = """
[artwork.front]
file = "front.svg"
"""
BACK = """
[artwork.back]
file = "front.svg"

[[text]]
name = "back"
line = "H"
face = "back"
box_mm = [362, 15, 16, 20]
fonts = ["Fredoka SemiBold"]
min_height_mm = 5
max_height_mm = 20
"""
PICTURE = """\
<svg xmlns="http://www.w3.org/2000/svg" width="603mm" height="123mm" viewBox="0 0 603 123">
<rect width="603" height="123" fill="#3c7672"/>
<path d="M0 95 C100 70 200 120 300 92 S500 70 603 100 V123 H0 Z" fill="#123a44"/>
<path d="M0 20 C150 45 250 5 400 30 S550 10 603 25" fill="none" stroke="#e2a12c"
 stroke-width="2"/>
<path d="M0 0 L603 123 M0 123 L603 0" stroke="#c9472c" stroke-width="0.6"/>
</svg>
"""


def board(
    folder: Path,
    joint: str,
    build: str = "faced",
    *,
    back: bool = False,
    width: float = 600,
    names: str = "name\nSaltmarsh Kite Day\n",
    bed: str = "300, 220",
    sheet: str | None = None,
    board_mm: str = "300, 200",
    kerf: str = "0.18",
    rim: float = 0.0,
    height: float = 120,
    weld: bool = False,
) -> Job:
    """A job of long name boards.

    Args:
        folder: for template, workshop file and list.
        joint: the table as it is written, or nothing.
        build: faced, printed or bare.
        back: print the back too.
        width: of the board, mm.
        names: the list.
        bed: of the cutter, width and height.
        board_mm: size of a board, width and height.
        sheet: of paper.
        kerf: of the board's material.
        height: of the board, mm.
        weld: the name stands on the upper edge of the board and is cut with it.
        rim: of the board round the print, faced only.
    """
    more = {"faced": 'board = "ply"', "printed": "", "bare": ""}[build]
    if rim:
        more += f"\nrim_mm = {rim}"
    toml = BOARD.format(
        build=build,
        faces='"front", "back"' if back else '"front"',
        material="ply" if build == "bare" else "card",
        more=more,
        made="engrave" if build == "bare" else "print",
        colour="" if build == "bare" else 'colour = "#fdf7e9"',
        width=width,
        height=height,
        box=width - 80,
    )
    toml += (FRONT if build != "bare" else "") + (BACK if back else "") + joint
    if weld:
        toml = toml.replace("[base]", 'rule = "weld"\n[base]', 1)
        toml = toml.replace('made = "print"', 'made = "outline"', 1)
        toml = toml.replace("box_mm = [40, 30,", f"box_mm = [40, {height - 10},", 1)
    template = written(folder / "board", toml, front__svg=PICTURE)
    (folder / "workshop.toml").write_text(WORKSHOP.format(bed=bed, board=board_mm, kerf=kerf))
    (folder / "list.csv").write_text(names, encoding="utf-8")
    settings = Settings(str(template), workshop=folder / "workshop.toml", sheet=sheet)
    return make_job(plan_job(folder / "list.csv", settings), silent)


def placed_parts(job: Job, face: str) -> Iterator[tuple[Piece, Placement, Sheet]]:
    """Every part of the job's pieces on one face, with where it lies."""
    parts = {name: part for piece in job.pieces for part in piece.cut for name in part.ids}
    for sheet in job.sheets:
        for placement in sheet.placements:
            if placement.face == face:
                yield parts[placement.piece], placement, sheet


def cut_again(job: Job, face: str, kerf: float) -> dict[str, Polygon]:
    """Id → part as the beam leaves it by the cut SVG, moved back to where it belongs."""
    found = {}
    for _, placement, sheet in placed_parts(job, face):
        lines = svg_lines(cut_svg(sheet.cuts, sheet.size_mm, {}), sheet.size_mm[1])
        left = left_of(lines[f"{placement.piece}.{face}"], (kerf, kerf))
        found[placement.piece] = _home(left, placement)
    return found


def _home(shape: Any, placement: Placement) -> Any:
    """From the sheet to the piece seen from the front."""
    moved = affinity.translate(shape, -placement.x_mm, -placement.y_mm)
    turned = affinity.rotate(moved, -placement.rotation_deg, origin=(0, 0))
    return affinity.scale(turned, -1, 1, origin=(0, 0)) if placement.mirrored else turned


def put_together(
    job: Job, pdf: bytes, copy: str, face: str, window: tuple[float, float], step: float = 0.05
) -> NDArray[np.uint8]:
    """The printed face of a piece, its parts cut out of the pages and laid side by side.

    Args:
        job: what was made.
        pdf: its print.
        copy: id of the piece, ``L2-1``.
        face: front or back.
        window: least and greatest x of the face, as one sees it, that is looked at, mm.
        step: side of a pixel, mm. The upper row comes first; what no part covers is black.
    """
    width, height = job.template.size_mm
    height = max(height, max(piece.outline.bounds[3] for piece in job.pieces))
    columns, rows = round((window[1] - window[0]) / step), round(height / step)
    x, y = np.meshgrid(
        window[0] + (np.arange(columns) + 0.5) * step, height - (np.arange(rows) + 0.5) * step
    )
    whole = np.zeros((rows, columns, 3), dtype=np.uint8)
    pages = [sheet.id for sheet in job.sheets if sheet.kind == "face"]
    for part, placement, sheet in placed_parts(job, face):
        if placement.piece != copy and not placement.piece.startswith(f"{copy}-"):
            continue
        outline = part.outline
        if face == "back":
            outline = affinity.affine_transform(outline, (-1, 0, 0, 1, width, 0))
        inside = shapely.contains_xy(shapely.buffer(outline, -step), x, y)
        if not inside.any():
            continue
        px, py = _onto(placement, x[inside], y[inside], width)
        lines = np.floor((sheet.size_mm[1] - py) / step).astype(int)
        across = np.floor(px / step).astype(int)
        first = int(lines.min()), int(across.min())
        last = int(lines.max()), int(across.max())
        page = _pixels(pdf, pages.index(sheet.id), step, first, last)
        whole[inside] = page[lines - first[0], across - first[1]]
    return whole


def _onto(
    placement: Placement, x: NDArray[np.float64], y: NDArray[np.float64], width: float
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Places of a face, as one sees it, on the sheet; the back begins a base's width further."""
    if placement.mirrored:
        x = x - width
    c, s = cos(radians(placement.rotation_deg)), sin(radians(placement.rotation_deg))
    return c * x - s * y + placement.x_mm, s * x + c * y + placement.y_mm


def _pixels(
    pdf: bytes, number: int, step: float, first: tuple[int, int], last: tuple[int, int]
) -> NDArray[np.uint8]:
    """A page's pixels from a line and column to others; whole pages would take seconds."""
    document = pdfium.PdfDocument(pdf)
    scale = 1 / (step * POINTS)
    width, height = (ceil(side * scale) for side in document[number].get_size())
    left, bottom, right, top = first[1], height - last[0] - 1, width - last[1] - 1, first[0]
    # half a pixel less, as what is cut off is rounded up to whole pixels
    crop = tuple(max(cut - 0.5, 0.0) / scale for cut in (left, bottom, right, top))
    bitmap = document[number].render(scale=scale, crop=crop)
    pixels: NDArray[np.uint8] = bitmap.to_numpy()[:, :, :3][:, :, ::-1].copy()
    document.close()
    assert pixels.shape[:2] == (last[0] - first[0] + 1, last[1] - first[1] + 1)
    return pixels


def far_from(
    one: NDArray[np.uint8], other: NDArray[np.uint8], reach: int, off: int = 8
) -> NDArray[np.bool_]:
    """Pixels of a picture that another has not within so many pixels; black ones do not count.

    A pixel on an edge is a blend of both sides: it counts as there if its colour lies between
    the least and the greatest near by, each channel by itself.
    """
    low, high = other.copy(), other.copy()
    for dy in range(-reach, reach + 1):
        for dx in range(-reach, reach + 1):
            moved = np.roll(other, (dy, dx), axis=(0, 1))
            np.minimum(low, moved, out=low)
            np.maximum(high, moved, out=high)
    pixels = one.astype(np.int16)
    outside = (pixels < low.astype(np.int16) - off) | (pixels > high.astype(np.int16) + off)
    return np.asarray(outside.any(axis=2) & one.any(axis=2))
