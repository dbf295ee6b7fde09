"""Telling 8-bit Latin code pages apart."""

import pytest
from faker import Faker

from namebatch.names.latin import latin_page


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
        ("José\nÉva\nZoë", "mac_roman"),
    ],
)
def test_other_scripts_are_none_of_them(text: str, codec: str) -> None:
    """Text in another script or of another maker's machine fits no Latin code page."""
    assert latin_page(text.encode(codec)) is None


@pytest.mark.parametrize(
    "text", ["MÜLLER", "O’Neil – “Zoë”", "Mª José", "Siân", "Þórður", "İnci Güneş"]
)
def test_single_names(text: str) -> None:
    """Capitals, dashes, quotes and ordinals are part of good text."""
    codec = "cp1254" if "İ" in text else "cp1252"
    assert latin_page(text.encode(codec)) == codec
