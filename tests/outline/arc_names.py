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


def names(each: int) -> Iterator[tuple[str, str, list[Polygon]]]:
    """Face, name and its cut lines, `each` first names in each of eight faces."""
    for face, locale in FACES.items():
        fake = Faker(locale)
        fake.seed_instance(2027)
        for _ in range(each):
            text = fake.first_name()
            yield face, text, cut_parts(face, text)


def cut_parts(face_name: str, text: str) -> list[Polygon]:
    """The parts of a name, flattened as for a piece of this size and moved for the kerf."""
    face = load_catalogue().open(face_name)
    ink = ink_of(set_line(face, text, CAPITALS_MM), CAPITALS_MM / face.cap_height, 20.0, 30.0)
    parts = []
    for part in shapely.get_parts(ink):
        try:
            parts.append(offset_for_kerf(part, (KERF_MM, KERF_MM)))
        except OutlineError:
            continue  # a counter no wider than the kerf: the piece would be held
    return parts
