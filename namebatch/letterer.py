"""The words of a row on a template: every text box set, or what keeps it from being set."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from namebatch.errors import FontError, TemplateError
from namebatch.finding import Finding, Severity, hold, warn
from namebatch.names.mend import Mend, TextMend
from namebatch.names.row import Row
from namebatch.piece import Lettering
from namebatch.template.model import Template
from namebatch.template.said_colour import colour_problem, read_colour
from namebatch.template.textbox import TextBox
from namebatch.text import Catalogue, fit, load_catalogue
from namebatch.text.batch import common_size
from namebatch.text.by_hand import box_by_hand, common_by_hand, moved, too_high
from namebatch.text.chain import stretches
from namebatch.text.face import Face
from namebatch.text.fallback import fallback_for, remedies_for
from namebatch.text.fit import Common
from namebatch.text.languages import leaves_open, list_language
from namebatch.text.room import roomy

AS_IT_IS = TextMend()
"""Nothing was changed by hand."""

Words = tuple[tuple[Lettering, ...], tuple[Finding, ...]]


@dataclass(frozen=True, slots=True)
class Letterer:
    """What sets the words of a template; opened once a worker.

    Attributes:
        template: whose text boxes are set, with room as their typefaces want it.
        catalogue: where spare typefaces come from.
        faces: text box → typefaces, in the order in which they are tried.
        fixed: text box → its fixed line as set.
        common: text box → what its texts have in common, where the template wants one size.
        han_language: how the list draws Han characters where a text leaves it open.
    """

    template: Template
    catalogue: Catalogue
    faces: Mapping[str, tuple[Face, ...]]
    fixed: Mapping[str, Lettering]
    common: Mapping[str, Common]
    han_language: str = ""

    def letter(self, row: Row) -> Words:
        """Set every text box.

        Returns:
            What was set, and the findings; the row is held by some of them if a box could not
            be set.
        """
        letterings: list[Lettering] = []
        findings: list[Finding] = []
        mend = row.mend or Mend()
        for box in self.template.boxes:
            text = box.wording.fill(row.fields)
            colour = self._colour(box, row)
            if isinstance(colour, Finding):
                findings.append(colour)
                continue
            if box.is_fixed:
                letterings.append(replace(self.fixed[box.name], colour=colour))
                continue
            findings += _empty_fields(box, text, row)
            if text:
                lettering, told = self.set(box, text, mend.of_text(box.name))
                letterings += [replace(lettering, colour=colour)] if lettering else []
                findings += told
        # the same sign may be lacking in several boxes: say it once
        return tuple(letterings), tuple(dict.fromkeys(findings))

    def set(
        self, box: TextBox, text: str, mend: TextMend = AS_IT_IS
    ) -> tuple[Lettering | None, tuple[Finding, ...]]:
        """Set one text in one box, as the template says or as was asked by hand.

        Raises:
            FontError: the typeface that was asked for by hand cannot be opened.
        """
        by_letter = self.template.rule == "contour"  # its marks have to find their letters too
        common = common_by_hand(self.common.get(box.name), mend)
        if self.han_language and not box.language and leaves_open(text):
            box = replace(box, language=self.han_language)
        asked = box_by_hand(box, mend, text)
        if isinstance(asked, Finding):
            return None, (asked,)
        faces = self._faces(box, mend)
        result = fit(text, faces, asked, by_letter, common, self.spare)
        if isinstance(result, Finding):
            result = too_high(result, text, faces, box, mend, self.spare)
        else:
            result = moved(result, box, mend)
        if isinstance(result, Finding):
            return None, (self._with_remedy(result, text),)
        lettering = Lettering(
            box.name,
            box.face,
            result.text,
            box.made,
            own_colour(box),
            result.shape,
            result.font,
            result.height_mm,
            result.letters,
            box.paint,
            result.lines,
        )
        return lettering, result.notes

    def _faces(self, box: TextBox, mend: TextMend) -> tuple[Face, ...]:
        """Typefaces of a box, the one asked for by hand first."""
        faces = self.faces[box.name]
        return (self.catalogue.open(mend.font), *faces) if mend.font else faces

    def sized(self, rows: Iterable[Row]) -> "Letterer":
        """The same, with one size for each box that wants it, found over all rows.

        How Han characters are drawn is found over all rows too.
        """
        rows = [row for row in rows if not row.held]
        common = dict(self.common)
        boxes = [box for box in self.template.boxes if not box.is_fixed]
        han = list_language(box.wording.fill(row.fields) for box in boxes for row in rows)
        for box in boxes:
            if box.sizing.alike:
                texts = (box.wording.fill(row.fields) for row in rows)
                box = replace(box, language=box.language or han)
                found = common_size(texts, self.faces[box.name], box, self.spare)
                if found is not None:
                    common[box.name] = found
        return replace(self, common=common, han_language=han)

    def digests(self, rows: Iterable[Row] = ()) -> dict[str, str]:
        """Typeface → SHA-256 of its file: the template's own, and those that may help out.

        Args:
            rows: whose texts are looked at for what the template's own faces lack.
        """
        faces = {face.name: face for chain in self.faces.values() for face in chain}
        rows = [row for row in rows if not row.held]
        for box in self.template.boxes:
            own = self.faces[box.name]
            asked = [(row.mend.of_text(box.name) if row.mend else AS_IT_IS) for row in rows]
            texts = (box.wording.fill(row.fields) for row in rows)
            for text, font in dict.fromkeys(zip(texts, (a.font for a in asked), strict=True)):
                chosen = () if box.is_fixed or not font else (self.catalogue.open(font),)
                faces.update((face.name, face) for face in chosen)
                if text and stretches(text, (*chosen, *own)) is None:
                    faces.update((face.name, face) for face in self.spare(text))
        return {name: faces[name].digest for name in sorted(faces)}

    def spare(self, text: str) -> Sequence[Face]:
        """Faces that may help out where the template's own lack a sign of a text."""
        return [self.catalogue.open_spare(name) for name in fallback_for(text, self.catalogue)]

    def _with_remedy(self, finding: Finding, text: str) -> Finding:
        """Say which typefaces could be installed."""
        remedies = remedies_for(text, self.catalogue) if finding.code == "no-glyph" else ()
        if not remedies:
            return finding
        return replace(finding, message=f"{finding.message} {' '.join(remedies)}")

    def _colour(self, box: TextBox, row: Row) -> str | Finding | None:
        """The colour of a box in a row."""
        field = box.paint.colour_field
        said = row.fields.get(field, "").strip() if field else ""
        if not said:
            return own_colour(box)
        words = self.template.colours
        colour = read_colour(said, words)
        return colour or hold("colour-unknown", colour_problem(said, words))


