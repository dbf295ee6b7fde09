"""Problems of a template in the words of the page."""

import pytest

from namebatch.desk.trial_words import place_told


@pytest.mark.parametrize(
    ("problem", "told"),
    [
        ("text[2].box_mm: reaches out.", "Text 2, box: reaches out."),
        ("text[1].fonts[2]: is none.", "Text 1, typeface: is none."),
        ("hole[1]: lies outside the base.", "Hole 1: lies outside the base."),
        ("base.trace: front.png shows nothing.", "The picture's edge: the picture shows nothing."),
        ("base: has no size; give width_mm.", "Shape: has no size; give a width."),
        ("artwork.front.file: is gone.", "Picture: is gone."),
        (
            "base.inset_mm: front.png needs an inset_mm of 0.5.",
            "From the edge by: the picture needs a distance from the edge of 0.5.",
        ),
        (
            "Part of front.png is thin: take a smaller inset_mm, or let the outline run outside "
            "(outset_mm).",
            "Part of the picture is thin: take a smaller distance from the edge, or let the "
            "outline run outside of the edge.",
        ),
        ("There is no typeface.", "There is no typeface."),
        ("what: ever.", "What: ever."),
    ],
)
def test_places_are_called_as_on_the_page(problem: str, told: str) -> None:
    """Keys of the file are nobody's business who fills in a form."""
    assert place_told(problem) == told
