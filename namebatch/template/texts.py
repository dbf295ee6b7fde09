"""Text boxes from the tables ``[[text]]``, and what must hold between them and the rest."""

import re
from collections.abc import Mapping, Sequence
from pathlib import Path

from namebatch.template.folder import member
from namebatch.template.model import Build, Rule
from namebatch.template.painting import check_paint, paint_of
from namebatch.template.places import Ground, Standing, standing_of
from namebatch.template.problems import FileProblem, Problems, shown, validated
from namebatch.template.schema import Head, Text
from namebatch.template.textbox import FaceName, Made, Sizing, TextBox
from namebatch.template.wording import Wording, field_alone, fixed_line, read_formula

MOST_TEXTS = 50
PLACES = ("box_mm", "arc", "path", "safe_area")
FONT_ENDS = (".ttf", ".otf", ".ttc")
FONT_PLACES = (
    "Put the font file in the template's folder, or in fonts/ and call it here by its name "
    "without the ending."
)
AXES = re.compile(r"(?:\s+[A-Za-z]{4}=-?[\d.]+)+$")
"""Settings of a variable font behind its name: ``harbour.ttf wght=600``."""


def read_texts(data: object, problems: Problems) -> list[tuple[str, Text]]:
    """All ``[[text]]`` tables that are right in themselves, with their places."""
    if not isinstance(data, list) or not data:
        problems.add("[[text]]", "is missing; at least one text that takes a column is needed.")
        return []
    if len(data) > MOST_TEXTS:
        problems.add("text", f"there are more than {MOST_TEXTS}; take some out.")
        return []
    found = []
    for index, entry in enumerate(data):
        place = f"text[{index + 1}]"
        table = validated(Text, entry, place, problems)
        if table is not None:
            _check_alone(table, place, problems)
            found.append((place, table))
    return found


def _check_alone(text: Text, place: str, problems: Problems) -> None:
    """What must hold between the keys of one text."""
    given = [key for key in ("column", "formula", "line") if getattr(text, key) is not None]
    if len(given) != 1:
        has = f"has {' and '.join(given)}" if given else "has neither column, formula nor line"
        problems.add(place, f"{has}; give exactly one of column, formula and line.")
    if text.min_height_mm > text.max_height_mm:
        problems.add(
            f"{place}.min_height_mm",
            f"{text.min_height_mm:g} mm is more than max_height_mm, {text.max_height_mm:g} mm; "
            "make one of them fit the other.",
        )
    if text.box_mm is not None and text.min_height_mm > text.box_mm[3]:
        problems.add(
            f"{place}.min_height_mm",
            f"{text.min_height_mm:g} mm is more than the box's height, {text.box_mm[3]:g} mm; "
            "draw the box higher, or allow smaller letters.",
        )
    if text.baseline_mm is not None and text.vertical != "baseline":
        problems.add(f"{place}.baseline_mm", 'counts only with vertical = "baseline"; add that.')
    places = [key for key in PLACES if getattr(text, key) is not None]
    if len(places) != 1:
        has = f"has {' and '.join(places)}" if places else "has no place"
        problems.add(place, f"{has}; give exactly one of {', '.join(PLACES)}.")
    if text.two_lines is not None and (text.arc or text.path):
        problems.add(f"{place}.two_lines", "goes only with box_mm or safe_area; leave it out.")
    if text.smaller_share and not text.one_size:
        problems.add(f"{place}.smaller_share", "counts only with one_size = true; add that.")


def wording_of(text: Text, place: str, problems: Problems) -> Wording:
    """What a text says; a formula that cannot be read is noted."""
    if text.column is not None:
        return field_alone(text.column)
    if text.formula is None:
        return fixed_line(text.line or "")
    try:
        return read_formula(text.formula)
    except ValueError as error:
        problems.add(f"{place}.formula", str(error))
        return fixed_line(text.formula)


def boxes(
    texts: Sequence[tuple[str, Text]],
    head: Head,
    size_mm: tuple[float, float] | None,
    ground: Ground,
    files: Mapping[str, Path],
    problems: Problems,
) -> tuple[TextBox, ...]:
    """Text boxes with their defaults filled in; everything that does not go together is noted.

    Args:
        texts: tables with their places.
        head: build, rule and faces.
        size_mm: of the base; None when the base itself is not known yet.
        ground: base, holes and lines that texts are placed on.
        files: of the template, for faces that lie beside it.
        problems: gets one line for each.
    """
    found: list[TextBox] = []
    names: dict[str, str] = {}
    for place, text in texts:
        standing = standing_of(text, place, head, ground, problems)
        box = _box(text, place, head, standing, problems)
        other = names.setdefault(box.name, place)
        if other != place:
            problems.add(
                place, f"{shown(box.name)} is the name of {other} already; give it its own name."
            )
        _check_face(box, standing, place, head, size_mm, problems)
        _check_fonts(box, place, files, problems)
        found.append(box)
    # With a text that could not be read, what is missing may just be that one.
    if texts and len(problems) == 0:
        _check_together(found, head.rule, problems)
    return tuple(found)


