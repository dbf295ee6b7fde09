"""Prints and their boards as the beam leaves them, read from cut files and manifest alone.

Templates, names and the workshop were not used to build the product.
"""

import json
from pathlib import Path

import numpy as np
import shapely
from shapely import MultiPolygon, Polygon, STRtree, affinity

from namebatch.output.atomic import write_job
from namebatch.pipeline import Settings, make_job, plan_job
from tests.conftest import silent
from tests.output.readers import svg_rings
from tests.template.folders import written

Kerf = tuple[float, float]
STEP_MM = 0.1

WORKSHOP = """
[printer]
name = "Test printer"
sheet = "a4"
margins_mm = [5, 4, 7, 6]
[cutter]
name = "Test cutter"
bed_mm = [600, 400]
travel_mm_s = 300
acceleration_mm_s2 = 1500
[material.card]
title = "Test card"
thickness_mm = 0.2
kerf_mm = [{card[0]}, {card[1]}]
minimum_width_mm = 0.8
speeds_mm_s = {{ outer = 60, inner = 60, mark = 100 }}
[material.ply]
title = "Test ply"
sheet_mm = [400, 300]
thickness_mm = 3
kerf_mm = [{ply[0]}, {ply[1]}]
minimum_width_mm = 1.5
edge_mm = 3
speeds_mm_s = {{ outer = 15, inner = 15, mark = 60 }}
"""
HEAD = (
    'format = 1\ntitle = "t"\nbuild = "faced"\nmaterial = "card"\nboard = "ply"\n'
    "turns_deg = {turns}\nrim_mm = {rim}\n"
)
FONTS = 'fonts = ["Fredoka SemiBold"]\n'
TAG = (
    HEAD
    + 'faces = ["front", "back"]\n[base]\nshape = "luggage-tag"\nwidth_mm = 60\nheight_mm = 34\n'
    'corner_mm = 5\nchamfer_mm = 9\n[[hole]]\nshape = "round"\nat_mm = [9, 17]\ndiameter_mm = 5\n'
    '[[hole]]\nshape = "slot"\nat_mm = [44, 28]\nlength_mm = 10\nwidth_mm = 3\nangle_deg = 10\n'
    '[[text]]\ncolumn = "name"\nbox_mm = [16, 6, 40, 16]\nmin_height_mm = 2\nmax_height_mm = 8\n'
    + FONTS
)
WELD = (
    HEAD + 'rule = "weld"\nfaces = ["front"]\n[base]\nshape = "rounded-rectangle"\nwidth_mm = 90\n'
    'height_mm = 14\ncorner_mm = 3\n[[hole]]\nshape = "round"\nat_mm = [6, 7]\ndiameter_mm = 4\n'
    '[[text]]\ncolumn = "name"\nbox_mm = [14, 2, 74, 40]\nmade = "outline"\nalign = "left"\n'
    'vertical = "baseline"\nbaseline_mm = 10\nmin_height_mm = 6\nmax_height_mm = 16\n' + FONTS
)
CONTOUR = (
    HEAD + 'rule = "contour"\nfaces = ["front", "back"]\n[contour]\ndistance_mm = 3\n[[hole]]\n'
    'shape = "round"\nfind = "top"\ndiameter_mm = 4\nwall_mm = 2.5\n[[text]]\ncolumn = "name"\n'
    "box_mm = [0, 0, 80, 24]\nmin_height_mm = 6\nmax_height_mm = 14\n" + FONTS
)
TEMPLATES = {"tag": TAG, "weld": WELD, "contour": CONTOUR}
NAMES = "name\nMarlo\nZoë\nJörgen\n"


