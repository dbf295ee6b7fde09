"""Digits and signs in one typeface."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from namebatch.text.catalogue import Catalogue
from namebatch.text.chain import stretches
from namebatch.text.face import Face
from namebatch.text.fallback import fallback_for

OWN = "Baloo 2 SemiBold"


def _chain(catalogue: Catalogue, text: str) -> tuple[Face, ...]:
    spare = (catalogue.open_spare(name) for name in fallback_for(text, catalogue))
    return (catalogue.open(OWN), *spare)


def _faces(catalogue: Catalogue, text: str, signs: str) -> set[str]:
    found = stretches(text, _chain(catalogue, text))
    assert found is not None
    return {s.face.name for s in found for i in range(s.item.start, s.item.end) if text[i] in signs}


@pytest.mark.parametrize(
    ("text", "signs"),
    [
        ("Ann (田中) B.", "()"),
        ("(田中) Ann (B)", "()"),
        ("Zoë1田2中3", "123"),
        ("Ann. 田. 中.", "."),
        ("דן (Dan) 1-2", "()12"),
    ],
)
def test_they_are_of_one_face(catalogue: Catalogue, text: str, signs: str) -> None:
    """The template's own face sets them wherever it takes part."""
    assert _faces(catalogue, text, signs) == {OWN}


@pytest.mark.parametrize(("text", "face"), [("田中 2", "Noto Sans CJK SemiBold"), ("Zoë 2", OWN)])
def test_what_is_alike_stays(catalogue: Catalogue, text: str, face: str) -> None:
    """Digits that stand in one face already are not moved."""
    assert _faces(catalogue, text, "2") == {face}


@given(st.text("Aé(1.)田ח ع🪁2", min_size=1, max_size=12))
def test_no_character_is_lost(catalogue: Catalogue, text: str) -> None:
    """Every character stands in exactly one stretch, whatever is moved."""
    found = stretches(text, _chain(catalogue, text))
    assert found is not None
    places = sorted((s.item.start, s.item.end) for s in found)
    assert [i for start, end in places for i in range(start, end)] == list(range(len(text)))
