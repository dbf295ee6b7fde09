"""Filled sheets, as the output room sees them. Millimetres from the bottom left corner, y up."""

from dataclasses import dataclass, field
from math import cos, radians, sin
from typing import Literal

from shapely import MultiPolygon

from namebatch.curves import Affine, Point, compose

Operation = Literal["mark", "engrave", "inner", "outer", "window"]
RUN_ORDER: tuple[Operation, ...] = ("mark", "engrave", "inner", "outer", "window")
"""Marks and engraving need the material to lie still; nothing is cut free before everything
inside it is done."""

PlacedFace = Literal["front", "back", "board"]
Rect = tuple[float, float, float, float]
"""x, y, width, height."""


@dataclass(frozen=True, slots=True)
class Placement:
    """Where one face of one piece lies on a sheet.

    The piece's own drawing is first mirrored (x → −x) if `mirrored`, then turned
    counter-clockwise about its origin, then moved by `x_mm`, `y_mm`.

    Attributes:
        piece: id, ``L14-2``.
        face: ``front``, ``back`` or ``board``.
        x_mm, y_mm: where the piece's origin comes to lie.
        rotation_deg: counter-clockwise.
        mirrored: True for the back face, whose outline is the front's turned over.
    """

    piece: str
    face: PlacedFace
    x_mm: float
    y_mm: float
    rotation_deg: float
    mirrored: bool

    @property
    def outline_affine(self) -> Affine:
        """From the piece's own coordinates (seen from the front) to the sheet."""
        turn = _turn(self.rotation_deg, self.x_mm, self.y_mm)
        return compose(turn, (-1.0, 0.0, 0.0, 1.0, 0.0, 0.0)) if self.mirrored else turn

    def view_affine(self, base_width_mm: float) -> Affine:
        """From the coordinates of the face as one sees it to the sheet; never mirrors.

        Artwork and letterings of a back are given from the bottom left corner of what one
        sees, so they are moved back by the base's width.
        """
        turn = _turn(self.rotation_deg, self.x_mm, self.y_mm)
        return compose(turn, (1.0, 0.0, 0.0, 1.0, -base_width_mm, 0.0)) if self.mirrored else turn

    def behind_affine(self, base_width_mm: float, sheet_width_mm: float) -> Affine:
        """From the back as one sees it to a page that is stuck to the back of the sheet.

        The page is the sheet turned over left to right, the back the front turned over: two
        mirrors, so that nothing on the page is mirrored.
        """
        seen = compose(self.outline_affine, _turned_over(base_width_mm))
        return compose(_turned_over(sheet_width_mm), seen)


def _turned_over(width_mm: float) -> Affine:
    """What lies on one side, from its own bottom left corner, as it lies on the other."""
    return -1.0, 0.0, 0.0, 1.0, width_mm, 0.0


def _turn(angle_deg: float, x: float, y: float) -> Affine:
    """Rotation about the origin, then a move; quarter turns are exact."""
    quarter = {0.0: (1.0, 0.0), 90.0: (0.0, 1.0), 180.0: (-1.0, 0.0), 270.0: (0.0, -1.0)}
    c, s = quarter.get(angle_deg % 360.0) or (cos(radians(angle_deg)), sin(radians(angle_deg)))
    return c, s, -s, c, x, y


@dataclass(frozen=True, slots=True)
class CutPath:
    """One closed line that the cutter follows.

    Attributes:
        operation: what it does there.
        owner: ``PIECE.FACE``, or ``frame``, ``corner-1`` … on a jig.
        points: mm on the sheet, four decimals, first point not repeated.
        filled: the inside is engraved (even-odd with its owner's other filled paths).
        bulges: one a point: the tangent of a quarter of the included angle of the arc to the
            next point, counter-clockwise positive, 0 for a straight line; empty when all are.
        deviation_mm: the line is at most so far from the curve it stands for.
    """

    operation: Operation
    owner: str
    points: tuple[Point, ...]
    filled: bool = False
    bulges: tuple[float, ...] = ()
    deviation_mm: float = 0.0


@dataclass(frozen=True, slots=True)
class Sheet:
    """A page that is printed and cut, or a board that is cut.

    Attributes:
        id: ``face-001``, ``board-001`` …
        kind: ``face`` (printed) or ``board``.
        material: name in the workshop file.
        size_mm: width and height.
        usable_mm: where cut lines may lie.
        frame_mm: the registration rectangle (a board's own edge on boards).
        gap_mm: least distance of two cut lines of different pieces.
        fill: area of the pieces over the usable area, 0 to 1.
        placements: in list order of the pieces.
        cuts: in the order in which they run, operation by operation.
        cut_length_mm, travel_mm: totals.
        seconds: expected time at the cutter.
        part_used: what the workshop calls the part-used board that it is; empty for a new sheet.
        used: what of it is gone.
        backs: the backs of its pieces are printed on a second page, turned over left to right,
            and both are stuck back to back before they are cut.
    """

    id: str
    kind: Literal["face", "board"]
    material: str
    size_mm: tuple[float, float]
    usable_mm: Rect
    frame_mm: Rect
    gap_mm: float
    fill: float
    placements: tuple[Placement, ...]
    cuts: tuple[CutPath, ...]
    cut_length_mm: float
    travel_mm: float
    seconds: float
    part_used: str = ""
    used: MultiPolygon = field(default_factory=MultiPolygon)
    backs: bool = False


@dataclass(frozen=True, slots=True)
class ScaleBar:
    """A line of known length on a printed page: from one point to another, in mm."""

    start: Point
    end: Point
    length_mm: float


@dataclass(frozen=True, slots=True)
class Jig:
    """The sheet that is fixed to the cutter's bed.

    Attributes:
        size_mm: of the sheet; its bottom left corner is the page's.
        frame_mm: the rectangle that is marked, in the coordinates of the page.
        cuts: the frame (``mark``) and the two corner windows (``window``).
        page_mm: size of the printed pages.
        web_mm: the narrowest strip that is left beside the windows.
    """

    size_mm: tuple[float, float]
    frame_mm: Rect
    cuts: tuple[CutPath, ...]
    page_mm: tuple[float, float]
    web_mm: float

    @property
    def is_larger(self) -> bool:
        """True if it reaches out over the page, to lie on what is larger than the page."""
        return self.size_mm != self.page_mm
