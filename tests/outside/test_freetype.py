"""Areas of our glyphs against FreeType's rasteriser (freetype-py), within 0.1 %."""

import freetype
import numpy as np
import pytest

from namebatch.text.catalogue import load_catalogue

STATIC = ("Pacifico", "Lobster", "Atkinson Hyperlegible", "Black Ops One", "Titan One")
PIXELS_PER_EM = 2000


@pytest.mark.parametrize("name", STATIC)
@pytest.mark.parametrize("letter", "OAge")
def test_area(name: str, letter: str) -> None:
    """The ink of a letter covers as much as FreeType's own non-zero filling of it.

    Coverage of a bitmap at 2000 pixels an em, so that overlapping contours count once.
    """
    face = load_catalogue().open(name)
    other = freetype.Face(str(face.path))
    other.set_pixel_sizes(PIXELS_PER_EM, PIXELS_PER_EM)
    glyph = face.shape(letter).glyphs[0]  # a script face may end a word in another form
    other.load_glyph(glyph.gid, freetype.FT_LOAD_RENDER | freetype.FT_LOAD_NO_HINTING)
    bitmap = other.glyph.bitmap
    theirs = float(np.sum(bitmap.buffer)) / 255
    ours = face.glyph_shape(glyph.gid, face.units_per_em / 20000).area
    pixels = ours * (PIXELS_PER_EM / face.units_per_em) ** 2
    assert pixels == pytest.approx(theirs, rel=1e-3)
