"""What the cutter leaves, worked out from the DXF files alone.

A reader of its own turns bulges into chords, half the kerf is taken off in x and in y, and
erosion by shapely says whether one sound piece is left, as the manifest claims. Templates, names
and the workshop were not used to build the product.
"""

import json
import math
from pathlib import Path

import ezdxf.filemanagement
import pytest
import shapely
from ezdxf.entities.lwpolyline import LWPolyline
from shapely import Polygon, affinity

from namebatch.output.atomic import write_job
from namebatch.pipeline import Settings, make_job, plan_job
from tests.conftest import silent
from tests.outside.beam import HEAD, LEAST_MM, WORKSHOP

Point = tuple[float, float]
KERF = (0.1, 0.3)
NAMES = ("Jiří", "Đặng Ngọc", "O'Neill", "50 %", "8888", "محمد", "อรุณี", "क्षितिज", "Юрій", "Bo Ä.")

FONTS = (
    'fonts = ["{face}", "Noto Sans SemiBold", "Noto Sans Arabic SemiBold", '
    '"Noto Sans Devanagari SemiBold", "Noto Sans Thai SemiBold"]\n'
)
RULES = {
    "weld": HEAD
    + 'rule = "weld"\n[base]\nshape = "rounded-rectangle"\nwidth_mm = 140\nheight_mm = 14\n'
    'corner_mm = 3\n[[hole]]\nshape = "round"\nfind = "left"\ndiameter_mm = 4\nwall_mm = 2\n'
    '[[text]]\ncolumn = "name"\nbox_mm = [5, 2, 130, 44]\nmade = "outline"\nalign = "left"\n'
    'vertical = "baseline"\nbaseline_mm = 10\nmin_height_mm = 4\nmax_height_mm = 18\n',
    "open": HEAD
    + 'rule = "open"\n[base]\nshape = "rounded-rectangle"\nwidth_mm = 180\nheight_mm = 50\n'
    'corner_mm = 5\n[[hole]]\nshape = "round"\nat_mm = [6, 44]\ndiameter_mm = 4\n'
    '[[text]]\ncolumn = "name"\nbox_mm = [10, 8, 160, 36]\nmade = "outline"\n'
    "min_height_mm = 4\nmax_height_mm = 26\n",
    "contour": HEAD
    + 'rule = "contour"\n[contour]\ndistance_mm = 2\n[[hole]]\nshape = "round"\nfind = "top"\n'
    'diameter_mm = 4\n[[text]]\ncolumn = "name"\nbox_mm = [0, 0, 130, 30]\nmade = "engrave"\n'
    'align = "left"\nmin_height_mm = 4\nmax_height_mm = 16\n',
}


def _arc(p: Point, q: Point, bulge: float) -> list[Point]:
    """Points from p on towards q, chords within 0.0005 mm (DXF: bulge = tan of a quarter)."""
    chord = math.dist(p, q)
    if abs(bulge) < 1e-12 or chord == 0:
        return [p]
    angle = 4 * math.atan(bulge)
    radius = chord / (2 * math.sin(abs(angle) / 2))
    count = max(2, math.ceil(abs(angle) / (2 * math.acos(max(-1.0, 1 - 0.0005 / radius)))))
    height = radius * math.cos(abs(angle) / 2) * math.copysign(1, bulge)
    dx, dy = (q[0] - p[0]) / chord, (q[1] - p[1]) / chord
    cx, cy = (p[0] + q[0]) / 2 - dy * height, (p[1] + q[1]) / 2 + dx * height
    start = math.atan2(p[1] - cy, p[0] - cx)
    turns = [start + angle * k / count for k in range(1, count)]
    return [p, *((cx + radius * math.cos(a), cy + radius * math.sin(a)) for a in turns)]


def _ring(line: LWPolyline) -> list[Point]:
    corners = [(x, y, bulge) for x, y, _, _, bulge in line.get_points()]
    following = [*corners[1:], corners[0]]
    return [
        point
        for (x, y, bulge), (u, v, _) in zip(corners, following, strict=True)
        for point in _arc((x, y), (u, v), bulge)
    ]


