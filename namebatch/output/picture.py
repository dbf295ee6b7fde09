"""One drawing of a piece, in mm, y up: the same for preview, proofs and work card.

A picture says what to draw and where; `preview` writes it as SVG, `picture_pdf` draws it on a
page.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache, reduce
from math import hypot
from typing import Protocol, TypeAlias

from shapely import MultiPolygon, Point, Polygon, affinity
from shapely.ops import nearest_points

from namebatch.curves import Point as Place
from namebatch.output.bridge_marks import Triangle, bridge_marks
from namebatch.output.coats import Blend, Coat, painted_texts
from namebatch.output.lettering import figure_path
from namebatch.output.plumb import Plumb, plumb_line
from namebatch.output.welded import outline_seen
from namebatch.piece import Piece
from namebatch.template.model import Artwork, FaceName, Template
from namebatch.template.workshop import Workshop

CUT_COLOUR = "#211f1b"
MEASURE_COLOUR = "#b4472e"
_SCORCH = (0x3B, 0x24, 0x14)
_BARE_TINT = "#e9dcc3"
_PAPER_TINT = "#fbfaf6"
_CLEARLY_WIDER = 1.3
_JOINT_MM = 0.02  # finer bends of a joint cannot be seen
Bounds: TypeAlias = tuple[float, float, float, float]


class Batch(Protocol):
    """What a picture shows beside its piece: that of a job, or of one that is still planned."""

    @property
    def template(self) -> Template:
        """What the pieces look like."""

    @property
    def workshop(self) -> Workshop:
        """Whose materials have colours."""


@dataclass(frozen=True, slots=True)
class Ink:
    """A text on a face, its stroke or its shadow: filled or drawn as a line.

    Attributes:
        shape: mm, as one sees the face.
        colour: ``#rrggbb``.
        filled: False for a line.
        blend: fills it instead of the colour where there is one.
    """

    shape: MultiPolygon
    colour: str
    filled: bool
    blend: Blend | None = None


@dataclass(frozen=True, slots=True)
class Measure:
    """The narrowest place as a dimension line.

    Attributes:
        arrows: two triangles that point at the two walls of the neck.
        lines: their tails, and the thin line that leads to the figure.
        text: the width with its unit, standing outside the piece.
        text_at: start of its baseline.
        text_size: height of its em, mm.
        bounds: x0, y0, x1, y1 of it all.
    """

    arrows: tuple[tuple[Place, Place, Place], ...]
    lines: tuple[tuple[Place, Place], ...]
    text: str
    text_at: Place
    text_size: float
    bounds: Bounds


@dataclass(frozen=True, slots=True)
class FacePicture:
    """One face as one sees it.

    Attributes:
        face: front or back.
        shift_mm: where the face's own origin lies in the picture.
        outline: the cut line, holes cut out, in the face's own coordinates.
        artwork: the print below the texts, clipped to the outline.
        inks: the texts in painting order.
        measure: on the front, if there is a narrowest place.
        bridges: triangles that point at bridges.
        joints: lines along which the piece is put together, point by point.
        board: what stands out of it from behind, the board's outline; None if nothing does.
        plumb: on the front, if the piece hangs.
    """

    face: FaceName
    shift_mm: Place
    outline: Polygon
    artwork: Artwork | None
    inks: tuple[Ink, ...]
    measure: Measure | None
    bridges: tuple[Triangle, ...] = ()
    joints: tuple[tuple[Place, ...], ...] = ()
    board: Polygon | None = None
    plumb: Plumb | None = None


@dataclass(frozen=True, slots=True)
class PiecePicture:
    """All faces of a piece side by side.

    Attributes:
        faces: front, then back.
        size_mm: width and height, margins for the figures included.
        tint: `#rrggbb` of the material.
        line_mm: width of the drawn cut line.
        board_tint: `#rrggbb` of the board, where one stands out.
        bare_box_mm: x0, y0, x1, y1 of what there is to see without measure and plumb line,
            the margin round it included.
    """

    faces: tuple[FacePicture, ...]
    size_mm: Place
    tint: str
    line_mm: float
    board_tint: str
    bare_box_mm: Bounds


def unit_for(size_mm: Place) -> float:
    """Height of figures, in mm of the picture, that suits a piece seen on its own."""
    return min(5.0, max(1.6, 0.05 * max(size_mm)))


def piece_picture(job: Batch, piece: Piece, unit_mm: float | None = None) -> PiecePicture:
    """The drawing of a piece.

    Args:
        job: the batch, or what is to be one: template and workshop are read.
        piece: one of its pieces.
        unit_mm: height of figures in mm of the picture; arrows, margins and lines follow it.
    """
    unit = unit_mm or unit_for(piece.size_mm)
    tint = _tint(job)
    measure, plumb = _measure(piece, unit), plumb_line(piece.proof.hang, piece.outline, unit)
    outlines = [(face, outline_seen(job.template, piece, face)) for face in _seen(job.template)]
    boards = [_board(piece, job.template, face) for face, _ in outlines]
    extents = [
        (board or outline).bounds for (_, outline), board in zip(outlines, boards, strict=True)
    ]
    bare = list(extents)
    for noted in (measure, plumb):
        if noted is not None:
            extents[0] = _together(extents[0], noted.bounds)
    margin = 0.5 * unit
    low = min(extent[1] for extent in extents)
    high = max(extent[3] for extent in extents)
    x, faces = margin, []
    for (face, outline), extent, board in zip(outlines, extents, boards, strict=True):
        faces.append(
            FacePicture(
                face=face,
                shift_mm=(x - extent[0], margin - low),
                outline=outline,
                artwork=job.template.artwork.get(face),
                inks=_inks(job, piece, face, tint),
                measure=measure if face == "front" else None,
                bridges=bridge_marks(piece, face, outline, job.template.size_mm[0], unit),
                joints=_joints(piece, face, job.template.size_mm[0]),
                board=board,
                plumb=plumb if face == "front" else None,
            )
        )
        x += extent[2] - extent[0] + 1.6 * unit
    size = (x - 1.6 * unit + margin, high - low + 2 * margin)
    return PiecePicture(
        tuple(faces), size, tint, 0.075 * unit, _board_tint(job), _round(faces, bare, margin)
    )


def plain_picture(job: Batch, piece: Piece, line_mm: float) -> PiecePicture:
    """A piece without measures: its front, and its back where there is text on it.

    Beside each other; of a piece that is clearly wider than high one above the other.

    Args:
        job: the batch, or what is to be one: template and workshop are read.
        piece: one of its pieces.
        line_mm: width of the cut line; margins and the gap between faces follow it.
    """
    tint, gap = _tint(job), 10 * line_mm
    texts = {lettering.face for lettering in piece.letterings}
    names = [face for face in _seen(job.template) if face == "front" or face in texts]
    outlines = [outline_seen(job.template, piece, face) for face in names]
    boards = [_board(piece, job.template, face) for face in names]
    seen = [board or outline for outline, board in zip(outlines, boards, strict=True)]
    sides = [(b[2] - b[0], b[3] - b[1]) for b in (shape.bounds for shape in seen)]
    below = sides[0][0] > _CLEARLY_WIDER * sides[0][1]
    wides, talls = [w for w, _ in sides], [h for _, h in sides]
    gaps = gap * (len(sides) - 1)
    across = max(wides) if below else sum(wides) + gaps
    high = sum(talls) + gaps if below else max(talls)
    x, y, faces = line_mm, high + line_mm, []
    for face, outline, board, (wide, tall) in zip(names, outlines, boards, sides, strict=True):
        low = (board or outline).bounds
        shift = (x - low[0], y - tall - low[1])
        inks = _inks(job, piece, face, tint)
        picture = job.template.artwork.get(face)
        joints = _joints(piece, face, job.template.size_mm[0])
        faces.append(
            FacePicture(face, shift, outline, picture, inks, None, joints=joints, board=board)
        )
        x, y = (x, y - tall - gap) if below else (x + wide + gap, y)
    size = (across + 2 * line_mm, high + 2 * line_mm)
    return PiecePicture(tuple(faces), size, tint, line_mm, _board_tint(job), (0.0, 0.0, *size))


def _inks(job: Batch, piece: Piece, face: FaceName, tint: str) -> tuple[Ink, ...]:
    """Everything that is printed, engraved or marked on a face, in painting order."""
    texts = painted_texts(job.template, piece, face)
    return tuple(ink for text in texts for coat in text.coats if (ink := _ink(coat, tint)))


def _joints(piece: Piece, face: FaceName, base_width_mm: float) -> tuple[tuple[Place, ...], ...]:
    """The lines between the parts as one sees a face."""
    lines = [joint.simplify(_JOINT_MM).coords for joint in piece.joints]
    if face == "back":
        return tuple(tuple((base_width_mm - x, y) for x, y in line) for line in lines)
    return tuple(tuple((x, y) for x, y in line) for line in lines)


def _board(piece: Piece, template: Template, face: FaceName) -> Polygon | None:
    """The board's outline as one sees a face, where it stands out of the print."""
    if piece.board is None or template.rim_mm <= 0.0:
        return None
    outline = piece.board.outline
    if face == "front":
        return outline
    return affinity.affine_transform(outline, (-1, 0, 0, 1, template.size_mm[0], 0))


