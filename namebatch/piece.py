"""One thing to make: every face, hole and finding of a row, from the template."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace

from shapely import LineString, MultiPolygon, Polygon

from namebatch.finding import Finding
from namebatch.outline import Bridge, Hang, Letter
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
        lines: what of the text stands on each line, from the top.
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
    lines: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Proof:
    """What was measured on the finished outline, in mm, mm² and degrees.

    Attributes:
        parts: pieces the outline falls into (1, or it is not cut).
        narrowest_mm: width of the narrowest neck; the piece's least extent if it has none.
        narrowest_at: where that is.
        required_mm: least width that the material asks for.
        bridges: bars added to keep parts together.
        hang: how the piece hangs by its hole, or by two that carry it together, in its own
            coordinates; None without.
    """

    parts: int
    narrowest_mm: float
    narrowest_at: tuple[float, float] | None
    required_mm: float
    bridges: int
    hang: Hang | None

    @property
    def hang_tilt_deg(self) -> float | None:
        """How far the piece leans when it hangs, 0 to 180; None without a hole."""
        return self.hang.tilt_deg if self.hang else None


@dataclass(frozen=True, slots=True)
class Part:
    """What is cut as one of a piece that is larger than a sheet.

    Attributes:
        outline: in the coordinates of the piece; half of the joint's gap is left out.
        proof: what was measured on it; the tilt is that of the whole piece.
        bridges: those of the piece's that lie in it.
        board: what of the piece's own board lies below it, if it has one.
    """

    outline: Polygon
    proof: Proof
    bridges: tuple[Bridge, ...] = ()
    board: "BoardPart | None" = None


@dataclass(frozen=True, slots=True)
class BoardPart:
    """The board below a print, where its outline is not the print's.

    Attributes:
        outline: in the coordinates of the piece, holes cut out.
        proof: what was measured on it; the tilt is that of the print.
    """

    outline: Polygon
    proof: Proof


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
        only: numbers of the copies where not all are made; empty for 1, 2, 3 …
        parts: what it is put together from, in the order of their numbers; empty if it is cut
            as one.
        joints: the lines between its parts.
        part: number of the part that this is, from 1; 0 for the whole piece.
        whole: of a part, the outline of the whole piece.
        board: what is cut from a board with an outline of its own; None if it has the print's.
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
    only: tuple[int, ...] = ()
    parts: tuple[Part, ...] = ()
    joints: tuple[LineString, ...] = ()
    part: int = 0
    whole: Polygon | None = None
    board: BoardPart | None = None

    def cut_from(self, kind: str) -> "Piece":
        """The piece as it is cut from a printed sheet (`face`) or from a `board`."""
        if kind != "board" or self.board is None:
            return self
        return replace(self, outline=self.board.outline, proof=self.board.proof, board=None)

    @property
    def numbers(self) -> tuple[int, ...]:
        """Numbers of the copies, rising."""
        return self.only or tuple(range(1, self.copies + 1))

    @property
    def ids(self) -> tuple[str, ...]:
        """Ids of the copies in order; those of a part end in its number: ``L14-2-1``."""
        end = f"-{self.part}" if self.part else ""
        return tuple(f"L{self.line}-{number}{end}" for number in self.numbers)

    @property
    def cut(self) -> tuple["Piece", ...]:
        """What is cut: the piece itself, or its parts, each a piece with an outline of its own."""
        if not self.parts:
            return (self,)
        return tuple(
            replace(
                self,
                outline=part.outline,
                proof=part.proof,
                bridges=part.bridges,
                board=part.board,
                parts=(),
                joints=(),
                part=number,
                whole=self.outline,
            )
            for number, part in enumerate(self.parts, start=1)
        )

    @property
    def cut_ids(self) -> tuple[str, ...]:
        """Ids of all that is cut, copy by copy."""
        each = [part.ids for part in self.cut]
        return tuple(ids[copy] for copy in range(self.copies) for ids in each)

    @property
    def whole_outline(self) -> Polygon:
        """Of the piece itself, or of the one that it is a part of."""
        return self.outline if self.whole is None else self.whole

    @property
    def ordered(self) -> int:
        """Copies that the list orders, without spares."""
        return self.copies - self.spares

    @property
    def size_mm(self) -> tuple[float, float]:
        """Width and height of the finished outline."""
        x0, y0, x1, y1 = self.outline.bounds
        return x1 - x0, y1 - y0


def cut_pieces(pieces: Iterable[Piece]) -> tuple[Piece, ...]:
    """Everything that is cut: pieces, and of those that are split their parts."""
    return tuple(part for piece in pieces for part in piece.cut)
