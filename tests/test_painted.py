"""What stroke and shadow cover, and the warning when the cut takes a part of them."""

from dataclasses import replace
from math import pi

import pytest
from shapely import MultiPolygon, Polygon, box

from namebatch.painted import (
    CHORD_MM,
    covered,
    cut_off,
    ground_of,
    near_edge,
    run_together,
    too_thick,
)
from namebatch.piece import Lettering
from namebatch.template.model import FaceName, Made
from namebatch.template.textbox import Paint, Shadow, Stroke

STROKE = Stroke("#fdf7e9", 2.0)
SHADOW = Shadow("#07222a", (3.0, -4.0))
PIECE = box(0, 0, 40, 30)
NONE = Paint()


def _bar(paint: Paint, made: Made = "print", face: FaceName = "front") -> Lettering:
    """A text whose ink is a bar of 20 × 10 mm, 10 mm from the left and from below."""
    ink = MultiPolygon([box(10, 10, 30, 20)])
    return Lettering("name", face, "Marlo", made, "#a13420", ink, "Test Sans", 10.0, (), paint)


def test_half_of_a_stroke_lies_outside() -> None:
    """Area and perimeter are Steiner's for half the width: A + Pr + πr² and P + 2πr."""
    grown = ground_of(_bar(Paint(stroke=STROKE))).stroke
    assert grown.bounds == pytest.approx((9, 9, 31, 21))
    # chords lie inside of their arcs, by so much at most
    assert grown.area == pytest.approx(200 + 60 + pi, abs=2 * pi * CHORD_MM)
    assert grown.length == pytest.approx(60 + 2 * pi, abs=2 * pi * CHORD_MM)


def test_the_shadow_is_that_of_letters_and_stroke() -> None:
    """It has their shape, moved to the right and down as asked."""
    text = _bar(Paint(stroke=STROKE, shadow=SHADOW))
    ground = ground_of(text)
    assert ground.shadow.bounds == pytest.approx((12, 5, 34, 17))
    assert ground.shadow.area == pytest.approx(ground.stroke.area)
    alone = ground_of(_bar(Paint(shadow=SHADOW)))
    assert alone.shadow.bounds == pytest.approx((13, 6, 33, 16))
    assert alone.stroke.is_empty


def test_plain_letters_cover_themselves_alone() -> None:
    """Without stroke and shadow the very same shape is given back."""
    text = _bar(Paint())
    assert covered(text) is text.shape
    assert ground_of(text).shadow.is_empty
    assert ground_of(text).stroke.is_empty


def test_letters_stroke_and_shadow_are_covered() -> None:
    """All three lie in what a text covers, and nothing else does."""
    text = _bar(Paint(stroke=STROKE, shadow=SHADOW))
    both = ground_of(text).stroke.union(ground_of(text).shadow)
    assert covered(text).symmetric_difference(both).area == pytest.approx(0, abs=1e-9)


def test_paint_within_the_piece_is_not_told() -> None:
    """A shadow that just reaches the edge is fine."""
    text = _bar(Paint(shadow=Shadow("#07222a", (10.0, -10.0))))
    assert cut_off([text], {"front": PIECE.buffer(0.01)}) == ()


@pytest.mark.parametrize(
    ("paint", "start", "remedy"),
    [
        (
            Paint(shadow=Shadow("#07222a", (12.0, 0.0))),
            'The shadow of "Marlo" reaches over the edge of the piece or into a hole',
            "take a smaller shift of the shadow.",
        ),
        (
            Paint(stroke=Stroke("#fdf7e9", 22.0)),
            'The stroke of "Marlo" reaches over the edge',
            "take a thinner stroke.",
        ),
        (
            Paint(stroke=Stroke("#fdf7e9", 22.0), shadow=SHADOW),
            'The stroke and the shadow of "Marlo" reach over the edge',
            "take a thinner stroke and a smaller shift of the shadow.",
        ),
    ],
)
def test_paint_over_the_edge_is_a_warning(paint: Paint, start: str, remedy: str) -> None:
    """One warning a text says what is cut off, where, and what to do."""
    [finding] = cut_off([_bar(paint)], {"front": PIECE})
    assert (finding.code, finding.severity) == ("paint-leaves-piece", "warn")
    assert finding.message.startswith(start)
    assert finding.message.endswith(remedy)


def test_a_hole_cuts_a_shadow_as_well() -> None:
    """The place that is told lies in the hole."""
    piece = Polygon(PIECE.exterior.coords, [box(31, 12, 33, 14).exterior.coords])
    [finding] = cut_off([_bar(Paint(shadow=SHADOW))], {"front": piece})
    assert "at x 32.0, y 13.0 mm" in finding.message