def _board_tint(job: Batch) -> str:
    """The workshop's colour of the board."""
    material = job.workshop.materials.get(job.template.board or "")
    return _BARE_TINT if material is None else material.colour


def _round(faces: Sequence[FacePicture], extents: Sequence[Bounds], margin: float) -> Bounds:
    """What faces take up in the picture, and a margin round it."""
    moved = [
        (x0 + face.shift_mm[0], y0 + face.shift_mm[1], x1 + face.shift_mm[0], y1 + face.shift_mm[1])
        for face, (x0, y0, x1, y1) in zip(faces, extents, strict=True)
    ]
    x0, y0, x1, y1 = reduce(_together, moved)
    return (x0 - margin, y0 - margin, x1 + margin, y1 + margin)


def _together(one: Bounds, other: Bounds) -> Bounds:
    """The least upright rectangle round two."""
    return (
        min(one[0], other[0]),
        min(one[1], other[1]),
        max(one[2], other[2]),
        max(one[3], other[3]),
    )


def _seen(template: Template) -> tuple[FaceName, ...]:
    """The faces worth a picture; a piece without print still has its front."""
    return template.faces or ("front",)


def _tint(job: Batch) -> str:
    """The workshop's colour of what is seen: paper or bare material."""
    material = job.workshop.materials.get(job.template.material)
    if material is not None:
        return material.colour
    return _BARE_TINT if job.template.build == "bare" else _PAPER_TINT


