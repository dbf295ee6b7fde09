"""Places beside the rectangle: arcs, lines of the base drawing, safe areas, and their problems."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
import shapely

from namebatch.template import load_template
from namebatch.template.model import Template
from namebatch.template.textbox import AlongPath, Arc, SafeArea
from tests.template.drawing import svg
from tests.template.folders import problems_of, written

HEAD = """\
format = 1
title = "Tag"
build = "bare"
rule = "{rule}"
material = "plywood-3"
[base]
{base}
"""
TEXT = """
[[text]]
column = "name"
fonts = ["Noto Sans SemiBold"]
made = "{made}"
min_height_mm = 2
max_height_mm = 6
"""
CARD = 'shape = "rounded-rectangle"\nwidth_mm = 80\nheight_mm = 60'
DRAWN = 'drawing = "base.svg"'
BASE = '<rect x="5" y="4" width="70" height="50"/>'
WAVE = '<path id="wave" d="M10 40 C 25 10 45 60 65 20"/>'


def folder(
    home: Path, place: str, base: str = CARD, drawing: str = "", rule: str = "base", above: str = ""
) -> Path:
    """A template with one text in a place."""
    made = "engrave" if rule == "base" else "outline"
    toml = HEAD.format(rule=rule, base=base) + above + TEXT.format(made=made) + place
    files = {"base__svg": svg(drawing)} if drawing else {}
    return written(home / "t", toml, **files)


def loaded(
    home: Path, place: str, base: str = CARD, drawing: str = "", rule: str = "base", above: str = ""
) -> Template:
    """The same, read."""
    return load_template(folder(home, place, base, drawing, rule, above))


def test_arc_takes_its_defaults(tmp_path: Path) -> None:
    """On top of a circle text is centred at twelve o'clock, its room follows the largest height."""
    found = loaded(tmp_path, "[text.arc]\ncentre_mm = [40, 20]\nradius_mm = 20")
    arc = found.boxes[0].place
    assert isinstance(arc, Arc)
    wanted = Arc((40.0, 20.0), 20.0, 90.0, 150.0, "outside", "turned", (2.1, 7.8), False)
    assert replace(arc, most_mm=None) == wanted
    below = loaded(tmp_path, '[text.arc]\ncentre_mm = [40, 30]\nradius_mm = 20\nside = "inside"')
    assert isinstance(below.boxes[0].place, Arc)
    assert below.boxes[0].place.middle_deg == 270.0


@pytest.mark.parametrize("middle", [-200.0, -90.0, 0.0, 37.0, 90.0, 180.0, 300.0])
@pytest.mark.parametrize("sweep", [10.0, 95.0, 200.0, 360.0])
@pytest.mark.parametrize("side", ["outside", "inside"])
def test_box_of_an_arc_is_that_of_its_sector(
    tmp_path: Path, middle: float, sweep: float, side: str
) -> None:
    """The box is the one round a finely drawn sector of the ring that ink may reach."""
    place = (
        f"[text.arc]\ncentre_mm = [40, 30]\nradius_mm = 12\nmiddle_deg = {middle}\n"
        f'sweep_deg = {sweep}\nside = "{side}"\nroom_mm = [1, 4]'
    )
    x, y, width, height = loaded(tmp_path, place).boxes[0].box_mm
    radii = np.array([11.0, 16.0] if side == "outside" else [13.0, 8.0])
    angle = np.radians(middle + np.linspace(-sweep / 2, sweep / 2, 20001))
    xs, ys = 40 + np.outer(radii, np.cos(angle)), 30 + np.outer(radii, np.sin(angle))
    expected = (xs.min(), ys.min(), np.ptp(xs), np.ptp(ys))
    assert (x, y, width, height) == pytest.approx(expected, abs=1e-4)


