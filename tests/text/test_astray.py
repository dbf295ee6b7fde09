"""Marks that get a dotted circle."""

import pytest

from namebatch.finding import Finding
from namebatch.text.astray import Astray, marks_astray
from namebatch.text.catalogue import Catalogue
from namebatch.text.fallback import fallback_for
from namebatch.text.fit import fit
from tests.text.conftest import text_box


def _found(catalogue: Catalogue, text: str) -> tuple[Astray, ...]:
    faces = [catalogue.open_spare(name) for name in fallback_for(text, catalogue)]
    return marks_astray(text, faces)


# Impossible by the syllables of their scripts: two vowels in one, a virama after a virama.
@pytest.mark.parametrize(
    ("text", "mark", "place"),
    [
        ("កេើ", "\u17be", 3),
        ("സുക്്", "\u0d4d", 5),
        ("မြို့ိ", "\u102d", 6),
    ],
)
def test_an_impossible_mark_is_found(
    catalogue: Catalogue, text: str, mark: str, place: int
) -> None:
    """The mark for which shaping inserts a circle is named with its place."""
    (found,) = _found(catalogue, text)
    assert (found.mark, found.place) == (mark, place)


@pytest.mark.parametrize(
    "text",
    ["ខ្មែរ", "മലയാളം", "မြို့", "क्षितिज", "ශ්‍රී", "தமிழ்", "อรุณี", "Zoë", "é̱ŋ", "محمد", "◌ា", "한글"],
)
def test_words_as_they_are_spelt_have_none(catalogue: Catalogue, text: str) -> None:
    """Words in common use (from memory), and a circle that the text has itself, are left alone."""
    assert _found(catalogue, text) == ()


def test_the_row_is_held(catalogue: Catalogue) -> None:
    """The message names mark, place and remedy."""
    told = fit("កេើ", [catalogue.open("Noto Sans Khmer SemiBold")], text_box(60))
    assert isinstance(told, Finding)
    assert told.code == "mark-astray"
    assert 'U+17BE khmer vowel sign oe (character 3, after "កេ")' in told.message
    assert "delete the mark" in told.message


def test_without_a_letter_only_the_place_is_named() -> None:
    """A mark that nothing comes before is not said to follow something."""
    assert Astray("\u17be", 7, "").words == "U+17BE khmer vowel sign oe (character 7)"
