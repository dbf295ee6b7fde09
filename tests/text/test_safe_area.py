"""The safe area: as large as fits on the line of its batch, and never a hair outside."""

from dataclasses import replace

import numpy as np
import pytest
import shapely
from hypothesis import example, given, settings
from hypothesis import strategies as st
from shapely import Polygon

from namebatch.finding import Finding
from namebatch.template.textbox import SafeArea, TextBox
from namebatch.text.batch import common_size
from namebatch.text.block import Block, block_of
from namebatch.text.catalogue import load_catalogue
from namebatch.text.fit import SetText, fit
from namebatch.text.ground import ground_of, plain_within
from namebatch.text.hulls import hulls_of
from namebatch.text.safe_area import Inside
from namebatch.text.search import search_on
from namebatch.text.setting import set_line
from tests.text.areas import AREAS
from tests.text.conftest import text_box

TEXTS = {
    "Al": "Noto Sans SemiBold",
    "Saltmarsh": "Noto Sans SemiBold",
    "Pacifico": "Pacifico",
    "محمد": "Noto Sans Arabic SemiBold",
}
NAMES = ("ace", "Jgy", "Åsa", "Al", "Marlo", "Ottilie", "Saltmarsh", "Peggy Quagg", "Bo Tern")
MIXED = ("Al", "Jgy", "Saltmarsh", "Bartholomew", "Tove Lymegrass", "Wilhelmina Sandpiper-Quagg")


def box_in(area: Polygon, largest: float = 200.0, least: float = 0.5) -> TextBox:
    """A box whose place is an area."""
    box = text_box(largest=largest, least=least)
    return replace(box, place=SafeArea(2.0, area), made="outline")


def set_block(text: str) -> Block:
    """A text on one line."""
    face = load_catalogue().open("Noto Sans SemiBold")
    found = block_of(text, [(0, set_line(face, text, 30.0))], "centre", 1.6, True)
    assert found is not None
    return found


def set_in(text: str, area: Polygon, largest: float = 200.0) -> SetText:
    """A text that fits."""
    font = TEXTS.get(text, "Noto Sans SemiBold")
    result = fit(text, [load_catalogue().open(font)], box_in(area, largest))
    assert isinstance(result, SetText), result
    return result


def middle(found: SetText) -> float:
    """Y of the middle of the capitals of a text on one line."""
    return found.baseline_mm + found.height_mm / 2


@pytest.mark.parametrize("area", AREAS.values(), ids=AREAS)
@pytest.mark.parametrize("text", TEXTS)
def test_no_ink_leaves_the_area(text: str, area: Polygon) -> None:
    """Exactly, by containment, whatever the area."""
    assert shapely.buffer(area, 1e-5).contains(set_in(text, area).shape)


@pytest.mark.parametrize(
    "area", [AREAS["kite"], AREAS["tag"], AREAS["disc"]], ids=["kite", "tag", "disc"]
)
def test_names_share_one_line(area: Polygon) -> None:
    """Short and long, with and without descenders: the middle of capitals is at one height."""
    found = [set_in(text, area, 9.0) for text in NAMES]
    assert len({round(middle(f), 9) for f in found}) == 1
    assert len({round(f.height_mm, 3) for f in found}) > 2


@pytest.mark.parametrize(
    "area", [AREAS["kite"], AREAS["tag"], AREAS["disc"]], ids=["kite", "tag", "disc"]
)
def test_names_stand_about_one_middle(area: Polygon) -> None:
    """Sideways too: within a tenth of the longest name."""
    found = [set_in(text, area, 9.0).shape.bounds for text in NAMES]
    middles = [(box[0] + box[2]) / 2 for box in found]
    longest = max(box[2] - box[0] for box in found)
    assert max(middles) - min(middles) < 0.1 * longest


def test_short_names_stay_under_a_notch() -> None:
    """Where they would be larger beside what stands in the middle, they keep to the middle."""
    notched = shapely.box(0, 0, 60, 30).difference(shapely.box(28, 20, 32, 30))
    inside = Inside(notched, 1.0, 14.0, line_mm=14.0)
    for text in ("Ti", "HOH"):
        block = set_block(text)
        placed = inside.settle(block, inside.largest(block, 14.0), False)
        x0, _, x1, _ = placed.shape.bounds
        assert 10.0 < inside.largest(block, 14.0) < 12.1
        assert (x0 + x1) / 2 == pytest.approx(30, abs=0.06 * 60)


