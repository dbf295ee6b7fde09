"""The jig: windows over the frame's corners, webs that hold it, sheets larger than the page."""

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely import LineString, Point, Polygon, box, union_all

from namebatch.errors import SheetError
from namebatch.sheet import Page, jig_of, printed_page
from namebatch.sheet.jig import flap_mm, jig_size, lying_board
from namebatch.sheet.model import Jig

MARGINS = (5.0, 5.0, 7.0, 5.0)
A4 = (210.0, 297.0)
BED = (600.0, 400.0)
LINE_MM = 0.2
"""Width of the printed frame's line."""


def _page(size: tuple[float, float] = A4) -> Page:
    return printed_page(size, MARGINS, 1.5)


def _windows(jig: Jig) -> list[Polygon]:
    return [Polygon(cut.points) for cut in jig.cuts if cut.operation == "window"]


def _left(jig: Jig) -> Polygon:
    """What is left of the sheet when the windows are out."""
    left = box(0, 0, *jig.size_mm).difference(union_all(_windows(jig)))
    assert isinstance(left, Polygon)
    return left


def _marked(jig: Jig) -> list[LineString]:
    return [LineString((*cut.points, cut.points[0])) for cut in jig.cuts if cut.operation == "mark"]


def _sides(jig: Jig) -> list[LineString]:
    x, y, width, height = jig.frame_mm
    corners = [(x, y), (x + width, y), (x + width, y + height), (x, y + height)]
    return [LineString([corners[k], corners[(k + 1) % 4]]) for k in range(4)]


sizes = st.floats(60, 500)


@given(sizes, sizes, st.floats(0.5, 10))
def test_windows_show_two_diagonal_corners_whole(width: float, height: float, edge: float) -> None:
    """The printed corner, line width and all, is inside its window; the other two are covered.

    From the window's edges on the marked lines continue the printed ones.
    """
    jig = jig_of(printed_page((width, height), (edge,) * 4, 1.5))
    x, y, w, h = jig.frame_mm
    low, high = _windows(jig)
    assert low.contains(Point(x, y).buffer(LINE_MM / 2 + 0.2))
    assert high.contains(Point(x + w, y + h).buffer(LINE_MM / 2 + 0.2))
    left = _left(jig)
    assert left.contains(Point(x + w, y))
    assert left.contains(Point(x, y + h))
    lines = union_all(_marked(jig))
    for side in _sides(jig):
        assert lines.buffer(1e-6).contains(side)
        assert left.intersection(side).length > 0.3 * side.length


@given(sizes, sizes, st.floats(0, 10))
def test_the_jig_stays_one_sheet(width: float, height: float, edge: float) -> None:
    """One part whatever the margins, and its narrowest strip is as wide as it is told."""
    jig = jig_of(printed_page((width, height), (edge,) * 4, 1.5))
    left = _left(jig)
    rims = [line.distance(left.exterior) for line in (window.exterior for window in _windows(jig))]
    assert min(rims) == pytest.approx(jig.web_mm, abs=1e-3)
    assert left.buffer(-jig.web_mm / 2 + 0.01).geom_type == "Polygon"


def test_enough_is_left_to_hold_the_sheet() -> None:
    """3 mm beside the windows wherever the margins leave it, never less than half the inset."""
    assert jig_of(_page()).web_mm == pytest.approx(3.5)  # frame 5.5 mm in, window 2 mm beyond it
    assert jig_of(printed_page(A4, (4, 4, 4, 4), 1.5)).web_mm == pytest.approx(3.0)
    # printer manuals: 1.8 mm at the top
    assert jig_of(printed_page(A4, (1.8, 4, 6.7, 4), 1.5)).web_mm == pytest.approx(1.5)
    assert jig_of(printed_page(A4, (0, 0, 0, 0), 1.5)).web_mm == pytest.approx(0.25)


def test_a_jig_for_pages_is_as_large_as_the_page() -> None:
    """Its edges can be laid to those of the page."""
    jig = jig_of(_page())
    assert jig.size_mm == jig.page_mm == A4
    assert not jig.is_larger
    assert jig_size(A4, None, None, BED) == A4


boards = st.tuples(st.floats(211, 600), st.floats(211, 400))


