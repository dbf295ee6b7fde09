"""What is put aside unmeasured."""

from dataclasses import replace

import pytest

from namebatch.finding import Finding
from namebatch.template.textbox import SafeArea, Sizing, TextBox
from namebatch.text import sizer
from namebatch.text.catalogue import Catalogue
from namebatch.text.fit import SetText, fit
from tests.text.areas import AREAS
from tests.text.conftest import text_box

NAMES = ("Wilhelmina Quartermaine", "Anna Maria van der Dune", "Jean-Luc Moss", "Bartholomew")
STEPS = Sizing(steps=("two-lines", "tracking", "width", "face", "initials"))
BOXES = [
    replace(text_box(24, 14, least=3.6), sizing=STEPS),
    replace(text_box(17, 14, least=4.0), sizing=STEPS),
    replace(text_box(least=7.5, largest=12.0), sizing=STEPS, place=SafeArea(2.0, AREAS["disc"])),
]


@pytest.mark.parametrize("box", BOXES)
@pytest.mark.parametrize("name", NAMES)
def test_what_is_put_aside_changes_nothing(
    catalogue: Catalogue, monkeypatch: pytest.MonkeyPatch, name: str, box: TextBox
) -> None:
    """Texts are set alike, or held with the same figure, as when every way is measured."""
    faces = [catalogue.open("Noto Sans SemiBold"), catalogue.open("Barlow Condensed SemiBold")]
    quick = fit(name, faces, box)
    monkeypatch.setattr(sizer, "MARGIN", 1e9)
    thorough = fit(name, faces, box)
    if isinstance(thorough, Finding):
        assert isinstance(quick, Finding)
        assert quick.message == thorough.message
    else:
        assert isinstance(quick, SetText)
        assert (quick.height_mm, quick.notes) == (thorough.height_mm, thorough.notes)
