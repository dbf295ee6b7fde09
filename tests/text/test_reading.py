"""Height of letters against distance."""

import pytest

from namebatch.text.reading import least_height_mm, reading_distance_mm, reading_note


def test_least_height_is_that_of_the_standard() -> None:
    """ISO 9241-3: 16 minutes of arc at 500 mm are 2.33 mm."""
    assert least_height_mm(500) == pytest.approx(2.33, abs=0.005)


def test_distance_is_two_hundred_heights() -> None:
    """FAA Human Factors Design Standard: a height of 1/200 of the distance."""
    assert reading_distance_mm(5) == 1000


def test_the_comfortable_height_is_above_the_least() -> None:
    """The two sources agree in order: comfort asks for more than the least."""
    for distance in (300.0, 1000.0, 20_000.0):
        assert distance / 200 > least_height_mm(distance)


def test_one_size_is_told_once() -> None:
    """Equal heights make one figure, different ones two."""
    assert reading_note(6.0, 6.0).startswith(
        "Letters are 6.0 mm high and read well up to about 1.2"
    )
    assert "6.0 to 14.0 mm" in reading_note(6.0, 14.0)
