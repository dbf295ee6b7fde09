"""What open letters lose to bars and webs: when it is told and when the piece is held."""

import pytest
from shapely import MultiPolygon, Polygon, box

from namebatch.finding import Finding, Severity
from namebatch.outline import Letter, Limits, Order, finish
from namebatch.outline.legible import what_letters_lose
from tests.outline.lettering import ink, letters_of, plate_of


def _cut(name: str, face: str, cap_mm: float, width: float = 1.2) -> dict[str, Finding]:
    letters = letters_of(name, face, cap_mm)
    base, _ = plate_of(letters)
    outline = finish(Order("open", base, Limits(width, 0.15), ink(letters), letters))
    return {finding.code: finding for finding in outline.findings}


def _bar_over(share: float) -> list[Finding]:
    """One letter 10 mm wide of which a bar covers a share."""
    letter = Letter(0, "a", MultiPolygon([box(10, 10, 20, 20)]))
    order = Order("open", box(0, 0, 30, 30), Limits(1.0), letter.shape, (letter,))
    plate = order.base - box(10 + 10 * share, 10, 20, 20)
    assert isinstance(plate, Polygon)
    return what_letters_lose(order, plate, 0.0)


@pytest.mark.parametrize(
    ("share", "codes"),
    [
        (0.0, []),
        (0.24, []),
        (0.26, [("letters-cut-short", Severity.WARN)]),
        (0.49, [("letters-cut-short", Severity.WARN)]),
        (0.51, [("letters-unreadable", Severity.HOLD)]),
    ],
)
def test_by_the_share_that_a_letter_loses(share: float, codes: list[tuple[str, Severity]]) -> None:
    """A quarter of a letter is told, half of it holds the piece."""
    assert [(f.code, f.severity) for f in _bar_over(share)] == codes


def test_the_share_and_the_letter_are_named() -> None:
    """The message says which letter loses how much."""
    (finding,) = _bar_over(0.6)
    assert '60 % of "a"' in finding.message


def test_tiny_letters_are_held() -> None:
    """Bars of 1.2 mm leave nothing of handwriting 4 mm high."""
    found = _cut("Bao", "Caveat Bold", 4.0)
    assert found["letters-unreadable"].severity is Severity.HOLD


def test_small_letters_are_told() -> None:
    """At 5 mm the bars take more than a quarter of a letter with an island."""
    assert '"g"' in _cut("Đặng", "Nunito ExtraBold", 5.0)["letters-cut-short"].message


def test_large_letters_pass() -> None:
    """At 20 mm bars take little, and only they are noted."""
    assert set(_cut("BAO 8%", "Noto Sans SemiBold", 20.0)) == {"bridges"}


def test_widened_webs_are_called_so() -> None:
    """What is widened in a cut-through name are webs of the sheet, not strokes of letters."""
    found = _cut("Řůžena", "Noto Sans SemiBold", 10.0)
    assert found["webs-widened"].message.startswith("Webs of the sheet between letters")
    assert not {"thickened", "thickened-much"} & set(found)


def test_a_mark_that_is_nearly_gone_is_told() -> None:
    """A dot of which the plate covers most is named with its letter."""
    stem, dot = box(10, 10, 13, 24), box(10, 25, 12, 27)
    letter = Letter(0, "i", MultiPolygon([stem, dot]))
    order = Order("open", box(0, 0, 30, 40), Limits(1.0), letter.shape, (letter,))
    plate = order.base - MultiPolygon([stem, box(10, 26.5, 12, 27)])
    assert isinstance(plate, Polygon)
    (finding,) = what_letters_lose(order, plate, 0.0)
    assert finding.code == "mark-lost"
    assert '"i"' in finding.message
