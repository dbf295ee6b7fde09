"""The keys of ``template.toml``, one model a table. Checks across tables are in `checks`."""

import unicodedata
from typing import Annotated, Literal

from pydantic import AfterValidator, BaseModel, ConfigDict, Field

from namebatch.template.language import language_tag
from namebatch.template.model import Build, Corners, Near, Rule
from namebatch.template.problems import shown
from namebatch.template.textbox import (
    STEPS,
    Align,
    Case,
    Centring,
    FaceName,
    Letters,
    Made,
    Side,
    Step,
    TwoLines,
    Vertical,
)

UNSEEN = frozenset(
    "\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069\u200e\u200f\u061c"
    "\u00ad\u200b\u2060\u2061\u2062\u2063\u2064\ufeff\u115f\u1160\u3164\uffa0\u2800\ufffd"
)
"""Marks that turn the reading direction, unseen and blank signs, and the sign of a lost one. The
zero-width joiners are part of some scripts' spelling."""


def _plain(text: str) -> str:
    """Text without control characters and unseen marks, with something to see in it."""
    if not text.strip():
        raise ValueError("is empty; write something between the quotes.")
    for char in text:
        if ord(char) < 32 or 127 <= ord(char) < 160:
            raise ValueError(f"holds a control character (U+{ord(char):04X}); take it out.")
        if char in UNSEEN:
            name = unicodedata.name(char, "unseen character").lower()
            raise ValueError(
                f"holds U+{ord(char):04X} {name}, which is not seen and may change how the rest is "
                "set; take it out, or type the line anew."
            )
    return text


def _some_font(fonts: list[str]) -> list[str]:
    """At least one typeface."""
    if not fonts:
        raise ValueError(
            "is empty; name at least one typeface, as in "
            'fonts = ["Noto Sans SemiBold"] ("namebatch fonts" lists them).'
        )
    return fonts


def _first_format(value: int) -> int:
    """The one format that there is so far."""
    if value != 1:
        raise ValueError(f"is {shown(value)}; this version of namebatch reads format 1.")
    return value


def _hex_colour(text: str) -> str:
    """A colour as six hexadecimal digits, in small letters."""
    digits = text[1:]
    if len(text) != 7 or text[0] != "#" or any(c not in "0123456789abcdefABCDEF" for c in digits):
        raise ValueError('must be a colour as "#rrggbb", for example "#17324d".')
    return text.lower()


def _numbers(count: int, names: str) -> AfterValidator:
    """A list of exactly so many numbers."""

    def check(values: list[float]) -> list[float]:
        if len(values) != count:
            raise ValueError(f"needs {count} numbers, [{names}], not {len(values)}.")
        return values

    return AfterValidator(check)


def _box(values: list[float]) -> list[float]:
    """A box with some width and height."""
    for name, value in zip(("width", "height"), values[2:], strict=True):
        if not 0.1 <= value <= FARTHEST_MM:
            raise ValueError(f"has a {name} of {value:g} mm; it must be 0.1 to {FARTHEST_MM:g} mm.")
    return values


FARTHEST_MM = 3000.0
"""Nothing in a template lies farther out or is larger."""

Plain = Annotated[str, Field(max_length=120), AfterValidator(_plain)]
Colour = Annotated[str, AfterValidator(_hex_colour)]
Coordinate = Annotated[float, Field(ge=-FARTHEST_MM, le=FARTHEST_MM)]
Size = Annotated[float, Field(gt=0.0, le=FARTHEST_MM)]
Radius = Annotated[float, Field(ge=0.0, le=FARTHEST_MM)]
Angle = Annotated[float, Field(ge=-360.0, le=360.0)]
At = Annotated[list[Coordinate], _numbers(2, "x, y")]
Box = Annotated[list[Coordinate], _numbers(4, "x, y, width, height"), AfterValidator(_box)]


class Table(BaseModel):
    """A table of the file: no unknown keys, no silent conversion, no NaN."""

    model_config = ConfigDict(extra="forbid", strict=True, frozen=True, allow_inf_nan=False)


