"""Skin tones."""

import pytest

from namebatch.text.catalogue import Catalogue
from namebatch.text.fallback import fallback_for
from namebatch.text.fit import SetText, fit
from namebatch.text.tones import tones_lost
from tests.text.conftest import text_box


@pytest.mark.parametrize(
    ("text", "lost"),
    [
        ("Wave 👋🏽", True),
        ("👩🏽‍🚀 Ivy", True),
        ("👍🏿👍", True),
        ("Wave 👋", False),
        ("Ivy", False),
        ("🏽", False),
    ],
)
def test_tones_without_a_trace(catalogue: Catalogue, text: str, lost: bool) -> None:
    """A picture in outlines looks the same in every tone; a tone alone is a picture of its own."""
    faces = [catalogue.open_spare(name) for name in fallback_for(text, catalogue)]
    assert tones_lost(text, faces) == (("Noto Emoji Bold",) if lost else ())


def test_it_is_told(catalogue: Catalogue) -> None:
    """The row is made, with a note that names the face."""
    made = fit("👋🏽", [catalogue.open("Noto Emoji Bold")], text_box(60))
    assert isinstance(made, SetText)
    assert [finding.code for finding in made.notes] == ["skin-tone-not-shown"]
    assert "Noto Emoji Bold does not show" in made.notes[0].message
