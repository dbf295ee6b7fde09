"""Findings in the words of whoever sent the list: no measures, no typefaces, no codes.

What was found while the list was read is said in such words already. What was found while the
piece was made is said to the workshop, in `proof` and the manifest; of that, only what the sender
can answer is told, by its code.
"""

import re
from collections.abc import Mapping
from typing import Final

from namebatch.finding import Finding, Severity
from namebatch.names.mended import LEFT_OUT

_PLACE: Final = re.compile(r'^(?:Line|Row) \d+(?:: |, (?=")| (?=is|has))')
_CODE: Final = re.compile(r" \(U\+[0-9A-F]{4,6}\)|(?<=\()U\+[0-9A-F]{4,6} ")
_NAMED: Final = re.compile(r"U\+[0-9A-F]{4,6} (?=[a-z])")
_HELD: Final = " Held."

_BREAKS: Final = "Made like this it would break, or could not be read any more."
_PARTS: Final = "It is larger than a sheet and cannot be put together from parts like this."
_NO_ROOM: Final = "It does not fit onto the piece."
_SHORTER: Final = "Give a shorter form, or settle another lettering or size with the workshop."
_OTHERWISE: Final = "Give another spelling, or settle another lettering or size with the workshop."
_RETYPE: Final = "Type the text anew, without the sign."
_HOW_MANY: Final = "Write how many as a whole number, 1 or more."
_COLUMNS: Final = "Look whether each text stands in the column that it belongs to."

_MADE: Final[Mapping[str, str]] = {
    "no-glyph": "It has signs that the lettering does not have.",
    "mark-astray": "It has a mark that cannot stand where it is, perhaps typed twice.",
    "no-ink": "There is nothing in it that could be seen.",
    "no-outline": "There is nothing in it that could be seen.",
    "text-too-small": "It is too long for its place: it would come out too small to read.",
    "place-too-low": "Its place is too low for it: it would come out too small to read.",
    "text-in-base": "It would lie inside the piece and not be seen.",
    "no-room-on-sheet": "Made like this the piece is larger than a sheet.",
    **dict.fromkeys(("text-leaves-piece", "text-leaves-base", "text-meets-hole"), _NO_ROOM),
    **dict.fromkeys(("hole-over-text", "no-room-for-hole"), _NO_ROOM),
    **dict.fromkeys(("outline-not-valid", "gap-narrower-than-kerf", "parts-not-joined"), _BREAKS),
    **dict.fromkeys(("too-narrow", "islands-fall-out", "letters-unreadable"), _BREAKS),
    **dict.fromkeys(("spoiled-by-cut", "outline-too-intricate"), _BREAKS),
    **dict.fromkeys(("board-too-narrow", "board-in-parts", "board-hole-open"), _BREAKS),
    "board-gap-narrower-than-kerf": _BREAKS,
    **dict.fromkeys(("joint-crosses-text", "joint-leaves-thin-part"), _PARTS),
    "joint-not-found": _PARTS,
    "list-in-capitals": "Most names are written in capitals, and are set like that.",
    "list-in-small-letters": "Most names are written in small letters, and are set like that.",
    "other-typeface": "It has signs that the lettering lacks: they are set in another one.",
    "other-face": "It is set in a narrower lettering than the others, to fit.",
}
"""Code → what a finding of the making means for whoever sent the list."""