def _ink(coat: Coat, tint: str) -> Ink | None:
    """How a text looks; a part of the outline without print has no ink of its own."""
    if coat.shape.is_empty:
        return None
    if coat.colour is not None and coat.made in ("print", "outline"):
        return Ink(coat.shape, coat.colour, filled=True, blend=coat.blend)
    if coat.made == "print":
        return Ink(coat.shape, "#000000", filled=True)
    if coat.made in ("engrave", "mark"):
        return Ink(coat.shape, scorched(tint), filled=coat.made == "engrave")
    return None


@lru_cache(maxsize=64)
def scorched(tint: str) -> str:
    """The colour of an engraving on a material: the tint, burnt by seven tenths."""
    channels = (int(tint[i : i + 2], 16) for i in (1, 3, 5))
    burnt = (round(0.3 * c + 0.7 * s) for c, s in zip(channels, _SCORCH, strict=True))
    return "#" + "".join(f"{c:02x}" for c in burnt)


def _measure(piece: Piece, unit: float) -> Measure | None:
    """The dimension line across the narrowest neck, its figure outside the piece."""
    proof = piece.proof
    if proof.narrowest_at is None:
        return None
    x, y = proof.narrowest_at
    dx, dy = _across(piece.outline, (x, y))
    half = proof.narrowest_mm / 2
    arrows, lines = [], []
    for side in (1.0, -1.0):
        tip = (x + side * dx * half, y + side * dy * half)
        back = (tip[0] + side * dx * 0.8 * unit, tip[1] + side * dy * 0.8 * unit)
        wing = 0.22 * unit
        arrows.append(
            (
                tip,
                (back[0] - dy * wing, back[1] + dx * wing),
                (back[0] + dy * wing, back[1] - dx * wing),
            )
        )
        lines.append((back, (back[0] + side * dx * 0.7 * unit, back[1] + side * dy * 0.7 * unit)))
    x0, y0, x1, y1 = piece.outline.bounds
    up = y1 - y <= y - y0
    tails = [end[1] for _, end in lines]
    end = (x, max(y1 + 0.35 * unit, *tails) if up else min(y0 - 0.35 * unit, *tails))
    lines.append(((x, y), end))
    text = f"{proof.narrowest_mm:.2f} mm"
    width = figure_path(text, 1.0, 700)[1] * unit
    left = min(max(x - width / 2, x0), max(x0, x1 - width))
    base = end[1] + 0.25 * unit if up else end[1] - 0.95 * unit
    corners = [point for line in lines for point in line]
    corners += [(left, base), (left + width, base + 0.7 * unit)]
    xs, ys = [px for px, _ in corners], [py for _, py in corners]
    bounds = (min(xs), min(ys), max(xs), max(ys))
    return Measure(tuple(arrows), tuple(lines), text, (left, base), unit, bounds)


def _across(outline: Polygon, at: Place) -> Place:
    """Unit direction from a place in a neck to its nearer wall."""
    here = Point(at)
    wall = nearest_points(outline.boundary, here)[0]
    dx, dy = wall.x - at[0], wall.y - at[1]
    length = hypot(dx, dy)
    return (dx / length, dy / length) if length > 1e-6 else (1.0, 0.0)
