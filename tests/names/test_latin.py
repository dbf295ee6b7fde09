"""Telling 8-bit Latin code pages apart."""

import pytest
from faker import Faker

from namebatch.names.latin import latin_page, one_script


@pytest.mark.parametrize(
    ("locales", "codec"),
    [
        (["de_DE", "fr_FR", "es_ES", "sv_SE", "da_DK", "pt_BR", "it_IT", "nl_NL"], "cp1252"),
        (["fi_FI"], "cp1252"),
        (["pl_PL"], "cp1250"),
        (["cs_CZ"], "cp1250"),
        (["hr_HR"], "cp1250"),
        (["tr_TR"], "cp1254"),
    ],
    ids=lambda value: "-".join(value) if isinstance(value, list) else value,
)
@pytest.mark.parametrize("seed", [1, 2, 3])
def test_names_that_nobody_here_wrote(locales: list[str], codec: str, seed: int) -> None:
    """Sixty names by faker, of one country or of many, are read letter by letter."""
    fake = Faker(locales)
    fake.seed_instance(seed)
    text = "".join(f"{fake.name()}\n" for _ in range(60))
    data = text.encode(codec, "ignore")
    page = latin_page(data)
    assert page is not None
    assert data.decode(page) == data.decode(codec)


@pytest.mark.parametrize(
    ("text", "codec"),
    [
        ("Маша\nАлександр", "cp1251"),
        ("Ελένη\nΓιώργος", "cp1253"),
        ("田中\n鈴木\n佐藤", "cp932"),
    ],
)
def test_other_scripts_are_none_of_them(text: str, codec: str) -> None:
    """Text in another script fits no Latin code page."""
    assert latin_page(text.encode(codec)) is None


@pytest.mark.parametrize(
    "text", ["MÜLLER", "O’Neil – “Zoë”", "Mª José", "Siân", "Þórður", "İnci Güneş"]
)
def test_single_names(text: str) -> None:
    """Capitals, dashes, quotes and ordinals are part of good text."""
    codec = "cp1254" if "İ" in text else "cp1252"
    assert latin_page(text.encode(codec)) == codec


@pytest.mark.parametrize(
    "names",
    [
        ("Šárka", "Niño"),
        ("Søren", "Ægir", "Šárka"),
        ("Šárka", "Þór"),
        ("Žižka", "Œuvre", "Ÿves"),
        ("Núñez £12", "Ærø"),
    ],
    ids=lambda names: names[0],
)
def test_western_unless_the_words_speak_against_it(names: tuple[str, ...]) -> None:
    """Š and Ž are in Windows-1252 too; words that read well both ways are no evidence."""
    assert latin_page("\n".join(names).encode("cp1252")) == "cp1252"


@pytest.mark.parametrize(
    ("text", "codec"),
    [
        ("Jiří\nDvořák", "cp1250"),
        ("Marić\nNovak", "cp1250"),
        ("Kowalczyński", "cp1250"),
        ("Győző", "cp1250"),
        ("Güneş", "cp1254"),
        ("Šarūnas\nŽemaitė", "cp1257"),
        ("Šťastný\nRůžička", "iso8859_2"),
        ("José\nÉva\nZoë", "mac_roman"),
    ],
)
def test_clear_words_speak_for_another_page(text: str, codec: str) -> None:
    """One word that no western language has, and that another page makes sense of, decides."""
    assert latin_page(text.encode(codec)) == codec


@pytest.mark.parametrize("count", [1, 2, 3, 5, 8])
def test_short_western_lists(count: int) -> None:
    """However few names by faker from western countries there are, none is read as others."""
    fake = Faker(["de_DE", "fr_FR", "es_ES", "sv_SE", "da_DK", "pt_BR", "it_IT", "nl_NL", "no_NO"])
    fake.seed_instance(count)
    names = [name for name in (fake.name() for _ in range(600)) if not name.isascii()]
    for start in range(0, len(names) - count, count):
        data = "\n".join(names[start : start + count]).encode("cp1252")
        assert latin_page(data) == "cp1252", names[start : start + count]


def test_one_script() -> None:
    """Western letters read in a Cyrillic page mix scripts within words; real words do not."""
    assert one_script("Маша\nАлександр")
    assert not one_script("Šárka\nÞór".encode("cp1252").decode("cp1251"))
    assert not one_script("José")
