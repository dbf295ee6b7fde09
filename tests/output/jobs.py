"""Two small jobs made by hand, for tests of everything that writes files.

`faced_job` is a bag tag with two printed faces on a plywood board: a hole, vector artwork with
curves, holes and opacity on the front, a raster picture on the back, three pieces of two rows
and one held row, one printed A5 sheet and one board. `bare_job` is a plywood plate without any
print: an engraved name, a marked line, two pieces on one board.

Nothing here is symmetrical, so that anything mirrored or turned the wrong way shows.
"""

from collections.abc import Iterable, Sequence
from io import BytesIO
from math import cos, radians, sin

from PIL import Image
from shapely import MultiPolygon, Point, Polygon, affinity, box

from namebatch.curves import Affine, Recorder
from namebatch.curves import apply as apply_affine
from namebatch.finding import Finding, hold, note, warn
from namebatch.job import Job, Totals
from namebatch.names.row import NameList, Row
from namebatch.outline import Hang
from namebatch.piece import Lettering, Piece, Proof
from namebatch.sheet.model import (
    CutPath,
    Jig,
    Operation,
    Placement,
    Rect,
    ScaleBar,
    Sheet,
)
from namebatch.template.model import (
    Artwork,
    FaceName,
    Made,
    PaintedPath,
    RasterPicture,
    Template,
    TextBox,
    VectorPicture,
)
from namebatch.template.wording import field_alone
from namebatch.template.workshop import Cutter, Material, Printer, Workshop

COLOURS = {
    "mark": "#0072b2",
    "engrave": "#000000",
    "inner": "#009e73",
    "outer": "#d55e00",
    "window": "#cc79a7",
}
FRAME: Rect = (6.0, 6.0, 136.0, 198.0)
USABLE: Rect = (12.0, 12.0, 124.0, 186.0)
SHEET_MM = (148.0, 210.0)
BOARD_MM = (200.0, 120.0)
BLEED_MM = 1.0
KERF_MM = 0.1


def workshop(files: tuple[str, ...] = ("svg", "dxf")) -> Workshop:
    """A workshop with one printer, one cutter, a card and a plywood."""
    card = Material(
        name="card-160",
        title="Card 160 g/m²",
        sheet_mm=None,
        thickness_mm=0.2,
        kerf_mm=(KERF_MM, KERF_MM),
        minimum_width_mm=0.6,
        edge_mm=0.0,
        speeds_mm_s={"outer": 60.0, "inner": 60.0, "mark": 100.0},
        price=0.08,
        colour="#ffffff",
    )
    plywood = Material(
        name="plywood-3",
        title="Birch plywood 3 mm",
        sheet_mm=BOARD_MM,
        thickness_mm=3.0,
        kerf_mm=(KERF_MM, KERF_MM),
        minimum_width_mm=2.0,
        edge_mm=3.0,
        speeds_mm_s={"outer": 12.0, "inner": 12.0, "mark": 80.0, "engrave": 300.0},
        price=1.9,
        colour="#e2c79b",
    )
    return Workshop(
        name="built-in",
        digest="77" * 32,
        built_in=True,
        printer=Printer("Colour printer", "a5", (4.2, 4.2, 4.2, 4.2)),
        cutter=Cutter("Laser cutter", (600.0, 400.0), 400.0, 3000.0, COLOURS, files),
        materials={"card-160": card, "plywood-3": plywood},
    )


def plate(width: float, height: float) -> Polygon:
    """A plate with one corner cut off and a ring hole near its left end."""
    shape = Polygon([(0, 0), (width, 0), (width, height), (8, height), (0, height - 8)])
    return shape.difference(Point(5, height / 2).buffer(2, quad_segs=16))


