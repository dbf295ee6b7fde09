"""A validated template, as the later rooms see it. All lengths in mm, y up.

The origin is the bottom left corner of the base's bounding box. Text boxes and artwork of
the back face are given as one sees the back: turned over about its upright axis, the origin
again at the bottom left of what one sees.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from shapely import MultiPolygon, Polygon

from namebatch.curves import Path
from namebatch.finding import Finding
from namebatch.template.textbox import FaceName as FaceName
from namebatch.template.textbox import Made as Made
from namebatch.template.textbox import TextBox as TextBox

Build = Literal["faced", "printed", "bare"]
Rule = Literal["base", "weld", "contour", "open"]
Corners = Literal["round", "mitred", "smooth"]
Near = Literal[
    "top", "bottom", "left", "right", "top-left", "top-right", "bottom-left", "bottom-right"
]
JointKind = Literal["straight", "keyed"]
Laminate = Literal["none", "pouch", "film"]
Tape = Literal["none", "face", "board"]


@dataclass(frozen=True, slots=True)
class PaintedPath:
    """One flat shape of vector artwork.

    Attributes:
        path: in mm, y up, origin at the picture's bottom left corner.
        fill, stroke: ``#rrggbb`` or None.
        fill_rule: how overlapping contours count.
        fill_opacity, stroke_opacity: 0 to 1, everything above it multiplied in.
        stroke_width: mm.
        line_cap, line_join: as in SVG.
    """

    path: Path
    fill: str | None
    fill_rule: Literal["nonzero", "evenodd"]
    fill_opacity: float
    stroke: str | None
    stroke_width: float
    stroke_opacity: float
    line_cap: Literal["butt", "round", "square"]
    line_join: Literal["miter", "round", "bevel"]


@dataclass(frozen=True, slots=True)
class VectorPicture:
    """Flat vector artwork: shapes in painting order, size in mm."""

    shapes: tuple[PaintedPath, ...]
    size_mm: tuple[float, float]


@dataclass(frozen=True, slots=True)
class RasterPicture:
    """A photograph or a drawing in pixels.

    Attributes:
        data: an encoded PNG (RGB or RGBA, 8 bit) or JPEG (RGB or grey, 8 bit), upright.
        kind: which of the two.
        size_px: width and height.
    """

    data: bytes
    kind: Literal["png", "jpeg"]
    size_px: tuple[int, int]


@dataclass(frozen=True, slots=True)
class Artwork:
    """The picture of one face.

    Attributes:
        face: front or back.
        picture: vector or raster.
        box_mm: where the whole picture lands, x, y, width, height (it may reach past the
            base; what is printed is clipped to the outline plus the bleed).
        digest: SHA-256 of the file, hexadecimal: equal pictures are embedded once.
        seen: in the coordinates of the face, all that is printed of the picture: what was
            traced from a plain ground; None for the whole picture.
    """

    face: FaceName
    picture: VectorPicture | RasterPicture
    box_mm: tuple[float, float, float, float]
    digest: str
    seen: MultiPolygon | None = None


@dataclass(frozen=True, slots=True)
class ContourRule:
    """How the cut line runs round name and base (rule ``contour``).

    Attributes:
        distance_mm: from name and base to the line.
        corners: outside corners round, mitred, or round with a line that flows.
        inside_radius_mm: no inside corner is tighter.
        gap_mm: gaps and holes narrower than this are closed.
        least_hole_mm2: holes of at least this area stay; None fills all of them.
    """

    distance_mm: float
    corners: Corners
    inside_radius_mm: float
    gap_mm: float
    least_hole_mm2: float | None


@dataclass(frozen=True, slots=True)
class FoundHole:
    """A hole whose place is found for every piece, so that it hangs straight.

    Attributes:
        shape: round, or a slot along the edge.
        width_mm: diameter, or width of the slot.
        length_mm: overall; the diameter if round.
        near: the edge or corner that is up, or a point x, y.
        wall_mm: least material round the hole.
        tab: a tab may be grown where the shape has no room.
    """

    shape: Literal["round", "slot"]
    width_mm: float
    length_mm: float
    near: Near | tuple[float, float]
    wall_mm: float
    tab: bool


@dataclass(frozen=True, slots=True)
class JointRule:
    """How pieces that are larger than a sheet are put together from parts.

    Attributes:
        kind: plain edges that meet, or keys that hold the parts together.
        fit_mm: clear gap between two finished parts, all along the joint.
        at_x_mm, at_y_mm: joint lines of every piece, from the base's corner, rising; both empty
            where they are found, and then only for pieces that do not fit a sheet.
        key_mm: width of a key at its neck; None where it follows from joint and material.
    """

    kind: JointKind
    fit_mm: float
    at_x_mm: tuple[float, ...]
    at_y_mm: tuple[float, ...]
    key_mm: float | None

    @property
    def is_given(self) -> bool:
        """True if the template says where the lines are."""
        return bool(self.at_x_mm or self.at_y_mm)


@dataclass(frozen=True, slots=True)
class Finish:
    """What is done to a print beside printing and cutting.

    Attributes:
        laminate: a pouch round the whole page, film on what is printed, or none.
        laminate_mm: thickness of one side; 0 without.
        tape: laid on the back of the print before it is cut, or on the board before it is cut;
            with none what holds the print is chosen when it is mounted.
        tape_mm: thickness of the tape, None if it is not known.
        mounted: the printed page is mounted on a sheet of the material, and both are cut in one.
    """

    laminate: Laminate = "none"
    laminate_mm: float = 0.0
    tape: Tape = "none"
    tape_mm: float | None = None
    mounted: bool = False


@dataclass(frozen=True, slots=True)
class Template:
    """What a piece looks like.

    Attributes:
        name: the folder's name.
        title: for people.
        build: ``faced``, ``printed`` or ``bare``.
        rule: name of the outline rule.
        faces: printed sides (``bare`` has none printed, and still its ``front``).
        base: the fixed shape, holes of the drawing and of `holes` cut out; empty when the
            template has none (rule ``contour`` only).
        holes: the round holes and slots with a given place, each as its own shape.
        size_mm: width and height of the base; without one, of what the text boxes reach.
        boxes: text boxes in painting order.
        artwork: face → picture.
        fields: columns that the list must give, in order of first use.
        material: name of the material that is printed on (``faced``, ``printed``) or cut
            (``bare``), in the workshop file.
        board: name of the backing material (``faced`` only).
        bleed_mm: how far the print reaches past the outline.
        turns_deg: turns a piece may take on a sheet.
        samples: texts by field, for pictures of the template.
        folder: where it was read, for faces that lie beside it.
        digest: SHA-256 over all its files.
        contour: sizes of the rule ``contour``, None with other rules.
        found_holes: holes whose place is found for every piece, after `holes` in order.
        warnings: about the template, for its maker and for whoever makes a job of it.
        colours: words that the list may use for colours, in small letters → ``#rrggbb``.
        joint: how pieces larger than a sheet are split; None where they are not.
        finish: laminate and mounting tape.
        rim_mm: the board stands out of the print by so much all round, or is smaller if below 0.
    """

    name: str
    title: str
    build: Build
    rule: Rule
    faces: tuple[FaceName, ...]
    base: Polygon
    holes: tuple[Polygon, ...]
    size_mm: tuple[float, float]
    boxes: tuple[TextBox, ...]
    artwork: Mapping[FaceName, Artwork]
    fields: tuple[str, ...]
    material: str
    board: str | None
    bleed_mm: float
    turns_deg: tuple[float, ...]
    samples: Mapping[str, str]
    folder: str
    digest: str
    contour: ContourRule | None = None
    found_holes: tuple[FoundHole, ...] = ()
    warnings: tuple[Finding, ...] = ()
    colours: Mapping[str, str] = field(default_factory=dict)
    joint: JointRule | None = None
    finish: Finish = Finish()
    rim_mm: float = 0.0

    @property
    def has_backs(self) -> bool:
        """True if fronts and backs are printed on two sheets that are stuck back to back."""
        return self.build == "printed" and "back" in self.faces