def _box(text: Text, place: str, head: Head, standing: Standing, problems: Problems) -> TextBox:
    """One text box."""
    made: Made = text.made or ("engrave" if head.build == "bare" else "print")
    _check_made(made, head.build, head.rule, place, problems)
    check_paint(text, made, head.build, place, problems)
    colour = text.colour
    if colour is not None and (made in ("engrave", "mark") or head.build == "bare"):
        problems.add(f"{place}.colour", "is not printed here; leave the colour out.")
    if colour is None and made == "print":
        colour = "#000000"
    number = place.partition("[")[2].rstrip("]")
    return TextBox(
        name=text.name or text.column or f"line {number}",
        wording=wording_of(text, place, problems),
        face=text.face,
        box_mm=standing.box_mm,
        fonts=tuple(text.fonts),
        made=made,
        colour=colour,
        align=text.align,
        vertical=text.vertical,
        baseline_mm=text.baseline_mm or 0.0,
        min_height_mm=text.min_height_mm,
        max_height_mm=text.max_height_mm,
        tracking=text.tracking,
        optional=text.optional,
        place=standing.place,
        centring=text.centring,
        case=text.case,
        language=text.language or "",
        sizing=Sizing(
            text.one_size,
            text.smaller_share,
            tuple(dict.fromkeys(text.if_too_long)),
            text.tightest,
            text.narrowest,
            text.line_gap,
            _two_lines_larger(text),
        ),
        paint=paint_of(text),
    )


def _two_lines_larger(text: Text) -> bool:
    """Whether two lines are taken for size: as the text says, else in a safe area that has them."""
    if text.two_lines is not None:
        return text.two_lines == "larger"
    return text.safe_area is not None and "two-lines" in text.if_too_long


def _check_made(made: Made, build: Build, rule: Rule, place: str, problems: Problems) -> None:
    """Whether a way of making goes with build and rule."""
    key = f"{place}.made"
    if made in ("engrave", "mark") and build != "bare":
        problems.add(key, f'"{made}" goes only with build = "bare"; print it instead.')
    if made == "print" and build == "bare":
        problems.add(key, 'nothing is printed with build = "bare"; use "engrave" or "mark".')
    if made == "outline" and rule == "contour":
        problems.add(
            key,
            '"outline" needs rule = "weld" or "open"; with "contour" the line runs round every '
            "text of the front anyway.",
        )
    if made == "outline" and rule == "base":
        problems.add(
            key, '"outline" needs rule = "weld" or "open"; with "base" only the base is cut.'
        )


def _check_face(
    box: TextBox,
    standing: Standing,
    place: str,
    head: Head,
    size_mm: tuple[float, float] | None,
    problems: Problems,
) -> None:
    """Whether the box lies on a face that exists, and on the base."""
    if box.face not in head.faces:
        faces = ", ".join(head.faces)
        problems.add(
            f"{place}.face",
            f'"{box.face}" is not one of the faces ({faces}); add it there, or take one of these.',
        )
    if box.face == "back" and box.made == "outline":
        problems.add(f"{place}.face", "an outline is seen from the front; set it on the front.")
    free = head.rule == "weld" or (head.rule == "contour" and box.face == "front")
    if size_mm is None or box.made == "outline" or free:
        return
    x, y, width, height = standing.least_mm
    if x < -1e-6 or y < -1e-6 or x + width > size_mm[0] + 1e-6 or y + height > size_mm[1] + 1e-6:
        problems.add(
            f"{place}.{standing.key}",
            f"reaches from {x:g}, {y:g} to {x + width:g}, {y + height:g} and so leaves the base of "
            f"{size_mm[0]:.5g} × {size_mm[1]:.5g} mm; move it inwards or draw it smaller.",
        )


def _check_fonts(box: TextBox, place: str, files: Mapping[str, Path], problems: Problems) -> None:
    """Faces given as files must be in the folder; others are looked up in the catalogue later."""
    for index, font in enumerate(box.fonts):
        name = AXES.sub("", font)
        if name.lower().endswith(FONT_ENDS):
            try:
                member(files, name, f"{place}.fonts[{index + 1}]")
            except FileProblem as problem:
                problems.add(problem.place, f"{problem.message} {FONT_PLACES}")


def _check_together(found: Sequence[TextBox], rule: Rule, problems: Problems) -> None:
    """What the texts must have among them."""
    if all(box.is_fixed for box in found):
        problems.add(
            "text", "none takes a column, so all pieces would be alike; add one that does."
        )
    if rule in ("weld", "open") and not any(box.made == "outline" for box in found):
        problems.add(
            "text", f'rule = "{rule}" needs a text with made = "outline", or take rule = "base".'
        )


def columns(written: Sequence[tuple[str, Text]]) -> list[str]:
    """Every column that a table names, for samples; formulas that cannot be read name none."""
    unread = Problems()
    wordings = [wording_of(text, place, unread) for place, text in written]
    named = [field for wording in wordings for field in wording.fields]
    return named + [text.colour_column for _, text in written if text.colour_column]


def fields(found: Sequence[TextBox]) -> tuple[str, ...]:
    """Columns in order of first use; those that give a colour come last."""
    own = [field for box in found for field in box.fields]
    colours = [box.paint.colour_field for box in found if box.paint.colour_field]
    return tuple(dict.fromkeys([*own, *colours]))


def faces_in_order(faces: Sequence[FaceName]) -> tuple[FaceName, ...]:
    """Front before back, each once."""
    order: tuple[FaceName, ...] = ("front", "back")
    return tuple(face for face in order if face in faces)
