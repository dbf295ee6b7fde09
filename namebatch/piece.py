"""One thing to make: every face, hole and finding of a row, from the template."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from shapely import MultiPolygon, Polygon

from namebatch.finding import Finding
from namebatch.outline import Bridge, Letter
from namebatch.template.model import FaceName, Made
from namebatch.template.textbox import Paint


@dataclass(frozen=True, slots=True)
class Lettering:
    """A text as it is set.

    Attributes:
        box: name of the text box.
        face: the face it stands on.
        text: what was set.
        made: printed, engraved, marked or part of the outline.
        colour: ``#rrggbb`` of the print or None.
        shape: the ink in mm, as one sees the face (see `template.model`).
        font: name of the typeface that set it.
        height_mm: height of its capital letters.
        letters: the ink letter by letter, where it takes part in the outline.
        paint: stroke, shadow and gradient of the print; what they cover: `painted`.
    """

    box: str
    face: FaceName
    text: str
    made: Made
    colour: str | None
    shape: MultiPolygon
    font: str
    height_mm: float
    letters: tuple[Letter, ...] = ()
    paint: Paint = field(default_factory=Paint)


@dataclass(frozen=True, slots=True)
class Proof:
    """What was measured on the finished outline, in mm, mm² and degrees.

    Attributes:
        parts: pieces the outline falls into (1, or it is not cut).
        narrowest_mm: width of the narrowest neck; the piece's least extent if it has none.
        narrowest_at: where that is.
        required_mm: least width that the material asks for.
        bridges: bars added to keep parts together.
        hang_tilt_deg: how far the piece leans when it hangs by its first hole with the edge
            that the hole is near up; None without.
    """

    parts: int
    narrowest_mm: float
    narrowest_at: tuple[float, float] | None
    required_mm: float
    bridges: int
    hang_tilt_deg: float | None


@dataclass(frozen=True, slots=True)
class Piece:
    """A row, made. Its copies differ in nothing but their id.

    Attributes:
        line: line of the row in the list.
        copies: how many to make; ids are ``L<line>-<copy>``, copy from 1.
        text: text box → what was set, letter case and initials applied; fixed lines left out.
        outline: the finished size, holes cut out, seen from the front; origin as the
            template's.
        letterings: in painting order.
        proof: what was measured.
        findings: of the row and of the making together.
        bridges: bars that keep the outline together, in its coordinates.
        order: the order or the customer that it belongs to; empty if the list does not say.
        spares: so many of the copies, the last ones, are more than the list orders.
    """

    line: int
    copies: int
    text: Mapping[str, str]
    outline: Polygon
    letterings: tuple[Lettering, ...]
    proof: Proof
    findings: tuple[Finding, ...]
    bridges: tuple[Bridge, ...] = ()
    order: str = ""
    spares: int = 0

    @property
    def ids(self) -> tuple[str, ...]:
        """Ids of the copies in order."""
        return tuple(f"L{self.line}-{copy}" for copy in range(1, self.copies + 1))

    @property
    def ordered(self) -> int:
        """Copies that the list orders, without spares."""
        return self.copies - self.spares

    @property
    def size_mm(self) -> tuple[float, float]:
        """Width and height of the finished outline."""
        x0, y0, x1, y1 = self.outline.bounds
        return x1 - x0, y1 - y0
