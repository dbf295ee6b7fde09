"""A text box: what it says, where it stands, how large it may be and how it is painted."""

from dataclasses import dataclass
from typing import Literal

from shapely import LineString, Polygon

from namebatch.template.wording import Wording

FaceName = Literal["front", "back"]
Made = Literal["print", "engrave", "mark", "outline"]
Align = Literal["left", "centre", "right"]
Vertical = Literal["top", "middle", "bottom", "baseline"]
Side = Literal["outside", "inside"]
Letters = Literal["turned", "upright"]
Centring = Literal["ink", "optical"]
Case = Literal["as-typed", "capitals", "small", "title"]
TwoLines = Literal["too-long", "larger"]
Step = Literal["tracking", "width", "face", "two-lines", "initials"]

STEPS: tuple[Step, ...] = ("tracking", "width", "face", "two-lines")
"""What is tried, in this order, before a text is held as too long; initials only if asked for."""


@dataclass(frozen=True, slots=True)
class Arc:
    """A place along a circle.

    Attributes:
        centre_mm: of the circle.
        radius_mm: of the baseline.
        middle_deg: where the text's middle stands, counter-clockwise from three o'clock.
        sweep_deg: angle that the text may take.
        side: letters stand on the circle with their heads outwards (they read clockwise) or
            inside it with their heads to the centre (they read counter-clockwise).
        letters: turned along the circle, or each upright.
        room_mm: how far ink may reach below and above the baseline.
        room_given: by the template; else it is as much as the typefaces want.
        moved_mm: by how much a text was moved by hand, on along the baseline and off it.
        most_mm: how much room there is at most below and above the baseline; None: no bound.
    """

    centre_mm: tuple[float, float]
    radius_mm: float
    middle_deg: float
    sweep_deg: float
    side: Side
    letters: Letters
    room_mm: tuple[float, float]
    room_given: bool = True
    moved_mm: tuple[float, float] = (0.0, 0.0)
    most_mm: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True)
class AlongPath:
    """A place along a line of the base drawing; letters stand on its left as it runs.

    Attributes:
        name: id of the element in the drawing.
        line: the baseline in mm, already offset and reversed as asked.
        letters: turned along the line, or each upright.
        room_mm, room_given, moved_mm, most_mm: as for an arc.
    """

    name: str
    line: LineString
    letters: Letters
    room_mm: tuple[float, float]
    room_given: bool = True
    moved_mm: tuple[float, float] = (0.0, 0.0)
    most_mm: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True)
class SafeArea:
    """The base less a margin: the largest text that fits into it anywhere.

    Attributes:
        margin_mm: kept free along every edge and hole.
        area: what is left of the base, one polygon, the largest if it falls into several.
        line_mm: y of the line on which names stand with the middle of their capitals; None if
            it follows from the area.
    """

    margin_mm: float
    area: Polygon
    line_mm: float | None = None


@dataclass(frozen=True, slots=True)
class Stroke:
    """A line round the letters in print; half of its width lies outside of them.

    Attributes:
        colour: ``#rrggbb``.
        width_mm: of the line.
    """

    colour: str
    width_mm: float


@dataclass(frozen=True, slots=True)
class Shadow:
    """A second print of the letters beneath them.

    Attributes:
        colour: ``#rrggbb``.
        shift_mm: to the right and up.
    """

    colour: str
    shift_mm: tuple[float, float]


@dataclass(frozen=True, slots=True)
class Gradient:
    """Two colours that run into each other across the ink.

    Attributes:
        start, end: ``#rrggbb``.
        angle_deg: direction from start to end, counter-clockwise from three o'clock.
    """

    start: str
    end: str
    angle_deg: float


@dataclass(frozen=True, slots=True)
class Paint:
    """How a printed text is painted beside its plain colour.

    Attributes:
        stroke, shadow, gradient: None where not asked for.
        colour_field: field of the list that gives the colour of a row.
    """

    stroke: Stroke | None = None
    shadow: Shadow | None = None
    gradient: Gradient | None = None
    colour_field: str | None = None


@dataclass(frozen=True, slots=True)
class Sizing:
    """How large the texts of a batch are.

    Attributes:
        alike: one size for the whole batch.
        smaller_share: of the texts, how many may be set smaller than the one size.
        steps: what is tried before a text is held as too long.
        tightest: least tracking, as a share of the capitals' height.
        narrowest: least width as a share of the face's own, by its width axis.
        line_gap: from baseline to baseline, in capitals' heights, where a text takes two lines.
        two_lines_larger: it takes two lines also where that makes it clearly larger.
        break_at: it takes two lines in any case and is broken at the space or behind the hyphen
            of this number, counted from 1; 0 where that is left open.
    """

    alike: bool = False
    smaller_share: float = 0.0
    steps: tuple[Step, ...] = STEPS
    tightest: float = -0.05
    narrowest: float = 0.75
    line_gap: float = 1.6
    two_lines_larger: bool = False
    break_at: int = 0


@dataclass(frozen=True, slots=True)
class TextBox:
    """Where a text goes.

    Attributes:
        name: unique within the template.
        wording: what it says: fields, fixed words, or both.
        face: the face it belongs to.
        box_mm: x, y, width, height; the ink never leaves it. With an arc, a path or the safe
            area: the box round all that the ink may reach.
        fonts: names of typefaces, the first that can set the whole text is used.
        made: printed, engraved (filled), marked (line), or part of the cut outline.
        colour: ``#rrggbb`` of the print, None when nothing is printed.
        align, vertical: where the ink stands in the box; `align` along an arc or a path too.
        baseline_mm: height of the baseline above the box's bottom (``baseline`` only).
        min_height_mm, max_height_mm: bounds of the capital letters' height.
        tracking: extra space between letters, as a share of the capitals' height.
        optional: an empty text is fine here.
        place: None for the rectangle `box_mm`.
        centring: of the ink's extent, or of what the eye takes for its middle.
        case: rule of capital and small letters.
        language: BCP 47 tag of the texts, empty when unknown.
        sizing: how large, and what is tried first when a text is long.
        paint: outline stroke, shadow, gradient, colour by field.
    """

    name: str
    wording: Wording
    face: FaceName
    box_mm: tuple[float, float, float, float]
    fonts: tuple[str, ...]
    made: Made
    colour: str | None
    align: Align
    vertical: Vertical
    baseline_mm: float
    min_height_mm: float
    max_height_mm: float
    tracking: float
    optional: bool
    place: Arc | AlongPath | SafeArea | None = None
    centring: Centring = "ink"
    case: Case = "as-typed"
    language: str = ""
    sizing: Sizing = Sizing()
    paint: Paint = Paint()

    @property
    def is_fixed(self) -> bool:
        """True if it says the same on every piece."""
        return not self.wording.fields

    @property
    def fields(self) -> tuple[str, ...]:
        """Fields of the list that it needs, that of its colour not among them."""
        return self.wording.fields