def letter_f(x: float, y: float, height: float) -> Polygon:
    """A capital F: no symmetry, so it can be told from its mirror image."""
    strokes = [(0, 0), (1, 0), (1, 2), (2.4, 2), (2.4, 3), (1, 3), (1, 4), (3, 4), (3, 5), (0, 5)]
    return affinity.translate(
        affinity.scale(Polygon(strokes), height / 5, height / 5, origin=(0, 0)), x, y
    )


def letter_d(x: float, y: float, height: float) -> Polygon:
    """A capital D with its inside: one polygon with a hole."""
    shape = Polygon([(0, 0), (2, 0), (3, 1), (3, 4), (2, 5), (0, 5)])
    hole = Polygon([(1, 1), (2, 1.4), (2, 3.6), (1, 4)])
    whole = Polygon(shape.exterior.coords, [hole.exterior.coords])
    return affinity.translate(affinity.scale(whole, height / 5, height / 5, origin=(0, 0)), x, y)


def lettering(
    name: str, face: FaceName, text: str, made: Made, colour: str | None, shape: MultiPolygon
) -> Lettering:
    """A text as it is set, its capitals as high as its shape."""
    height = shape.bounds[3] - shape.bounds[1]
    return Lettering(name, face, text, made, colour, shape, "Test Sans", height)


def text_box(name: str, face: FaceName, made: Made, colour: str | None) -> TextBox:
    """A text box over the right part of the plate."""
    return TextBox(
        name=name,
        wording=field_alone("name"),
        face=face,
        box_mm=(12.0, 5.0, 44.0, 18.0),
        fonts=("Test Sans",),
        made=made,
        colour=colour,
        align="left",
        vertical="middle",
        baseline_mm=0.0,
        min_height_mm=3.5,
        max_height_mm=14.0,
        tracking=0.0,
        optional=False,
    )


def vector_picture() -> VectorPicture:
    """A sky, a sun with a hole, a see-through wave and a stroked line."""
    sky = Recorder()
    sky.move(0, 0)
    sky.line(64, 0)
    sky.line(64, 34)
    sky.line(0, 34)
    sky.close()
    sun = Recorder()
    for radius in (7.0, 4.0):
        _circle(sun, 50.0, 24.0, radius)
    wave = Recorder()
    wave.move(0, 0)
    wave.line(0, 8)
    wave.cubic(16, 16, 32, 0, 48, 8)
    wave.quad(56, 12, 64, 8)
    wave.line(64, 0)
    wave.close()
    line = Recorder()
    line.move(4, 30)
    line.cubic(20, 26, 30, 34, 40, 30)
    return VectorPicture(
        (
            _painted(sky, fill="#cfe8ef"),
            _painted(sun, fill="#e69f00", rule="evenodd"),
            _painted(wave, fill="#0072b2", opacity=0.5),
            PaintedPath(line.path, None, "nonzero", 1.0, "#17324d", 0.8, 0.75, "round", "round"),
        ),
        (64.0, 34.0),
    )


def _painted(
    recorder: Recorder, *, fill: str, rule: str = "nonzero", opacity: float = 1.0
) -> PaintedPath:
    """A filled shape without a stroke."""
    return PaintedPath(
        path=recorder.path,
        fill=fill,
        fill_rule="evenodd" if rule == "evenodd" else "nonzero",
        fill_opacity=opacity,
        stroke=None,
        stroke_width=0.0,
        stroke_opacity=1.0,
        line_cap="butt",
        line_join="miter",
    )


def _circle(sink: Recorder, x: float, y: float, radius: float) -> None:
    """Four cubic Béziers that stay within 0.03 % of a circle, always counter-clockwise."""
    k = 0.5522847498 * radius
    sink.move(x + radius, y)
    sink.cubic(x + radius, y + k, x + k, y + radius, x, y + radius)
    sink.cubic(x - k, y + radius, x - radius, y + k, x - radius, y)
    sink.cubic(x - radius, y - k, x - k, y - radius, x, y - radius)
    sink.cubic(x + k, y - radius, x + radius, y - k, x + radius, y)
    sink.close()