_ASKED: Final[Mapping[str, str]] = {
    **dict.fromkeys(("empty-field", "empty"), "Write what is missing, or delete the {line}."),
    "placeholder": "Write what is meant, or delete the {line}.",
    "not-a-name": "Write the name.",
    **dict.fromkeys(("text-too-long", "cell-too-long"), "Write a shorter text."),
    **dict.fromkeys(("unusable-character", "marks-flood", "mark-without-letter"), _RETYPE),
    "mark-astray": "Look how the word is spelt, and type it anew.",
    **dict.fromkeys(("quantity-too-small", "quantity-not-whole"), _HOW_MANY),
    "quantity-too-large": "Write a smaller number, or share it among several {line}s.",
    **dict.fromkeys(("too-many-cells", "quotes-unbalanced"), _COLUMNS),
    "colour-unknown": "Write one of the colours that there are.",
    "no-glyph": "Write it without these signs, or settle another lettering with the workshop.",
    **dict.fromkeys(("no-ink", "no-outline"), "Write the text."),
    **dict.fromkeys(("text-too-small", "no-room-on-sheet"), _SHORTER),
    **dict.fromkeys(("text-leaves-piece", "text-leaves-base", "text-meets-hole"), _SHORTER),
    **dict.fromkeys(("text-in-base", "hole-over-text", "no-room-for-hole"), _OTHERWISE),
    **dict.fromkeys(("place-too-low", "outline-too-intricate"), _OTHERWISE),
    **dict.fromkeys(("outline-not-valid", "gap-narrower-than-kerf"), _OTHERWISE),
    **dict.fromkeys(("parts-not-joined", "too-narrow", "islands-fall-out"), _OTHERWISE),
    **dict.fromkeys(("letters-unreadable", "spoiled-by-cut", "joint-crosses-text"), _OTHERWISE),
    **dict.fromkeys(("joint-leaves-thin-part", "joint-not-found"), _OTHERWISE),
    **dict.fromkeys(("board-too-narrow", "board-in-parts", "board-hole-open"), _OTHERWISE),
    "board-gap-narrower-than-kerf": _OTHERWISE,
    "held-by-hand": "Settle it with the workshop.",
    LEFT_OUT: "Left out on purpose; nothing to do.",
    **dict.fromkeys(("break-not-of-text", "moved-out-of-place"), _OTHERWISE),
}
"""Code → what to do about a held row."""

_OF_THE_LIST: Final = frozenset(
    (
        *("almost-duplicate", "apostrophes-mixed", "bar-in-text", "columns-swapped"),
        *("digit-in-name", "duplicate", "encoding-damaged", "field-empty", "formula-like"),
        *("header-below", "initials", "letter-in-disguise", "letters-guessed", "lone-sign"),
        *("look-alike-letter", "misread-letters", "name-in-capitals", "name-in-small-letters"),
        *("not-a-name", "order-in-name", "placeholder-perhaps", "remark-in-name"),
        *("scripts-mixed", "space-at-hyphen", "stray-sign", "surname-first", "titles-on-some"),
        *("letter-in-number", "mark-twice", "markup", "quotes-round", "two-alphabets"),
        *("underscore",),
    )
)
"""Codes of what is doubtful in the list and made as it stands, and of names made shorter."""

KNOWN: Final = frozenset({*_MADE, *_ASKED, *_OF_THE_LIST})
"""All codes that have words here."""


def told(finding: Finding, place: str) -> str:
    """What a finding says to whoever sent the list; empty if it is for the workshop alone.

    A hold always says something, and what to do, but for a row that was left out on purpose. The
    place of the row is left out: it stands beside.

    Args:
        finding: of a row, or of the list.
        place: ``Line`` or ``Row``.
    """
    held = finding.severity is Severity.HOLD
    if finding.code == LEFT_OUT:
        return ""
    if finding.code in _MADE:
        return f"{_MADE[finding.code]} {asked(finding, place)}" if held else _MADE[finding.code]
    if not held and finding.code not in _OF_THE_LIST:
        return ""
    message = _PLACE.sub("", finding.message).removesuffix(_HELD)
    message = _NAMED.sub("the sign ", _CODE.sub("", message))
    return message[:1].upper() + message[1:]


def asked(finding: Finding, place: str) -> str:
    """What to do about a finding that holds a row.

    Args:
        finding: a hold.
        place: ``Line`` or ``Row``.
    """
    words = _ASKED.get(finding.code, "Mend what the reason names, or delete the {line}.")
    return words.format(line=place.lower())
