"""Larger jobs for the document pages: a festival's tags, winders and medals, made by hand.

The lists hold names in many scripts and names that would like to be markup; lettering is drawn
from one script face so that the pictures look like real pieces.
"""

from collections.abc import Callable
from dataclasses import replace
from functools import lru_cache
from math import cos, pi, sin
from typing import Any

import fontpkg
from fontTools.pens.basePen import BasePen
from fontTools.ttLib import TTFont
from shapely import MultiPolygon, Point, Polygon, affinity, box, union_all

from namebatch.curves import Flattener, Recorder
from namebatch.finding import Finding, hold, note, warn
from namebatch.job import Job, Totals
from namebatch.names.row import NameList, Row
from namebatch.outline import Hang
from namebatch.piece import Lettering, Piece, Proof
from namebatch.sheet.model import CutPath, Placement, Sheet
from namebatch.template.model import Artwork, PaintedPath, Template, VectorPicture
from tests.output import jobs

NAMES = (
    "Marlo Teasel",
    "Fenna",
    "Dúnlaith",
    "Ottilie Brandt",
    "Quill",
    "Søren",
    "Wren Okafor",
    "Bartholomew",
    "Zoë",
    "Ivo",
    "Tamsin",
    "Juniper",
)
HOSTILE = (
    "<script>alert(1)</script>",
    'Tom & "Jerry\'s" <b>',
    "שירה לוי",
    "محمد الأمين",
    "🎪 Kite 🪁",
    "a" * 300,
    "नमस्ते",
    "]]> --> ${x} \\) Tj",
    "zero\u0000and\u202eback",
    "Line\nbreak\ttab",
    "e\u0301\u0323\u0302 marks",
)


class _Pen(BasePen):  # type: ignore[misc]  # fontTools has no types
    """A fontTools pen that draws into a flattener, scaled and moved."""

    def __init__(self, glyphs: Any, scale: float, shift: float, into: Flattener) -> None:
        super().__init__(glyphs)
        self.scale, self.shift, self.into = scale, shift, into

    def _xy(self, p: tuple[float, float]) -> tuple[float, float]:
        return p[0] * self.scale + self.shift, p[1] * self.scale

    def _moveTo(self, pt: tuple[float, float]) -> None:
        self.into.move(*self._xy(pt))

    def _lineTo(self, pt: tuple[float, float]) -> None:
        self.into.line(*self._xy(pt))

    def _qCurveToOne(self, pt1: tuple[float, float], pt2: tuple[float, float]) -> None:
        self.into.quad(*self._xy(pt1), *self._xy(pt2))

    def _curveToOne(
        self, pt1: tuple[float, float], pt2: tuple[float, float], pt3: tuple[float, float]
    ) -> None:
        self.into.cubic(*self._xy(pt1), *self._xy(pt2), *self._xy(pt3))

    def _closePath(self) -> None:
        self.into.close()


@lru_cache(maxsize=4)
def _font(family: str) -> Any:
    return TTFont(str(fontpkg.path(family, 400)))


@lru_cache(maxsize=512)
def ink(text: str, family: str, width: float, height: float) -> MultiPolygon:
    """A text's ink from the origin, fitted into width × height."""
    font = _font(family)
    glyphs, cmap = font.getGlyphSet(), font.getBestCmap()
    x, parts = 0.0, []
    for character in text[:40]:
        name = cmap.get(ord(character), ".notdef")
        flat = Flattener(2.0)
        glyphs[name].draw(_Pen(glyphs, 1.0, x, flat))
        x += glyphs[name].width
        shape = Polygon()
        for ring in flat.finish():
            shape = shape.symmetric_difference(Polygon(ring).buffer(0))
        parts.append(shape)
    whole = union_all(parts)
    x0, y0, x1, y1 = whole.bounds
    scale = min(width / (x1 - x0), height / (y1 - y0))
    placed = affinity.affine_transform(whole, (scale, 0, 0, scale, -x0 * scale, -y0 * scale))
    return placed if isinstance(placed, MultiPolygon) else MultiPolygon([placed])


def _flat(colour: str, points: list[tuple[float, float]], opacity: float = 1.0) -> PaintedPath:
    recorder = Recorder()
    for i, (x, y) in enumerate(points):
        (recorder.line if i else recorder.move)(x, y)
    recorder.close()
    return PaintedPath(recorder.path, colour, "nonzero", opacity, None, 0.0, 1.0, "butt", "miter")