class Head(Table):
    """The keys above the first table."""

    format: Annotated[int, AfterValidator(_first_format)]
    title: Plain
    build: Build
    rule: Rule = "base"
    faces: Annotated[list[FaceName], Field(min_length=1, max_length=2)] = ["front"]
    material: Plain
    board: Plain | None = None
    rim_mm: Annotated[float, Field(ge=-20.0, le=50.0)] | None = None
    bleed_mm: Annotated[float, Field(ge=0.0, le=10.0)] | None = None
    turns_deg: Annotated[list[float], Field(min_length=1, max_length=4)] = [0.0, 90.0]


class Contour(Table):
    """``[contour]``, with rule = "contour" only."""

    distance_mm: Annotated[float, Field(ge=0.0, le=50.0)]
    corners: Corners = "round"
    inside_radius_mm: Annotated[float, Field(ge=0.0, le=50.0)] = 0.5
    gap_mm: Annotated[float, Field(ge=0.0, le=50.0)] = 1.0
    least_hole_mm2: Annotated[float, Field(gt=0.0)] | None = None


class TracedBase(Table):
    """``[base]`` from the artwork; one final side of the whole picture is given.

    Places of text boxes and holes count from the corner of what was traced, as with any base.
    """

    trace: Literal["front"]
    inset_mm: Annotated[float, Field(ge=0.0, le=20.0)] | None = None
    outset_mm: Annotated[float, Field(ge=0.0, le=50.0)] | None = None
    width_mm: Size | None = None
    height_mm: Size | None = None
    keep_holes: bool = False
    speck_mm2: Annotated[float, Field(ge=0.0, le=1000.0)] = 1.0


class Drawing(Table):
    """``[base]`` from a file."""

    drawing: Plain


class RoundedRectangle(Table):
    """``[base]`` with straight sides; sizes are the outer ones."""

    shape: Literal["rounded-rectangle"]
    width_mm: Size
    height_mm: Size
    corner_mm: Radius = 0.0


class Circle(Table):
    """``[base]`` a circle."""

    shape: Literal["circle"]
    diameter_mm: Size


class Ellipse(Table):
    """``[base]`` an ellipse, axes upright."""

    shape: Literal["ellipse"]
    width_mm: Size
    height_mm: Size


class RegularPolygon(Table):
    """``[base]`` with equal sides; the diameter is that of the circle round it."""

    shape: Literal["regular-polygon"]
    sides: Annotated[int, Field(ge=3, le=60)]
    diameter_mm: Size
    angle_deg: Angle = 0.0
    corner_mm: Radius = 0.0


class LuggageTag(Table):
    """``[base]`` a rectangle with its two left corners cut off."""

    shape: Literal["luggage-tag"]
    width_mm: Size
    height_mm: Size
    corner_mm: Radius = 0.0
    chamfer_mm: Size


BaseShape = RoundedRectangle | Circle | Ellipse | RegularPolygon | LuggageTag
BASES: dict[str, type[BaseShape]] = {
    "rounded-rectangle": RoundedRectangle,
    "circle": Circle,
    "ellipse": Ellipse,
    "regular-polygon": RegularPolygon,
    "luggage-tag": LuggageTag,
}


class RoundHole(Table):
    """``[[hole]]`` round."""

    shape: Literal["round"]
    at_mm: At
    diameter_mm: Size


class Slot(Table):
    """``[[hole]]`` with two round ends; the length is the overall one."""

    shape: Literal["slot"]
    at_mm: At
    length_mm: Size
    width_mm: Size
    angle_deg: Angle = 0.0


class FindRound(Table):
    """``[[hole]]`` round, with its place to be found: by `find` or `near_mm`."""

    shape: Literal["round"]
    find: Near | None = None
    near_mm: At | None = None
    diameter_mm: Annotated[float, Field(ge=0.5, le=100.0)]
    wall_mm: Annotated[float, Field(ge=0.5, le=100.0)] = 2.0
    tab: bool = True


