"""Texts that were read in the wrong encoding before they came here."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from namebatch.names.misread import check_misread, reading


@pytest.mark.parametrize(
    ("text", "meant"),
    [("ZoÃ«", "Zoë"), ("SÃ¸ren", "Søren"), ("GyÃ¶rgy", "György"), ("JiÅ™Ã\xad", "Jiří")],
)
def test_the_likely_reading_is_told(text: str, meant: str) -> None:
    """The usual misreadings of UTF-8 as an older code page are undone."""
    assert reading(text) == meant
    [finding] = check_misread(text, 'Line 2, "name"')
    assert f'looks like "{meant}"' in finding.message


@pytest.mark.parametrize(
    "text", ["Zoë", "Søren", "Ångström", "Łukasz", "Đặng Thị Ngọc", "São João", "Тамара", "محمد"]
)
def test_real_names_are_left_alone(text: str) -> None:
    """Letters with accents are not a misreading."""
    assert reading(text) is None
    assert list(check_misread(text, "Line 2")) == []


@given(st.text(alphabet="aeiouäöüßéèêçñøåæœłńśźżčšžřő", min_size=3, max_size=12))
def test_small_letters_are_never_suspected(text: str) -> None:
    """A misreading starts with a capital or a sign, so no name in small letters is one."""
    assert reading(text) is None
