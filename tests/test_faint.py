"""Print on ground of nearly its own colour is told."""

from pathlib import Path

import numpy as np
import pytest
from shapely import MultiPolygon, box

from namebatch.faint import Beneath, beneath_of, contrast, faint, faint_boxes
from namebatch.piece import Lettering
from namebatch.template import load_template
from namebatch.template.model import Template
from namebatch.template.textbox import Paint, Stroke
from tests.template.drawing import svg
from tests.template.folders import BASE, written

HEAD = 'format = 1\ntitle = "Tag"\nbuild = "printed"\nmaterial = "card-300"\n'
TEXT = (
    '[[text]]\ncolumn = "name"\nbox_mm = [10, 10, 60, 20]\nfonts = ["Pacifico"]\n'
    'min_height_mm = 3.5\nmax_height_mm = 9\ncolour = "{colour}"\n'
)
ART = '[artwork.front]\nfile = "front.svg"\nbox_mm = [0, 0, 80, 60]\n'


def tag(home: Path, colour: str, drawing: str = "") -> Template:
    """A printed tag with a name in a colour, on a picture if there is one."""
    toml = HEAD + BASE + TEXT.format(colour=colour) + (ART if drawing else "")
    files = {"front__svg": svg(drawing)} if drawing else {}
    return load_template(written(home / "t", toml, **files))


def name(colour: str, paint: Paint | None = None) -> Lettering:
    """A text with its colour from the list."""
    ink = MultiPolygon([box(10, 10, 30, 20)])
    paint = paint or Paint(colour_field="team")
    return Lettering("name", "front", "Marlo", "print", colour, ink, "Test", 10.0, (), paint)


@pytest.mark.parametrize(
    ("one", "other", "ratio"),
    [("000000", "ffffff", 21.0), ("767676", "ffffff", 4.54), ("777777", "ffffff", 4.48)],
)
def test_contrast(one: str, other: str, ratio: float) -> None:
    """Figures as anybody computes them by WCAG 2.2's formula (success criterion 1.4.3)."""
    first, second = (np.array([float(c) for c in bytes.fromhex(hexed)]) for hexed in (one, other))
    assert float(contrast(first, second)) == pytest.approx(ratio, abs=0.005)
    assert float(contrast(second, first)) == pytest.approx(ratio, abs=0.005)


@pytest.mark.parametrize(
    ("colour", "paper", "told"),
    [
        ("#ffffff", "#ffffff", True),
        ("#f7f3ea", "#ffffff", True),
        ("#d8c9a0", "#ffffff", False),
        ("#ffffff", "#8a5a2b", False),
        ("#8a5a2b", "#8a5a2b", True),
    ],
)
def test_colours_from_the_list(colour: str, paper: str, told: bool) -> None:
    """White on white card is told, on brown card it is fine."""
    found = faint([name(colour)], Beneath(paper, {}))
    assert [f.code for f in found] == ["print-faint"] * told
    if told:
        assert found[0].message.startswith(f'"Marlo" is printed in {colour} on ground of nearly')


def test_a_stroke_sets_letters_off() -> None:
    """White letters with a dark line round them are seen."""
    paint = Paint(stroke=Stroke("#123a44", 0.4), colour_field="team")
    assert faint([name("#ffffff", paint)], Beneath("#ffffff", {})) == ()


@pytest.mark.parametrize(
    ("drawing", "told"),
    [
        ("", True),
        ('<rect width="80" height="60" fill="#17324d"/>', False),
        ('<rect width="80" height="60" fill="#fafafa"/>', True),
        ('<rect width="80" height="60" fill="#17324d"/><rect width="80" height="60" fill="#fff"/>',
         True),
        ('<path d="M0 0H80V60H0Z M5 5V55H75V5Z" fill="#17324d"/>', True),
        ('<path d="M0 0H80V60H0Z M5 5V55H75V5Z" fill="#17324d" opacity="0.9"/>', True),
        ('<defs><linearGradient id="g"><stop stop-color="#17324d"/></linearGradient></defs>'
         '<rect width="80" height="60" fill="url(#g)"/>', False),
    ],
)  # fmt: skip
def test_white_on_a_picture(tmp_path: Path, drawing: str, told: bool) -> None:
    """What lies beneath counts: shapes over each other, holes in them, pictures in pixels."""
    template = tag(tmp_path, "#ffffff", drawing)
    found = faint_boxes(template, beneath_of(template, "#ffffff"))
    assert [f.code for f in found] == ["print-faint"] * told