@pytest.mark.parametrize(
    ("place", "said"),
    [
        (
            '[text.arc]\ncentre_mm = [40, 30]\nradius_mm = 8\nside = "inside"',
            "text[1].arc.radius_mm: is 8 mm; with 7.8 mm for letters above the baseline they "
            "would crowd round the centre. Take a larger radius, or at most 6 mm in room_mm.",
        ),
        (
            "[text.arc]\ncentre_mm = [40, 52]\nradius_mm = 8",
            "text[1].arc: reaches from 30.3407, 54.0706 to 49.6593, 62 and so leaves the base "
            "of 80 × 60 mm; "
            "move it inwards or draw it smaller.",
        ),
        (
            "[text.arc]\ncentre_mm = [40, 30]\nradius_mm = 24\nroom_mm = [2, 7]",
            "text[1].arc: reaches from 10.0563, 35.694 to 69.9437, 61 and so leaves the base of "
            "80 × 60 mm; "
            "move it inwards or draw it smaller.",
        ),
        (
            "[text.arc]\ncentre_mm = [40, 30]\nradius_mm = 12\nroom_mm = [1, 1.5]",
            "text[1].arc.room_mm: leaves 1.5 mm above the baseline, less than min_height_mm, 2 mm; "
            "give more room, or allow smaller letters.",
        ),
        (
            'vertical = "top"\n[text.arc]\ncentre_mm = [40, 30]\nradius_mm = 12',
            "text[1].vertical: goes only with box_mm; leave it out.",
        ),
        (
            '[text.path]\nid = "wave"',
            "text[1].path: needs a base from a drawing, with the line in it: drawing in [base].",
        ),
        (
            "[text.safe_area]\nmargin_mm = 30",
            "text[1].safe_area.margin_mm: of 30 mm leaves nothing of the base; take less.",
        ),
        (
            'vertical = "baseline"\nbaseline_mm = 9\n[text.safe_area]\nmargin_mm = 4',
            "text[1].vertical: goes only with box_mm; give line_mm in its table instead.",
        ),
        (
            "[text.safe_area]\nmargin_mm = 4\nline_mm = 57",
            "text[1].safe_area.line_mm: of 57 mm is not in the area, which reaches from y 4.0 to "
            "56.0 mm.",
        ),
        (
            'vertical = "baseline"\nbox_mm = [5, 5, 60, 20]',
            'text[1].baseline_mm: is missing; vertical = "baseline" needs how far the baseline '
            "lies above the bottom of the box, for example baseline_mm = 5.",
        ),
        *(
            (
                f'vertical = "baseline"\nbaseline_mm = {at}\nbox_mm = [5, 5, 60, 20]',
                f"text[1].baseline_mm: is {at} mm; in a box 20 mm high, with letters of 2 mm or "
                "more, it may be 0 to 18 mm above the bottom of the box.",
            )
            for at in (-3, 40, 18.5)
        ),
        (
            'two_lines = "larger"\n[text.arc]\ncentre_mm = [40, 30]\nradius_mm = 12',
            "text[1].two_lines: goes only with box_mm or safe_area; leave it out.",
        ),
    ],
)
def test_places_that_cannot_be_are_told(tmp_path: Path, place: str, said: str) -> None:
    """Each fault is told with its key and a remedy."""
    assert problems_of(folder(tmp_path, place)) == (said,)


def test_open_line_for_text_is_no_part_of_the_base(tmp_path: Path) -> None:
    """A visible open line that a text follows is not cut; its place counts from the base."""
    found = loaded(tmp_path, '[text.path]\nid = "wave"', DRAWN, BASE + WAVE)
    path = found.boxes[0].place
    assert isinstance(path, AlongPath)
    assert found.base.area == pytest.approx(70 * 50)
    # y is turned over: the drawing is 60 mm high, the base begins at 5, 6 in it
    assert path.line.coords[0] == pytest.approx((10 - 5, 60 - 40 - 6), abs=1e-6)
    assert path.line.coords[-1] == pytest.approx((65 - 5, 60 - 20 - 6), abs=1e-6)


def test_open_line_that_no_text_follows_is_still_a_problem(tmp_path: Path) -> None:
    """Only the line that is named is spared."""
    other = '<path id="other" d="M10 20 H 40"/>'
    told = problems_of(folder(tmp_path, '[text.path]\nid = "wave"', DRAWN, BASE + WAVE + other))
    assert len(told) == 1
    assert 'id="other"> is an open line' not in told[0]
    assert "is an open line" in told[0]


