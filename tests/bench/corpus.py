"""Names that nobody here wrote, with faces that can set them."""

from dataclasses import dataclass

from faker import Faker

from namebatch.text import load_catalogue
from namebatch.text.face import Face

LATIN = ("Pacifico", "Lobster", "Fredoka SemiBold", "Nunito ExtraBold", "Dancing Script Bold")
LOCALES: dict[str, tuple[str, ...]] = {
    "en_GB": LATIN,
    "de_DE": LATIN,
    "cs_CZ": LATIN,
    "pl_PL": LATIN,
    "tr_TR": ("Lobster", "Fredoka SemiBold", "Noto Sans SemiBold"),
    "vi_VN": ("Pacifico", "Noto Sans SemiBold"),
    "el_GR": ("Noto Sans SemiBold",),
    "uk_UA": ("Pacifico", "Lobster", "Noto Sans SemiBold"),
    "ar_SA": ("Noto Sans Arabic SemiBold",),
    "he_IL": ("Heebo Bold", "Fredoka SemiBold"),
    "hi_IN": ("Noto Sans Devanagari SemiBold",),
    "th_TH": ("Noto Sans Thai SemiBold",),
}
"""Twelve locales, ten faces; a face is skipped for a name that it cannot set."""


@dataclass(frozen=True, slots=True)
class Sample:
    """A name and the face that sets it."""

    text: str
    face: Face
    locale: str


def samples(count: int, seed: int = 7) -> list[Sample]:
    """The first `count` names, locale by locale in turn, faces in turn."""
    catalogue = load_catalogue()
    fakes = {locale: Faker(locale) for locale in LOCALES}
    for fake in fakes.values():
        fake.seed_instance(seed)
    found: list[Sample] = []
    turn = 0
    while len(found) < count:
        for locale, names in LOCALES.items():
            text = fakes[locale].first_name()
            able = [face for face in map(catalogue.open, names) if face.can_set(text)]
            if able:
                found.append(Sample(text, able[turn % len(able)], locale))
        turn += 1
    return found[:count]
