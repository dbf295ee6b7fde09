"""Base drawings: from lines in an SVG file to the one polygon that is cut."""

import numpy as np
import pytest
from shapely import Point, Polygon, contains, distance, points, prepare
from shapely.affinity import translate

from namebatch.template.problems import Problems
from namebatch.template.svg.outline import outline_from_svg
from tests.template.drawing import pixels, svg


def base(text: str) -> tuple[Polygon | None, tuple[str, ...]]:
    """The base of SVG text, and the problems."""
    problems = Problems()
    found = outline_from_svg(text.encode(), "base.svg", problems)
    return found.polygon if found else None, problems.told()


def test_card_from_a_drawing_has_the_area_of_the_standard() -> None:
    """ISO/IEC 7810 ID-1, corners 3.18 mm: 4612.007 mm² and 273.7005 mm by Steiner's formula."""
    found, problems = base(
        svg(
            '<rect x="0.5" y="1" width="85.6" height="53.98" rx="3.18"/>',
            'width="90mm" height="60mm" viewBox="0 0 90 60"',
        )
    )
    assert problems == ()
    assert found is not None
    assert found.bounds == pytest.approx((0, 0, 85.6, 53.98), abs=1e-6)
    # Four corners of r = 3.18 with chords at most 0.005 mm inside the arc.
    assert found.area == pytest.approx(4612.007, abs=2 * np.pi * 3.18 * 0.005)
    assert found.length == pytest.approx(273.7005, abs=0.03)


def test_even_odd_makes_holes_and_turns_y_up() -> None:
    """A circle inside another is a hole, and what is low in the file is low on the piece."""
    found, problems = base(
        svg(
            '<path d="M10 10H60V50H10z"/><circle cx="20" cy="45" r="2"/>'
            '<path d="M40 15h5v5h-5zM50 15h5v5h-5z"/>'
        )
    )
    assert problems == ()
    assert found is not None
    assert len(found.interiors) == 3
    assert not found.contains(Point(10, 5))
    assert found.area == pytest.approx(2000 - 4 * np.pi - 50, abs=0.1)


def test_flattened_outline_stays_within_five_thousandths() -> None:
    """Every point of the outline of a drawn circle lies within 0.005 mm of the true circle."""
    found, _ = base(svg('<circle cx="40" cy="30" r="29"/>'))
    assert found is not None
    middle = np.array([29.0, 29.0])
    ring = np.array(found.exterior.coords) - middle
    mids = (ring[1:] + ring[:-1]) / 2
    for sample in (ring, mids):
        assert np.abs(np.hypot(sample[:, 0], sample[:, 1]) - 29).max() <= 0.005 + 1e-4


def test_nasty_path_fills_the_same_pixels_as_resvg() -> None:
    """Arcs, smooth curves and stacked transforms enclose what an independent reader fills."""
    text = svg(
        '<g transform="translate(10 6) scale(.7)"><g transform="rotate(8) skewX(-6)">'
        '<path fill-rule="evenodd" transform="matrix(1 .05 -.1 1.02 6 0)" d="M8 12'
        "a9 14 20 01 16-4.5l6-.5.5 1.5c3 6 9-9 14 2t9-3S66 8 66 20v10H60q4 8-4 10T50 48"
        "A12 5-30 1 1 30 42L14 46a3 3 0 10-4-6z"
        'm14 10a5 3 40 1 0 10 0A5 3 40 1 0 22 22zM44 26l6-2 1 6.5-7 .5z"/></g></g>'
    )
    found, problems = base(text)
    assert problems == ()
    assert found is not None
    assert len(found.interiors) == 2
    scale = 10
    dark = pixels(text, 80 * scale).max(axis=2) < 128
    rows, columns = np.nonzero(dark)
    # The base is moved to its own corner; find that corner in the picture.
    moved = translate(
        found, columns.min() / scale, dark.shape[0] / scale - (rows.max() + 1) / scale
    )
    y, x = np.indices(dark.shape)
    centres = points((x + 0.5) / scale, (dark.shape[0] - y - 0.5) / scale)
    prepare(moved)
    wrong = contains(moved, centres) != dark
    assert dark.mean() > 0.2
    # A pixel may differ where the outline runs through it or its neighbour.
    assert distance(moved.boundary, centres[wrong]).max(initial=0) <= 1.5 / scale