@pytest.mark.parametrize(
    "hidden",
    [
        '<g style="display:none">{}</g>',
        "<defs>{}</defs>",
        '<g visibility="hidden">{}</g>',
        '<g transform="translate(3 1)"><g display="none" transform="translate(-3 -1)">{}</g></g>',
    ],
)
def test_hidden_lines_guide_text(tmp_path: Path, hidden: str) -> None:
    """A line that is not drawn can be followed; groups around it move it."""
    shown = loaded(tmp_path, '[text.path]\nid = "wave"', DRAWN, BASE + WAVE).boxes[0].place
    found = loaded(tmp_path, '[text.path]\nid = "wave"', DRAWN, BASE + hidden.format(WAVE))
    place = found.boxes[0].place
    assert isinstance(place, AlongPath)
    assert isinstance(shown, AlongPath)
    assert place.line.equals_exact(shown.line, 1e-6)


def test_closed_line_stays_part_of_the_base(tmp_path: Path) -> None:
    """A hole of the drawing can be followed, and is still a hole."""
    ring = '<circle id="ring" cx="40" cy="29" r="8"/>'
    found = loaded(tmp_path, '[text.path]\nid = "ring"', DRAWN, BASE + ring)
    place = found.boxes[0].place
    assert len(found.base.interiors) == 1
    assert isinstance(place, AlongPath)
    assert place.line.is_closed
    assert place.line.length == pytest.approx(2 * np.pi * 8, rel=1e-4)


def test_offset_moves_the_baseline_to_its_left(tmp_path: Path) -> None:
    """The parallel line keeps the distance along its whole length; a straight one its length."""
    line = '<path id="wave" d="M10 40 H 60"/>'
    place = '[text.path]\nid = "wave"\noffset_mm = 3'
    found = loaded(tmp_path, place, DRAWN, BASE + line).boxes[0].place
    assert isinstance(found, AlongPath)
    assert found.line.length == pytest.approx(50)
    assert found.line.coords[0] == pytest.approx((5, 60 - 40 - 6 + 3))
    bent = loaded(tmp_path, place, DRAWN, BASE + WAVE).boxes[0].place
    plain = loaded(tmp_path, '[text.path]\nid = "wave"', DRAWN, BASE + WAVE).boxes[0].place
    assert isinstance(bent, AlongPath)
    assert isinstance(plain, AlongPath)
    away = [plain.line.distance(shapely.Point(p)) for p in bent.line.coords]
    assert np.allclose(away, 3.0, atol=0.02)


def test_offset_of_a_closed_line_stays_closed(tmp_path: Path) -> None:
    """The parallel line of a circle drawn clockwise is the circle so much larger, and closed."""
    ring = '<circle id="ring" cx="40" cy="29" r="8"/>'
    place = '[text.path]\nid = "ring"\noffset_mm = 1.5'
    found = loaded(tmp_path, place, DRAWN, BASE + ring).boxes[0].place
    assert isinstance(found, AlongPath)
    assert found.line.is_closed
    assert found.line.length == pytest.approx(2 * np.pi * 9.5, rel=1e-3)


def test_reversed_line_begins_at_its_end(tmp_path: Path) -> None:
    """`reverse` turns the direction, and with it the side on which letters stand."""
    place = '[text.path]\nid = "wave"\nreverse = true'
    found = loaded(tmp_path, place, DRAWN, BASE + WAVE).boxes[0].place
    assert isinstance(found, AlongPath)
    assert found.line.coords[0] == pytest.approx((60, 34), abs=1e-6)


@pytest.mark.parametrize(
    ("drawing", "options", "said"),
    [
        ('<path id="wve" d="M10 40 H60" display="none"/>', "", 'did you mean "wve"?'),
        ('<path id="wave" d="M10 40 L30 20 L60 40"/>', "", "has a corner of 79°"),
        ('<path id="wave" d="M10 20 a4 4 0 0 0 8 0"/>', "", "bends too tightly at x"),
        ('<path id="wave" d="M10 40 H20 M30 40 H60"/>', "", "has 2 separate lines"),
        ('<g id="wave"><path d="M10 40 H60" display="none"/></g>', "", "is no single line"),
        (WAVE, "offset_mm = 40", "is more than the bends"),
    ],
)
def test_lines_that_text_cannot_follow(
    tmp_path: Path, drawing: str, options: str, said: str
) -> None:
    """Each fault of a line is told once, with where it is."""
    place = f'[text.path]\nid = "wave"\n{options}'
    told = problems_of(folder(tmp_path, place, DRAWN, BASE + drawing))
    assert len(told) == 1
    assert said in told[0]


