"""Names in a window of the base, on real lettering in frames and rings."""

import pytest
import shapely
from shapely import MultiPolygon, Point, Polygon, box

from namebatch.finding import is_held
from namebatch.outline import Bridge, Limits, Order, Outline, finish
from namebatch.outline.window import held_in_windows
from tests.outline.lettering import ink, letters_of

WIDTH = 1.5


def _across(frame: Polygon, name: str, face: str = "Fredoka SemiBold") -> list[Bridge]:
    """The bars that reach the frame."""
    return [b for b in _made(frame, name, face).bridges if b.shape.intersects(frame)]


def _made(frame: Polygon, name: str, face: str) -> Outline:
    letters = letters_of(name, face, 14.0)
    outline = finish(Order("weld", frame, Limits(WIDTH, 0.15), ink(letters), letters))
    assert not is_held(outline.findings)
    assert outline.parts == 1
    return outline


def _frame(left: float, below: float, right: float, above: float) -> Polygon:
    """A frame of 4 mm with so much air round a name."""
    text = ink(letters_of("O'Neill", "Fredoka SemiBold", 14.0)).bounds
    window = box(text[0] - left, text[1] - below, text[2] + right, text[3] + above)
    frame = window.buffer(4, join_style="mitre") - window
    assert isinstance(frame, Polygon)
    return frame


def test_a_name_stands_on_two_feet() -> None:
    """With more air beside it than below, both bars go down, and far apart."""
    one, other = _across(_frame(30, 15, 30, 25), "O'Neill")
    for bar in (one, other):
        assert bar.start[0] == pytest.approx(bar.end[0])
        assert bar.end[1] < bar.start[1]
    x0, _, x1, _ = ink(letters_of("O'Neill", "Fredoka SemiBold", 14.0)).bounds
    assert abs(one.start[0] - other.start[0]) > 0.5 * (x1 - x0)


def test_a_long_name_is_held_at_its_ends() -> None:
    """With little air beside it, one level bar goes to either side, low down."""
    bars = sorted(_across(_frame(3, 30, 3, 30), "O'Neill"), key=lambda bar: bar.start[0])
    assert [bar.end[0] < bar.start[0] for bar in bars] == [True, False]
    assert all(bar.start[1] == pytest.approx(bar.end[1]) for bar in bars)
    assert all(bar.start[1] < 14.0 / 2 for bar in bars)


@pytest.mark.parametrize(
    ("name", "face"),
    [("Jiří", "Pacifico"), ("Bo", "Pacifico"), ("محمد", "Noto Sans Arabic SemiBold")],
)
def test_a_ring_holds_a_name_with_two_bars(name: str, face: str) -> None:
    """In a ring too, and thin strokes of a script face may carry a bar."""
    x0, y0, x1, y1 = ink(letters_of(name, face, 14.0)).bounds
    middle = Point((x0 + x1) / 2, (y0 + y1) / 2)
    ring = middle.buffer(50, quad_segs=64) - middle.buffer(40, quad_segs=64)
    assert isinstance(ring, Polygon)
    bars = _across(ring, name, face)
    assert len(bars) == 2
    assert abs(bars[0].start[0] - bars[1].start[0]) > 0.3 * (x1 - x0)


def test_bars_keep_off_holes() -> None:
    """A hole of the template in the frame below is passed by."""
    frame = box(0, 0, 60, 40) - box(8, 8, 52, 32)
    hole = box(20, 2, 40, 6)
    assert isinstance(frame, Polygon)
    name = box(22, 15, 38, 20)
    shape = MultiPolygon([frame - hole, name])
    for bar in held_in_windows(shape, frame - hole, WIDTH, MultiPolygon([hole])):
        assert not bar.shape.intersects(hole)
        assert bar.shape.intersects(frame)


def test_what_is_in_no_window_is_left() -> None:
    """A letter beside the base is not tied here, nor one that is too thin to be rooted in."""
    frame = box(0, 0, 60, 40) - box(5, 5, 55, 35)
    assert isinstance(frame, Polygon)
    beside = MultiPolygon([frame, box(70, 10, 80, 30)])
    assert held_in_windows(beside, frame, WIDTH, MultiPolygon()) == ()
    thin = MultiPolygon([frame, box(20, 10, 20.2, 30)])
    assert held_in_windows(thin, frame, WIDTH, MultiPolygon()) == ()


def test_ends_lie_in_what_they_join() -> None:
    """Both ends of a bar are rooted, one in the name and one in the frame."""
    frame = box(0, 0, 60, 40) - box(2, 2, 58, 38)
    name = box(20, 15, 40, 25)
    assert isinstance(frame, Polygon)
    bars = held_in_windows(MultiPolygon([frame, name]), frame, WIDTH, MultiPolygon())
    assert len(bars) == 2
    for bar in bars:
        assert shapely.contains(name, Point(bar.start))
        assert shapely.contains(frame, Point(bar.end))