def _pieces(path: Path) -> dict[str, Polygon]:
    """Owner → the cut lines of a sheet as a polygon."""
    rings: dict[str, dict[str, list[list[Point]]]] = {}
    for line in ezdxf.filemanagement.readfile(path).modelspace().query("LWPOLYLINE"):
        assert isinstance(line, LWPolyline)
        owner = next(value for code, value in line.get_xdata("NAMEBATCH") if code == 1000)
        rings.setdefault(owner, {}).setdefault(line.dxf.layer, []).append(_ring(line))
    return {o: Polygon(r["op-outer"][0], r.get("op-inner", [])) for o, r in rings.items()}


def _left_by_the_beam(lines: Polygon) -> Polygon:
    """Half the kerf off, an ellipse of the two kerfs for a beam."""
    kx, ky = KERF
    flat = affinity.scale(lines, 1, kx / ky, origin=(0, 0)).buffer(-kx / 2, quad_segs=32)
    whole = affinity.scale(flat, 1, ky / kx, origin=(0, 0))
    parts = [part for part in shapely.get_parts(whole) if part.area > 1e-3]
    assert len(parts) == 1, "the piece falls apart"
    part = parts[0]
    assert isinstance(part, Polygon)
    return part


def _whole_at(piece: Polygon, width: float, crumb_mm2: float) -> bool:
    eroded = shapely.get_parts(piece.buffer(-width / 2, quad_segs=32))
    parts = [part for part in eroded if part.area > crumb_mm2]
    return len(parts) == 1 and len(parts[0].interiors) == len(piece.interiors)


@pytest.mark.parametrize("face", ["Pacifico", "Caveat Bold", "Fredoka SemiBold"])
@pytest.mark.parametrize("rule", list(RULES))
def test_one_sound_piece_is_left(tmp_path: Path, rule: str, face: str) -> None:
    """One valid part a name, as wide as it must be, as narrow as is said, apart by the gap."""
    folder = tmp_path / rule
    folder.mkdir()
    text = RULES[rule] + FONTS.format(face=face)
    (folder / "template.toml").write_text(text, encoding="utf-8")
    (tmp_path / "workshop.toml").write_text(
        WORKSHOP.format(kerf=KERF, least=LEAST_MM), encoding="utf-8"
    )
    (tmp_path / "list.csv").write_text("name\n" + "\n".join(NAMES) + "\n", encoding="utf-8")
    settings = Settings(str(folder), workshop=tmp_path / "workshop.toml")
    job = make_job(plan_job(tmp_path / "list.csv", settings), silent)
    assert job.totals.held == 0, [row.findings for row in job.rows if row.held]
    write_job(job, tmp_path / "out", False, silent)
    manifest = json.loads((tmp_path / "out" / "job.json").read_text(encoding="utf-8"))
    said = {piece["id"]: piece for piece in manifest["pieces"]}
    for sheet in manifest["sheets"]:
        lines = _pieces(tmp_path / "out" / "cut" / f"{sheet['id']}.dxf")
        for owner, shape in lines.items():
            piece = said[owner.rpartition(".")[0]]
            assert shape.is_valid
            left = _left_by_the_beam(shape)
            assert piece["parts"] == 1
            # 0.02 mm for the measure, 0.02 mm for each of the two lines' curves
            assert _whole_at(left, piece["required_mm"] - 0.06, 2e-3), piece["text"]
            # the figure never promises more than is left; the beam rounds notches off, which
            # can leave a neck wider by no more than the kerf
            assert _whole_at(left, piece["narrowest_mm"] - 0.06, 2e-3), piece["text"]
            assert not _whole_at(left, piece["narrowest_mm"] + 0.06 + max(KERF), 0.0), piece["text"]
            assert left.area == pytest.approx(piece["area_mm2"], rel=4e-3)
        tree = shapely.STRtree([Polygon(shape.exterior) for shape in lines.values()])
        first, second = tree.query(
            tree.geometries, predicate="dwithin", distance=sheet["gap_mm"] - 0.002
        )
        assert (first == second).all()
