"""How many to make."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from namebatch.names.quantity import read_quantity

WHERE = 'Line 7, "qty"'


@pytest.mark.parametrize(
    ("text", "number"),
    [("", 1), ("1", 1), ("9999", 9999), ("3.0", 3), ("3,0", 3), ("3.00", 3), ("007", 7)]
    + [("٣", 3), ("१२", 12), ("３", 3), ("٣٫٠", 3)],
)
def test_accepted(text: str, number: int) -> None:
    """Whole numbers, as spreadsheets write them, in decimal digits of any script."""
    assert read_quantity(text, WHERE).number == number
    assert read_quantity(text, WHERE).finding is None


@pytest.mark.parametrize(
    ("text", "code"),
    [
        *(("0", "too-small"), ("0.0", "too-small"), ("-1", "too-small"), ("−1", "too-small")),
        *(("2.5", "not-whole"), ("2,5", "not-whole"), ("two", "not-whole"), ("½", "not-whole")),
        *(("²", "not-whole"), ("3 pcs", "not-whole"), ("1e3", "not-whole"), ("=2", "not-whole")),
        # A thousand to some, one to others.
        *(("1,000", "not-whole"), ("1.000", "not-whole")),
        *(("10000", "too-large"), ("10000000", "too-large"), ("9" * 5000, "too-large")),
    ],
)
def test_held(text: str, code: str) -> None:
    """What is no quantity gives 0 and a message with line, column, value and remedy."""
    quantity = read_quantity(text, WHERE)
    assert quantity.number == 0
    assert quantity.finding is not None
    assert quantity.finding.code == f"quantity-{code}"
    assert quantity.finding.message.startswith(f'{WHERE}: "{text[:60]}')
    assert "1 to 9,999" in quantity.finding.message
    assert quantity.finding.message.endswith("Held.")


@given(st.text(max_size=12))
def test_never_guesses(text: str) -> None:
    """A number comes out only of a text whose digits say that number."""
    quantity = read_quantity(text.strip(), WHERE)
    if quantity.finding is None and text.strip():
        whole = text.strip().replace(",", ".").replace("\u066b", ".")
        assert float(whole) == quantity.number
    else:
        assert quantity.number in (0, 1)