@given(boards)
def test_a_board_of_any_size_up_to_the_bed(board: tuple[float, float]) -> None:
    """The frame's corners are seen, the jig is one part that holds, and its lines go on.

    The jig reaches past the board to where the bed ends or it can be fixed; where it does, all
    four lines of the frame are marked beyond the board's edge.
    """
    page = _page((200, 150))
    lying = lying_board(board, page.size_mm, BED)
    jig = jig_of(page, jig_size(page.size_mm, board, None, BED))
    assert page.size_mm[0] <= lying[0] <= jig.size_mm[0] <= BED[0]
    assert page.size_mm[1] <= lying[1] <= jig.size_mm[1] <= BED[1]
    x, y, w, h = jig.frame_mm
    low, high = _windows(jig)
    assert low.contains(Point(x, y).buffer(0.3))
    assert high.contains(Point(x + w, y + h).buffer(0.3))
    assert jig.web_mm >= 3.0
    assert _left(jig).buffer(-1.49).geom_type == "Polygon"
    lines = union_all(_marked(jig))
    for side in _sides(jig):
        assert lines.buffer(1e-6).contains(side)
    beyond = lines.difference(box(0, 0, *lying))
    if jig.size_mm[0] - lying[0] > 3:
        for at in (y, y + h):
            assert beyond.distance(Point(lying[0] + 0.5, at)) < 1e-6
    if jig.size_mm[1] - lying[1] > 3:
        for at in (x, x + w):
            assert beyond.distance(Point(at, lying[1] + 0.5)) < 1e-6
    assert flap_mm(jig.size_mm, lying) >= min(30, BED[0] - lying[0]) - 1e-9


@given(boards)
def test_no_line_of_a_larger_jig_is_marked_twice(board: tuple[float, float]) -> None:
    """A line run twice is burnt deeper and wider than the others."""
    jig = jig_of(_page((200, 150)), jig_size((200, 150), board, None, BED))
    assume(jig.is_larger)
    level, upright = _marked(jig)
    assert level.intersection(upright).length < 1e-6
    inside = box(0, 0, *jig.size_mm).buffer(-1.9)
    assert all(inside.contains(line) for line in (level, upright))


@pytest.mark.parametrize(
    ("page", "board", "jig", "bed", "size"),
    [
        (A4, (600, 300), None, (600, 400), (600, 330)),  # 30 mm to fix it by, above the board
        (A4, (300, 420), None, (600, 400), (450, 330)),  # too deep for the bed as it is: turned
        ((420, 297), (600, 300), None, (600, 400), (600, 330)),
        (A4, None, (297, 420), (600, 300), (420, 297)),  # an A3 sheet for a jig, turned
        (A4, (250, 300), (600, 400), (600, 400), (600, 400)),
        (A4, (600, 400), None, (600, 400), (600, 400)),  # nothing to fix it by: told elsewhere
    ],
)
def test_sheets_lie_as_the_page_and_the_bed_want_them(
    page: tuple[float, float],
    board: tuple[float, float] | None,
    jig: tuple[float, float] | None,
    bed: tuple[float, float],
    size: tuple[float, float],
) -> None:
    """A sheet is turned only where it does not take the page, or the bed it, as it is given."""
    assert jig_size(page, board, jig, bed) == size


def test_what_does_not_lie_on_another_is_refused() -> None:
    """A page larger than its board, a board larger than the bed, a jig smaller than the page."""
    with pytest.raises(SheetError, match="A page of 210 × 297 mm is to be mounted on a sheet of "
                       r"200 × 300 mm, which is smaller or does not lie on the bed"):  # fmt: skip
        jig_size(A4, (200, 300), None, BED)
    with pytest.raises(SheetError, match=r"does not lie on the bed of 600 × 400 mm\. Take a"):
        lying_board((700, 300), A4, BED)
    with pytest.raises(SheetError, match="A page of 297 × 420 mm"):
        lying_board((600, 300), (297, 420), BED)  # the bed is not turned
    with pytest.raises(SheetError, match=r"jig sheet of 200 × 297 mm does not cover a page"):
        jig_size(A4, None, (200, 297), BED)