def _kite(colour: str, x: float, y: float, size: float, lean: float) -> list[PaintedPath]:
    c, s = cos(lean), sin(lean)

    def at(u: float, v: float) -> tuple[float, float]:
        return x + size * (u * c - v * s), y + size * (u * s + v * c)

    tail = Recorder()
    tail.move(*at(0, -1.3))
    tail.cubic(*at(0.7, -1.9), *at(-0.6, -2.4), *at(0.3, -3.1))
    line = PaintedPath(tail.path, None, "nonzero", 1.0, "#17324d", 0.35, 1.0, "round", "round")
    return [
        line,
        _flat(colour, [at(0, 1), at(0.7, 0.1), at(0, -1.3), at(-0.7, 0.1)]),
        _flat("#ffffff", [at(0, 1), at(0.7, 0.1), at(0, 0.1)], 0.35),
        _flat("#17324d", [at(0, 0.1), at(0, -1.3), at(-0.7, 0.1)], 0.15),
    ]


def scene(width: float, height: float) -> VectorPicture:
    """Sky, sea, dunes and three kites."""
    waves = []
    for i, (level, colour) in enumerate(
        ((0.34, "#8ec3c9"), (0.24, "#4d97a5"), (0.16, "#ecd9a8"), (0.07, "#d9b878"))
    ):
        wave = Recorder()
        y = level * height
        wave.move(0, 0)
        wave.line(0, y)
        bend = (1 if i % 2 else -1) * 0.06 * height
        wave.cubic(width / 3, y + bend, 2 * width / 3, y - bend, width, y + bend / 2)
        wave.line(width, 0)
        wave.close()
        waves.append(
            PaintedPath(wave.path, colour, "nonzero", 1.0, None, 0.0, 1.0, "butt", "miter")
        )
    sky = _flat("#dcebea", [(0, 0), (width, 0), (width, height), (0, height)])
    kites = [
        *_kite("#c8452f", 0.86 * width, 0.8 * height, 0.13 * height, -0.5),
        *_kite("#e0a32e", 0.66 * width, 0.86 * height, 0.08 * height, -0.3),
        *_kite("#2f6d7a", 0.3 * width, 0.84 * height, 0.09 * height, 0.4),
    ]
    return VectorPicture((sky, *waves, *kites), (width, height))


def _tag_base(width: float, height: float) -> Polygon:
    shape = Polygon([(6, 0), (width, 0), (width, height), (6, height), (0, height - 9), (0, 9)])
    rounded = shape.buffer(-3, quad_segs=12).buffer(3, quad_segs=12)
    return rounded.difference(Point(6.5, height / 2).buffer(2.1, quad_segs=16))


def tag_template() -> Template:
    """A two-face bag tag, 85 × 42 mm, with one scene on both faces."""
    base = _tag_base(85.0, 42.0)
    picture = scene(89.0, 46.0)
    reach = (-2.0, -2.0, 89.0, 46.0)
    return replace(
        jobs.faced_template(),
        name="kite-tag",
        title="Kite Day bag tag, two faces",
        base=base,
        holes=(Polygon(base.interiors[0]),),
        size_mm=(85.0, 42.0),
        artwork={
            "front": Artwork("front", picture, reach, "a3" * 32),
            "back": Artwork("back", picture, reach, "a3" * 32),
        },
        fields=("name", "group"),
    )


def _tag(template: Template, text: str) -> tuple[Polygon, tuple[Lettering, ...], Proof]:
    front = affinity.translate(ink(text, "Pacifico", 60, 14), 16, 14)
    back = affinity.translate(ink("Saltmarsh Kite Day", "Lora", 56, 6), 8, 20)
    letterings = (
        Lettering("name", "front", text, "print", "#17324d", front, "Pacifico", 7.4),
        Lettering("event", "back", "Saltmarsh Kite Day", "print", "#17324d", back, "Lora", 4.4),
    )
    return (
        template.base,
        letterings,
        Proof(1, 4.4, (2.3, 21.0), 2.0, 0, Hang((6.5, 21.0), (43.4, 18.9), 3.2)),
    )


