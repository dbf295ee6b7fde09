"""Letters of another script that look like those beside them."""

import unicodedata

import pytest

from namebatch.names.lookalikes import _PAIRS, check_digits, check_lookalikes
from tests.names.helpers import codes


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("\u0410nna", 'in "\u0410nna" the first letter is a Cyrillic \u0410 (U+0410); the other'),
        (
            "Ann\u0430",
            "the fourth letter is a Cyrillic \u0430 (U+0430); the other letters are Latin",
        ),
        ("Тамаpа", "the fifth letter is a Latin p (U+0070); the other letters are Cyrillic"),
        ("Θίνa", "the fourth letter is a Latin a (U+0061); the other letters are Greek"),
        ("Akyerεko", "the sixth letter is a Greek ε (U+03B5); the other letters are Latin"),
        ("Ad\u0430 Teasel", 'in "Ad\u0430" the third letter is a Cyrillic'),
        ("Z\u043eë", "the second letter is a Cyrillic \u043e (U+043E)"),
        ("R\u00e9n\u0435e", "the fourth letter is a Cyrillic \u0435 (U+0435)"),
        ("\u0421\u043er\u0430", "the third letter is a Latin r"),
        ("Bartholom\u0435w Glasswort", "the tenth letter"),
        ("Bartholomae\u0435w", "the 12th letter"),
    ],
)
def test_a_stray_letter_is_named(text: str, words: str) -> None:
    """The warning says which letter it is, where it stands and what the others are."""
    (found,) = check_lookalikes(text, 'Line 2, "name"')
    assert (found.code, found.severity) == ("look-alike-letter", "warn")
    assert found.message.startswith('Line 2, "name": in "')
    assert words in found.message


@pytest.mark.parametrize(
    "text",
    [
        "Anna Teasel",
        "Тамара Камыш",
        "Θάλεια Αλμύρα",
        "Bo Тамара",
        "Θίνα Marram",
        "Пётр II",
        "Пётр I",
        "Zoë Åkerblad",
        "Nguyễn Thị Sậy",
        "山田 Ada",
        "ʻIolani",
        "Նունե",
        "Ўзбек Қодир",
        "Ӱлле",
        "5µm",
        "3ος",
    ],
)
def test_one_script_a_word_is_fine(text: str) -> None:
    """Words in one alphabet each are nobody's slip, and neither are accents or numerals."""
    assert list(check_lookalikes(text, "Line 2")) == []


def test_a_whole_word_of_look_alikes() -> None:
    """A word that only looks like the alphabet of the words beside it is pointed out."""
    (found,) = check_lookalikes("\u0421\u043e\u0440\u0430 Teasel", "Line 2")
    assert "every letter of" in found.message
    assert "is Cyrillic and looks Latin" in found.message
    (found,) = check_lookalikes("Тамара B. Камыш", "Line 2")
    assert "is Latin and looks Cyrillic" in found.message


def test_two_alphabets_without_a_likeness() -> None:
    """Letters that look like nothing in the other alphabet are told as mixed."""
    (found,) = check_lookalikes("Яna", "Line 2")
    assert found.code == "scripts-mixed"
    assert "Latin and Cyrillic" in found.message or "Cyrillic and Latin" in found.message


@pytest.mark.parametrize(
    ("text", "plain"),
    [("𝓐𝓭𝓪", "Ada"), ("Ａｄａ", "Ada"), ("Steﬃ", "Steffi"), ("Ⓐda", "Ada"), ("ﺳﻠﻤﻰ", "سلمى")],
)
def test_letters_in_disguise(text: str, plain: str) -> None:
    """Letters made for formulas and old typefaces are told, with the plain text to type."""
    (found,) = check_lookalikes(text, "Line 2")
    assert found.code == "letter-in-disguise"
    assert f'retype it, "{plain}".' in found.message


@pytest.mark.parametrize("text", ["Mª", "ﷲ", "ｱﾝ", "ǆemal", "½", "น้ำ"])
def test_usual_compatibility_characters_are_fine(text: str) -> None:
    """Signs that people type on purpose in their language are no disguise."""
    assert list(check_lookalikes(text, "Line 2")) == []


@pytest.mark.parametrize("text", ["Th0mas", "Wi1ma", "0tto", "Nic0"])
def test_digits_among_letters(text: str) -> None:
    """A nought or a one among the letters of a word is likely a letter."""
    assert codes(list(check_digits(text, "Line 2"))) == ["digit-in-name"]


@pytest.mark.parametrize(("text", "looks"), [("1l1", "one"), ("2O0", "nought"), ("1I7", "one")])
def test_letters_among_digits(text: str, looks: str) -> None:
    """A letter between digits that looks like one is likely a digit."""
    (found,) = check_digits(text, "Line 2")
    assert found.code == "letter-in-number"
    assert f"looks like a {looks}." in found.message


@pytest.mark.parametrize("text", ["Ada 10", "B2", "Inka 27", "Team1", "10a", "Marlo 2", "3rd"])
def test_digits_that_are_numbers(text: str) -> None:
    """Numbers behind a name or before a letter are meant."""
    assert list(check_digits(text, "Line 2")) == []


def test_the_pairs_are_of_the_scripts_they_stand_under() -> None:
    """Each pair leads from a letter of its script to one of another, both letters or both small.

    The pairs agree with the skeletons of ICU 72.1's checker (UTS #39), compared once.
    """
    names = {"Cyrl": "CYRILLIC", "Grek": "GREEK", "Armn": "ARMENIAN"}
    for script, pairs in _PAIRS.items():
        for pair in pairs.split():
            letter, look = pair[0], pair[1]
            assert unicodedata.name(letter).startswith(names[script])
            assert letter.isupper() == look.isupper()
