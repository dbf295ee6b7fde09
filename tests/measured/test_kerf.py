"""Kerf from strips and slots, against an example worked by hand."""

from pathlib import Path

import pytest

from namebatch.errors import MeasureError
from namebatch.measured.kerf import Kerf, read_kerf, slot_kerf, strips_kerf
from namebatch.measured.strips import kerf_form, kerf_test
from namebatch.measured.uncertainty import mean_of

HEAD = "place,count,nominal_mm,mm\n"


def read(tmp_path: Path, lines: str) -> tuple[Kerf, Kerf]:
    """Kerf in x and y from the lines of a form."""
    path = tmp_path / "kerf-test.csv"
    path.write_text(HEAD + lines, encoding="utf-8")
    return read_kerf(path)


def test_strips_worked_by_hand() -> None:
    """Ten strips of 10 mm, together 98.2, 98.3 and 98.4 mm wide.

    Mean 98.3, so k = (100 − 98.3)/10 = 0.17 mm. Deviation of the three readings 0.1, of their mean
    0.1/√3 = 0.0577; reading error 0.05/√3 = 0.0289; together √(0.003333 + 0.000833) = 0.0645, and a
    tenth of it for one strip: 0.00645 mm.
    """
    found = strips_kerf(10, 10.0, (98.2, 98.3, 98.4))
    assert found.value == pytest.approx(0.17)
    assert found.uncertainty == pytest.approx(0.00645, abs=5e-6)
    assert found.count == 3


def test_one_reading_has_the_reading_error_alone() -> None:
    """0.05/√3 = 0.0289 mm, a tenth of it over ten strips."""
    assert strips_kerf(10, 10.0, (98.0,)).uncertainty == pytest.approx(0.00289, abs=5e-6)


def test_slots_are_wider_by_the_kerf() -> None:
    """A slot of 10 mm that measures 10.2 and 10.16 mm."""
    found = slot_kerf(10.0, (10.2, 10.16))
    assert found.value == pytest.approx(0.18)
    assert found.uncertainty == pytest.approx((0.05**2 / 3 + 0.02**2) ** 0.5)


def test_repeating_lessens_the_spread_and_not_the_reading_error() -> None:
    """Four equal readings are no better than the callipers."""
    assert mean_of((5.0,) * 4, 0.05).uncertainty == pytest.approx(0.05 / 3**0.5)


def test_a_beam_is_taken_off_the_drawn_test_and_found_again(tmp_path: Path) -> None:
    """The strips as an elliptic beam of 0.2 × 0.15 mm leaves them, measured exactly."""
    test = kerf_test((600.0, 300.0))
    kerf = {"x": 0.20, "y": 0.15}
    total = {"x": 0.0, "y": 0.0}
    for cut in test.cuts:
        for axis, index in (("x", 0), ("y", 1)):
            if cut.owner.startswith(f"{axis}-strip"):
                sides = [point[index] for point in cut.points]
                total[axis] += max(sides) - min(sides) - kerf[axis]
    lines = "".join(
        f"{axis}-strips,{test.strips},{test.width_mm:g},{total[axis]:.4f}\n" for axis in "xy"
    )
    x, y = read(tmp_path, lines)
    assert (x.mm, y.mm) == (0.2, 0.15)
    assert (x.strips, x.slot_mm, x.doubt) == (10, None, "")


def test_the_form_filled_in_is_read(tmp_path: Path) -> None:
    """What the test writes to be filled in is what is read; empty lines do not count."""
    form = kerf_form(kerf_test((600.0, 300.0))).decode().splitlines()
    filled = [form[0]]
    for line, value in zip(
        form[1:], ["98.3", "", "98.3", "98.0", "98.0", "", "10.17", "", "", "", "", ""], strict=True
    ):
        filled.append(line + value)
    path = tmp_path / "kerf-test.csv"
    path.write_text("\r\n".join(filled), encoding="utf-8")
    x, y = read_kerf(path)
    assert (x.mm, x.slot_mm, x.doubt) == (0.17, 0.17, "")
    assert (y.mm, y.slot_mm) == (0.2, None)


def test_slots_serve_where_no_strips_were_measured(tmp_path: Path) -> None:
    """With their own, larger uncertainty."""
    x, y = read(tmp_path, "x-slot,1,10,10.2\ny-slot,1,10,10.1\n")
    assert (x.mm, y.mm, x.strips) == (0.2, 0.1, 0)
    assert x.uncertainty_mm == pytest.approx(0.05 / 3**0.5)


def test_strips_and_slots_that_disagree_are_doubted(tmp_path: Path) -> None:
    """Gaps between strips make their total too wide; the message asks for that."""
    x, _ = read(tmp_path, "x-strips,10,10,99.5\nx-slot,1,10,10.2\ny-strips,10,10,98\n")
    assert x.mm == 0.05
    assert "Were the strips pressed together" in x.doubt


@pytest.mark.parametrize(
    ("lines", "words"),
    [
        ("x-strips,10,10,98\n", "has nothing measured in y"),
        ("x-strips,10,10,101\ny-strips,10,10,98\n", r"In x the kerf comes out as -0\.100 mm"),
        ("x-strips,10,10,9.8\ny-strips,10,10,98\n", "and not one width"),
        ("x-strips,10,10,98\nx-strips,9,10,88\ny-slot,1,10,10.1\n", "differ from line to line"),
    ],
)
def test_what_cannot_be_a_kerf_is_refused(tmp_path: Path, lines: str, words: str) -> None:
    """A direction missing, a kerf below nothing or above a millimetre, forms mixed up."""
    with pytest.raises(MeasureError, match=words):
        read(tmp_path, lines)


def test_all_lines_at_fault_are_told_together(tmp_path: Path) -> None:
    """Unknown places, widths and counts that are missing."""
    with pytest.raises(MeasureError, match=r"kerf-test\.csv") as caught:
        read(tmp_path, "z-strips,10,10,98\nx-slot,1,,10\nx-strips,,10,98\ny-strips,2.5,10,98\n")
    told = "\n".join(caught.value.problems)
    assert 'Line 2: place is "z-strips"' in told
    assert "Line 3: nominal_mm is missing" in told
    assert "Line 4: count must say" in told
    assert "Line 5: count must say" in told
