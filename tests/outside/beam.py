"""What the beam leaves of the lines in cut files: measured from the files' bytes alone.

`python -m tests.outside.beam 560 0.2 0.5` makes so many names at each kerf and prints what was
measured.
"""

import math
import sys
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from io import StringIO
from pathlib import Path

import shapely
from ezdxf import filemanagement
from ezdxf.entities.lwpolyline import LWPolyline
from faker import Faker
from shapely import Polygon, affinity

from namebatch.job import Job
from namebatch.output.cutdxf import cut_dxf
from namebatch.output.cutsvg import cut_svg
from namebatch.pipeline import Settings, make_job, plan_job
from tests.bench.corpus import LOCALES
from tests.conftest import silent
from tests.output.readers import svg_rings
from tests.outside.medial import narrowest_by_samples

Kerf = tuple[float, float]
Point = tuple[float, float]

CRUMB_MM2 = 2e-3
"""Dust: smaller than a square of 0.05 mm."""
HOLE_MM = 4.0
LEAST_MM = 1.4
FACES = (
    "Pacifico", "Caveat Bold", "Fredoka SemiBold", "Lobster", "Dancing Script Bold",
    "Baloo 2 SemiBold", "Oleo Script Bold", "Nunito ExtraBold", "Noto Sans SemiBold", "Lora Bold",
)  # fmt: skip

