"""What turns rows into pieces: a template with its typefaces open and its fixed parts made."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

import shapely
from shapely import MultiPolygon, Point, Polygon, affinity

from namebatch.errors import TemplateError
from namebatch.faint import WHITE, Beneath, beneath_of, faint, faint_boxes
from namebatch.finding import Finding, hold, is_held
from namebatch.letterer import Letterer, make_letterer
from namebatch.names.row import Row
from namebatch.outline import BareBase, Limits, Order, Outline, bare_base, finish
from namebatch.painted import covered, cut_off, near_edge, run_together, too_thick
from namebatch.piece import Lettering, Piece, Proof
from namebatch.template.model import FaceName, Template
from namebatch.template.regions import region_of
from namebatch.text.glyphs import as_multipolygon

ON_MADE = ("hangs-askew", "tab-over-letters", "hole-in-letter")
"""Findings that do not matter on a row that is held anyway."""

INSIDE_MM = 0.01
"""Ink may touch the edge of the piece; rounding must not hold it."""


@dataclass(frozen=True, slots=True)
class Maker:
    """What turns rows into pieces; opened once a worker.

    Attributes:
        letterer: what sets its words.
        outline: of every piece, where the rule is ``base``; else None.
        limits: what material and cutter ask of an outline.
        font: the typeface that is tried first, if one was chosen.
        base_gain_mm2: what the base's own thin places gain on every piece.
        settled: fixed lines whose stroke and shadow were looked at once for all pieces.
        beneath: colours that the letters are printed on.
    """

    letterer: Letterer
    outline: Outline | None
    limits: Limits
    font: str | None = None
    base_gain_mm2: float = 0.0
    settled: frozenset[str] = frozenset()
    beneath: Beneath = WHITE

    @property
    def template(self) -> Template:
        """What a piece looks like."""
        return self.letterer.template

    def sized(self, rows: Iterable[Row]) -> "Maker":
        """The same, with one size for each text box that wants it, found over all rows."""
        return replace(self, letterer=self.letterer.sized(rows))

    def make(self, row: Row) -> tuple[Row, Piece | None]:
        """Make one row.

        Returns:
            The row with what the making found added, and its piece; None when it is held.
        """
        if row.held:
            return row, None
        letterings, findings = self.letterer.letter(row)
        if is_held(findings):  # how the other texts were set does not matter then
            findings = tuple(f for f in findings if is_held([f]))
        row = _told(row, findings)
        if row.held:
            return row, None
        wide = row.mend.bridge_mm if row.mend else None
        outline = self.outline or self._join(letterings, wide or 0.0)
        row = _told(row, outline.findings)
        if row.held:
            return _settled(row), None
        seen = _Seen(outline.shape, self.template.size_mm[0])
        row = _told(row, _over_the_edge(letterings, outline, seen, self.template.size_mm[0]))
        if row.held:
            return _settled(row), None
        row = _told(row, cut_off([p for p in letterings if p.box not in self.settled], seen))
        row = _told(row, run_together(letterings, self.letterer.fixed))
        row = _told(row, faint(letterings, self.beneath))
        own = [part for part in letterings if part.box not in self.letterer.fixed]
        row = _told(row, too_thick(own))
        row = _told(row, near_edge(own, seen, self.limits.required_mm))
        boxes = [box for box in self.template.boxes if not box.is_fixed]
        said = {part.box: part.text for part in letterings}
        text = {box.name: said.get(box.name, "") for box in boxes}
        return row, Piece(
            row.line,
            row.quantity,
            text,
            outline.shape,
            letterings,
            _proof(outline),
            row.findings,
            outline.bridges,
            row.order,
        )

    def _join(self, letterings: Sequence[Lettering], bridge_mm: float) -> Outline:
        template = self.template
        made = "outline" if template.rule != "contour" else None
        cut = [part for part in letterings if part.made == made or _framed(template, part)]
        return finish(
            replace(
                _order(template, self.limits),
                # what is printed stays inside of a contour; a weld cuts along the letters
                text=_union([covered(p) if made is None else p.shape for p in cut]),
                letters=tuple(letter for part in cut for letter in part.letters),
                avoid=_seen_from_front(letterings, template.size_mm[0]),
                base_gain_mm2=self.base_gain_mm2,
                bridge_mm=bridge_mm,
            )
        )


def _framed(template: Template, part: Lettering) -> bool:
    """A contour runs round everything that stands on the front."""
    return template.rule == "contour" and part.face == "front"


def _seen_from_front(letterings: Iterable[Lettering], base_width_mm: float) -> MultiPolygon:
    """The ink of both faces as it lies on the front: a hole goes through the whole piece."""
    return _union(
        [
            covered(part)
            if part.face == "front"
            else as_multipolygon(_turned_over(covered(part), base_width_mm))
            for part in letterings
        ]
    )


def _subject(template: Template) -> Polygon | MultiPolygon:
    """What is painted on a piece that has ground round it: a found hole had better spare it."""
    if template.rule != "contour" or "front" not in template.artwork:
        return MultiPolygon()
    return template.artwork["front"].seen or template.base


def _proof(outline: Outline) -> Proof:
    return Proof(
        parts=outline.parts,
        narrowest_mm=outline.neck.width_mm,
        narrowest_at=outline.neck.at,
        required_mm=outline.required_mm,
        bridges=len(outline.bridges),
        hang=outline.hang,
    )


def make_maker(
    template: Template, limits: Limits, font: str | None = None, paper: str = "#ffffff"
) -> Maker:
    """Open the typefaces of a template and make what is the same on every piece.

    Args:
        template: whose text boxes are set.
        limits: what material and cutter ask of an outline.
        font: a typeface tried before the template's own in every box that takes a column.
        paper: ``#rrggbb`` of the material that is printed on.

    Raises:
        FontError: typefaces are missing or broken; all are named.
        TemplateError: a fixed line cannot be set, or the base cannot be cut from this material.
    """
    letterer = make_letterer(template, font)
    problems: list[str] = []
    outline, bare = None, BareBase((), 0.0)
    if template.rule == "base":
        outline = _of_every_piece(letterer.template, limits, letterer.fixed.values())
        problems += [f"base: {_of_base(f)}" for f in outline.findings if is_held([f])]
    else:
        bare = bare_base(_order(template, limits))
        problems += [f"base: {_of_base(f)}" for f in bare.findings]
    if problems:
        raise TemplateError(
            f'The template "{template.name}" cannot be made from this material as it stands.',
            problems,
        )
    told, settled = _of_fixed_lines(letterer, outline)
    known = letterer.template.warnings
    beneath = beneath_of(letterer.template, paper)
    told = (*told, *faint_boxes(letterer.template, beneath))
    warnings = tuple(dict.fromkeys((*known, *told)))  # a worker's are there already
    letterer = replace(letterer, template=replace(letterer.template, warnings=warnings))
    return Maker(letterer, outline, limits, font, bare.gain_mm2, settled, beneath)


def _of_fixed_lines(
    letterer: Letterer, outline: Outline | None
) -> tuple[tuple[Finding, ...], frozenset[str]]:
    """What is the matter with the fixed lines of every piece, to be told once.

    Returns:
        The findings; and the lines whose stroke and shadow need not be looked at again: all
        where every piece has the same outline, else those that the base alone cuts.
    """
    template, lines = letterer.template, tuple(letterer.fixed.values())
    together = (*run_together(lines), *too_thick(lines))
    shape = template.base if outline is None else outline.shape
    if shape.is_empty or template.rule == "contour":
        return together, frozenset()
    seen = _Seen(shape, template.size_mm[0])
    cut = {line.box: cut_off([line], seen) for line in lines}
    settled = [box for box, told in cut.items() if told or outline is not None]
    return (*together, *(f for told in cut.values() for f in told)), frozenset(settled)


def _order(template: Template, limits: Limits) -> Order:
    """What all pieces of a template have in common."""
    return Order(
        rule=template.rule,
        base=template.base,
        limits=limits,
        holes=template.holes,
        found_holes=template.found_holes,
        picture=_subject(template),
        contour=template.contour,
    )


def _of_every_piece(template: Template, limits: Limits, fixed: Iterable[Lettering]) -> Outline:
    """The outline where the rule is ``base``; found holes stay off the text boxes if they can."""
    width = template.size_mm[0]
    order = Order(
        "base",
        template.base,
        limits,
        holes=template.holes,
        found_holes=template.found_holes,
        avoid=_seen_from_front(fixed, width),
    )
    boxes = []
    for text in template.boxes:
        if not text.is_fixed:
            area = region_of(text)
            boxes.append(area if text.face == "front" else _turned_over(area, width))
    if not (template.found_holes and boxes):
        return finish(order)
    clear = as_multipolygon(shapely.union_all([order.avoid, *boxes]))
    outline = finish(replace(order, avoid=clear))
    if all(finding.code != "hole-over-text" for finding in outline.findings):
        return outline
    return finish(order)


def _over_the_edge(
    letterings: Sequence[Lettering],
    outline: Outline,
    seen: "_Seen",
    base_width_mm: float,
) -> tuple[Finding, ...]:
    """Hold a text that reaches past the piece or into a hole: it would be cut off."""
    findings: list[Finding] = []
    for part in letterings:
        if part.made == "outline" or part.shape.is_empty or seen.holds(part):
            continue
        lost = shapely.difference(part.shape, seen[part.face])
        for hole in outline.found_holes:
            over = hole.shape
            if part.face == "back":
                over = _turned_over(over, base_width_mm)
            cut = shapely.intersection(lost, over)
            if not cut.is_empty:
                findings.append(_under_hole(hole.name, part, cut.representative_point()))
                lost = shapely.difference(lost, over)
        if not lost.is_empty:
            at = lost.representative_point()
            findings.append(
                hold(
                    "text-leaves-piece",
                    f'"{part.text}" reaches over the edge of the piece or into a hole (text '
                    f'"{part.box}", {part.face}, at x {at.x:.1f}, y {at.y:.1f} mm) and would be '
                    "cut off. Shorten it, or draw its box smaller in the template.",
                )
            )
    return tuple(findings)


class _Seen(dict[FaceName, shapely.Geometry]):
    """The piece as one sees each face, a hair larger; made when it is first looked at."""

    def __init__(self, shape: Polygon, base_width_mm: float) -> None:
        super().__init__()
        self._shape, self._width_mm = shape, base_width_mm

    def __missing__(self, face: FaceName) -> shapely.Geometry:
        if face == "back":
            self[face] = _turned_over(self["front"], self._width_mm)
        else:
            self[face] = self._shape.buffer(INSIDE_MM)
        return self[face]

    def holds(self, part: Lettering) -> bool:
        """True if ink is inside for certain: a quick look that spares growing the piece."""
        return part.face == "front" and bool(shapely.covers(self._shape, part.shape))


def _under_hole(name: str, part: Lettering, at: Point) -> Finding:
    """The place of this hole was found, so the remedy is not in the list."""
    return hold(
        "hole-over-text",
        f'{name[:1].upper()}{name[1:]} found no place beside "{part.text}" and would cut it (text '
        f'"{part.box}", {part.face}, at x {at.x:.1f}, y {at.y:.1f} mm). Take another edge or a '
        "smaller hole, allow a tab, or move the text box.",
    )


def _of_base(finding: Finding) -> str:
    """The remedy for a base lies in the template and not in the list."""
    if finding.code == "too-narrow":
        head = finding.message.split(". Choose")[0]
        return f"{head}. Move holes inwards, draw it wider, or take another material."
    return finding.message


def _settled(row: Row) -> Row:
    """A held row without what matters on a made piece only, and without the same twice."""
    holds = {f.code for f in row.findings if is_held([f])}
    kept = [f for f in row.findings if is_held([f]) or f.code not in {*holds, *ON_MADE}]
    return replace(row, findings=tuple(kept))


def _turned_over(shape: shapely.Geometry, base_width_mm: float) -> shapely.Geometry:
    """What lies on one face as it lies on the other."""
    return affinity.affine_transform(shape, (-1, 0, 0, 1, base_width_mm, 0))


def _told(row: Row, findings: Sequence[Finding]) -> Row:
    """The row with more findings, each with its line."""
    told = [replace(f, message=f"{row.where}: {f.message}") for f in findings]
    return replace(row, findings=(*row.findings, *told)) if told else row


def _union(shapes: Sequence[MultiPolygon]) -> MultiPolygon:
    if len(shapes) == 1:
        return shapes[0]
    return as_multipolygon(shapely.union_all(shapes)) if shapes else MultiPolygon()
