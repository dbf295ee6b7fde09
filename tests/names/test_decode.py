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


def mixed(*lines: tuple[str, str]) -> bytes:
    """A list under an ASCII header whose lines are each in an encoding of their own."""
    return b"name\n" + b"".join(f"{text}\n".encode(codec) for text, codec in lines)


@pytest.mark.parametrize("western", [1, 6])
def test_lists_put_together_from_two_encodings(western: int) -> None:
    """Lines in UTF-8 stay UTF-8, the others are read as what they are, line by line."""
    names = ("José", "Søren", "Šárka", "Niño", "Ægir", "Zoë")[:western]
    lines = [("Åsa", "utf-8"), *((name, "cp1252") for name in names), ("Dvořák", "utf-8")]
    decoded = decode(mixed(*lines), NAME_ONLY.known)
    assert decoded.text.split("\n") == ["name", "Åsa", *names, "Dvořák", ""]
    assert decoded.label == "UTF-8 and Windows-1252"
    assert decoded.lines == frozenset(range(3, 3 + western))
    assert decoded.doubtful(2, 2) == ""
    assert decoded.doubtful(2, 3) == "Windows-1252"


def test_damage_in_a_mixed_list_stays_damage() -> None:
    """A line that makes no sense in the other encoding is UTF-8 with lost bytes."""
    data = mixed(("Åsa", "utf-8"), ("José", "cp1252"), ("Niño", "cp1252")) + b"Ren\xc3\n"
    decoded = decode(data, NAME_ONLY.known)
    assert decoded.text.split("\n")[1:5] == ["Åsa", "José", "Niño", "Ren\ufffd"]
    assert (decoded.damaged, decoded.lines) == (1, frozenset({3, 4}))


@pytest.mark.parametrize(
    "names", [("Šárka", "Niño"), ("Søren", "Ægir", "Šárka"), ("Šárka", "Þór"), ("Ñu",), ("Éö",)]
)
def test_western_bytes_are_never_cyrillic(names: tuple[str, ...]) -> None:
    """A handful of western names is read in the western page, letter by letter."""
    decoded = decode(mixed(*((name, "cp1252") for name in names)), NAME_ONLY.known)
    assert decoded.text.split("\n")[1:-1] == list(names)
    assert decoded.page == "Windows-1252"
