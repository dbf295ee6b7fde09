"""What is told of an alignment at the terminal."""

from namebatch.measured.align import Aligned
from namebatch.measured.telling import told
from namebatch.registration import Fit, Ruler, fit_marks
from tests.registration.sheets import laid, marks

BED = (600.0, 400.0)


def words(fit: Fit, reads: int = 1) -> str:
    """All lines."""
    return "\n".join(told(Aligned(fit, (), BED), BED, reads))


def test_four_corners_read_once_ask_for_more() -> None:
    """Errors fall with the root of the readings: (0.235/0.15)² is 2.4, so three."""
    found = fit_marks(marks(laid(0.7, (0.997, 1.002))))
    assert "stays within 0.23 mm of the print on 19 of 20 sheets" in words(found)
    assert "Measure every corner 3 times" in words(found)
    assert "Look:" not in words(found)


def test_corners_read_often_enough_ask_for_nothing() -> None:
    """What comes close enough is not improved upon."""
    read = tuple(
        type(mark)(mark.name, mark.sheet, mark.read * 4)
        for mark in marks(laid(0.7, (0.997, 1.002)))
    )
    assert "Measure" not in words(fit_marks(read), 4)


def test_two_marks_say_that_they_always_fit() -> None:
    """A residual of nothing is no proof."""
    assert "Two marks always fit" in words(fit_marks(marks(laid(), (0, 2))))


def test_two_marks_promise_nothing_of_uneven_prints() -> None:
    """What two marks cannot see is said with the promise; with a ruler there is no need."""
    assert "and x and y stretch alike, the cut" in words(fit_marks(marks(laid(), (0, 2))))
    ruled = fit_marks(marks(laid(), (0, 2)), ruler=Ruler((199.0, 284.0), (199.0, 284.0)))
    assert "stretch alike" not in words(ruled)
    assert "always fit" not in words(ruled)


def test_two_marks_of_a_square_may_be_exchanged() -> None:
    """Where width and height are nearly alike nothing tells x from y but a third mark."""
    found = fit_marks(marks(laid(), (0, 2)))
    line = "would fit with x and y exchanged, too"
    assert line in "\n".join(told(Aligned(found, (), BED, exchanged=True), BED, 1))
    assert line not in words(found)


def test_three_marks_say_how_little_they_check() -> None:
    """A slip along an edge passes for stretch."""
    assert "Three marks leave little to check with" in words(fit_marks(marks(laid(), (0, 1, 2))))


def test_an_unusual_scale_is_to_be_looked_at() -> None:
    """Below what is refused and above what printers do."""
    assert words(fit_marks(marks(laid(scale=(0.985, 0.985))))).startswith("Look: most printers")
