"""Levels and clusters against the Unicode Consortium's own test files and other programs.

The files are those of the Debian package unicode-data (Unicode 15.0 in Debian 12).
"""

import os
import random
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
import pyunormalize
from bidi import get_base_level, get_display

from namebatch.text import bidi
from namebatch.text.bidi import base_level, level_runs
from namebatch.text.clusters import clusters
from tests.text.visual import visual_order

FOLDER = Path("/usr/share/unicode")
EXPLICIT = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
STANDS_FOR = {
    "L": "a",
    "R": "א",
    "AL": "ا",
    "EN": "1",
    "AN": "٣",
    "ES": "+",
    "ET": "$",
    "CS": ",",
    "NSM": "\u0301",
    "BN": "\u00ad",
    "B": "\u2029",
    "S": "\t",
    "WS": " ",
    "ON": "!",
}
"""One character of each class that is not an explicit mark; none is a bracket."""

BROKEN_LATER = {"\u2701\u200d\u2701"}
"""Clusters of Unicode 15.0 that later data break: U+2701 is no longer Extended_Pictographic."""


def _lines(name: str) -> Iterator[str]:
    """The lines of a data file without comments; without the file the test is skipped."""
    path = FOLDER / name
    if not path.is_file():
        if os.environ.get("CI") == "true":
            pytest.fail("the Debian package unicode-data must be installed under CI")
        pytest.skip("the Debian package unicode-data is not installed")
    for line in path.read_text(encoding="utf-8").splitlines():
        body = line.partition("#")[0].strip()
        if body:
            yield body


def _agrees(text: str, base: int | None, wanted: list[str], order: list[str]) -> bool:
    """True if levels and visual order are those wanted; ``x`` stands for what X9 removes."""
    runs = level_runs(text, base)
    level = {i: str(run.level) for run in runs for i in range(run.start, run.end)}
    seen = [str(i) for i in visual_order(runs) if wanted[i] != "x"]
    return seen == order and all(w in ("x", level[i]) for i, w in enumerate(wanted))


def test_bidi_character_test() -> None:
    """Every line of BidiCharacterTest without explicit marks has the levels and order given."""
    count = 0
    wrong = []
    for line in _lines("BidiCharacterTest.txt"):
        codes, direction, base, wanted, order = line.split(";")
        text = "".join(chr(int(code, 16)) for code in codes.split())
        if EXPLICIT & set(text):
            continue
        count += 1
        asked = None if direction == "2" else int(direction)
        right = _agrees(text, asked, wanted.split(), order.split())
        if not right or (asked is None and base_level(text) != int(base)):
            wrong.append(line)
    assert wrong == []
    assert count > 91_000


def test_bidi_test() -> None:
    """Every sequence of classes in BidiTest without explicit marks has its levels and order."""
    count = 0
    wrong = []
    wanted: list[str] = []
    order: list[str] = []
    for line in _lines("BidiTest.txt"):
        if line.startswith("@Levels:"):
            wanted = line.split()[1:]
        elif line.startswith("@Reorder:"):
            order = line.split()[1:]
        elif not line.startswith("@"):
            classes, directions = line.split(";")
            if not set(classes.split()) <= set(STANDS_FOR):
                continue
            text = "".join(STANDS_FOR[c] for c in classes.split())
            for bit, base in ((1, None), (2, 0), (4, 1)):
                if int(directions, 16) & bit:
                    count += 1
                    if not _agrees(text, base, wanted, order):
                        wrong.append((line, base))
    assert wrong == []
    assert count > 100_000


def test_brackets() -> None:
    """Our table of brackets is that of BidiBrackets.txt."""
    theirs = [line.split("; ") for line in _lines("BidiBrackets.txt")]
    pairs = [chr(int(a, 16)) + chr(int(b, 16)) for a, b, kind in theirs if kind == "o"]
    assert "".join(pairs) == bidi._PAIRS


def test_canonical_brackets() -> None:
    """What closes a bracket is the same by a normaliser of its own with newer data."""
    assert {c: pyunormalize.NFC(c) for c in bidi._PAIRS[1::2]} == bidi._CLOSING


def test_grapheme_break_test() -> None:
    """Every line of GraphemeBreakTest is cut where it says, but for data that changed since."""
    count = 0
    wrong = set()
    for line in _lines("auxiliary/GraphemeBreakTest.txt"):
        parts = re.sub(r"\s", "", line.replace("×", " + ").replace("\u00f7", "|")).strip("|")
        wanted = ["".join(chr(int(c, 16)) for c in part.split("+")) for part in parts.split("|")]
        count += 1
        if [cluster.text for cluster in clusters("".join(wanted))] != wanted:
            wrong.add("".join(wanted))
    assert wrong <= BROKEN_LATER
    assert count > 600


PARTS = [
    *("Ada", "Łukasz", "Zoe\u0301", "O'Hara", "7", "12", "3,5", "1/2", "٣٤", "۵۶", "№ 4"),
    *("שלום", "נֹעַם", "מ״ר", "محمد", "عَلِيّ", "می\u200cآید", "ܫܠܡܐ", "ߞߐ", "क्षिति", "อรุณี", "木"),
    *("(Kit)", "(בן)", "[محمد]", "(a", "ב)", "⟨ג⟩", "-", "&", "!", "…", "+", "#1", "50%", "€9"),
]


def test_python_bidi() -> None:
    """Two thousand mixed names read in the order that another implementation gives.

    python-bidi wraps a Rust library; joiners, which it may put elsewhere, are left out.
    """
    dice = random.Random(9)
    wrong = []
    for _ in range(2000):
        pieces = [dice.choice(PARTS) + dice.choice(["", " ", " ", ", "]) for _ in range(5)]
        text = "".join(pieces[: dice.randint(1, 5)])
        for base in (None, 0, 1):
            direction = get_base_level(text) if base is None else base
            theirs = str(get_display(text, base_dir="LR"[direction]))
            ours = "".join(text[index] for index in visual_order(level_runs(text, base)))
            if ours.replace("\u200c", "") != theirs.replace("\u200c", ""):
                wrong.append((text, base))
    assert wrong == []
