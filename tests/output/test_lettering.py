"""Text on document pages: one face with tabular figures, shaped outlines for other scripts."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from reportlab.pdfgen.canvas import Canvas

from namebatch.curves import Flattener, draw
from namebatch.output.lettering import (
    apart,
    draw_text,
    figure_path,
    fits_unbroken,
    runs,
    shorten,
    text_width,
    wrap,
)
from tests.output import doc_jobs


def test_figures_have_one_width() -> None:
    """Figures are tabular: every figure is as wide as any other, in both weights."""
    for weight in (400, 700):
        widths = {round(text_width(figure, 100, weight), 6) for figure in "0123456789"}
        assert len(widths) == 1


def test_figure_outlines_match_the_text() -> None:
    """A figure drawn as outlines is as wide as the same figure set as text."""
    path, width = figure_path("1.82 mm", 10.0, 700)
    assert width == pytest.approx(text_width("1.82 mm", 10.0, 700), abs=0.01)
    flat = Flattener(0.01)
    draw(path, flat)
    xs = [x for ring in flat.finish() for x, _ in ring]
    assert 0 <= min(xs) < max(xs) <= width


def test_runs_keep_foreign_words_together() -> None:
    """A name from right to left stays one run with its blank; Latin stays text."""
    assert runs("Marlo Teasel") == (("Marlo Teasel", True),)
    assert runs("to अनिका सागर from") == (("to ", True), ("अनिका सागर", False), (" from", True))
    assert runs("a\nb\tc") == (("a b c", True),)
    assert "".join(text for text, _ in runs("x\u0301\u0302y")) == "x\u0301\u0302y"
    assert runs("🎪") == (("🎪", False),)


@given(st.text(max_size=80), st.floats(20.0, 200.0))
def test_wrapped_lines_fit(text: str, width: float) -> None:
    """No line is wider than asked and no more lines come than allowed."""
    plain = "".join(c for c in text if c.isspace() or runs(c) == ((c, True),))
    lines = wrap(plain, 9, 400, width, most=4)
    assert len(lines) <= 4
    assert all(text_width(line, 9) <= width + 1e-6 for line in lines)


def test_long_words_are_cut_at_their_hyphen_or_get_one() -> None:
    """A name's own hyphen ends a line first; elsewhere one is put in, between letters only."""
    width = text_width("Featherstonehaugh-", 9, 400) + 1
    assert wrap("Featherstonehaugh-Cholmondeley", 9, 400, width) == (
        "Featherstonehaugh-",
        "Cholmondeley",
    )
    narrow = text_width("Feather-", 9, 400) + 0.1
    assert wrap("Featherstone", 9, 400, narrow)[0] == "Feather-"
    assert wrap("1234567890", 9, 400, text_width("12345", 9, 400) + 0.1) == ("12345", "67890")


def test_what_fits_unbroken() -> None:
    """A text fits if no word is cut but at its own hyphen, on as many lines as there are."""
    width = text_width("Cholmondeley-", 9, 400)
    assert fits_unbroken("Cholmondeley-Marsh", 9, 400, width, most=2)
    assert not fits_unbroken("Cholmondeley-Marsh", 9, 400, width, most=1)
    assert not fits_unbroken("Featherstonehaugh", 9, 400, width, most=2)


def test_short_text_is_left_and_long_text_ends_in_an_ellipsis() -> None:
    """Shortening keeps what fits and says that something was left out."""
    assert shorten("Quill", 9, 400, 100) == "Quill"
    short = shorten("a" * 5000, 9, 400, 100)
    assert short.endswith("…")
    assert text_width(short, 9) <= 100


@pytest.mark.parametrize("text", [*doc_jobs.HOSTILE, ""])
def test_drawing_and_measuring_agree(text: str) -> None:
    """A text ends where its width says, in any script, and never raises."""
    canvas = Canvas("unused.pdf", invariant=1)
    end = draw_text(canvas, 10.0, 10.0, text, 9.0, 700)
    assert end - 10.0 == pytest.approx(text_width(text, 9.0, 700), abs=1e-6)


def test_a_line_with_right_to_left_letters_is_set_as_one() -> None:
    """A number behind an Arabic name keeps its place in the line (UAX 9), so nothing is cut."""
    assert runs("محمد 12") == (("محمد 12", False),)


def test_latin_beside_arabic_is_of_the_document_face() -> None:
    """In a line that runs from left to right only the stretch that turns is drawn as ink."""
    told = runs('Line 3: "נועה" is fine')
    assert told == (('Line 3: "', True), ("נועה", False), ('" is fine', True))
    assert runs(f"Ada · {apart('محمد 12')}") == (("Ada · ", True), ("محمد 12", False))
    assert runs("Marlo 12") == (("Marlo 12", True),)
