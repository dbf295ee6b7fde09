"""Encodings that spreadsheets write."""

import pytest

from namebatch.names.decode import decode
from tests.names.helpers import NAME_ONLY

WESTERN = "name;qty\r\nZoë Åkerblad;2\r\nJosé Muñoz;1\r\n"


@pytest.mark.parametrize(
    ("codec", "mark", "label"),
    [
        ("utf-8", b"", "UTF-8"),
        ("utf-8", b"\xef\xbb\xbf", "UTF-8"),
        ("utf-16-le", b"\xff\xfe", "UTF-16"),
        ("utf-16-be", b"\xfe\xff", "UTF-16"),
        ("utf-32-le", b"\xff\xfe\x00\x00", "UTF-32"),
    ],
)
def test_certain(codec: str, mark: bytes, label: str) -> None:
    """UTF-8, and what a byte order mark says, is no guess; the mark is not in the text."""
    decoded = decode(mark + WESTERN.encode(codec), NAME_ONLY.known)
    assert (decoded.text, decoded.label, decoded.guessed) == (WESTERN, label, False)


@pytest.mark.parametrize(
    ("text", "codec", "label"),
    [
        (WESTERN, "cp1252", "Windows-1252"),
        ("name\nO’Neil – “Zo”\nCafé à gogo\n", "cp1252", "Windows-1252"),
        ("name\nMª José\nÉva\nØyvind\n", "cp1252", "Windows-1252"),
        (WESTERN, "utf-16-le", "UTF-16"),
        (WESTERN, "utf-16-be", "UTF-16"),
        ("name\nŁukasz Wałęsa\nŻaneta Gęś\nŚwiętosława\n", "cp1250", "Windows-1250"),
        ("Jméno;Počet\nLukáš Dvořák;2\n", "cp1250", "Windows-1250"),
        ("Имя;Количество\nМаша;2\nАлександр;1\n", "cp1251", "Windows-1251"),
        ("Όνομα;Ποσότητα\nΕλένη;2\n", "cp1253", "Windows-1253"),
        ("Nom;Prénom\nZoë;Éva\n", "mac_roman", "Mac Roman"),
    ],
)
def test_guessed(text: str, codec: str, label: str) -> None:
    """Without a mark the encoding is guessed rightly, and known to be a guess."""
    decoded = decode(text.encode(codec), NAME_ONLY.known)
    assert (decoded.text, decoded.label, decoded.guessed) == (text, label, True)


def test_a_few_damaged_bytes_in_utf8() -> None:
    """One lost byte does not turn a whole UTF-8 list into something else."""
    data = "name\nZoë\nÅsa\nJosé\nÉva\nØyvind\n".encode() + b"Ren\xc3\n"
    decoded = decode(data, NAME_ONLY.known)
    assert (decoded.label, decoded.damaged) == ("UTF-8", 1)
    assert "Zoë" in decoded.text
    assert "Ren\ufffd" in decoded.text


def test_cut_off_utf16() -> None:
    """Half a character at the end is kept as damage, not dropped."""
    decoded = decode(b"\xff\xfe" + "name\nAda".encode("utf-16-le")[:-1], NAME_ONLY.known)
    assert decoded.text == "name\nAd\ufffd"
    assert decoded.damaged == 1