def raster_picture() -> RasterPicture:
    """An RGBA picture: red at the top left, green below, clear at the right edge."""
    image = Image.new("RGBA", (64, 34), (213, 94, 0, 255))
    image.paste((0, 158, 115, 255), (0, 17, 64, 34))
    image.paste((0, 0, 0, 0), (56, 0, 64, 34))
    image.paste((86, 180, 233, 255), (0, 0, 10, 6))
    stream = BytesIO()
    image.save(stream, "PNG")
    return RasterPicture(stream.getvalue(), "png", image.size)


def faced_template() -> Template:
    """The bag tag: 60 × 30 mm, two faces, artwork on both."""
    base = plate(60.0, 30.0)
    reach = (-2.0, -2.0, 64.0, 34.0)
    return Template(
        name="test-tag",
        title="Saltmarsh tag, two faces",
        build="faced",
        rule="base",
        faces=("front", "back"),
        base=base,
        holes=(Polygon(base.interiors[0]),),
        size_mm=(60.0, 30.0),
        boxes=(
            text_box("name", "front", "print", "#17324d"),
            text_box("call", "back", "print", "#7a1f3d"),
        ),
        artwork={
            "front": Artwork("front", vector_picture(), reach, "a1" * 32),
            "back": Artwork("back", raster_picture(), reach, "b2" * 32),
        },
        fields=("name",),
        material="card-160",
        board="plywood-3",
        bleed_mm=BLEED_MM,
        turns_deg=(0.0, 90.0),
        samples={"name": "Marlo Teasel"},
        folder="/nowhere/test-tag",
        digest="c3" * 32,
    )


def bare_template() -> Template:
    """A plywood plate, 60 × 30 mm, engraved and marked."""
    base = plate(60.0, 30.0)
    return Template(
        name="test-plate",
        title="Dune plate",
        build="bare",
        rule="base",
        faces=("front",),
        base=base,
        holes=(Polygon(base.interiors[0]),),
        size_mm=(60.0, 30.0),
        boxes=(text_box("name", "front", "engrave", None),),
        artwork={},
        fields=("name",),
        material="plywood-3",
        board=None,
        bleed_mm=0.0,
        turns_deg=(0.0, 90.0),
        samples={"name": "Marlo Teasel"},
        folder="/nowhere/test-plate",
        digest="d4" * 32,
    )


def rows() -> tuple[Row, ...]:
    """Lines 2 (two copies), 3 (held) and 5 (one copy, a warning)."""
    return (
        Row(2, {"name": "Fenna", "group": "Gulls"}, {"name": "Fenna"}, 2, (_tidied(),)),
        Row(
            3,
            {"name": "=1+1", "group": 'Dunes, "north"\nside'},
            {"name": "=1+1"},
            0,
            (
                hold("quantity-zero", 'Line 3: the quantity is "0". Write 1 or more. Held.'),
                hold("no-sign", "Line 3: a second reason. Held."),
            ),
        ),
        Row(
            5,
            {"name": "Dúnlaith", "group": "-Tide"},
            {"name": "Dúnlaith"},
            1,
            (warn("small-text", "Line 5: the text is only 4 mm high. Look at it."),),
        ),
    )


def _tidied() -> Finding:
    """A note as the list room writes it."""
    return note("tidied", "Line 2: a space at the end was taken away.")


def name_list() -> NameList:
    """The list that the rows come from."""
    return NameList(
        source="kites.csv",
        sha256="e5" * 32,
        headers=("name", "group"),
        columns={"name": "name"},
        rows=rows(),
        blank_lines=1,
        reading="CSV, commas, UTF-8",
    )


