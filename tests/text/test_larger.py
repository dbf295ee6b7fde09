"""Two lines for the sake of size."""

from dataclasses import replace

import pytest
import shapely

from namebatch.finding import Finding
from namebatch.template.textbox import AlongPath, SafeArea, Sizing, TextBox
from namebatch.text.batch import common_size
from namebatch.text.catalogue import Catalogue
from namebatch.text.fit import SetText, fit
from namebatch.text.larger import CLEARLY
from tests.text.areas import AREAS
from tests.text.conftest import text_box

LARGER = Sizing(two_lines_larger=True)
PLAIN = Sizing()


def in_disc(sizing: Sizing, least: float = 2.0, largest: float = 12.0) -> TextBox:
    """A box in a disc."""
    box = text_box(least=least, largest=largest)
    return replace(box, place=SafeArea(2.0, AREAS["disc"]), sizing=sizing)


def made(result: SetText | Finding) -> SetText:
    """What was set."""
    assert isinstance(result, SetText), result
    return result


def test_two_lines_where_they_are_clearly_larger(catalogue: Catalogue) -> None:
    """A first and a last name in a disc: a quarter larger at least, inside, and told."""
    faces = [catalogue.open("Lilita One")]
    one = made(fit("Marlo Teasel", faces, in_disc(PLAIN)))
    two = made(fit("Marlo Teasel", faces, in_disc(LARGER)))
    assert one.notes == ()
    assert two.height_mm >= CLEARLY * one.height_mm
    assert shapely.buffer(AREAS["disc"], 1e-5).contains(two.shape)
    [told] = two.notes
    assert told.code == "two-lines"
    assert told.message == (
        f"Set on two lines, {two.height_mm:.1f} mm high instead of {one.height_mm:.1f} mm."
    )


@pytest.mark.parametrize("name", ["Bo Eel", "Al", "Saltmarsh"])
def test_one_line_where_two_gain_little_or_nothing(catalogue: Catalogue, name: str) -> None:
    """A short name at its greatest height, and one without a break, stay on one line."""
    found = made(fit(name, [catalogue.open("Lilita One")], in_disc(LARGER, largest=6.0)))
    assert found.notes == ()


def test_the_break_with_the_largest_text(catalogue: Catalogue) -> None:
    """In an area that is wide at its foot the longer line is the lower one."""
    faces = [catalogue.open("Lilita One")]
    tent = shapely.Polygon([(0, 0), (80, 0), (60, 12), (50, 30), (30, 30), (20, 12)])
    box = replace(in_disc(LARGER, largest=30.0), place=SafeArea(2.0, tent))
    found = made(fit("Tove Ann Lymegrass", faces, box))
    upper = shapely.box(0, found.baseline_mm - 0.1, 80, 30).intersection(found.shape)
    lower = shapely.box(0, 0, 80, found.baseline_mm - 0.4 * found.height_mm)
    assert upper.bounds[2] - upper.bounds[0] < 0.7 * (
        lower.intersection(found.shape).bounds[2] - lower.intersection(found.shape).bounds[0]
    )


@pytest.mark.parametrize(
    ("name", "gain", "rows"),
    [
        ("Ann Sofie", 1.2, 1),
        ("Ann Sofie", 1.37, 2),
        ("Ann-Sofie", 1.37, 1),
        ("Ann-Sofie", 1.53, 2),
    ],
)
def test_a_hyphen_is_parted_for_much_only(
    catalogue: Catalogue, name: str, gain: float, rows: int
) -> None:
    """Words are parted from a quarter more on, a name with a hyphen from half as much more on.

    The box is just so high that two lines are `gain` times as large as one.
    """
    faces = [catalogue.open("Lilita One")]
    one = made(fit(name, faces, text_box(30, 90, least=2.0, largest=30.0)))
    two = made(fit(name, faces, replace(text_box(30, 90, least=2.0, largest=30.0), sizing=LARGER)))
    assert two.height_mm > 1.6 * one.height_mm
    _, y0, _, y1 = two.shape.bounds
    high = gain * one.height_mm * (y1 - y0) / two.height_mm
    box = replace(text_box(30, high, least=2.0, largest=30.0), sizing=LARGER)
    found = made(fit(name, faces, box))
    assert len(found.notes) == rows - 1
    assert found.height_mm == pytest.approx(one.height_mm * (gain if rows == 2 else 1), rel=1e-6)


def test_never_inside_a_particle(catalogue: Catalogue) -> None:
    """A particle stays with the word behind it, however large the text would be otherwise."""
    found = fit("Van Quagg", [catalogue.open("Lilita One")], in_disc(LARGER))
    assert made(found).notes == ()


def test_a_rectangle_keeps_to_one_line_unless_asked(catalogue: Catalogue) -> None:
    """In a rectangle two lines are for what is too long, as ever; with the wish, for size too."""
    faces = [catalogue.open("Lilita One")]
    box = text_box(30, 30, least=2.0, largest=12.0)
    one = made(fit("Marlo Teasel", faces, box))
    two = made(fit("Marlo Teasel", faces, replace(box, sizing=LARGER)))
    assert one.notes == ()
    assert [told.code for told in two.notes] == ["two-lines"]
    assert two.height_mm > CLEARLY * one.height_mm


def test_a_line_of_the_drawing_takes_one(catalogue: Catalogue) -> None:
    """Along a path there is nothing to choose."""
    line = shapely.LineString([(0, 0), (20, 0)])
    box = replace(
        text_box(least=0.5, largest=8.0),
        place=AlongPath("hem", line, "turned", (2.0, 9.0)),
        sizing=LARGER,
    )
    assert made(fit("Marlo Teasel", [catalogue.open("Lilita One")], box)).notes == ()


def test_with_one_size_two_lines_keep_the_others_large(catalogue: Catalogue) -> None:
    """One full name among first names goes on two lines, and all are larger than without."""
    faces = [catalogue.open("Lilita One")]
    names = ["Marlo", "Tove", "Peggy Quagg"]
    sizes = {}
    for word, sizing in (("plain", PLAIN), ("larger", LARGER)):
        box = in_disc(replace(sizing, alike=True))
        common = common_size(names, faces, box)
        assert common is not None
        found = [made(fit(name, faces, box, common=common)) for name in names]
        assert {round(f.height_mm, 6) for f in found} == {round(common.height_mm, 6)}
        sizes[word] = common.height_mm
    assert sizes["larger"] > CLEARLY * sizes["plain"]
