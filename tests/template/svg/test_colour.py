"""Colours of SVG."""

from PIL import ImageColor

from namebatch.template.svg.colour import colour


def test_a_word_stays_a_colour_after_others_have_looked_it_up() -> None:
    """The library's table changes as it is used: in a server that runs for days, for example."""
    before = colour("Tomato")
    ImageColor.getrgb("tomato")
    assert colour("Tomato") == before == ("#ff6347", 1.0)  # CSS Color Module Level 3, 4.3
