"""What the parts of the outline room hand to each other. Lengths in mm."""

from dataclasses import dataclass

from shapely import MultiPolygon, Polygon

from namebatch.curves import Point
from namebatch.template.model import ContourRule, FoundHole, Rule
from namebatch.text.setting import Letter

__all__ = ["NO_INK", "Bridge", "Letter", "Limits", "NamedHole", "Order"]

NO_INK = MultiPolygon()
OPEN_BEYOND_KERF_MM = 0.1


@dataclass(frozen=True, slots=True)
class Limits:
    """What material and cutter ask of an outline.

    Attributes:
        required_mm: nothing may be narrower than this.
        kerf_mm: width of the cut, the larger of x and y; gaps below it are filled.
    """

    required_mm: float
    kerf_mm: float = 0.0

    @property
    def open_mm(self) -> float:
        """Width of the gaps that thickening leaves: somewhat more than the kerf."""
        return self.kerf_mm + OPEN_BEYOND_KERF_MM


@dataclass(frozen=True, slots=True)
class Bridge:
    """A bar that keeps parts together.

    Attributes:
        shape: the bar itself, roots included.
        start: where its middle line begins.
        end: where it ends.
        width_mm: never less than the least width.
    """

    shape: Polygon
    start: Point
    end: Point
    width_mm: float


@dataclass(frozen=True, slots=True)
class NamedHole:
    """A hole whose place was found.

    Attributes:
        name: what it is called in messages.
        shape: the hole.
    """

    name: str
    shape: Polygon


@dataclass(frozen=True, slots=True)
class Order:
    """What is asked of the outline room for one piece.

    Attributes:
        rule: name of the outline rule.
        base: the fixed shape, holes already cut out; empty if there is none (``contour``).
        text: ink that takes part in the outline; empty for ``base``.
        letters: the same ink letter by letter.
        holes: round holes and slots that must stay open, the carrying hole first.
        found_holes: holes whose place is found.
        avoid: ink that a found hole should not lie on.
        picture: what it had better not lie on, if another place is hardly worse.
        contour: sizes of the rule ``contour``.
        base_gain_mm2: what making the base's own thin places wide adds.
        bridge_mm: width of bridges, where they are to be wider than the least width.
        limits: what material and cutter ask for.
    """

    rule: Rule
    base: Polygon
    limits: Limits
    text: MultiPolygon = NO_INK
    letters: tuple[Letter, ...] = ()
    holes: tuple[Polygon, ...] = ()
    found_holes: tuple[FoundHole, ...] = ()
    avoid: MultiPolygon = NO_INK
    picture: Polygon | MultiPolygon = NO_INK
    contour: ContourRule | None = None
    base_gain_mm2: float = 0.0
    bridge_mm: float = 0.0
