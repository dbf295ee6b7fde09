"""Names that only look as if they were of the alphabet beside them."""

from pathlib import Path

import pytest

from namebatch.names import NameList
from tests.names.helpers import codes, read

# Cyrillic С, о, р, а: it looks like Latin Copa.
COPA = "\u0421\u043e\u0440\u0430"
# Greek Ν, Ι, Ν, Α: it looks like Latin NINA.
NINA = "\u039d\u0399\u039d\u0391"
LATIN = ("Ada", "Bruna", "Cedar", "Dunlin", "Elke")
CYRILLIC = ("Тамара", "Юлия", "Дарья", "Борис", "Жанна")


def _both(folder: Path, *rows: str) -> NameList:
    text = "first name,last name\n" + "".join(f"{row}\n" for row in rows)
    return read(folder, text, ("first name", "last name"))


def _one(folder: Path, *names: str) -> NameList:
    return read(folder, "name\n" + "".join(f"{name}\n" for name in names))


@pytest.mark.parametrize("first", [COPA, NINA])
def test_a_first_name_that_looks_latin(tmp_path: Path, first: str) -> None:
    """Beside a Latin last name, a first name of nothing but look-alikes is warned of."""
    [row] = _both(tmp_path, f"{first},Teasel").rows
    [found] = row.findings
    assert (found.code, found.severity) == ("look-alike-letter", "warn")
    assert f'Line 2: every letter of "{first}" is ' in found.message
    assert 'and looks Latin, as "Teasel" is. Retype it if it is a slip.' in found.message


def test_a_person_with_two_alphabets(tmp_path: Path) -> None:
    """Where the letters show what they are, it is a note: somebody may have meant it."""
    [row] = _both(tmp_path, "Тамара,Teasel").rows
    [found] = row.findings
    assert (found.code, found.severity) == ("two-alphabets", "note")
    assert '"Тамара" Cyrillic and "Teasel" Latin letters' in found.message


def test_a_name_among_latin_names(tmp_path: Path) -> None:
    """In a list of Latin names one that only looks Latin is warned of."""
    names = _one(tmp_path, *LATIN, COPA)
    assert [codes(row.findings) for row in names.rows] == [[]] * 5 + [["look-alike-letter"]]
    assert "looks Latin, as the other names of the list are." in names.rows[-1].findings[0].message


def test_a_name_among_cyrillic_names(tmp_path: Path) -> None:
    """In a list of Cyrillic names a Latin one of look-alikes is warned of too."""
    names = _one(tmp_path, *CYRILLIC, "Capa")
    assert codes(names.rows[-1].findings) == ["look-alike-letter"]


@pytest.mark.parametrize(
    "names",
    [
        (*LATIN, "Тамара"),
        (*LATIN, "Тамара", COPA),
        (*CYRILLIC, COPA),
        (*CYRILLIC, "Anna"),
        (COPA,),
        (*LATIN, "Ο"),
        (*LATIN, "山田", "سلمى"),
    ],
    ids=["plain", "one of several", "its own", "Latin", "alone", "a letter", "others"],
)
def test_what_is_no_slip(tmp_path: Path, names: tuple[str, ...]) -> None:
    """A letter that shows its alphabet, or another name of it in the list, clears the name."""
    assert all(codes(row.findings) == [] for row in _one(tmp_path, *names).rows)


def test_first_and_last_name_of_one_alphabet(tmp_path: Path) -> None:
    """Whatever the alphabet, two names of one are fine, and so is a numeral."""
    names = _both(tmp_path, f"{COPA},Камыш", "Ada,Teasel", "Θίνα,Αλμύρα", "Пётр,I")
    assert all(row.findings == () for row in names.rows)