def winder_template() -> Template:
    """A bare plywood winder: the name is welded onto a bar."""
    base = box(0, 0, 90, 9).buffer(2).difference(box(8, 3, 20, 6))
    return replace(
        jobs.bare_template(),
        name="winder",
        title="Kite-line winder, welded name",
        rule="weld",
        base=affinity.translate(base, 2, 2),
        size_mm=(94.0, 13.0),
        holes=(),
    )


def _winder(template: Template, text: str) -> tuple[Polygon, tuple[Lettering, ...], Proof]:
    name = affinity.translate(ink(text, "Pacifico", 82, 26), 6, 11)
    whole = template.base.union(name.buffer(0.15))
    outline = max(getattr(whole, "geoms", (whole,)), key=lambda part: part.area)
    lettering = Lettering("name", "front", text, "outline", None, name, "Pacifico", 12.6)
    line = Lettering(
        "event",
        "front",
        "Saltmarsh",
        "engrave",
        None,
        affinity.translate(ink("Saltmarsh", "Lora", 40, 4), 30, 6),
        "Lora",
        3.6,
    )
    x0 = name.bounds[0]
    return outline, (lettering, line), Proof(1, 1.82, (x0 + 1.0, 11.5), 2.0, 2, None)


def without_slot(job: Job) -> Job:
    """A winder's job with no hole that would take a ribbon."""
    template = replace(job.template, base=Polygon(job.template.base.exterior))
    return replace(job, template=template)


def medal_template() -> Template:
    """A printed card medal, 50 mm across, cut from the print itself."""
    ring = Polygon([(25 + 25 * cos(a * pi / 90), 25 + 25 * sin(a * pi / 90)) for a in range(180)])
    base = ring.difference(Point(25, 45).buffer(2))
    return replace(
        jobs.faced_template(),
        name="medal",
        title="Kite Day medal",
        build="printed",
        faces=("front",),
        board=None,
        base=base,
        holes=(Polygon(base.interiors[0]),),
        size_mm=(50.0, 50.0),
        artwork={"front": Artwork("front", scene(54, 54), (-2.0, -2.0, 54.0, 54.0), "a4" * 32)},
    )


def _medal(template: Template, text: str) -> tuple[Polygon, tuple[Lettering, ...], Proof]:
    name = ink(text, "Lobster", 34, 10)
    width = name.bounds[2]
    lettering = Lettering(
        "name",
        "front",
        text,
        "print",
        "#7a1f3d",
        affinity.translate(name, 25 - width / 2, 20),
        "Lobster",
        5.5,
    )
    return (
        template.base,
        (lettering,),
        Proof(1, 3.0, (25.0, 48.5), 0.6, 0, Hang((25.0, 45.0), (25.0, 24.9), 0.2)),
    )


MakeOne = Callable[[Template, str], tuple[Polygon, tuple[Lettering, ...], Proof]]
KINDS: dict[str, tuple[Callable[[], Template], MakeOne]] = {
    "tag": (tag_template, _tag),
    "winder": (winder_template, _winder),
    "medal": (medal_template, _medal),
}


def _row(line: int, text: str) -> Row:
    """Line 4 is ordered three times, every seventh line has something to look at."""
    findings: tuple[Finding, ...] = ()
    if line % 7 == 0:
        findings += (
            warn("thin", f"Line {line}: the narrowest place is 1.82 mm, the wood asks for 2 mm."),
        )
    if line % 5 == 0:
        findings += (note("tidied", f"Line {line}: two blanks in a row became one."),)
    values = {"name": text, "group": "Gulls" if line % 2 else "Dunes"}
    return Row(line, values, values, 3 if line == 4 else 1, findings)


def _held() -> tuple[Row, ...]:
    long = "Bartholomew-Maximilian"
    return (
        Row(
            902,
            {"name": "Zoë 🎪", "group": "Gulls"},
            {"name": "Zoë 🎪"},
            1,
            (
                hold(
                    "no-face",
                    'Line 902: "Zoë 🎪" has a sign (U+1F3AA circus tent) that none of this '
                    "template's faces can set. Choose another face or leave the sign out. Held.",
                ),
            ),
        ),
        Row(
            903,
            {"name": long, "group": "Dunes & Tide"},
            {"name": long},
            1,
            (
                hold(
                    "too-small",
                    f'Line 903: "{long}" fits only at 2.1 mm; this template\'s least is 3.5 mm. '
                    "Allow two lines or initials, or take the wide tag. Held.",
                ),
            ),
        ),
        Row(
            904,
            {"name": "", "group": "<i>none</i>"},
            {"name": ""},
            0,
            (hold("empty", "Line 904: the name is empty. Write one. Held."),),
        ),
    )


