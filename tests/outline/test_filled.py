"""What thickening fills of the gaps in welded letters."""

import pytest
import shapely
from shapely import MultiPolygon, Polygon, box

from namebatch.finding import Finding
from namebatch.outline import Letter, Limits, Order, finish
from namebatch.outline.filled import what_is_filled
from tests.outline.lettering import ink, letters_of

BAR = box(-5, -6, 60, 2)


def _letter(filled_mm: float) -> list[Finding]:
    """A frame of a letter with a window of 10 x 10 mm, of which so much is filled from one side."""
    frame = box(0, 0, 14, 14) - box(2, 2, 12, 12)
    stem = box(20, 0, 24, 14)
    assert isinstance(frame, Polygon)
    text = MultiPolygon([frame, stem])
    letters = (Letter(0, "o", MultiPolygon([frame])), Letter(1, "l", MultiPolygon([stem])))
    order = Order("weld", box(0, -6, 24, 0.5), Limits(1.5), text, letters)
    shape = shapely.union_all([text, order.base, box(2, 2, 2 + filled_mm, 12)])
    return what_is_filled(order, shape, 10 * filled_mm)


@pytest.mark.parametrize(
    ("filled_mm", "codes"),
    [
        (0.5, []),  # adds less than is asked about
        (2.0, []),
        (3.0, ["letters-filled"]),  # of all gaps of the name more than a quarter
        (5.0, ["letters-filled"]),
        (8.0, ["letters-unreadable"]),
    ],
)
def test_the_share_decides(filled_mm: float, codes: list[str]) -> None:
    """The more of a counter is filled, the graver it is told."""
    assert [finding.code for finding in _letter(filled_mm)] == codes


def test_letter_and_share_are_named() -> None:
    """The message has the letter, the share and the width; letters without gaps are left out."""
    (finding,) = _letter(5.0)
    assert 'at least 1.5 mm fill 50 % in "o" of the gaps' in finding.message
    assert '"l"' not in finding.message
    (finding,) = _letter(3.0)
    assert "fill 30 % of the gaps" in finding.message


def test_the_base_fills_nothing() -> None:
    """What lies in the base is told elsewhere: only what was added counts."""
    letters = letters_of("Ola", "Noto Sans SemiBold")
    text = ink(letters)
    order = Order("weld", BAR, Limits(1.0), text, letters)
    assert what_is_filled(order, shapely.union(BAR, text), 100.0) == []


@pytest.mark.parametrize(
    ("cap_mm", "told"),
    [
        (16.0, set()),
        (8.0, {"letters-filled"}),
        (6.0, {"letters-unreadable"}),
    ],
)
def test_a_small_script_is_told(cap_mm: float, told: set[str]) -> None:
    """With strokes of 1.5 mm a script face runs full at 6 mm, half so at 8, not at 16."""
    letters = letters_of("Ångström", "Pacifico", cap_mm)
    order = Order("weld", box(-5, -4, 100, 0.5), Limits(1.5, 0.18), ink(letters), letters)
    found = {finding.code for finding in finish(order).findings}
    assert found & {"letters-filled", "letters-unreadable"} == told


def test_no_letters_nothing_filled() -> None:
    """An order without letters has no gaps."""
    assert what_is_filled(Order("weld", BAR, Limits(1.0)), BAR, 5.0) == []
