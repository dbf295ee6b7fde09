"""Every text that can be changed by hand in a row, set or not, and where it can be parted."""

from collections.abc import Iterator, Sequence

from namebatch.desk.row_model import TextView
from namebatch.names.mend import Mend
from namebatch.names.row import Row
from namebatch.template.model import Template
from namebatch.template.textbox import AlongPath, Arc, TextBox
from namebatch.text.breaks import BREAKABLE, broken_at


def texts_of(template: Template, row: Row, made: Sequence[TextView]) -> tuple[TextView, ...]:
    """The texts of a row for who changes them by hand.

    Args:
        template: of the docket.
        row: changes by hand applied.
        made: what is set on its piece; nothing where the row is held.

    Returns:
        One for every text box that takes a column, in painting order. A text that is not set,
        because it is empty or the row is held, has neither typeface nor height.
    """
    known = {text.box: text for text in made}
    boxes = [box for box in template.boxes if not box.is_fixed]
    return tuple(_text(box, row, known.get(box.name)) for box in boxes)


def _text(box: TextBox, row: Row, made: TextView | None) -> TextView:
    bent = isinstance(box.place, Arc | AlongPath)
    typed = box.wording.fill(row.fields)
    return TextView(
        box=box.name,
        face=box.face,
        text=made.text if made else "",
        font=made.font if made else "",
        height_mm=made.height_mm if made else 0.0,
        min_height_mm=box.min_height_mm,
        bent=bent,
        lines=made.lines if made else (),
        shift_mm=(row.mend or Mend()).of_text(box.name).shift_mm,
        breaks=() if bent else tuple(_breaks(typed)),
        is_empty=not typed.strip(),
    )


def _breaks(text: str) -> Iterator[tuple[str, str]]:
    """All that may be asked for by hand: at each space, which is dropped, behind each hyphen."""
    for number in range(1, 1 + sum(character in BREAKABLE for character in text)):
        for upper, lower, _ in broken_at(text, number):
            if upper.strip() and lower.strip():
                yield upper, lower
