"""Numbers as files want them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from namebatch.output.numbers import number, rgb


@pytest.mark.parametrize(
    ("value", "text"),
    [(12.0, "12"), (-0.00001, "0"), (0.0001, "0.0001"), (210.12346, "210.1235"), (-3.5, "-3.5")],
)
def test_number_is_short(value: float, text: str) -> None:
    """No needless zeros, no minus zero, four decimals."""
    assert number(value) == text


@given(st.floats(-10_000, 10_000))
def test_number_reads_back_without_exponent(value: float) -> None:
    """Whatever the number, the text is plain decimal and within half a step of it."""
    text = number(value)
    assert "e" not in text
    assert abs(float(text) - value) <= 0.00005 + 1e-9


def test_rgb_takes_a_colour_apart() -> None:
    """Vermilion of Okabe and Ito (2008) is 213, 94, 0."""
    assert rgb("#d55e00") == (213, 94, 0)
