"""Whether changes by hand fit the list, the template and the material; all problems at once."""

from collections.abc import Iterator, Mapping

from namebatch.errors import FontError, MendError
from namebatch.names.characters import shown
from namebatch.names.mend import Mend, TextMend
from namebatch.names.row import NameList, Row
from namebatch.outline import Limits
from namebatch.template.model import Template
from namebatch.template.problems import Problems, did_you_mean
from namebatch.template.textbox import AlongPath, Arc, TextBox
from namebatch.text import Catalogue


def check_mends(
    mends: Mapping[int, Mend],
    names: NameList,
    template: Template,
    limits: Limits,
    catalogue: Catalogue,
) -> None:
    """Look through changes before anything is made; what a text alone shows is found in making.

    Args:
        mends: by line of the list.
        names: the list as it was read.
        template: whose fields and text boxes are named.
        limits: what the material asks for.
        catalogue: the typefaces.

    Raises:
        MendError: with everything that does not fit, each with its line.
    """
    problems = Problems()
    rows = {row.line: row for row in names.rows}
    for line in sorted(mends):
        row, place = rows.get(line), f"{names.place.lower()} {line}"
        if row is None:
            problems.add(place, f"the list has nothing there; it ends at {max(rows, default=1)}.")
            continue
        for told in _of_row(mends[line], row, template, limits, catalogue):
            problems.add(place, told)
    if problems:
        raise MendError(
            f'The changes by hand do not fit the list {shown(names.source)} and the template "'
            f'{template.name}".',
            problems.told(),
        )


def _of_row(
    mend: Mend, row: Row, template: Template, limits: Limits, catalogue: Catalogue
) -> Iterator[str]:
    for name in (*mend.fields, *mend.was):
        if name not in template.fields:
            hint = did_you_mean(name, template.fields)
            yield f'the template has no field called "{shown(name)}"; {hint}'
    for name, was in mend.was.items():
        if row.fields.get(name, was) != was:
            yield (
                f'"{shown(name)}" says "{shown(row.fields[name])}" and said "{shown(was)}" when '
                "this was changed; the list is another one. Move the change to the line where the "
                "name stands now, or leave it out."
            )
    boxes = {box.name: box for box in template.boxes}
    for name, text in mend.texts.items():
        yield from _of_text(name, text, boxes, catalogue)
    if mend.font:
        yield from _of_font(mend.font, catalogue)
    if mend.bridge_mm is not None:
        yield from _of_bridges(mend.bridge_mm, template, limits)


def _of_text(
    name: str, mend: TextMend, boxes: Mapping[str, TextBox], catalogue: Catalogue
) -> Iterator[str]:
    box = boxes.get(name)
    if box is None:
        hint = did_you_mean(name, [box.name for box in boxes.values() if not box.is_fixed])
        yield f'the template has no text called "{shown(name)}"; {hint}'
        return
    if box.is_fixed:
        yield (
            f'the text "{name}" says the same on every piece and is not changed on one; change it '
            "in the template."
        )
        return
    for height in (mend.height_mm, mend.most_mm):
        if height is not None and height < box.min_height_mm:
            yield (
                f'the text "{name}" would be {height:g} mm high; the template\'s least is '
                f"{box.min_height_mm:g} mm. Give that or more."
            )
    if mend.lines is not None and isinstance(box.place, Arc | AlongPath):
        yield f'the text "{name}" runs along a bent line and has one line only; leave lines out.'
    if mend.font:
        yield from _of_font(mend.font, catalogue)


def _of_font(font: str, catalogue: Catalogue) -> Iterator[str]:
    try:
        catalogue.open(font)
    except FontError as error:
        yield str(error)


def _of_bridges(width_mm: float, template: Template, limits: Limits) -> Iterator[str]:
    if template.rule == "base":
        yield "this template has no bridges: its cut line is the base. Leave bridge_mm out."
    elif width_mm < limits.required_mm:
        yield (
            f"bridges of {width_mm:g} mm are narrower than the {limits.required_mm:g} mm that the "
            "material needs. Give that or more."
        )
