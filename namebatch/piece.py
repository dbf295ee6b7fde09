"""One thing to make: every face, hole and finding of a row, from the template."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import shapely
from shapely import MultiPolygon, Polygon

from namebatch.finding import Finding, is_held
from namebatch.names.row import Row
from namebatch.outline import Limits, finish
from namebatch.template.model import FaceName, Made, Template
from namebatch.text import fit, load_catalogue
from namebatch.text.face import Face
from namebatch.text.glyphs import as_multipolygon


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
    """

    box: str
    face: FaceName
    text: str
    made: Made
    colour: str | None
    shape: MultiPolygon
    font: str
    height_mm: float


@dataclass(frozen=True, slots=True)
class Proof:
    """What was measured on the finished outline, in mm, mm² and degrees.

    Attributes:
        parts: pieces the outline falls into (1, or it is not cut).
        narrowest_mm: width of the narrowest neck; the piece's least extent if it has none.
        narrowest_at: where that is.
        required_mm: least width that the material asks for.
        bridges: bars added to keep parts together.
        hang_tilt_deg: how far the piece leans when it hangs by its first hole; None without.
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
        text: text box → what was set, fixed lines left out.
        outline: the finished size, holes cut out, seen from the front; origin as the
            template's.
        letterings: in painting order.
        proof: what was measured.
        findings: of the row and of the making together.
    """

    line: int
    copies: int
    text: Mapping[str, str]
    outline: Polygon
    letterings: tuple[Lettering, ...]
    proof: Proof
    findings: tuple[Finding, ...]

    @property
    def ids(self) -> tuple[str, ...]:
        """Ids of the copies in order."""
        return tuple(f"L{self.line}-{copy}" for copy in range(1, self.copies + 1))

    @property
    def size_mm(self) -> tuple[float, float]:
        """Width and height of the finished outline."""
        x0, y0, x1, y1 = self.outline.bounds
        return x1 - x0, y1 - y0


@dataclass(frozen=True, slots=True)
class Maker:
    """What turns rows into pieces; opened once a worker.

    Attributes:
        template: what a piece looks like.
        faces: text box → typefaces, in the order in which they are tried.
        limits: what material and cutter ask of an outline.
        font: the typeface that is tried first, if one was chosen.
    """

    template: Template
    faces: Mapping[str, tuple[Face, ...]]
    limits: Limits
    font: str | None = None

    def make(self, row: Row) -> tuple[Row, Piece | None]:
        """Make one row.

        Returns:
            The row with what the making found added, and its piece; None when it is held.
        """
        if row.held:
            return row, None
        letterings, findings = self._letter(row)
        if is_held(findings):
            return replace(row, findings=row.findings + findings), None
        template = self.template
        outline = finish(
            template.rule,
            template.base,
            _union([part.shape for part in letterings if part.made == "outline"]),
            template.holes,
            self.limits,
        )
        findings += tuple(_on_line(row, finding) for finding in outline.findings)
        findings = row.findings + findings
        row = replace(row, findings=findings)
        if is_held(findings):
            return row, None
        proof = Proof(
            parts=outline.parts,
            narrowest_mm=outline.neck.width_mm,
            narrowest_at=outline.neck.at,
            required_mm=outline.required_mm,
            bridges=0,
            hang_tilt_deg=outline.hang_tilt_deg,
        )
        text = {box.name: row.fields.get(box.column, "") for box in template.boxes if box.column}
        return row, Piece(row.line, row.quantity, text, outline.shape, letterings, proof, findings)

    def _letter(self, row: Row) -> tuple[tuple[Lettering, ...], tuple[Finding, ...]]:
        """Set every text box of the template."""
        letterings: list[Lettering] = []
        findings: list[Finding] = []
        for box in self.template.boxes:
            text = row.fields.get(box.column, "") if box.column else box.fixed
            if not text:
                continue
            result = fit(text, self.faces[box.name], box)
            if isinstance(result, Finding):
                findings.append(_on_line(row, result))
                continue
            letterings.append(
                Lettering(
                    box.name,
                    box.face,
                    text,
                    box.made,
                    box.colour,
                    result.shape,
                    result.font,
                    result.height_mm,
                )
            )
        # the same sign may be lacking in several boxes: say it once
        return tuple(letterings), tuple(dict.fromkeys(findings))


def make_maker(template: Template, limits: Limits, font: str | None = None) -> Maker:
    """Open the typefaces of a template.

    Args:
        template: whose text boxes are set.
        limits: what material and cutter ask of an outline.
        font: a typeface tried before the template's own in every box that takes a column.

    Raises:
        FontError: a typeface is missing or broken.
    """
    catalogue = load_catalogue(Path(template.folder))
    faces: dict[str, tuple[Face, ...]] = {}
    for box in template.boxes:
        names = [font, *box.fonts] if font and box.column else list(box.fonts)
        faces[box.name] = tuple(catalogue.open(name) for name in dict.fromkeys(names))
    return Maker(template, faces, limits, font)


def _on_line(row: Row, finding: Finding) -> Finding:
    return replace(finding, message=f"Line {row.line}: {finding.message}")


def _union(shapes: Sequence[MultiPolygon]) -> MultiPolygon:
    if len(shapes) == 1:
        return shapes[0]
    return as_multipolygon(shapely.union_all(shapes)) if shapes else MultiPolygon()
