"""Script runs of a text (UAX #24) and whether its writing direction is mixed."""

import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass

from fontTools import unicodedata as script_data

NEUTRAL = ("Zyyy", "Zinh")
LIKELY_LANGUAGE: Mapping[str, str] = {
    "Arab": "ar",
    "Armn": "hy",
    "Beng": "bn",
    "Deva": "hi",
    "Geor": "ka",
    "Grek": "el",
    "Hebr": "he",
    "Jpan": "ja",
    "Khmr": "km",
    "Kore": "ko",
    "Taml": "ta",
    "Telu": "te",
    "Thai": "th",
}
"""Script → its most likely language (CLDR likely subtags, from memory).

Latin and Cyrillic serve so many languages that none is taken for granted.
"""


@dataclass(frozen=True, slots=True)
class ScriptRun:
    """A stretch of text in one script.

    Attributes:
        start: index of its first character in the whole text.
        text: the stretch.
        script: ISO 15924 tag; ``Zyyy`` when it has no letters.
    """

    start: int
    text: str
    script: str


def script_runs(text: str) -> tuple[ScriptRun, ...]:
    """Split a text where the script changes.

    Characters common to many scripts (spaces, digits, marks) stay with what stands before
    them; at the beginning they join what follows.
    """
    runs: list[ScriptRun] = []
    for index, character in enumerate(text):
        script = script_data.script(character)
        last = runs[-1] if runs else None
        if last is None:
            runs.append(ScriptRun(index, character, script))
        elif script in NEUTRAL or script == last.script:
            runs[-1] = ScriptRun(last.start, last.text + character, last.script)
        elif last.script in NEUTRAL:
            runs[-1] = ScriptRun(last.start, last.text + character, script)
        else:
            runs.append(ScriptRun(index, character, script))
    return tuple(runs)


def is_right_to_left(text: str) -> bool:
    """True if a letter of the text is written right to left (bidi classes R and AL)."""
    return any(unicodedata.bidirectional(character) in ("R", "AL") for character in text)


def has_mixed_direction(text: str) -> bool:
    """True if right-to-left letters stand beside anything whose order would then change.

    That is left-to-right letters, digits, or letters of a second right-to-left script.
    """
    if not is_right_to_left(text):
        return False
    scripts = {run.script for run in script_runs(text)} - set(NEUTRAL)
    return len(scripts) > 1 or any(
        unicodedata.bidirectional(character) in ("L", "EN", "AN") for character in text
    )
