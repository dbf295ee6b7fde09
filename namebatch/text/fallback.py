"""Typefaces for what a template's own cannot set: sturdy plain ones, by script."""

import unicodedata
from collections.abc import Iterable, Mapping, Sequence

import regex
from fontTools import unicodedata as script_data

from namebatch.errors import FontError
from namebatch.text.catalogue import Catalogue
from namebatch.text.clusters import clusters

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
    "Zsym": (
        "Inter SemiBold",
        "Noto Emoji Bold",
        "Noto Sans Symbols SemiBold",
        "Noto Sans CJK SemiBold",
    ),
    "Zsye": ("Noto Emoji Bold",),
    "Hani": ("Noto Sans CJK SemiBold",),
    "Hira": ("Noto Sans CJK SemiBold",),
    "Kana": ("Noto Sans CJK SemiBold",),
    "Bopo": ("Noto Sans CJK SemiBold",),
    "Hang": ("Noto Sans CJK SemiBold",),
}
"""ISO 15924 tag → names in the catalogue in the order in which they are tried.

Many faces have some Latin; only the fullest is tried for it. Pictures are ``Zsye`` and other
symbols ``Zsym``: stars, hearts, ticks and arrows come from a text face, whose strokes are those of
letters, and only what it lacks from pictures.
"""

FALLBACK: tuple[str, ...] = tuple(
    dict.fromkeys(name for names in BY_SCRIPT.values() for name in names)
)
"""Every face that is tried after a template's own, in order."""

_COMMON = ("Zyyy", "Zinh")
_PICTURE = regex.compile(r"[\p{Extended_Pictographic}\p{Emoji_Modifier}\p{Regional_Indicator}]")
_WITH_HAN = regex.compile(r"[\u3000-\u33FF\uFE10-\uFE6F\uFF00-\uFFEF]")
"""Signs and wide letters that only faces with Han characters have."""


def scripts_of(text: str) -> frozenset[str]:
    """The scripts whose faces a text may need, as ISO 15924 tags.

    Digits, spaces and signs that many scripts share are looked for where Latin is; pictures
    and symbols both there and in faces of their own.
    """
    found: set[str] = set()
    for character in text:
        script = script_data.script(character)
        category = unicodedata.category(character)
        found.add("Latn" if script in _COMMON else script)
        if _PICTURE.match(character):
            found |= {"Zsye", "Zsym"}
        elif script in _COMMON and (category[0] == "S" or category == "No"):
            found.add("Zsym")
        if _WITH_HAN.match(character):
            found.add("Hani")
    return frozenset(found)


def fallback_for(text: str, catalogue: Catalogue) -> tuple[str, ...]:
    """Names of the installed faces that a text may need.

    Those that cover its scripts, in the order of `FALLBACK`. What none of these has is asked of
    every other face here: first of the rest of `FALLBACK`, then of the others, sturdy ones first.

    Args:
        text: one line in any scripts.
        catalogue: what is installed.

    Returns:
        Names that `Catalogue.open` takes. A character that they lack together, none here has.
    """
    tags = scripts_of(text)
    wanted = {name for tag in tags for name in BY_SCRIPT.get(tag, ())}
    installed = {info.name for info in catalogue.infos}
    names = [name for name in FALLBACK if name in wanted and name in installed]
    lost = [
        cluster.text for cluster in clusters(text) if not _one_sets(cluster.text, names, catalogue)
    ]
    for name in _others(catalogue, names) if lost else ():
        able = [sign for sign in lost if _one_sets(sign, [name], catalogue)]
        if able:
            names.append(name)
            lost = [sign for sign in lost if sign not in able]
        if not lost:
            break
    return tuple(names)


def _others(catalogue: Catalogue, names: Sequence[str]) -> list[str]:
    """Every other face here: those that are meant to help out, then the sturdiest first."""
    infos = {info.name: info for info in catalogue.infos}
    meant = [name for name in FALLBACK if name in infos]
    sturdy = sorted(infos.values(), key=lambda info: -(info.thinnest_stroke_ratio or 0.0))
    others = dict.fromkeys([*meant, *(info.name for info in sturdy)])
    return [name for name in others if name not in names]


def _one_sets(sign: str, names: Iterable[str], catalogue: Catalogue) -> bool:
    """Whether one of some faces sets a sign; a face whose file is broken sets nothing."""
    for name in names:
        try:
            if catalogue.open_spare(name).can_set(sign):
                return True
        except FontError:
            continue
    return False


def remedies_for(text: str, catalogue: Catalogue) -> tuple[str, ...]:
    """What to install for a text that the faces here cannot set.

    Args:
        text: one line in any scripts.
        catalogue: what is installed, and what is not.

    Returns:
        A sentence for each face that would be tried, is not installed and has something that
        the text needs: its letters, or one of the signs that the catalogue says it adds.
    """
    return tuple(
        face.remedy
        for face in catalogue.absent
        if face.name in FALLBACK
        and any(
            character in face.signs or _letters_of(character) & set(face.scripts)
            for character in text
        )
    )


def _letters_of(character: str) -> frozenset[str]:
    return scripts_of(character) - {"Latn", "Zsym", "Zsye"}
