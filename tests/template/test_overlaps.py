"""Text boxes that overlap."""

from pathlib import Path

import pytest

from namebatch.template import bundled_templates, find_template, load_template
from namebatch.template.overlaps import overlaps
from tests.template.folders import BASE, HEAD, written

SIZES = 'fonts = ["Noto Sans SemiBold"]\nmin_height_mm = 2\nmax_height_mm = 6\n'


def _text(name: str, place: str, more: str = "") -> str:
    return f'[[text]]\nname = "{name}"\ncolumn = "{name}"\n{SIZES}{more}{place}\n'


UPPER = _text("name", "box_mm = [10, 24, 60, 12]")
LOWER = _text("team", "box_mm = [10, 12, 60, 14]")
RING = """\
[text.arc]
centre_mm = [42.8, 27]
radius_mm = 12
sweep_deg = 360
room_mm = [1, 4]
"""


def _told(folder: Path, *texts: str, head: str = HEAD, base: str = BASE) -> list[str]:
    template = load_template(written(folder, head + base + "".join(texts)))
    assert {found.code for found in template.warnings} <= {"boxes-overlap"}
    return [found.message for found in template.warnings]


def test_two_boxes_that_overlap(tmp_path: Path) -> None:
    """Both are named with the face, how far they overlap, where, and what to do."""
    assert _told(tmp_path, UPPER, LOWER) == [
        'The places of the texts "name" and "team" overlap on the front by 60.0 × 2.0 mm (from '
        "x 10.0, y 24.0 mm), so that they may be set over each other. Move one or draw it "
        "smaller; if never both are filled, make one optional."
    ]


@pytest.mark.parametrize(
    "other",
    [
        LOWER.replace("14]", "12]"),
        LOWER.replace("14]", "12.05]"),
        LOWER + "optional = true\n",
        LOWER + 'face = "back"\n',
        _text("team", "box_mm = [68.5, 34.5, 12, 12]"),
    ],
    ids=["touching", "rounding", "optional", "other face", "corner"],
)
def test_what_is_no_overlap(tmp_path: Path, other: str) -> None:
    """Boxes that touch, optional ones, those of two faces and mere corners are let be."""
    assert _told(tmp_path, UPPER, other) == []


def test_a_ring_round_a_box(tmp_path: Path) -> None:
    """Text inside of a ring of text is fine; a wider box runs into it."""
    ring = _text("motto", RING)
    assert _told(tmp_path / "a", ring, _text("name", "box_mm = [35, 23, 15, 8]")) == []
    [told] = _told(tmp_path / "b", ring, _text("name", "box_mm = [30, 23, 25, 8]"))
    assert '"motto" and "name" overlap on the front by' in told


def test_a_safe_area_takes_in_what_lies_in_it(tmp_path: Path) -> None:
    """A text that may stand anywhere in the base may stand over another one."""
    anywhere = _text("name", "[text.safe_area]\nmargin_mm = 8")
    [told] = _told(tmp_path / "a", anywhere, _text("team", "box_mm = [20, 20, 40, 10]"))
    assert "by 40.0 × 10.0 mm (from x 20.0, y 20.0 mm)" in told
    assert _told(tmp_path / "b", anywhere, _text("team", "box_mm = [20, 0, 40, 7]")) == []


def test_welded_letters_without_a_print_are_not_seen(tmp_path: Path) -> None:
    """A name welded to the base hides nothing that is printed there; one with a colour does."""
    head = HEAD.replace('"faced"', '"faced"\nrule = "weld"')
    welded = _text("name", "box_mm = [10, 40, 60, 30]", 'made = "outline"\n')
    printed = _text("team", "box_mm = [10, 30, 60, 20]")
    assert _told(tmp_path / "a", welded, printed, head=head) == []
    coloured = welded + 'colour = "#17324d"\n'
    assert len(_told(tmp_path / "b", coloured, printed, head=head)) == 1


@pytest.mark.parametrize("name", bundled_templates())
def test_no_bundled_template_has_any(name: str) -> None:
    """The templates that come with the program set nothing over anything."""
    assert overlaps(load_template(find_template(name)).boxes) == ()
