"""Real names as cut lines: set by the text room, moved for the kerf."""

from collections.abc import Iterator

import shapely
from faker import Faker
from shapely import Polygon

from namebatch.errors import OutlineError
from namebatch.outline import offset_for_kerf
from namebatch.text import load_catalogue
from namebatch.text.setting import ink_of, set_line

FACES = {
    "Pacifico": "pl_PL",
    "Lobster": "cs_CZ",
    "Dancing Script Bold": "sv_SE",
    "Fredoka SemiBold": "de_DE",
    "Nunito ExtraBold": "en_GB",
    "Noto Sans Arabic SemiBold": "ar_SA",
    "Noto Sans Devanagari SemiBold": "hi_IN",
    "Noto Sans Thai SemiBold": "th_TH",
}
KERF_MM = 0.17
CAPITALS_MM = 14.0
CHORD_MM = 0.005
"""Chords of the letters' curves stand off by no more than this."""


def names(each: int) -> Iterator[tuple[str, str, list[Polygon]]]:
    """Face, name and its cut lines, `each` first names in each of eight faces."""
    catalogue = load_catalogue()
    for name, locale in FACES.items():
        face = catalogue.open(name)
        fake = Faker(locale)
        fake.seed_instance(2027)
        for _ in range(each):
            text = fake.first_name()
            # `set_line` flattens within 0.01 mm at the size it is told
            line = set_line(face, text, CAPITALS_MM * 0.01 / CHORD_MM)
            ink = ink_of(line, CAPITALS_MM / face.cap_height, 20.0, 30.0)
            parts = []
            for part in shapely.get_parts(ink):
                try:
                    parts.append(offset_for_kerf(part, (KERF_MM, KERF_MM)))
                except OutlineError:
                    continue  # a counter no wider than the kerf: the piece would be held
            yield name, text, parts