@pytest.mark.parametrize(
    ("body", "message"),
    [
        ('<path d="M5 5H40V30"/>', "open line, its ends 43.01 mm apart"),
        ('<line x2="40" y2="5"/>', "open line"),
        ('<polyline points="0 0 9 9 9 0"/>', "open line"),
        ('<path d="M5 5L40 40V5L5 40z"/>', "crosses or touches itself at x 22.50, y 37.50 mm"),
        ('<rect width="30" height="20"/><rect x="40" width="9" height="9"/>', "second outline"),
        (
            '<rect width="30" height="20"/><rect x="5" y="5" width="9" height="9"/>'
            '<rect x="7" y="7" width="3" height="3"/>',
            "inside a hole and would fall out",
        ),
        ('<rect width="30" height="20"/><rect x="20" width="30" height="9"/>', "touches or"),
        ('<rect width="30" height="20"/><rect width="30" height="20"/>', "is the same line as"),
        ('<rect width="30" height="20"/><path d="M3 3h1z"/>', "encloses nothing"),
        ('<g display="none"><rect width="30" height="20"/></g>', "holds no closed line"),
        ('<rect width="30" height="20"/><text>a</text>', "is text, which is not cut"),
        ('<path d="M9 9h11v.001H9z"/>', "encloses nothing"),
        ('<image width="9" height="9" href="data:image/png;base64,"/>', "uses a picture"),
        ('<rect width="1" height="20"/>', "1 × 20 mm; a base has sides of 2 to"),
        ('<rect width="20" height="20" transform="scale(99999)"/>', "more than 10 m away"),
        (
            '<clipPath id="c"><rect width="9" height="9"/></clipPath>'
            '<rect width="30" height="20" clip-path="url(#c)"/>',
            "clip-path",
        ),
    ],
)
def test_what_cannot_be_cut_is_told(body: str, message: str) -> None:
    """Open, crossing, doubled, separate and empty lines are problems with their place."""
    found, problems = base(svg(body))
    assert found is None
    assert any(message in problem for problem in problems), problems
    assert all(problem.startswith("base.svg") for problem in problems)


def test_ends_that_meet_within_a_hundredth_are_closed() -> None:
    """Rounded figures of drawing programs do not leave a line open."""
    found, problems = base(svg('<path d="M5 5H40V30H5V5.004"/>'))
    assert problems == ()
    assert found is not None
    assert found.area == pytest.approx(875, abs=0.2)


def test_a_drawing_without_size_has_no_scale() -> None:
    """A base whose file says nothing about mm is refused, with what to write."""
    found, problems = base(svg('<rect width="30" height="20"/>', 'viewBox="0 0 80 60"'))
    assert found is None
    assert 'write for example width="85mm"' in problems[0]


def test_too_fine_a_drawing_is_refused_before_it_is_flattened() -> None:
    """A short file cannot ask for millions of points."""
    wave = "c0 9000 9000-9000 0 0" * 3000
    found, problems = base(svg(f'<path d="M0 0{wave}z"/>'))
    assert found is None
    assert "past 20000 points" in problems[0]


@pytest.mark.parametrize("holes", [1_999, 2_000])
def test_holes_of_one_path_are_counted(holes: int) -> None:
    """Very many closed lines are refused, whether each is a path or all are one."""
    each = "".join(f"M{1 + i % 50} {1 + i // 50}h.5v.5h-.5z" for i in range(holes))
    _, problems = base(svg(f'<path fill-rule="evenodd" d="M0 0h60v60h-60z{each}"/>'))
    assert any("past 2000 closed lines" in problem for problem in problems) == (holes == 2_000)


def test_towers_of_lines_are_refused_in_good_time() -> None:
    """Thousands of nested or crossing lines do not keep the machine busy."""
    nested = "".join(
        f'\n<rect x="{i / 200}" y="{i / 200}" width="{60 - i / 100}" height="{60 - i / 100}"/>'
        for i in range(300)
    )
    _, problems = base(svg(nested))
    assert sum("inside a hole" in problem for problem in problems) == 20
    crossing = "".join(
        f'\n<rect x="{i / 100}" y="{i / 100}" width="9" height="9"/>' for i in range(300)
    )
    _, problems = base(svg(crossing))
    assert sum("touches or crosses" in problem for problem in problems) >= 20
    _, problems = base(svg('<rect width="9" height="9"/>' * 2002))
    assert any("past 2000 closed lines" in problem for problem in problems)


def test_lines_on_one_line_of_the_file_are_told_apart() -> None:
    """Two paths that begin on one line are counted, and one with a name goes by that."""
    paths = '<path d="M0 0H40V30H0z"/><rect x="60" width="5" height="5"/>'
    _, problems = base(svg(paths + '<path d="M20 10H60V20H20z"/>'))
    assert "line 1, 2nd <path>: touches or crosses line 1, 1st <path>; join" in problems[0]
    _, problems = base(svg(paths + '<path id="hem" d="M20 10H60V20H20z"/>'))
    assert 'line 1, <path id="hem">: touches or crosses line 1, 1st <path>; join' in problems[0]


def test_two_lines_of_one_path_are_said_to_meet() -> None:
    """A path is not told to keep away from itself when it holds both lines."""
    _, problems = base(svg('<path d="M0 0H40V30H0zM20 10H60V20H20z"/>'))
    assert "line 1, <path>: has two lines that touch or cross; join the two" in problems[0]
    _, problems = base(svg('<path d="M0 0H40V30H0zM0 0H40V30H0z"/>'))
    assert "is the same line as another in it; delete one of them" in problems[0]