def pieces(template: Template) -> tuple[Piece, ...]:
    """One piece for line 2 (two copies), one for line 5; equal outlines."""
    faced = template.build == "faced"
    made: Made = "print" if faced else "engrave"
    result = []
    for row, letter in ((rows()[0], letter_f), (rows()[2], letter_d)):
        front = MultiPolygon([letter(14.0, 8.0, 14.0), letter_f(30.0, 8.0, 14.0)])
        letterings = [
            lettering(
                "name", "front", row.fields["name"], made, "#17324d" if faced else None, front
            )
        ]
        if faced:
            back = MultiPolygon([letter_f(20.0, 10.0, 10.0)])
            letterings.append(lettering("call", "back", "F", "print", "#7a1f3d", back))
        proof = Proof(1, 5.0, (2.5, 15.0), 2.0, 0, Hang((5.0, 15.0), (32.0, 15.0), -12.3456789))
        result.append(
            Piece(
                line=row.line,
                copies=row.quantity,
                text={box.name: row.fields["name"] for box in template.boxes},
                outline=template.base,
                letterings=tuple(letterings),
                proof=proof,
                findings=row.findings,
            )
        )
    return tuple(result)


def _moved(points: Iterable[Sequence[float]], affine: Affine) -> tuple[tuple[float, float], ...]:
    """Ring coordinates on the sheet, rounded as the sheet room does, last point dropped."""
    moved = [apply_affine(affine, (point[0], point[1])) for point in points]
    return tuple((round(x, 4), round(y, 4)) for x, y in moved[:-1])


def _cuts(
    placements: tuple[Placement, ...], made: tuple[Piece, ...], engraved: bool
) -> tuple[CutPath, ...]:
    """Cut lines of all placements, operation by operation; half a kerf outside the outline."""
    by_id = {piece_id: piece for piece in made for piece_id in piece.ids}
    runs: dict[Operation, list[CutPath]] = {"mark": [], "engrave": [], "inner": [], "outer": []}
    for placement in placements:
        piece = by_id[placement.piece]
        owner = f"{placement.piece}.{placement.face}"
        affine = placement.outline_affine
        grown = piece.outline.buffer(KERF_MM / 2, join_style="mitre")
        runs["outer"].append(CutPath("outer", owner, _moved(grown.exterior.coords, affine)))
        runs["inner"].extend(
            CutPath("inner", owner, _moved(ring.coords, affine)) for ring in grown.interiors
        )
        if engraved:
            for part in piece.letterings[0].shape.geoms:
                runs["engrave"].extend(
                    CutPath("engrave", owner, _moved(ring.coords, affine), filled=True)
                    for ring in (part.exterior, *part.interiors)
                )
            line = box(14.0, 3.0, 50.0, 5.0).exterior.coords
            runs["mark"].append(CutPath("mark", owner, _moved(line, affine)))
    return tuple(cut for run in runs.values() for cut in run)


def _sheet(
    sheet_id: str,
    placements: tuple[Placement, ...],
    made: tuple[Piece, ...],
    *,
    engraved: bool = False,
) -> Sheet:
    """A sheet (``face-…``) or a board with everything measured."""
    face = sheet_id.startswith("face")
    cuts = _cuts(placements, made, engraved)
    usable = USABLE if face else (3.0, 3.0, BOARD_MM[0] - 6.0, BOARD_MM[1] - 6.0)
    area = sum(made[0].outline.area for _ in placements)
    return Sheet(
        id=sheet_id,
        kind="face" if face else "board",
        material="card-160" if face else "plywood-3",
        size_mm=SHEET_MM if face else BOARD_MM,
        usable_mm=usable,
        frame_mm=FRAME if face else (0.0, 0.0, *BOARD_MM),
        gap_mm=3.0,
        fill=area / (usable[2] * usable[3]),
        placements=placements,
        cuts=cuts,
        cut_length_mm=sum(Polygon(cut.points).length for cut in cuts),
        travel_mm=321.0987654,
        seconds=67.8901,
    )


