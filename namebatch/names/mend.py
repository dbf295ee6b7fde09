"""What somebody changed by hand in the piece of one row; the list itself stays as it was read."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any

Plain = dict[str, Any]
"""A table as TOML and JSON have it."""


@dataclass(frozen=True, slots=True)
class TextMend:
    """How one text of a piece is set otherwise than its template says.

    Attributes:
        font: typeface that is tried before the others; empty for none.
        height_mm: exact height of its capitals.
        most_mm: greatest height of its capitals; not together with `height_mm`.
        one_line: it stays on one line.
        lines: the two lines that it is broken into; not together with `one_line`.
        shift_mm: to the right and up; along a bent line: on along it and off it.
    """

    font: str = ""
    height_mm: float | None = None
    most_mm: float | None = None
    one_line: bool = False
    lines: tuple[str, str] | None = None
    shift_mm: tuple[float, float] = (0.0, 0.0)


def told_shift(shift_mm: tuple[float, float]) -> str:
    """How far a text was moved, as a reader of it sees it: ``1 mm right and 2.5 mm down``.

    Args:
        shift_mm: to the right and up, not both 0; along a bent line: on along it and off it.
    """
    right, up = shift_mm
    ways = ((right, "right", "left"), (up, "up", "down"))
    return " and ".join(
        f"{abs(by):g} mm {more if by > 0 else less}" for by, more, less in ways if by
    )


@dataclass(frozen=True, slots=True)
class Mend:
    """Everything that was changed by hand in one row's piece.

    Attributes:
        fields: template field → what it says instead of the list.
        texts: text box → how it is set.
        font: typeface that is tried first in every text that takes a column; empty for none.
        bridge_mm: width of bridges, where it is more than the material asks for.
        quantity: how many to make.
        held: why it is not to be made; empty if it is.
        was: template field → what the list said when this was written, so that it is not put on
            another name after the list has changed; fields that do not matter are left out.
    """

    fields: Mapping[str, str] = field(default_factory=dict)
    texts: Mapping[str, TextMend] = field(default_factory=dict)
    font: str = ""
    bridge_mm: float | None = None
    quantity: int | None = None
    held: str = ""
    was: Mapping[str, str] = field(default_factory=dict)

    @property
    def is_empty(self) -> bool:
        """True if nothing is changed."""
        return not plain_mend(replace(self, was={}))

    def of_text(self, box: str) -> TextMend:
        """How a text box is set, with the typeface that was chosen for all of them."""
        found = self.texts.get(box, TextMend())
        return found if found.font or not self.font else replace(found, font=self.font)


def plain_mend(mend: Mend) -> Plain:
    """A mend as a table: only what is set, keys in one order, for files and manifest."""
    table: Plain = {
        "fields": {name: mend.fields[name] for name in sorted(mend.fields)},
        "text": {box: told for box in sorted(mend.texts) if (told := _plain_text(mend.texts[box]))},
        "font": mend.font,
        "bridge_mm": _number(mend.bridge_mm),
        "quantity": mend.quantity,
        "held": mend.held,
        "was": {name: mend.was[name] for name in sorted(mend.was)},
    }
    return {key: value for key, value in table.items() if value not in (None, "", {})}


def mend_of(table: Mapping[str, Any]) -> Mend:
    """The mend of a table that `plain_mend` made, or that was looked through before.

    Raises:
        TypeError, KeyError, ValueError: it is no such table.
    """
    known = {name: table[name] for name in table if name != "text"}
    texts = {str(box): _text_of(told) for box, told in dict(table.get("text", {})).items()}
    return Mend(texts=texts, **known)


def _plain_text(mend: TextMend) -> Plain:
    table: Plain = {
        "font": mend.font,
        "height_mm": _number(mend.height_mm),
        "most_mm": _number(mend.most_mm),
        "one_line": mend.one_line,
        "lines": None if mend.lines is None else list(mend.lines),
        "shift_mm": [float(value) for value in mend.shift_mm] if any(mend.shift_mm) else None,
    }
    return {key: value for key, value in table.items() if value not in (None, "", False)}


def _number(value: float | None) -> float | None:
    """6 and 6.0 are equal and would be other bytes in a file."""
    return None if value is None else float(value)


def _text_of(table: Mapping[str, Any]) -> TextMend:
    known = dict(table)
    if known.get("lines") is not None:
        upper, lower = known["lines"]
        known["lines"] = (str(upper), str(lower))
    if "shift_mm" in known:
        right, up = known["shift_mm"]
        known["shift_mm"] = (float(right), float(up))
    return TextMend(**known)
