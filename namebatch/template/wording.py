"""What a text box says: fixed words and fields of the list, ``{first} {last}``."""

from collections.abc import Mapping
from dataclasses import dataclass
from string import Formatter

LONGEST_FIELD = 60
SEPARATORS = " ,;:·•∙|/\\–—-−+&*~_="
"""Signs that stand between fields, and say nothing where one of them is empty."""
PAIRS = ("()", "[]", "{}", "<>", "«»", "‹›", "“”", "„“", "‘’", '""', "''", "（）")
"""Signs that hold a field."""


@dataclass(frozen=True, slots=True)
class Part:
    """A stretch of a wording.

    Attributes:
        text: the words themselves, or the name of a field.
        is_field: whether it is a field.
    """

    text: str
    is_field: bool


@dataclass(frozen=True, slots=True)
class Wording:
    """Words and fields in order."""

    parts: tuple[Part, ...]

    @property
    def fields(self) -> tuple[str, ...]:
        """Names of the fields in order of first use; empty for a fixed line."""
        return tuple(dict.fromkeys(part.text for part in self.parts if part.is_field))

    def fill(self, values: Mapping[str, str]) -> str:
        """The line for a row; empty when every field of it is empty.

        Spaces, separators and brackets of the wording itself that an empty field leaves at an
        end, doubled or with nothing in them are dropped; what stands in the fields is not touched.
        """
        fields = self.fields
        if fields and not any(values.get(field, "").strip() for field in fields):
            return ""
        line = "".join(values.get(p.text, "") if p.is_field else p.text for p in self.parts)
        if all(values.get(field, "").strip() for field in fields):
            return line
        closed = "".join(self._closed_up(values))
        return " ".join(word for word in closed.split(" ") if word)

    def _closed_up(self, values: Mapping[str, str]) -> list[str]:
        """What stands in the line, with the wording's own signs beside empty fields taken away."""
        line: list[str] = []
        words = ""  # at the end of the line that are the wording's own
        gap = False
        for part in self.parts:
            text = values.get(part.text, "") if part.is_field else part.text
            if part.is_field and not text.strip():
                gap = True
                continue
            if gap and not part.is_field:
                kept, text = _unbracketed(words, text)
                line[-1:] = [kept] if words else line[-1:]
                words = kept
                if not line or _ends_in_sign(words):
                    text = text.lstrip(SEPARATORS)
            if text:
                line.append(text)
                words = "" if part.is_field else text
                gap = gap and not part.is_field and not text.strip()
        if gap and words:
            line[-1] = words.rstrip(SEPARATORS)
        return line


def _unbracketed(before: str, after: str) -> tuple[str, str]:
    """Words before and after an empty field, without a pair of brackets that holds it alone."""
    opening, closing = before.rstrip(), after.lstrip()
    if opening and closing and opening[-1] + closing[0] in PAIRS:
        rest = closing[1:]
        return (opening[:-1].rstrip() if rest[:1] in SEPARATORS else opening[:-1]), rest
    return before, after


def _ends_in_sign(words: str) -> bool:
    """True if words end in a separator, spaces apart."""
    return bool(words.strip()) and words.rstrip()[-1] in SEPARATORS


def field_alone(name: str) -> Wording:
    """A box that takes one field as it is."""
    return Wording((Part(name, True),))


def fixed_line(text: str) -> Wording:
    """A box that says the same on every piece."""
    return Wording((Part(text, False),))


def read_formula(text: str) -> Wording:
    """Read ``{first} {last}``: names of fields in braces, ``{{`` and ``}}`` for braces themselves.

    Nothing else of Python's format strings is understood: no attributes, no positions, no
    conversions.

    Raises:
        ValueError: with a sentence that says what is wrong with it.
    """
    parts: list[Part] = []
    try:
        pieces = list(Formatter().parse(text))
    except ValueError:
        raise ValueError(
            'has a brace without its partner; write fields as "{first} {last}", and a brace '
            'itself as "{{" or "}}".'
        ) from None
    for words, field, layout, conversion in pieces:
        if words:
            parts.append(Part(words, False))
        if field is None:
            continue
        if layout or conversion or not _is_name(field):
            raise ValueError(
                f'has "{{{field}}}" with more in its braces than the name of a field; write only '
                'names, as in "{first} {last}".'
            )
        parts.append(Part(field.strip(), True))
    if not any(part.is_field for part in parts):
        raise ValueError('names no field; write at least one, as in "{first} {last}", or use line.')
    return Wording(tuple(parts))


def _is_name(field: str) -> bool:
    """Letters of any script, digits, spaces, hyphens; at least one letter."""
    name = field.strip()
    if not name or len(name) > LONGEST_FIELD:
        return False
    fine = all(c.isalnum() or c in " -_" or c.isidentifier() for c in name)
    return fine and any(c.isalpha() for c in name)
