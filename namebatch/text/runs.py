"""A line cut into stretches that are shaped as one: one script (UAX #24), one level (UAX #9)."""

from collections.abc import Mapping
from dataclasses import dataclass

from fontTools import unicodedata as script_data

from namebatch.text.bidi import bracket_pairs, level_runs, levels
from namebatch.text.clusters import clusters

NEUTRAL = ("Zyyy", "Zinh")
LIKELY_LANGUAGE: Mapping[str, str] = {
    "Arab": "ar",
    "Armn": "hy",
    "Beng": "bn",
    "Deva": "hi",
    "Geor": "ka",
    "Grek": "el",
    "Hang": "ko",
    "Hebr": "he",
    "Hira": "ja",
    "Kana": "ja",
    "Khmr": "km",
    "Taml": "ta",
    "Telu": "te",
    "Thai": "th",
}
"""Script → its most likely language (CLDR likely subtags, from memory).

Latin, Cyrillic and Han serve so many languages that none is taken for granted.
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
    them; at the beginning they join what follows. A closing bracket goes with its opening one
    (UAX #24, section 5.1).
    """
    opening = {closing: place for place, closing in bracket_pairs(text)}
    scripts: list[str] = []
    for index, character in enumerate(text):
        script = script_data.script(character)
        if script in NEUTRAL:
            place = opening.get(index, index - 1)
            script = scripts[place] if place >= 0 else script
        elif scripts and scripts[-1] in NEUTRAL:
            scripts = [script if before in NEUTRAL else before for before in scripts]
        scripts.append(script)
    runs: list[ScriptRun] = []
    for index, (character, script) in enumerate(zip(text, scripts, strict=True)):
        last = runs[-1] if runs else None
        if last is not None and last.script == script:
            runs[-1] = ScriptRun(last.start, last.text + character, script)
        else:
            runs.append(ScriptRun(index, character, script))
    return tuple(runs)


@dataclass(frozen=True, slots=True)
class Item:
    """A stretch of a line that is shaped in one go.

    Attributes:
        start: index of its first character in the line.
        end: index behind its last.
        script: ISO 15924 tag; ``Zyyy`` when it has no letters.
        right_to_left: its writing direction.
    """

    start: int
    end: int
    script: str
    right_to_left: bool


def items_of(text: str) -> tuple[Item, ...]:
    """Cut a line where script or direction change.

    Grapheme clusters are never cut.

    Returns:
        The stretches in visual order, left to right; together they are the whole line.
    """
    if text.isascii():
        return (Item(0, len(text), _script_of_ascii(text), False),) if text else ()
    runs = script_runs(text)
    level = levels(text)
    script = [run.script for run in runs for _ in run.text]
    found: list[Item] = []
    for run in level_runs(text):
        found += _within(text, run.start, run.end, script, level)
    return tuple(found)


def _within(
    text: str, start: int, end: int, script: list[str], level: tuple[int, ...]
) -> list[Item]:
    """The items of one level run in visual order; a cluster belongs to where it starts."""
    cut: list[Item] = []
    starts = {cluster.start for cluster in clusters(text)}
    while end < len(text) and end not in starts:
        end += 1
    while start < end and start not in starts:
        start += 1
    back = bool(level[start] % 2) if start < end else False
    for index in range(start, end):
        last = cut[-1] if cut else None
        if last is not None and (index not in starts or script[index] == last.script):
            cut[-1] = Item(last.start, index + 1, last.script, back)
        else:
            cut.append(Item(index, index + 1, script[index], back))
    return cut[::-1] if back else cut


def _script_of_ascii(text: str) -> str:
    return "Latn" if any(character.isalpha() for character in text) else "Zyyy"
