"""Bars between letters of a free-standing name: level, at one height where that costs little."""

from collections import Counter
from collections.abc import Sequence

import pytest
from shapely import MultiPolygon, Polygon, box

from namebatch.outline import Bridge, Limits, Order, finish
from namebatch.outline.join import Joined, join_parts
from namebatch.outline.model import Letter
from tests.outline.lettering import ink, letters_of

NO_HOLES = MultiPolygon()


def _joined(*shapes: MultiPolygon) -> Joined:
    letters = tuple(Letter(i, "x", shape) for i, shape in enumerate(shapes))
    return join_parts(ink(letters), 1.5, letters, NO_HOLES)


def _heights(bridges: Sequence[Bridge]) -> list[float]:
    """Heights of the level bars."""
    return [
        round(bridge.start[1], 2)
        for bridge in bridges
        if abs(bridge.start[1] - bridge.end[1]) < 0.01
    ]


@pytest.mark.parametrize(
    ("name", "face", "most"),
    [
        ("Đặng Thị Ngọc", "Noto Sans SemiBold", 1), ("8888", "Caveat Bold", 1),
        ("Łukasz", "Nunito ExtraBold", 1), ("J. P.", "Noto Sans SemiBold", 1),
        ("Göran", "Noto Sans SemiBold", 2), ("iiijjj", "Noto Sans SemiBold", 2),
        ("عبدالرزاق", "Noto Sans Arabic SemiBold", 1),
    ],
)  # fmt: skip
def test_names_are_joined_at_one_height(name: str, face: str, most: int) -> None:
    """Bars between letters stand in one line (r may meet a at its arm, j another j below)."""
    letters = letters_of(name, face, 15.0)
    heights = Counter(_heights(join_parts(ink(letters), 1.5, letters, NO_HOLES).bridges))
    assert 1 <= len(heights) <= most
    assert sum(heights.values()) >= 3


def test_a_much_shorter_bar_may_leave_the_line() -> None:
    """Two posts that nearly touch at the top are tied there; the third is tied in line."""
    first = box(0, 0, 4, 20) | box(0, 16, 11, 20)
    posts = [MultiPolygon([shape]) for shape in (first, box(12, 0, 16, 20), box(18, 0, 22, 20))]
    near_top = _heights(_joined(*posts).bridges)
    assert len(near_top) == 2
    assert max(near_top) > 15


def test_one_line_where_it_costs_little() -> None:
    """Posts with feet of different heights are tied in one line though feet are a bit nearer."""
    posts = [
        MultiPolygon([box(x, 0, x + 4, 20)]) | box(x - 0.4, low, x + 4.4, low + 3)
        for x, low in ((0, 0), (7, 8), (14, 0), (21, 12))
    ]
    heights = _heights(_joined(*[MultiPolygon([post]) for post in posts]).bridges)
    assert len(heights) == 3
    assert len(set(heights)) == 1


@pytest.mark.parametrize("face", ["Dancing Script Bold", "Caveat Bold", "Pacifico"])
def test_a_full_stop_is_not_hung_on_a_bowl(face: str) -> None:
    """The stop of "P." is tied to the foot of P by a level bar, not up to its bowl as R's leg."""
    letters = letters_of("J. P.", face, 13.0)
    outline = finish(Order("weld", Polygon(), Limits(1.5, 0.15), ink(letters), letters))
    assert outline.parts == 1
    assert len(_heights(outline.bridges)) == len(outline.bridges) >= 3


@pytest.mark.parametrize("top_mm", [1.0, 2.0, 4.0])
def test_a_dot_in_a_window_keeps_to_its_stem(top_mm: float) -> None:
    """A stem that grows from a window's edge holds its dot, though the edge above is nearer."""
    stem, dot = box(20, 0, 24, 14), box(20, 17, 24, 21)
    letters = (Letter(0, "i", MultiPolygon([stem, dot])),)
    window = box(5, 2, 39, 21 + top_mm)
    frame = box(0, -4, 44, 27 + top_mm) - window
    outline = finish(Order("weld", frame, Limits(1.5), ink(letters), letters))
    (bridge,) = outline.bridges
    assert max(bridge.start[1], bridge.end[1]) < 20
    assert min(bridge.start[1], bridge.end[1]) < 14