def own_colour(box: TextBox) -> str | None:
    """The colour of a box where the list gives none; of a gradient that which it starts with."""
    return box.paint.gradient.start if box.paint.gradient else box.colour


def _empty_fields(box: TextBox, text: str, row: Row) -> list[Finding]:
    """What a formula lacks: without any field it is held, without some it is looked at."""
    empty = [field for field in box.fields if not row.fields.get(field, "").strip()]
    if len(box.fields) < 2 or box.optional or not empty:
        return []
    which = " and ".join(f'"{field}"' for field in empty)
    if not text:
        remedy = f"Fill them in, or delete the {row.place.lower()}."
        return [hold("empty", f"{which} are empty. {remedy}")]
    verb = "is" if len(empty) == 1 else "are"
    return [warn("field-empty", f'{which} {verb} empty; the piece says "{text}".')]


def make_letterer(template: Template, font: str | None = None) -> Letterer:
    """Open the typefaces of a template and set what is the same on every piece.

    Args:
        template: whose text boxes are set.
        font: a typeface tried before the template's own in every box that takes a column.

    Raises:
        FontError: typefaces are missing or broken; all are named.
        TemplateError: a fixed line cannot be set.
    """
    catalogue = load_catalogue(Path(template.folder), font)
    faces = _open_faces(template, catalogue, font)
    boxes = tuple(roomy(box, faces[box.name]) for box in template.boxes)
    template = replace(template, boxes=boxes)
    letterer = Letterer(template, catalogue, faces, {}, {})
    problems: list[str] = []
    fixed: dict[str, Lettering] = {}
    for box in template.boxes:
        if not box.is_fixed:
            continue
        lettering, told = letterer.set(box, box.wording.fill({}))
        problems += [f'text "{box.name}": {f.message}' for f in told if f.severity is Severity.HOLD]
        if lettering is not None:
            fixed[box.name] = lettering
    if problems:
        raise TemplateError(
            f'The template "{template.name}" cannot be made as it stands.', tuple(problems)
        )
    return replace(letterer, fixed=fixed)


def _open_faces(
    template: Template, catalogue: Catalogue, font: str | None
) -> dict[str, tuple[Face, ...]]:
    """Open every typeface; what cannot be opened is told all at once."""
    faces: dict[str, tuple[Face, ...]] = {}
    problems: dict[str, None] = {}
    for box in template.boxes:
        names = [font, *box.fonts] if font and not box.is_fixed else list(box.fonts)
        opened: list[Face] = []
        for name in dict.fromkeys(names):
            try:
                opened.append(catalogue.open(name))
            except FontError as error:
                problems.setdefault(str(error))
        faces[box.name] = tuple(opened)
    if len(problems) == 1:
        raise FontError(next(iter(problems)))
    if problems:
        raise FontError("Some typefaces cannot be used.", tuple(problems))
    return faces
