"""Two lines in one block: apart, and in one typeface."""

from dataclasses import replace

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from namebatch.template.textbox import Align, Sizing
from namebatch.text.block import Block, block_of
from namebatch.text.catalogue import Catalogue, load_catalogue
from namebatch.text.fit import SetText, fit
from namebatch.text.leading import CLEAR
from namebatch.text.setting import ink_of, set_line
from namebatch.text.steps import on_two_lines
from tests.text.conftest import text_box

LATIN = ("Noto Sans SemiBold",)
SCRIPTS = ("Noto Sans SemiBold", "Noto Sans Thai SemiBold", "Noto Sans Devanagari SemiBold")
HALVES = ("Quỳnh", "Ấn", "Jürgy", "Åberg", "Peggy", "Östlund", "ace", "Ģąyģ", "Őṻǖ", "gjpqy", "Ẳẵ")


def two_lines(upper: str, lower: str, faces: tuple[str, ...], gap: float, align: Align) -> Block:
    """Two lines in a block."""
    opened = [load_catalogue().open(name) for name in faces]
    lines = [(0, set_line(opened, upper, 15.0)), (len(upper) + 1, set_line(opened, lower, 15.0))]
    found = block_of(f"{upper} {lower}", lines, align, gap, optical=False)
    assert found is not None
    return found


def apart(block: Block) -> float:
    """Distance of the ink of two lines, in capitals' heights."""
    upper, lower = (ink_of(row.line, row.scale, row.x, row.y) for row in block.rows)
    return float(shapely.distance(upper, lower))


@pytest.mark.parametrize(
    ("upper", "lower", "faces"),
    [
        ("Quỳnh", "Ấn", LATIN),
        ("Nguyệt", "Ẩn", LATIN),
        ("Gregory", "Ångström", LATIN),
        ("กฤษฎา", "ปั้นจั่น", SCRIPTS),
        ("ฐิติวุฒิ", "ปิ่นทอง", SCRIPTS),
        ("मृत्यु", "र्किशोर", SCRIPTS),
        ("Jürgy", "Åberg", ("Pacifico",)),
    ],
)
@pytest.mark.parametrize("gap", [0.9, 1.5])
def test_lines_are_moved_apart_where_their_ink_would_meet(
    upper: str, lower: str, faces: tuple[str, ...], gap: float
) -> None:
    """Tails above and accents below keep their distance, and no more than that is added."""
    block = two_lines(upper, lower, faces, gap, "centre")
    assert -block.rows[1].y > gap
    assert CLEAR - 1e-9 <= apart(block) <= CLEAR + 0.05


@pytest.mark.parametrize(("upper", "lower"), [("Marlo", "Teasel"), ("Anna", "Moss")])
def test_lines_that_are_apart_stay_where_the_template_has_them(upper: str, lower: str) -> None:
    """The template's distance of the baselines is kept to the bit where the ink allows it."""
    assert two_lines(upper, lower, LATIN, 1.6, "left").rows[1].y == -1.6


def test_a_tail_beside_an_accent_needs_no_room() -> None:
    """Ink counts where it stands: a tail at one end is not in the way of an accent at the other."""
    beside = two_lines("yaaaaa", "aaaaaÁ", LATIN, 1.6, "left")
    below = two_lines("aaaaay", "aaaaaÁ", LATIN, 1.6, "left")
    assert beside.rows[1].y == -1.6
    assert below.rows[1].y < -1.7


@settings(max_examples=60, deadline=None)
@given(
    st.sampled_from(HALVES),
    st.sampled_from(HALVES),
    st.sampled_from(["Noto Sans SemiBold", "Pacifico", "Lilita One", "Black Ops One"]),
    st.floats(0.5, 2.0),
    st.sampled_from(["left", "centre", "right"]),
)
def test_no_two_lines_ever_meet(
    upper: str, lower: str, face: str, gap: float, align: Align
) -> None:
    """Whatever the lines, typeface and distance asked for, the ink of the two is clearly apart."""
    block = two_lines(upper, lower, (face, "Noto Sans SemiBold"), gap, align)
    assert apart(block) >= CLEAR - 1e-9
    assert -block.rows[1].y >= gap


def test_moved_lines_are_fitted_as_they_stand(catalogue: Catalogue) -> None:
    """What the wider distance takes is part of the fit: no ink leaves the box."""
    box = replace(
        text_box(22, 14, least=2.0), sizing=Sizing(steps=("two-lines",), two_lines_larger=True)
    )
    found = fit("Quỳnh Ấn", [catalogue.open(LATIN[0])], box)
    assert isinstance(found, SetText)
    assert [told.code for told in found.notes] == ["two-lines"]
    assert shapely.box(10, 20, 32, 34).buffer(1e-3).covers(found.shape)


@pytest.mark.parametrize("name", ["Josip Šušnjarić", "Đorđe Bo", "Bo Đorđević"])
def test_both_lines_are_in_the_typeface_that_sets_the_name(catalogue: Catalogue, name: str) -> None:
    """A typeface without all signs of a name sets neither line of it, as on one line."""
    faces = [catalogue.open("Lilita One"), catalogue.open("Noto Sans SemiBold")]
    assert not faces[0].can_set(name)
    for block in on_two_lines(name, faces, text_box()):
        assert block.font == "Noto Sans SemiBold"


def test_scripts_that_need_two_typefaces_have_them_on_two_lines(catalogue: Catalogue) -> None:
    """Where no typeface sets all of a name, those that set it on one line set it on two."""
    faces = [catalogue.open(name) for name in ("Lilita One", *SCRIPTS)]
    [block] = on_two_lines("Ẩn ปิ่นทอง", faces, text_box())
    assert block.font == "Noto Sans SemiBold + Noto Sans Thai SemiBold"


def test_lines_are_told_as_they_stand() -> None:
    """What is broken is told line by line, without the space it was broken at."""
    assert two_lines("Ada", "Teasel", LATIN, 1.6, "left").lines == ("Ada", "Teasel")
    found = fit("Ada Teasel", [load_catalogue().open(LATIN[0])], text_box())
    assert isinstance(found, SetText)
    assert found.lines == (found.text,)
