"""Marks and tails in the base, on real lettering that stands 2 mm deep in a bar or a disc."""

import pytest
import shapely
from shapely import Point, Polygon, affinity, box

from namebatch.finding import Finding
from namebatch.outline import Letter, Limits, Order
from namebatch.outline.undersides import what_is_sunk
from namebatch.text.glyphs import as_multipolygon
from tests.outline.lettering import ink, letters_of

DEEP = 2.0


def _found(
    name: str, face: str = "Noto Sans SemiBold", bar_mm: float = 12.0
) -> list[tuple[str, str]]:
    letters = letters_of(name, face)
    text = ink(letters)
    base = box(text.bounds[0] - 5, DEEP - bar_mm, text.bounds[2] + 5, DEEP)
    found = what_is_sunk(Order("weld", base, Limits(1.5), text, letters))
    return [(finding.code, finding.message) for finding in found]


@pytest.mark.parametrize(
    ("name", "mark", "read"),
    [
        ("Thị", 'The dot below of "ị" lies', "Thi"),
        ("Şen", 'The cedilla of "Ş" lies', "Sen"),
        ("ąę", 'The ogonek of "ą", the ogonek of "ę" lie', "ae"),
        ("Ọlá Thị", 'The dot below of "Ọ", the dot below of "ị" lie', "Olá Thi"),
        ("Nặng", 'The dot below of "ặ" lies', "Năng"),
    ],
)
def test_a_mark_below_is_named(name: str, mark: str, read: str) -> None:
    """A mark that the base hides is named, and so is what one reads without it."""
    code, message = _found(name)[0]
    assert code == "mark-in-base"
    assert message.startswith(f"{mark} inside the base")
    assert f'it reads "{read}"' in message


@pytest.mark.parametrize("name", ["Thi", "Ola", "Zoë", "Čiří", "Ålun", "8, 5"])
def test_names_without_marks_below_are_not_told(name: str) -> None:
    """Feet in the base are what a weld is; marks above are in the open."""
    assert _found(name) == []


def test_a_tail_is_named() -> None:
    """A g without its tail is an a: tails of all letters that reach below the line are told."""
    (finding,) = _found("Ögey")
    assert finding[0] == "tail-in-base"
    assert finding[1].startswith('The part of "g", "y" below the line')


def test_a_tail_in_a_narrow_bar_is_told() -> None:
    """On a bar as narrow as the tail is long its depth says nothing, but its line does."""
    (finding,) = _found("Ögeoen", bar_mm=7.0)
    assert finding[1].startswith('The part of "g" below the line')


def test_what_comes_out_below_is_seen() -> None:
    """On a bar of 3 mm tails, cedillas and dots stand out below it."""
    assert [_found(name, bar_mm=3.0) for name in ("Ögey", "Şen", "Thị")] == [[], [], []]


def test_marks_of_other_scripts_are_told() -> None:
    """A Thai vowel sign below the line is lost in the base; the reading is left to the reader."""
    (found,) = _found("อรุณี", "Noto Sans Thai SemiBold")
    assert found[0] == "mark-in-base"
    assert found[1].startswith('A mark below in "รุ" lies inside the base')


def _round(name: str) -> list[Finding]:
    """A name along the upper edge of a disc of 40 mm, letters turned."""
    letters = letters_of(name, "Noto Sans SemiBold", 10.0)
    width = ink(letters).bounds[2]
    turned = []
    for letter in letters:
        middle = (letter.shape.bounds[0] + letter.shape.bounds[2]) / 2
        upright = affinity.translate(letter.shape, -middle, 38.0)
        angle = (width / 2 - middle) / 38.0
        shape = affinity.rotate(upright, angle, origin=(0, 0), use_radians=True)
        turned.append(Letter(letter.index, letter.text, as_multipolygon(shape)))
    disc: Polygon = Point(0, 0).buffer(40, quad_segs=64)
    text = as_multipolygon(shapely.union_all([letter.shape for letter in turned]))
    return what_is_sunk(Order("weld", disc, Limits(1.5), text, tuple(turned)))


def test_feet_on_a_round_edge_are_no_tails() -> None:
    """Along a circle the outer letters stand lower, and only true tails are told."""
    assert _round("Marlo Teasel") == []
    (finding,) = _round("Margo Teasel")
    assert finding.message.startswith('The part of "g" below the line')


def test_several_texts_are_not_read_as_one() -> None:
    """Where two boxes are welded, no reading is given."""
    letters = letters_of("Thị", "Noto Sans SemiBold")
    far = tuple(Letter(a.index, a.text, affinity.translate(a.shape, 60)) for a in letters)
    text = ink(letters + far)
    base = box(-5, DEEP - 12, 120, DEEP)
    (finding,) = what_is_sunk(Order("weld", base, Limits(1.5), text, letters + far))
    assert "it reads" not in finding.message


def test_nothing_to_hide() -> None:
    """Without base or letters nothing is told."""
    letters = letters_of("Thị", "Noto Sans SemiBold")
    assert what_is_sunk(Order("weld", Polygon(), Limits(1.5), ink(letters), letters)) == []
    assert what_is_sunk(Order("weld", box(0, 0, 9, 9), Limits(1.5))) == []
