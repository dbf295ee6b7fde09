"""Typefaces for the tests of the text room."""

import pytest

from namebatch.template.model import TextBox
from namebatch.template.wording import field_alone
from namebatch.text.catalogue import Catalogue, load_catalogue


@pytest.fixture(scope="session")
def catalogue() -> Catalogue:
    """All bundled typefaces."""
    return load_catalogue()


def text_box(
    width: float = 80.0,
    height: float = 30.0,
    *,
    align: str = "centre",
    vertical: str = "middle",
    baseline_mm: float = 0.0,
    least: float = 3.0,
    largest: float = 15.0,
    tracking: float = 0.0,
) -> TextBox:
    """A box at 10, 20."""
    return TextBox(
        name="name",
        wording=field_alone("name"),
        face="front",
        box_mm=(10.0, 20.0, width, height),
        fonts=(),
        made="print",
        colour="#000000",
        align=align,  # type: ignore[arg-type]
        vertical=vertical,  # type: ignore[arg-type]
        baseline_mm=baseline_mm,
        min_height_mm=least,
        max_height_mm=largest,
        tracking=tracking,
        optional=False,
    )
