"""Real lettering for tests of the outline room: ink of each letter, a bar to stand on."""

from functools import lru_cache

import numpy as np
import shapely
from faker import Faker
from shapely import MultiPolygon, Polygon, box

from namebatch.outline.model import Letter
from namebatch.text import load_catalogue
from namebatch.text.glyphs import as_multipolygon
from namebatch.text.setting import set_line

LATIN = (
    "Pacifico", "Lobster", "Dancing Script Bold", "Caveat Bold", "Fredoka SemiBold",
    "Nunito ExtraBold", "Noto Sans SemiBold",
)  # fmt: skip
FACES = {
    "en_GB": LATIN, "de_DE": LATIN, "fr_FR": LATIN, "pl_PL": LATIN, "cs_CZ": LATIN,
    "tr_TR": LATIN, "vi_VN": LATIN, "sv_SE": LATIN, "es_ES": LATIN,
    "ar_SA": ("Noto Sans Arabic SemiBold",), "fa_IR": ("Noto Sans Arabic SemiBold",),
    "hi_IN": ("Noto Sans Devanagari SemiBold",), "th_TH": ("Noto Sans Thai SemiBold",),
    "he_IL": ("Heebo Bold",),
}  # fmt: skip


@lru_cache(maxsize=256)
def letters_of(name: str, face: str, cap_mm: float = 18.0) -> tuple[Letter, ...]:
    """The ink of each grapheme cluster; HarfBuzz clusters are those by default."""
    font = load_catalogue().open(face)
    line = set_line(font, name, max(cap_mm, 20.0))
    scale = cap_mm / font.cap_height
    found: dict[int, list[MultiPolygon]] = {}
    for glyph in line.signs:
        shape = font.glyph_shape(glyph.gid, line.tolerance)
        at = np.array([glyph.x, glyph.y])
        moved = shapely.transform(shape, lambda xy, at=at: (xy + at) * scale)
        if not shape.is_empty:
            found.setdefault(glyph.cluster, []).append(moved)
    starts = [*sorted({glyph.cluster for glyph in line.signs}), len(name)]
    return tuple(
        Letter(
            start,
            name[start : starts[starts.index(start) + 1]],
            as_multipolygon(shapely.union_all(shapes)),
        )
        for start, shapes in sorted(found.items())
    )


def ink(letters: tuple[Letter, ...]) -> MultiPolygon:
    """All letters as one shape."""
    return as_multipolygon(shapely.union_all([letter.shape for letter in letters]))


def on_bar(letters: tuple[Letter, ...]) -> Polygon | MultiPolygon:
    """The letters on a bar 6 mm high that they overlap by 1.2 mm at the baseline."""
    text = ink(letters)
    x0, _, x1, _ = text.bounds
    return shapely.union(text, box(x0 - 4, -4.8, x1 + 4, 1.2))


def plate_of(letters: tuple[Letter, ...]) -> tuple[Polygon, Polygon | MultiPolygon]:
    """A plate 5 mm larger than the letters, and the same with the letters cut out."""
    text = ink(letters)
    x0, y0, x1, y1 = text.bounds
    base = box(x0 - 5, y0 - 5, x1 + 5, y1 + 5)
    return base, shapely.difference(base, text)


def corpus(each: int) -> list[tuple[str, str]]:
    """Names by faker in 14 locales, each in one of the faces that has its letters."""
    pairs: list[tuple[str, str]] = []
    for locale, faces in FACES.items():
        fake = Faker(locale)
        fake.seed_instance(20271)
        for index in range(each):
            name, face = fake.first_name(), faces[(len(pairs) + index) % len(faces)]
            if load_catalogue().open(face).can_set(name):
                pairs.append((name, face))
    return pairs


def cores_at(shape: shapely.Geometry, width_mm: float) -> list[Polygon]:
    """Parts of the erosion by half of a width, 16 segments a quarter."""
    eroded = shapely.buffer(shape, -width_mm / 2, quad_segs=16)
    return [part for part in shapely.get_parts(eroded) if not part.is_empty]