def test_safe_area_keeps_off_edges_and_holes(tmp_path: Path) -> None:
    """The area is the base less the margin, and less the margin round every hole.

    Area of a rectangle less a disc, both moved by the margin: closed form.
    """
    hole = '[[hole]]\nshape = "round"\nat_mm = [20, 30]\ndiameter_mm = 6\n'
    found = loaded(tmp_path, "[text.safe_area]\nmargin_mm = 2.5", above=hole)
    place = found.boxes[0].place
    assert isinstance(place, SafeArea)
    assert place.area.area == pytest.approx(75 * 55 - np.pi * 5.5**2, abs=0.1)
    assert place.area.distance(shapely.Point(20, 30)) >= 5.5 - 0.01
    assert found.boxes[0].box_mm == pytest.approx((2.5, 2.5, 75, 55))


@pytest.mark.parametrize(
    ("keys", "larger"),
    [
        ("", True),
        ('two_lines = "too-long"\n', False),
        ('two_lines = "larger"\n', True),
        ("if_too_long = []\n", False),
        ('if_too_long = []\ntwo_lines = "larger"\n', True),
    ],
)
def test_two_lines_for_size_in_a_safe_area(tmp_path: Path, keys: str, larger: bool) -> None:
    """By default wherever two lines are allowed at all; the key has the last word."""
    found = loaded(tmp_path, f"{keys}[text.safe_area]\nmargin_mm = 2.5\nline_mm = 31")
    assert found.boxes[0].sizing.two_lines_larger is larger
    place = found.boxes[0].place
    assert isinstance(place, SafeArea)
    assert place.line_mm == 31


def test_a_rectangle_takes_two_lines_only_when_too_long(tmp_path: Path) -> None:
    """Unless the text says otherwise."""
    box = "box_mm = [5, 5, 70, 50]\n"
    assert not loaded(tmp_path, box).boxes[0].sizing.two_lines_larger
    asked = loaded(tmp_path, f'{box}two_lines = "larger"\n')
    assert asked.boxes[0].sizing.two_lines_larger


def test_safe_area_needs_holes_with_a_place(tmp_path: Path) -> None:
    """With a hole that is still to be found there is no telling what is safe."""
    hole = '[[hole]]\nshape = "round"\nfind = "top"\ndiameter_mm = 4\n'
    told = problems_of(folder(tmp_path, "[text.safe_area]\nmargin_mm = 2", above=hole))
    assert told == (
        "text[1].safe_area: cannot keep off a hole whose place is still to be found; give the "
        "hole at_mm, or the text box_mm.",
    )


def test_back_is_seen_turned_over(tmp_path: Path) -> None:
    """On the back, area and line are as one sees them there, and text still reads."""
    head = (
        'format = 1\ntitle = "T"\nbuild = "faced"\nfaces = ["front", "back"]\n'
        'material = "card-160"\nboard = "plywood-3"\n[base]\ndrawing = "base.svg"\n'
    )
    text = (
        '[[text]]\ncolumn = "name"\nface = "back"\nfonts = ["Noto Sans"]\nmin_height_mm = 2\n'
        "max_height_mm = 6\n"
    )
    drawing = (
        BASE + '<circle cx="15" cy="14" r="3"/>' + WAVE.replace("<path", '<path display="none"')
    )
    toml = head + text + '[text.path]\nid = "wave"\n' + text + 'name = "b"\n'
    home = written(tmp_path / "t", toml + "[text.safe_area]\nmargin_mm = 2", base__svg=svg(drawing))
    along, area = (box.place for box in load_template(home).boxes)
    assert isinstance(along, AlongPath)
    assert isinstance(area, SafeArea)
    # drawn from left to right, it still runs so, with its ends changed over
    assert along.line.coords[0] == pytest.approx((70 - 60, 34), abs=1e-6)
    assert along.line.coords[-1] == pytest.approx((70 - 5, 14), abs=1e-6)
    assert not area.area.contains(shapely.Point(60, 40))
    assert area.area.contains(shapely.Point(10, 40))