def _sheets(template: Template, made: tuple[Piece, ...], boards: bool) -> tuple[Sheet, ...]:
    """A plain grid on A4 pages or on 300 × 200 boards, largest piece sets the pitch."""
    size = (300.0, 200.0) if boards else (210.0, 297.0)
    pitch_x = max(p.size_mm[0] for p in made) + 4
    pitch_y = max(p.size_mm[1] for p in made) + 4
    across, down = int((size[0] - 24) // pitch_x), int((size[1] - 24) // pitch_y)
    kind = "board" if boards else "face"
    faces = ("board",) if boards else template.faces
    items = [(i, p, f) for p in made for i in p.ids for f in faces]
    sheets: list[Sheet] = []
    for start in range(0, len(items), across * down):
        placements, cuts = [], []
        for k, (name, piece, face) in enumerate(items[start : start + across * down]):
            x0, y0, x1, _ = piece.outline.bounds
            x, y = 12 + (k % across) * pitch_x, 12 + (k // across) * pitch_y
            back = face == "back"
            place = Placement(name, face, x + (x1 if back else -x0), y - y0, 0.0, back)  # type: ignore[arg-type]
            placements.append(place)
            a, b, c, d, e, f = place.outline_affine
            moved = affinity.affine_transform(piece.outline, (a, c, b, d, e, f))
            ring = tuple((round(u, 4), round(v, 4)) for u, v in moved.exterior.coords[:-1])
            cuts.append(CutPath("outer", f"{name}.{face}", ring))
        sheets.append(
            Sheet(
                id=f"{kind}-{len(sheets) + 1:03d}",
                kind="board" if boards else "face",
                material="plywood-3" if boards else "card-160",
                size_mm=size,
                usable_mm=(12, 12, size[0] - 24, size[1] - 24),
                frame_mm=(0, 0, *size) if boards else (8, 8, size[0] - 16, size[1] - 16),
                gap_mm=4.0,
                fill=0.61,
                placements=tuple(placements),
                cuts=tuple(cuts),
                cut_length_mm=sum(Polygon(c.points).length for c in cuts),
                travel_mm=900.0,
                seconds=95.5,
            )
        )
    return tuple(sheets)


def kite_job(kind: str = "tag", names: tuple[str, ...] = NAMES, held: bool = True) -> Job:
    """A whole job of one kind: `tag` (faced), `winder` (bare) or `medal` (printed)."""
    build, make = KINDS[kind]
    template = build()
    good = tuple(_row(line, text) for line, text in enumerate(names, start=2))
    made = []
    for row in good:
        outline, letterings, proof = make(template, row.values["name"])
        text = {"name": row.values["name"]}
        made.append(Piece(row.line, row.quantity, text, outline, letterings, proof, row.findings))
    pieces = tuple(made)
    rows = good + (_held() if held else ())
    pages = () if template.build == "bare" else _sheets(template, pieces, boards=False)
    boards = () if template.build == "printed" else _sheets(template, pieces, boards=True)
    seconds = sum(sheet.seconds for sheet in pages + boards)
    totals = Totals(
        rows=len(rows),
        made=len(good),
        held=len(rows) - len(good),
        pieces=sum(p.copies for p in pieces),
        sheets=len(pages),
        sheets_lower_bound=max(1, len(pages) - 1) if pages else 0,
        boards=len(boards),
        boards_lower_bound=len(boards),
        cut_seconds=seconds,
        cost=14.6,
    )
    base = jobs.bare_job() if template.build == "bare" else jobs.faced_job()
    return replace(
        base,
        template=template,
        names=NameList(
            source="saltmarsh-helpers.csv",
            sha256="e5" * 32,
            headers=("name", "group"),
            columns={"name": "name"},
            rows=rows,
            blank_lines=1,
            reading="CSV, semicolons, UTF-8",
        ),
        rows=rows,
        pieces=pieces,
        sheets=pages + boards,
        notes=("The cut files hold the kerf of the workshop file.",),
        totals=totals,
    )
