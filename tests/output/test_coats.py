"""Coats of a text: their order, their shapes, and the axis of a gradient."""

from dataclasses import replace
from math import sqrt

import pytest
from shapely import MultiPolygon, box

from namebatch.output.coats import Blend, gradient_axis, painted_texts
from namebatch.piece import Lettering, Piece
from namebatch.template.model import FaceName, Rule, Template
from namebatch.template.textbox import Gradient, Paint, Shadow, Stroke
from tests.output import jobs

PAINT = Paint(Stroke("#fdf7e9", 1.0), Shadow("#07222a", (0.5, -0.5)), None)
SUN = Gradient("#fdf7e9", "#a13420", 0.0)


def _piece(paint: Paint, made: str = "print", colour: str | None = "#a13420") -> Piece:
    """A plate with one bar of ink that stands 10 mm out of it where it is welded."""
    plain = jobs.pieces(jobs.faced_template())[1]
    ink = MultiPolygon([box(20, 20, 40, 40 if made == "outline" else 28)])
    text = Lettering("name", "front", "Bo", "print", colour, ink, "Test Sans", 8.0, (), paint)
    if made == "outline":
        text = replace(text, made="outline")
        return replace(plain, outline=plain.outline.union(ink), letterings=(text,))
    return replace(plain, letterings=(text,))


def _template(rule: Rule = "base") -> Template:
    return replace(jobs.faced_template(), rule=rule, artwork={})


def _colours(piece: Piece, rule: Rule = "base", face: FaceName = "front") -> list[str | None]:
    painted = painted_texts(_template(rule), piece, face)
    return [coat.colour for text in painted for coat in text.coats]


def test_shadow_then_stroke_then_letters() -> None:
    """From the ground up, each with the shape that it covers."""
    [painted] = painted_texts(_template(), _piece(PAINT), "front")
    assert [coat.colour for coat in painted.coats] == ["#07222a", "#fdf7e9", "#a13420"]
    shadow, stroke, letters = (coat.shape.bounds for coat in painted.coats)
    assert letters == (20, 20, 40, 28)
    assert stroke == pytest.approx((19.5, 19.5, 40.5, 28.5))
    assert shadow == pytest.approx((20, 19, 41, 28))


def test_what_is_not_printed_has_no_stroke() -> None:
    """Letters without a colour have their one coat, which nothing paints."""
    assert _colours(_piece(PAINT, colour=None)) == [None]


def test_welded_letters_lie_on_their_stroke_and_shadow() -> None:
    """Both come before all that stands out of the base: in the bleed the letters' colour wins."""
    painted = painted_texts(_template("weld"), _piece(PAINT, "outline"), "front")
    colours = [coat.colour for text in painted for coat in text.coats]
    assert colours == ["#07222a", "#fdf7e9", "#a13420", "#a13420"]
    assert [coat.made for text in painted for coat in text.coats] == [
        "print",
        "print",
        "outline",
        "print",
    ]


def test_the_back_of_a_weld_has_no_shadow() -> None:
    """There are no letters on it, only what stands out of the base."""
    assert _colours(_piece(PAINT, "outline"), "weld", "back") == ["#a13420"]


def test_letters_cut_open_have_their_stroke_round_them() -> None:
    """With the rule open the plate round the letters stays, and carries stroke and shadow."""
    colours = _colours(_piece(PAINT, "outline"), "open")
    assert colours == ["#07222a", "#fdf7e9", "#a13420"]


@pytest.mark.parametrize(
    ("angle", "start", "end"),
    [
        (0, (0, 10), (40, 10)),
        (90, (20, 0), (20, 20)),
        (180, (40, 10), (0, 10)),
        (-90, (20, 20), (20, 0)),
        # the lines square to the axis through two corners of the bounds: |w cos| + |h sin|
        (45, (5, -5), (35, 25)),
    ],
)
def test_the_axis_spans_the_ink(
    angle: float, start: tuple[float, float], end: tuple[float, float]
) -> None:
    """From edge to edge about the middle of the ink's bounds, counter-clockwise."""
    found = gradient_axis((0, 0, 40, 20), angle)
    assert found[0] == pytest.approx(start)
    assert found[1] == pytest.approx(end)
    width, height = 40 / sqrt(2), 20 / sqrt(2)
    if angle == 45:
        assert sqrt(2) * 30 == pytest.approx(width + height)


def test_ink_without_extent_has_an_axis_still() -> None:
    """A hairline square to its gradient does not make an axis of no length."""
    start, end = gradient_axis((5, 0, 5, 20), 0)
    assert start[0] < end[0]


def test_a_gradient_goes_through_all_that_is_welded() -> None:
    """What stands out of the base has the axis of the whole name, turned over on the back."""
    piece = _piece(Paint(gradient=SUN), "outline")
    front = painted_texts(_template("weld"), piece, "front")
    straight = Blend("#fdf7e9", "#a13420", (20.0, 30.0), (40.0, 30.0))
    assert [coat.blend for text in front for coat in text.coats] == [straight] * 2
    [back] = painted_texts(_template("weld"), piece, "back")
    assert back.coats[0].blend == replace(straight, start_mm=(40.0, 30.0), end_mm=(20.0, 30.0))
    # of a base 60 mm wide, so that the ink from 20 to 40 stays where it is, the other way round
    assert back.coats[0].shape.bounds[::2] == pytest.approx((20, 40), abs=0.02)