@pytest.mark.parametrize("y", [55, 58])
def test_names_on_two_lines_stay_in_the_middle_beside_a_hole(y: float) -> None:
    """In a heart with a hole right of its notch all names stand lower, clear of it on two lines.

    On the line that suits one line of letters alone this name is 1.7 mm off the middle, or 4.7 mm
    high.
    """
    tip = shapely.Point(36, 4)
    lobes = [shapely.union(shapely.Point(x, 50).buffer(18, 32), tip) for x in (19, 53)]
    heart = shapely.union_all([shapely.convex_hull(lobe) for lobe in lobes])
    area = heart.buffer(-4, 32).difference(shapely.Point(40, y).buffer(6.5, 32))
    box = box_in(area, 14.0, 2.0)
    box = replace(box, sizing=replace(box.sizing, two_lines_larger=True))
    found = fit("Bartholomew Featherstone", [load_catalogue().open("Lilita One")], box)
    assert isinstance(found, SetText)
    x0, _, x1, _ = found.shape.bounds
    assert [told.code for told in found.notes] == ["two-lines"]
    assert (x0 + x1) / 2 == pytest.approx(36, abs=0.7)
    assert found.height_mm > 5.4


@pytest.mark.parametrize("area", AREAS.values(), ids=AREAS)
def test_the_line_costs_a_fifth_at_most(area: Polygon) -> None:
    """Where nothing stands in the middle, a name is four fifths as large as anywhere, or more."""
    for text in MIXED:
        block = set_block(text)
        inside = Inside(area, 0.5, 200.0)
        search = search_on(ground_of(plain_within(area)), hulls_of(block))
        assert inside.largest(block, 200.0) >= 0.79 * search.anywhere((), 200.0)[-1].size


def test_it_leaves_the_line_rather_than_be_held() -> None:
    """A name below its least height on the line goes where it reaches it."""
    block, tag = set_block("Saltmarsh"), AREAS["tag"]
    on_line = Inside(tag, 0.5, 20.0).on_line(block)
    assert Inside(tag, 0.5, 20.0).largest(block, 20.0) == pytest.approx(on_line, rel=1e-3)
    assert Inside(tag, on_line * 1.05, 20.0).largest(block, 20.0) >= on_line * 1.05


def test_the_template_may_say_which_line() -> None:
    """With a height given, capitals stand with their middle on it."""
    inside = Inside(AREAS["disc"], 0.5, 4.0, line_mm=26.0)
    placed = inside.settle(set_block("Jgy"), 4.0, False)
    assert placed.baseline_mm + 2.0 == pytest.approx(26.0)


def test_in_a_rectangle_it_is_the_closed_form() -> None:
    """In a rectangle the largest size is the lesser of width / width and height / height."""
    area = shapely.box(0, 0, 50, 12)
    one = set_in("Saltmarsh", shapely.box(0, 0, 1000, 1000), 1.0).shape.bounds
    found = set_in("Saltmarsh", area)
    size = min(50 / (one[2] - one[0]), 12 / (one[3] - one[1]))
    assert found.height_mm == pytest.approx(size, rel=4e-3)
    assert found.height_mm <= size


def test_among_equal_places_the_middle_is_taken() -> None:
    """A short text in a long area stands in the middle of it, as high as wide."""
    found = set_in("HOH", shapely.box(0, 0, 200, 12), 6.0)
    x0, y0, x1, y1 = found.shape.bounds
    assert (x0 + x1) / 2 == pytest.approx(100, abs=0.2)
    assert (y0 + y1) / 2 == pytest.approx(6, abs=0.2)


def test_names_of_a_batch_sit_alike() -> None:
    """Where there is room, names of the largest height have the same baseline."""
    found = [set_in(text, AREAS["disc"], 5.0) for text in ("Ann", "Jyg", "Åsa")]
    assert {round(f.height_mm, 6) for f in found} == {5.0}
    assert len({round(f.baseline_mm, 9) for f in found}) == 1


def test_two_lines_where_one_would_be_too_small() -> None:
    """In a narrow area a long name is broken, and both lines are inside."""
    face = [load_catalogue().open("Noto Sans SemiBold")]
    area = AREAS["kite"]
    result = fit("Bartholomew Glasswort", face, box_in(area, 9.0, 3.0))
    assert isinstance(result, SetText)
    assert [note.code for note in result.notes] == ["two-lines"]
    assert shapely.buffer(area, 1e-5).contains(result.shape)