def finished(
    folder: Path, template: str, rim_mm: float, card: Kerf, ply: Kerf, turns_deg: list[int]
) -> tuple[dict[str, dict[str, Polygon]], set[float]]:
    """Make a job and read back what the beam leaves.

    Args:
        folder: for everything.
        template: one of `TEMPLATES`.
        rim_mm: how far its boards stand out.
        card: kerf of the prints' material in x and y.
        ply: kerf of the boards' material.
        turns_deg: turns that pieces may take.

    Returns:
        Piece → face → what is left, in the piece's own coordinates as seen from the front; and
        the turns that occur.
    """
    home = written(folder / "template", TEMPLATES[template].format(rim=rim_mm, turns=turns_deg))
    workshop = folder / "workshop.toml"
    workshop.write_text(WORKSHOP.format(card=card, ply=ply), encoding="utf-8")
    names = folder / "names.csv"
    names.write_text(NAMES, encoding="utf-8")
    job = make_job(plan_job(names, Settings(str(home), workshop)), silent)
    write_job(job, folder / "job", replace=False, progress=silent)
    manifest = json.loads((folder / "job" / "job.json").read_text(encoding="utf-8"))
    assert manifest["totals"]["held"] == 0, [row["findings"] for row in manifest["rows"]]
    found: dict[str, dict[str, Polygon]] = {}
    turns: set[float] = set()
    for sheet in manifest["sheets"]:
        kerf = card if sheet["kind"] == "face" else ply
        data = (folder / "job" / "cut" / f"{sheet['id']}.svg").read_bytes()
        rings = svg_rings(data)
        for placed in sheet["placements"]:
            owner = f"{placed['piece']}.{placed['face']}"
            lines = Polygon(rings["op-outer", owner][0], rings.get(("op-inner", owner), []))
            lines = affinity.affine_transform(lines, (1, 0, 0, -1, 0, sheet["size_mm"][1]))
            left = _left(lines, kerf)
            left = affinity.translate(left, -placed["x_mm"], -placed["y_mm"])
            left = affinity.rotate(left, -placed["rotation_deg"], origin=(0, 0))
            if placed["mirrored"]:
                left = affinity.scale(left, -1, 1, origin=(0, 0))
            turns.add(placed["rotation_deg"])
            found.setdefault(placed["piece"], {})[placed["face"]] = left
    return found, turns


def _left(lines: Polygon, kerf: Kerf) -> Polygon:
    """Half the kerf off, an ellipse of the two kerfs for a beam."""
    kx, ky = kerf
    flat = affinity.scale(lines, 1, kx / ky, origin=(0, 0)).buffer(-kx / 2, quad_segs=32)
    whole = affinity.scale(flat, 1, ky / kx, origin=(0, 0))
    parts = [part for part in shapely.get_parts(whole) if part.area > 2e-3]
    assert len(parts) == 1
    return Polygon(parts[0])


def off_mm(board: Polygon, face: Polygon, rim_mm: float, blunt_mm: float = 0.0) -> float:
    """How far a board's outer edge is from where the rim puts it, at most.

    Args:
        board: as the beam leaves it.
        face: the print as the beam leaves it.
        rim_mm: how far the board should stand out.
        blunt_mm: ends of notches narrower than this are left out on both sides, since no beam
            comes to the end of a notch, and each material's beam is another.
    """
    wanted = Polygon(face.exterior).buffer(rim_mm, quad_segs=64)
    edges = [_closed(shape, blunt_mm) for shape in (wanted, Polygon(board.exterior))]
    return _apart(edges[0], edges[1])


def _apart(one: shapely.Geometry, other: shapely.Geometry) -> float:
    """How far two sets of lines are apart at most, both ways, by samples every 0.1 mm."""
    far = 0.0
    for line, from_line in ((one, other), (other, one)):
        samples = shapely.points(shapely.get_coordinates(shapely.segmentize(line, STEP_MM)))
        nearest = STRtree(_edges(from_line)).query_nearest(
            samples, return_distance=True, all_matches=False
        )
        far = max(far, float(nearest[1].max()))
    return far


def _edges(lines: shapely.Geometry) -> list[shapely.Geometry]:
    """Every straight stretch by itself."""
    edges: list[shapely.Geometry] = []
    for line in shapely.get_parts(lines):
        xy = shapely.get_coordinates(line)
        edges += list(shapely.linestrings(np.stack([xy[:-1], xy[1:]], axis=1)))
    return edges


def _closed(shape: Polygon, blunt_mm: float) -> shapely.Geometry:
    if not blunt_mm:
        return shape.exterior
    grown = shape.buffer(blunt_mm / 2, quad_segs=64)
    return Polygon(grown.exterior).buffer(-blunt_mm / 2, quad_segs=64).boundary


def holes_off_mm(one: Polygon, other: Polygon, blunt_mm: float) -> float:
    """How far holes that belong together are apart at most; infinite where one is lacking."""
    if len(one.interiors) != len(other.interiors):
        return float("inf")
    holes = [
        MultiPolygon([Polygon(ring) for ring in shape.interiors])
        .buffer(-blunt_mm / 2, quad_segs=64)
        .buffer(blunt_mm / 2, quad_segs=64)
        .boundary
        for shape in (one, other)
    ]
    return _apart(holes[0], holes[1])