def test_each_face_is_looked_at_as_one_sees_it() -> None:
    """A text of the back is compared with the piece turned over."""
    paint = Paint(shadow=Shadow("#07222a", (12.0, 0.0)))
    seen: dict[FaceName, Polygon] = {"front": PIECE, "back": box(0, 0, 60, 30)}
    assert cut_off([_bar(paint, face="back")], seen) == ()


def test_letters_of_the_outline_are_left_alone() -> None:
    """They are cut along their own edge on purpose."""
    assert cut_off([_bar(Paint(stroke=Stroke("#fdf7e9", 22.0)), "outline")], {"front": PIECE}) == ()


def _ink(name: str, ink: Polygon, paint: Paint = NONE, **changed: object) -> Lettering:
    """A text whose ink is a rectangle."""
    text = Lettering(
        name, "front", name.title(), "print", "#a13420", MultiPolygon([ink]), "F", 10.0, (), paint
    )
    return replace(text, **changed)  # type: ignore[arg-type]


HERE = _ink("here", box(0, 0, 10, 10))


@pytest.mark.parametrize(
    ("other", "told"),
    [
        (_ink("there", box(9, 4, 20, 6)), True),
        (_ink("there", box(10, 4, 20, 6)), True),
        (_ink("there", box(10.01, 4, 20, 6)), False),
        (_ink("there", box(10.4, 4, 20, 6), Paint(stroke=Stroke("#fdf7e9", 1.0))), True),
        (_ink("there", box(10.6, 4, 20, 6), Paint(stroke=Stroke("#fdf7e9", 1.0))), False),
        (_ink("there", box(12, 4, 20, 6), Paint(shadow=Shadow("#07222a", (-4.0, 0.0)))), False),
        (_ink("there", box(9, 4, 20, 6), face="back"), False),
        (_ink("there", box(9, 4, 20, 6), made="outline", colour=None), False),
        (_ink("there", box(9, 4, 20, 6), made="outline"), True),
    ],
    ids=[
        "over",
        "touching",
        "apart",
        "stroke",
        "stroke apart",
        "shadow",
        "other face",
        "unseen",
        "welded",
    ],
)
def test_texts_that_run_into_each_other(other: Lettering, told: bool) -> None:
    """Letters and strokes on one face that touch are told, whichever comes first."""
    assert [f.code for f in run_together([HERE, other])] == ["texts-overlap"] * told
    assert [f.code for f in run_together([other, HERE])] == ["texts-overlap"] * told


def test_the_collision_is_named() -> None:
    """Both texts, their boxes, the place and a remedy are in the message."""
    [found] = run_together([HERE, _ink("there", box(8, 4, 20, 6))])
    assert found.severity == "warn"
    assert found.message == (
        '"Here" and "There" run into each other on the front at x 9.0, y 5.0 mm (texts "here" and '
        '"there"). Draw their places farther apart in the template, or take a smaller '
        "max_height_mm for one."
    )


def test_what_is_cut_may_join() -> None:
    """Two texts that are both part of the outline are welded where they touch."""
    cut = [
        replace(HERE, made="outline"),
        _ink("there", box(9, 4, 20, 6), made="outline"),
    ]
    assert run_together(cut) == ()


def test_two_fixed_lines_are_told_elsewhere() -> None:
    """What is the same on every piece is not told again."""
    there = _ink("there", box(9, 4, 20, 6))
    assert run_together([HERE, there], {"here", "there"}) == ()
    assert len(run_together([HERE, there], {"here"})) == 1


@pytest.mark.parametrize(("width", "told"), [(4.9, 0), (5.1, 1), (15.0, 1)])
def test_a_stroke_that_fills_letters_is_told(width: float, told: int) -> None:
    """From half of the letters' height on a stroke leaves nothing open in them."""
    found = too_thick([_bar(Paint(stroke=Stroke("#fdf7e9", width)))])
    assert [f.code for f in found] == ["stroke-too-thick"] * told
    if told:
        assert "round letters 10.0 mm high" in found[0].message
        assert found[0].message.endswith("Take 2.5 mm or less in the template.")


@pytest.mark.parametrize("made", ["engrave", "mark"])
@pytest.mark.parametrize(("least", "told"), [(9.9, 0), (10.5, 1)])
def test_what_is_engraved_near_a_cut_is_told(made: Made, least: float, told: int) -> None:
    """Letters 10 mm from three edges are too near where the material wants more."""
    found = near_edge([_bar(NONE, made)], {"front": PIECE}, least)
    assert [f.code for f in found] == ["text-near-edge"] * told
    if told:
        assert '"Marlo" comes within 10.0 mm of a cut edge' in found[0].message
        assert "nearer than the 10.5 mm" in found[0].message


def test_print_may_come_near_a_cut() -> None:
    """What is only printed is no weak place."""
    assert near_edge([_bar(NONE)], {"front": PIECE}, 20.0) == ()
