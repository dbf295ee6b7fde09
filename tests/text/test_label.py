"""Labels never fail."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from namebatch.text import label_shape


@settings(max_examples=60, deadline=None)
@given(st.text(max_size=30), st.booleans())
def test_any_text_gives_a_label(text: str, bold: bool) -> None:
    """No text raises, and the ink stays within a line's reach."""
    shape, width = label_shape(text, 4.0, bold)
    assert width >= 0
    assert shape.is_valid


def test_sign_without_a_face_stands_as_its_code() -> None:
    """A label with a sign of no face is longer than without, by its code."""
    _, plain = label_shape("Zoë ", 4.0)
    _, coded = label_shape("Zoë 𓅯", 4.0)
    _, code = label_shape("[1316F]", 4.0)
    assert coded == pytest.approx(plain + code, rel=0.02)


def test_labels_are_in_the_script_of_the_name() -> None:
    """A name in any script that a face is installed for is shown as it is written."""
    for text in ("জোয়ার", "நிலா", "ქეთი", "山田", "김하늘", "សមុទ្រ"):
        shape, width = label_shape(text, 4.0)
        _, coded = label_shape("".join(f"[{ord(c):04X}]" for c in text), 4.0)
        assert not shape.is_empty
        assert width < coded / 2