def test_what_fits_nowhere_is_held_with_its_figure() -> None:
    """A text that could only be tiny is held, with the height at which it would fit."""
    face = [load_catalogue().open("Noto Sans")]
    result = fit("Bartholomew-Maximilian", face, box_in(AREAS["kite"], 9.0, 6.0))
    assert isinstance(result, Finding)
    assert "fits only at" in result.message


def test_one_size_for_a_batch_in_a_safe_area() -> None:
    """The height that the longest name reaches is set for all, and all of them fit."""
    box = box_in(AREAS["kite"], 12.0)
    box = replace(box, sizing=replace(box.sizing, steps=(), alike=True))
    faces = [load_catalogue().open("Noto Sans SemiBold")]
    names = ["Bo", "Saltmarsh", "Tove Lymegrass"]
    common = common_size(names, faces, box)
    assert common is not None
    for name in names:
        result = fit(name, faces, box, common=common)
        assert isinstance(result, SetText)
        assert result.height_mm == pytest.approx(common.height_mm, abs=1e-6)
        assert result.notes == ()


def test_one_size_stands_on_one_baseline() -> None:
    """Names that could be larger off the line of their batch stay on it with the others."""
    box = box_in(AREAS["tag"], 12.0)
    box = replace(box, sizing=replace(box.sizing, steps=(), alike=True))
    faces = [load_catalogue().open("Noto Sans SemiBold")]
    common = common_size(MIXED, faces, box)
    assert common is not None
    found = [fit(name, faces, box, common=common) for name in MIXED]
    sizes = {round(f.height_mm, 6) for f in found if isinstance(f, SetText)}
    baselines = {round(f.baseline_mm, 6) for f in found if isinstance(f, SetText)}
    assert sizes == {round(common.height_mm, 6)}
    assert len(baselines) == 1


def test_the_others_of_a_list_do_not_matter() -> None:
    """Where a name stands follows from the area and its box, whatever was set before it."""
    alone = set_in("Saltmarsh", AREAS["kite"], 9.0)
    for text in NAMES:
        set_in(text, AREAS["moon"], 9.0)
        set_in(text, AREAS["kite"], 9.0)
    assert set_in("Saltmarsh", AREAS["kite"], 9.0).shape.wkb == alone.shape.wkb


def test_too_small_for_anything() -> None:
    """A sliver takes nothing, and nothing breaks."""
    inside = Inside(shapely.box(0, 0, 30, 0.005), 1.0, 9.0)
    assert inside.largest(set_block("Al"), 9.0) == 0.0
    assert inside.on_line(set_block("Al")) == 0.0


def test_same_input_same_place() -> None:
    """The search has no luck in it."""
    one, other = (set_in("Pacifico", AREAS["moon"]) for _ in range(2))
    assert one.shape.wkb == other.shape.wkb


@example(text="Al", corners=5, seed=515, most_mm=2.0)  # a bay with slivers
@settings(max_examples=25, deadline=None)
@given(
    st.sampled_from(["Al", "Jgy", "Saltmarsh", "Ottilie Quagg"]),
    st.integers(5, 14),
    st.integers(0, 10**6),
    st.floats(2.0, 40.0),
)
def test_whatever_the_area(text: str, corners: int, seed: int, most_mm: float) -> None:
    """In any star-shaped area with a hole, what is set at the size found is inside, exactly."""
    dice = np.random.default_rng(seed)
    angle = np.arange(corners) * 2 * np.pi / corners
    radius = dice.uniform(12, 40, corners)
    whole = Polygon(np.column_stack([radius * np.cos(angle), radius * np.sin(angle)]))
    hole = shapely.Point(dice.uniform(-12, 12, 2)).buffer(3, 16)
    parts = shapely.get_parts(whole.buffer(-1).difference(hole))
    area = max(parts, key=lambda part: float(part.area))
    inside, block = Inside(area, 0.5, most_mm), set_block(text)
    size = inside.largest(block, most_mm)
    assert 0 < size <= most_mm
    for height in (size, 0.7 * size):
        assert shapely.buffer(area, 1e-5).contains(inside.settle(block, height, False).shape)