def jig() -> Jig:
    """The frame as a mark and two windows at opposite corners."""
    x, y, w, h = FRAME

    def around(cx: float, cy: float) -> tuple[tuple[float, float], ...]:
        return ((cx - 5, cy - 5), (cx + 5, cy - 5), (cx + 5, cy + 5), (cx - 5, cy + 5))

    return Jig(
        SHEET_MM,
        FRAME,
        (
            CutPath("mark", "frame", ((x, y), (x + w, y), (x + w, y + h), (x, y + h))),
            CutPath("window", "corner-1", around(x, y)),
            CutPath("window", "corner-2", around(x + w, y + h)),
        ),
        SHEET_MM,
        3.0,
    )


def settings(template: Template) -> dict[str, object]:
    """What was chosen; a float and a list among it, to be kept as they are."""
    return {
        "template": template.name,
        "sheet": "a5",
        "gap_mm": 3.0,
        "columns": ["name"],
        "list": {"source": "kites.csv", "sha256": "e5" * 32},
    }


def _totals(sheets: int, boards: int) -> Totals:
    """Two of three rows made, three pieces."""
    return Totals(3, 2, 1, 3, sheets, sheets, boards, boards, 123.456, 2.06)


def _job(
    template: Template, sheets: tuple[Sheet, ...], made: tuple[Piece, ...], files: tuple[str, ...]
) -> Job:
    """The parts that both jobs share, and those they do not."""
    printed = template.build != "bare"
    x, y = FRAME[0] + 3.0, FRAME[1] + 3.0
    bars = (ScaleBar((x, y), (x + 100.0, y), 100.0), ScaleBar((x, y + 3), (x, y + 103), 100.0))
    return Job(
        template=template,
        workshop=workshop(files),
        names=name_list(),
        rows=rows(),
        pieces=made,
        sheets=sheets,
        jig=jig() if printed else None,
        scale_bars=bars if printed else (),
        bleed_mm=BLEED_MM if printed else 0.0,
        settings=settings(template),
        notes=("The workshop file holds example values.",),
        totals=_totals(1 if printed else 0, 1),
    )


def faced_job(files: tuple[str, ...] = ("svg", "dxf")) -> Job:
    """The bag tags: fronts and backs on one A5 page, three boards' worth on one board.

    Line 2's second copy is turned a quarter, so both turns are there on both faces.
    """
    template = faced_template()
    made = pieces(template)
    page = (
        Placement("L2-1", "front", 12.5, 14.0, 0.0, False),
        Placement("L2-1", "back", 135.6, 14.0, 0.0, True),
        Placement("L2-2", "front", 44.5, 50.0, 90.0, False),
        Placement("L2-2", "back", 78.0, 110.0, 90.0, True),
        Placement("L5-1", "front", 12.5, 120.0, 0.0, False),
        Placement("L5-1", "back", 135.6, 155.0, 0.0, True),
    )
    board = (
        Placement("L2-1", "board", 5.0, 5.0, 0.0, False),
        Placement("L2-2", "board", 105.0, 5.0, 90.0, False),
        Placement("L5-1", "board", 5.0, 60.0, 0.0, False),
    )
    sheets = (_sheet("face-001", page, made), _sheet("board-001", board, made))
    return _job(template, sheets, made, files)


def bare_job(files: tuple[str, ...] = ("svg", "dxf")) -> Job:
    """The plywood plates: one board, nothing printed."""
    template = bare_template()
    made = pieces(template)
    board = (
        Placement("L2-1", "front", 5.0, 5.0, 0.0, False),
        Placement("L2-2", "front", 105.0, 5.0, 90.0, False),
        Placement("L5-1", "front", 5.0, 60.0, 0.0, False),
    )
    return _job(template, (_sheet("board-001", board, made, engraved=True),), made, files)


def turned(point: tuple[float, float], angle_deg: float) -> tuple[float, float]:
    """A point turned counter-clockwise about the origin, worked out apart from the program."""
    c, s = cos(radians(angle_deg)), sin(radians(angle_deg))
    return c * point[0] - s * point[1], s * point[0] + c * point[1]
