"""Typefaces for what a template's own cannot set: sturdy plain ones, by script."""

import unicodedata
from collections.abc import Mapping

import regex
from fontTools import unicodedata as script_data

from namebatch.text.catalogue import Catalogue

BY_SCRIPT: Mapping[str, tuple[str, ...]] = {
    "Latn": ("Noto Sans SemiBold",),
    "Grek": ("Noto Sans SemiBold",),
    "Cyrl": ("Noto Sans SemiBold",),
    "Arab": ("Noto Sans Arabic SemiBold",),
    "Hebr": ("Noto Sans Hebrew SemiBold",),
    "Armn": ("Noto Sans Armenian SemiBold",),
    "Geor": ("Noto Sans Georgian SemiBold",),
    "Ethi": ("Noto Sans Ethiopic SemiBold",),
    "Deva": ("Noto Sans Devanagari SemiBold",),
    "Beng": ("Noto Sans Bengali SemiBold",),
    "Guru": ("Noto Sans Gurmukhi SemiBold",),
    "Gujr": ("Noto Sans Gujarati SemiBold",),
    "Orya": ("Noto Sans Oriya SemiBold",),
    "Taml": ("Noto Sans Tamil SemiBold",),
    "Telu": ("Noto Sans Telugu SemiBold",),
    "Knda": ("Noto Sans Kannada SemiBold",),
    "Mlym": ("Noto Sans Malayalam SemiBold",),
    "Sinh": ("Noto Sans Sinhala SemiBold",),
    "Thai": ("Noto Sans Thai SemiBold",),
    "Laoo": ("Noto Sans Lao SemiBold",),
    "Khmr": ("Noto Sans Khmer SemiBold",),
    "Mymr": ("Noto Sans Myanmar SemiBold",),
    "Zsye": ("Noto Emoji Bold",),
    "Zsym": ("Noto Emoji Bold", "Noto Sans Symbols SemiBold", "Noto Sans CJK"),
    "Hani": ("Noto Sans CJK",),
    "Hira": ("Noto Sans CJK",),
    "Kana": ("Noto Sans CJK",),
    "Bopo": ("Noto Sans CJK",),
    "Hang": ("Noto Sans CJK",),
}
"""ISO 15924 tag → names in the catalogue in the order in which they are tried.

Many faces have some Latin; only the fullest is tried for it. Pictures are ``Zsye`` and other
symbols ``Zsym``.
"""

FALLBACK: tuple[str, ...] = tuple(
    dict.fromkeys(name for names in BY_SCRIPT.values() for name in names)
)
"""Every face that is tried after a template's own, in order."""

_COMMON = ("Zyyy", "Zinh")
_PICTURE = regex.compile(r"[\p{Extended_Pictographic}\p{Emoji_Modifier}\p{Regional_Indicator}]")


def scripts_of(text: str) -> frozenset[str]:
    """The scripts whose faces a text may need, as ISO 15924 tags.

    Digits, spaces and signs that many scripts share are looked for where Latin is; pictures
    and symbols both there and in faces of their own.
    """
    found: set[str] = set()
    for character in text:
        script = script_data.script(character)
        found.add("Latn" if script in _COMMON else script)
        if _PICTURE.match(character):
            found |= {"Zsye", "Zsym"}
        elif script in _COMMON and unicodedata.category(character)[0] == "S":
            found.add("Zsym")
    return frozenset(found)


def fallback_for(text: str, catalogue: Catalogue) -> tuple[str, ...]:
    """Names of the installed faces that cover the text's scripts, in the order of `FALLBACK`.

    Args:
        text: one line in any scripts.
        catalogue: what is installed.

    Returns:
        Names that `Catalogue.open` takes; whether they have every character is not looked at.
    """
    wanted = _wanted(text)
    installed = {info.name for info in catalogue.infos}
    return tuple(name for name in FALLBACK if name in wanted and name in installed)


def remedies_for(text: str, catalogue: Catalogue) -> tuple[str, ...]:
    """What to install for a text that the faces here cannot set.

    Args:
        text: one line in any scripts.
        catalogue: what is installed, and what is not.

    Returns:
        A sentence for each face that would be tried and is not installed.
    """
    wanted = _wanted(text)
    return tuple(face.remedy for face in catalogue.absent if face.name in wanted)


def _wanted(text: str) -> frozenset[str]:
    return frozenset(name for tag in scripts_of(text) for name in BY_SCRIPT.get(tag, ()))