WORKSHOP = """
[printer]
name = "Test printer"
sheet = "a4"
margins_mm = [5, 5, 7, 5]
[cutter]
name = "Test cutter"
bed_mm = [600, 400]
travel_mm_s = 300
acceleration_mm_s2 = 1500
[material.ply]
title = "Test ply"
sheet_mm = [600, 400]
thickness_mm = 3
kerf_mm = [{kerf[0]}, {kerf[1]}]
minimum_width_mm = {least}
edge_mm = 3
speeds_mm_s = {{ outer = 15, inner = 15, engrave = 200, mark = 60 }}
"""
HEAD = 'format = 1\ntitle = "t"\nbuild = "bare"\nmaterial = "ply"\nturns_deg = [0, 90]\n'
OUTLINED = '[[text]]\ncolumn = "name"\nmade = "outline"\nmin_height_mm = 4\n'
STANDING = 'align = "left"\nvertical = "baseline"\nmax_height_mm = 18\n'
TEMPLATES = {
    "weld on an ellipse": HEAD
    + 'rule = "weld"\n[base]\nshape = "ellipse"\nwidth_mm = 150\nheight_mm = 8\n'
    + OUTLINED
    + STANDING
    + "box_mm = [12, 0, 126, 40]\nbaseline_mm = 5\n",
    "weld on a rectangle": HEAD
    + 'rule = "weld"\n[base]\nshape = "rounded-rectangle"\nwidth_mm = 140\nheight_mm = 14\n'
    f'corner_mm = 3\n[[hole]]\nshape = "round"\nfind = "left"\ndiameter_mm = {HOLE_MM}\n'
    "wall_mm = 2\n" + OUTLINED + STANDING + "box_mm = [5, 2, 130, 44]\nbaseline_mm = 10\n",
    "open": HEAD
    + 'rule = "open"\n[base]\nshape = "rounded-rectangle"\nwidth_mm = 180\nheight_mm = 50\n'
    f'corner_mm = 5\n[[hole]]\nshape = "round"\nat_mm = [6, 44]\ndiameter_mm = {HOLE_MM}\n'
    + OUTLINED
    + "box_mm = [10, 8, 160, 36]\nmax_height_mm = 26\n",
    "contour": HEAD
    + 'rule = "contour"\n[contour]\ndistance_mm = 2\n[[hole]]\nshape = "round"\nfind = "top"\n'
    f'diameter_mm = {HOLE_MM}\n[[text]]\ncolumn = "name"\nbox_mm = [0, 0, 130, 30]\n'
    'made = "engrave"\nalign = "left"\nmin_height_mm = 4\nmax_height_mm = 16\n',
}
WITH_HOLE = frozenset(TEMPLATES) - {"weld on an ellipse"}
SIZES = {"open": (180.0, 50.0)}
"""Where the template alone fixes the size."""
OTHERS = (
    "Noto Sans SemiBold", "Noto Sans Arabic SemiBold", "Noto Sans Devanagari SemiBold",
    "Noto Sans Thai SemiBold", "Heebo Bold",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Left:
    """One piece as the beam leaves it, and what is claimed of it.

    Attributes:
        where: template, face, name, kerf: enough to make it again.
        parts: pieces larger than dust.
        holes, lines: holes left and inner lines drawn.
        narrowest_mm: by the medial axis of samples.
        whole: erosion by the least width less 0.02 mm keeps one part and all holes.
        said_mm, required_mm: the manifest's narrowest place and what the material needs.
        size_off_mm: from the size that the manifest gives, the larger of width and height.
        hole_off_mm: of the hole that the template gives, width or height; 0 without one.
        area_off: share of the area that the manifest gives.
        files_off_mm2: area between the SVG's line and the DXF's.
    """

    where: str
    parts: int
    holes: int
    lines: int
    narrowest_mm: float
    whole: bool
    said_mm: float
    required_mm: float
    size_off_mm: float
    hole_off_mm: float
    area_off: float
    files_off_mm2: float

    @property
    def is_sound(self) -> bool:
        """All that is promised of a piece."""
        return (
            self.parts == 1
            and self.holes == self.lines
            and self.whole
            and self.narrowest_mm >= self.required_mm - 0.02
            and self.narrowest_mm >= self.said_mm - 0.022
            and self.size_off_mm <= 0.02
            and self.hole_off_mm <= 0.02
            and self.files_off_mm2 <= 0.05
        )


def left_of(line: Polygon, kerf: Kerf) -> shapely.Geometry:
    """Half the kerf off in x and in y: the beam is an ellipse of the two kerfs."""
    kx, ky = kerf
    flat = affinity.scale(line, 1, kx / ky, origin=(0, 0)).buffer(-kx / 2, quad_segs=32)
    return affinity.scale(flat, 1, ky / kx, origin=(0, 0))


def dxf_lines(data: bytes) -> dict[str, Polygon]:
    """Owner → cut lines of a sheet as a polygon; bulges as chords within 0.0002 mm."""
    rings: dict[str, dict[str, list[list[Point]]]] = {}
    text = data.decode("utf-8")
    for line in filemanagement.read(StringIO(text)).modelspace().query("LWPOLYLINE"):
        assert isinstance(line, LWPolyline)
        owner = next(value for code, value in line.get_xdata("NAMEBATCH") if code == 1000)
        rings.setdefault(owner, {}).setdefault(line.dxf.layer, []).append(_ring(line))
    return {o: Polygon(r["op-outer"][0], r.get("op-inner", [])) for o, r in rings.items()}


def svg_lines(data: bytes, height_mm: float) -> dict[str, Polygon]:
    """The same from the SVG, turned over."""
    rings: dict[str, dict[str, list[list[Point]]]] = {}
    for (operation, owner), found in svg_rings(data).items():
        turned = [[(x, height_mm - y) for x, y in ring] for ring in found]
        rings.setdefault(owner, {})[operation] = turned
    return {o: Polygon(r["op-outer"][0], r.get("op-inner", [])) for o, r in rings.items()}


def made(rule: str, face: str, names: list[str], kerf: Kerf, folder: Path) -> Job:
    """A job of one template, face and kerf."""
    template = folder / "template"
    template.mkdir(exist_ok=True)
    fonts = ", ".join(f'"{name}"' for name in dict.fromkeys((face, *OTHERS)))
    text = TEMPLATES[rule] + f"fonts = [{fonts}]\n"
    (template / "template.toml").write_text(text, encoding="utf-8")
    workshop = folder / "workshop.toml"
    workshop.write_text(WORKSHOP.format(kerf=kerf, least=LEAST_MM), encoding="utf-8")
    (folder / "list.csv").write_text("name\n" + "\n".join(names) + "\n", encoding="utf-8")
    settings = Settings(str(template), workshop=workshop)
    return make_job(plan_job(folder / "list.csv", settings), silent)


def measured(job: Job, rule: str, face: str, kerf: Kerf) -> Iterator[Left]:
    """Measure every piece of a job from its cut files.

    Raises:
        AssertionError: pieces are nearer than the gap, or one is lacking in a file.
    """
    pieces = {piece_id: piece for piece in job.pieces for piece_id in piece.ids}
    for sheet in job.sheets:
        dxf = dxf_lines(cut_dxf(sheet.cuts, sheet.size_mm, {}))
        svg = svg_lines(cut_svg(sheet.cuts, sheet.size_mm, {}), sheet.size_mm[1])
        assert set(dxf) == set(svg) == {f"{p.piece}.{p.face}" for p in sheet.placements}
        _assert_apart(list(dxf.values()), sheet.gap_mm)
        turns = {f"{p.piece}.{p.face}": p.rotation_deg for p in sheet.placements}
        for owner, line in dxf.items():
            piece = pieces[owner.rpartition(".")[0]]
            name = next(iter(piece.text.values()))
            assert line.is_valid
            assert svg[owner].is_valid
            whole = left_of(line, kerf)
            parts = [part for part in shapely.get_parts(whole) if part.area > CRUMB_MM2]
            left = max(parts, key=lambda part: part.area)
            width, height = piece.size_mm
            if rule in SIZES:
                assert piece.size_mm == SIZES[rule]
            if turns[owner] % 180:
                width, height = height, width
            x0, y0, x1, y1 = left.bounds
            yield Left(
                f"{rule}, {face}, {name}, kerf {kerf}, turned {turns[owner]:g}",
                len(parts),
                len(left.interiors),
                len(line.interiors),
                # arcs stray 0.01 mm, so that the end of an even tail may seem to bulge
                narrowest_by_samples(left, piece.proof.narrowest_mm + 0.5, bulge_mm=0.05),
                _whole_at(left, piece.proof.required_mm - 0.02),
                piece.proof.narrowest_mm,
                piece.proof.required_mm,
                max(abs(x1 - x0 - width), abs(y1 - y0 - height)),
                _hole_off(left) if rule in WITH_HOLE else 0.0,
                left.area / piece.outline.area - 1,
                float(shapely.symmetric_difference(line, svg[owner]).area),
            )


def faker_names(count: int, seed: int) -> list[str]:
    """First names from twelve locales in turn."""
    fakes = [Faker(locale) for locale in LOCALES]
    for fake in fakes:
        fake.seed_instance(seed)
    return [fakes[k % len(fakes)].first_name() for k in range(count)]


def _ring(line: LWPolyline) -> list[Point]:
    corners = [(x, y, bulge) for x, y, _, _, bulge in line.get_points()]
    following = [*corners[1:], corners[0]]
    return [
        point
        for (x, y, bulge), (u, v, _) in zip(corners, following, strict=True)
        for point in _arc((x, y), (u, v), bulge)
    ]


def _arc(p: Point, q: Point, bulge: float) -> list[Point]:
    """Points from p on towards q (DXF reference: bulge = tan of a quarter of the angle)."""
    chord = math.dist(p, q)
    if abs(bulge) < 1e-12 or chord == 0:
        return [p]
    angle = 4 * math.atan(bulge)
    radius = chord / (2 * math.sin(abs(angle) / 2))
    count = max(2, math.ceil(abs(angle) / (2 * math.acos(max(-1.0, 1 - 0.0002 / radius)))))
    height = radius * math.cos(abs(angle) / 2) * math.copysign(1, bulge)
    dx, dy = (q[0] - p[0]) / chord, (q[1] - p[1]) / chord
    cx, cy = (p[0] + q[0]) / 2 - dy * height, (p[1] + q[1]) / 2 + dx * height
    start = math.atan2(p[1] - cy, p[0] - cx)
    turns = [start + angle * k / count for k in range(1, count)]
    return [p, *((cx + radius * math.cos(a), cy + radius * math.sin(a)) for a in turns)]


def _whole_at(piece: Polygon, width: float) -> bool:
    eroded = shapely.get_parts(piece.buffer(-width / 2, quad_segs=32))
    parts = [part for part in eroded if part.area > CRUMB_MM2]
    return len(parts) == 1 and len(parts[0].interiors) == len(piece.interiors)


def _hole_off(piece: Polygon) -> float:
    """How far the hole nearest to the template's is off its size."""
    off = math.inf
    for ring in piece.interiors:
        x0, y0, x1, y1 = ring.bounds
        off = min(off, max(abs(x1 - x0 - HOLE_MM), abs(y1 - y0 - HOLE_MM)))
    return off


def _assert_apart(lines: list[Polygon], gap_mm: float) -> None:
    solid = [Polygon(line.exterior) for line in lines]
    tree = shapely.STRtree(solid)
    first, second = tree.query(solid, predicate="dwithin", distance=gap_mm - 0.002)
    assert (first == second).all(), "two pieces are nearer than the gap"


def run(count: int, kerf: Kerf, seed: int = 3) -> tuple[list[Left], list[str]]:
    """Names shared out over faces and templates: what was measured, and what was held."""
    each = max(1, round(count / (len(FACES) * len(TEMPLATES))))
    names = faker_names(each * len(FACES) * len(TEMPLATES), seed)
    found: list[Left] = []
    held: list[str] = []
    for face in FACES:
        for rule in TEMPLATES:
            some, names = names[:each], names[each:]
            with tempfile.TemporaryDirectory() as folder:
                job = made(rule, face, some, kerf, Path(folder))
            found += measured(job, rule, face, kerf)
            held += [
                f"{rule}, {face}, {row.fields['name']}: {row.findings[-1].message}"
                for row in job.rows
                if row.held
            ]
    return found, held


def main() -> None:
    """Print what was measured at each kerf given (``0.2`` or ``0.1x0.3``)."""
    for word in sys.argv[2:]:
        x, _, y = word.partition("x")
        kerf = float(x), float(y or x)
        found, held = run(int(sys.argv[1]), kerf)
        bad = [left for left in found if not left.is_sound]
        print(
            f"kerf {kerf}: {len(found)} pieces, {len(held)} held, {len(bad)} not sound; "
            f"narrowest less required at least "
            f"{min(left.narrowest_mm - left.required_mm for left in found):.4f}, less said "
            f"{min(left.narrowest_mm - left.said_mm for left in found):.4f}; size off "
            f"{max(left.size_off_mm for left in found):.4f}, hole off "
            f"{max(left.hole_off_mm for left in found):.4f}, area off "
            f"{min(left.area_off for left in found):.4f} to "
            f"{max(left.area_off for left in found):.4f}, files apart "
            f"{max(left.files_off_mm2 for left in found):.4f} mm²",
            flush=True,
        )
        for line in (*bad, *held):
            print("  ", line)


if __name__ == "__main__":
    main()
