"""Whether scripts beside each other look like one size: figures of the faces as sized in a line."""

from statistics import median

import pytest
from shapely import LineString

from namebatch.text.catalogue import Catalogue
from namebatch.text.setting import set_line

LATIN = "Noto Sans SemiBold"

# Letters without ascenders, descenders or marks where a script has such; read from the charts of
# Unicode by eye, a choice of our own. Bounds: what looked like one size in print beside Latin, from
# small letters (0.77 of a capital's height) to a little above capitals. Figures measured in the
# faces: Thai 0.79, Khmer 0.82, Hebrew 0.84, Devanagari 0.87, Telugu 1.03, Han 1.26 …
LETTERS = {
    "Noto Sans SemiBold": "xzvneuo",
    "Noto Sans Hebrew SemiBold": "אבגדהחמרשתם",
    "Noto Sans Devanagari SemiBold": "कगजतनपबमरवस",
    "Noto Sans Bengali SemiBold": "কগজতনপবমরস",
    "Noto Sans Gurmukhi SemiBold": "ਕਗਜਤਨਪਬਮਰਸ",
    "Noto Sans Gujarati SemiBold": "કગજતનપબમરસ",
    "Noto Sans Oriya SemiBold": "କଗଜତନପବମରସ",
    "Noto Sans Tamil SemiBold": "கஙசடதநபமயர",
    "Noto Sans Telugu SemiBold": "కగజతనపబమరస",
    "Noto Sans Kannada SemiBold": "ಕಗಜತನಪಬಮರಸ",
    "Noto Sans Malayalam SemiBold": "കഗജതനപബമരസ",
    "Noto Sans Sinhala SemiBold": "කගජතනපබමරස",
    "Noto Sans Thai SemiBold": "กขคงจดตนมรลวส",
    "Noto Sans Lao SemiBold": "ກຂຄງຈດຕນມລວສ",
    "Noto Sans Khmer SemiBold": "កខគងចដតនមរលវស",
    "Noto Sans Myanmar SemiBold": "ကခဂငစတနပမရလသ",
    "Noto Sans Georgian SemiBold": "აეთინო",
    "Noto Sans Armenian SemiBold": "անոստ",
    "Noto Sans Ethiopic SemiBold": "ሀለሐመሠረሰቀበተ",
}
CAPITALS = {
    "Noto Sans Georgian SemiBold": "ᲐᲗᲝ",
    "Noto Sans Armenian SemiBold": "ԱՆՍ",
}


def _heights(catalogue: Catalogue, face: str, letters: str) -> list[float]:
    """Heights of letters beside Latin, in heights of its capitals."""
    chain = (catalogue.open(LATIN), catalogue.open(face))
    found = []
    for letter in letters:
        line = set_line(chain, letter, 10.0)
        beside = set_line(chain, f"H {letter}", 10.0)
        assert line.bounds is not None
        scale = beside.signs[-1].scale / line.signs[-1].scale
        found.append((line.bounds[3] - line.bounds[1]) * scale / chain[0].cap_height)
    return found


@pytest.mark.parametrize("face", sorted(LETTERS))
def test_letters_stand_between_small_letters_and_capitals(catalogue: Catalogue, face: str) -> None:
    """Beside Latin no script's common letters are smaller than its own small ones or tower."""
    assert 0.7 <= median(_heights(catalogue, face, LETTERS[face])) <= 1.15


@pytest.mark.parametrize("face", sorted(CAPITALS))
def test_capitals_are_alike(catalogue: Catalogue, face: str) -> None:
    """Where a script has capitals they are as high as Latin ones."""
    assert median(_heights(catalogue, face, CAPITALS[face])) == pytest.approx(1.0, abs=0.03)


def test_full_square_characters(catalogue: Catalogue) -> None:
    """Han characters and Hangul fill a square a quarter higher than capitals, as in CJK faces."""
    face = "Noto Sans CJK SemiBold"
    for letters in ("田国木村林山本", "한김박"):
        assert 1.15 <= median(_heights(catalogue, face, letters)) <= 1.35


# The stem of l, and of 十 and 王 in the upright: measured across the middle of the outline.
def test_stems_are_alike(catalogue: Catalogue) -> None:
    """Han characters beside Latin are not a lighter face: stems within a quarter of each other."""
    latin = _stem(catalogue, LATIN, "l", 0.5)
    assert _stem(catalogue, "Noto Sans CJK SemiBold", "十", 0.2) == pytest.approx(latin, rel=0.25)
    assert _stem(catalogue, "Noto Sans CJK", "十", 0.2) < 0.75 * latin


def _stem(catalogue: Catalogue, name: str, letter: str, at: float) -> float:
    """Width of the ink at a share of a letter's height, in heights of capitals."""
    face = catalogue.open(name)
    shape = face.glyph_shape(face.shape(letter).glyphs[0].gid, 0.5)
    x0, y0, x1, y1 = shape.bounds
    y = y0 + at * (y1 - y0)
    across = LineString([(x0, y), (x1, y)]).intersection(shape)
    return float(across.length) / face.cap_height