class FindSlot(Table):
    """``[[hole]]`` along the edge near which its place is to be found."""

    shape: Literal["slot"]
    find: Near | None = None
    near_mm: At | None = None
    length_mm: Annotated[float, Field(ge=0.5, le=200.0)]
    width_mm: Annotated[float, Field(ge=0.5, le=100.0)]
    wall_mm: Annotated[float, Field(ge=0.5, le=100.0)] = 2.0
    tab: bool = True


HoleShape = RoundHole | Slot
FoundShape = FindRound | FindSlot
HOLES: dict[str, type[HoleShape]] = {"round": RoundHole, "slot": Slot}


FINDS: dict[str, type[FoundShape]] = {"round": FindRound, "slot": FindSlot}


class ArtworkTable(Table):
    """``[artwork.front]`` and ``[artwork.back]``."""

    file: Plain
    box_mm: Box | None = None


Room = Annotated[list[Annotated[float, Field(ge=0.0, le=FARTHEST_MM)]], _numbers(2, "below, above")]
Language = Annotated[str, AfterValidator(language_tag)]


class ArcTable(Table):
    """``[text.arc]``: a baseline along a circle."""

    centre_mm: At
    radius_mm: Size
    middle_deg: Angle | None = None
    sweep_deg: Annotated[float, Field(gt=0.0, le=360.0)] = 150.0
    side: Side = "outside"
    letters: Letters = "turned"
    room_mm: Room | None = None


class PathTable(Table):
    """``[text.path]``: a baseline along a line of the base drawing."""

    id: Plain
    offset_mm: Coordinate = 0.0
    reverse: bool = False
    letters: Letters = "turned"
    room_mm: Room | None = None


class SafeAreaTable(Table):
    """``[text.safe_area]``: the base less a margin."""

    margin_mm: Annotated[float, Field(ge=0.0, le=FARTHEST_MM)]
    line_mm: Annotated[float, Field(ge=0.0, le=FARTHEST_MM)] | None = None


class StrokeTable(Table):
    """``[text.stroke]``: a line round the letters."""

    colour: Colour
    width_mm: Annotated[float, Field(gt=0.0, le=20.0)]


class ShadowTable(Table):
    """``[text.shadow]``."""

    colour: Colour
    shift_mm: At


class GradientTable(Table):
    """``[text.gradient]``."""

    start: Colour
    end: Colour
    angle_deg: Angle = 0.0


class Text(Table):
    """``[[text]]``."""

    name: Annotated[Plain, Field(max_length=60)] | None = None
    column: Annotated[Plain, Field(max_length=60)] | None = None
    formula: Annotated[Plain, Field(max_length=200)] | None = None
    line: Annotated[Plain, Field(max_length=200)] | None = None
    face: FaceName = "front"
    box_mm: Box | None = None
    arc: ArcTable | None = None
    path: PathTable | None = None
    safe_area: SafeAreaTable | None = None
    fonts: Annotated[list[Plain], Field(max_length=10), AfterValidator(_some_font)]
    made: Made | None = None
    colour: Colour | None = None
    colour_column: Annotated[Plain, Field(max_length=60)] | None = None
    stroke: StrokeTable | None = None
    shadow: ShadowTable | None = None
    gradient: GradientTable | None = None
    align: Align = "centre"
    vertical: Vertical = "middle"
    baseline_mm: Coordinate | None = None
    centring: Centring = "optical"
    min_height_mm: Annotated[float, Field(ge=0.5, le=500.0)]
    max_height_mm: Annotated[float, Field(ge=0.5, le=500.0)]
    tracking: Annotated[float, Field(ge=-0.2, le=1.0)] = 0.0
    optional: bool = False
    case: Case = "as-typed"
    language: Language | None = None
    one_size: bool = False
    smaller_share: Annotated[float, Field(ge=0.0, le=0.5)] = 0.0
    if_too_long: Annotated[list[Step], Field(max_length=5)] = list(STEPS)
    tightest: Annotated[float, Field(ge=-0.2, le=0.0)] = -0.05
    narrowest: Annotated[float, Field(ge=0.4, le=1.0)] = 0.75
    line_gap: Annotated[float, Field(ge=1.0, le=4.0)] = 1.6
    two_lines: TwoLines | None = None
