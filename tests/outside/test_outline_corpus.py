"""Finished outlines of many names, checked again by methods that the product does not use.

Names by faker in twelve locales, ten faces; `tests.bench.bench_piece` runs the same on
thousands.
"""

import os

import pathops
import pytest
import shapely
from shapely import Polygon, box

from namebatch.finding import is_held
from namebatch.outline import Limits, Order, Outline, finish
from namebatch.template.model import TextBox
from namebatch.template.wording import field_alone
from namebatch.text.face import Face
from namebatch.text.fit import SetText, fit
from tests.bench.corpus import Sample, samples

COUNT = int(os.environ.get("NAMEBATCH_CORPUS", "240"))
"""`NAMEBATCH_CORPUS=2000 pytest tests/outside/test_outline_corpus.py` checks many more."""
HEIGHT_MM = 16.0
LIMITS = Limits(1.2, 0.18)


def _text_box() -> TextBox:
    return TextBox(
        "name", field_alone("name"), "front", (0, -12, 400, 70), (), "outline", None,
        "left", "baseline", 12, 0.5, HEIGHT_MM, 0.0, False,
    )  # fmt: skip


def _set(sample: Sample) -> SetText:
    result = fit(sample.text, [sample.face], _text_box())
    assert isinstance(result, SetText), result
    return result


@pytest.fixture(scope="module")
def made() -> list[tuple[Sample, SetText, Outline]]:
    """Every name welded to a bar below it."""
    found = []
    for sample in samples(COUNT, seed=20271):
        text = _set(sample)
        letters = text.letters
        bar = box(-3, -6, text.shape.bounds[2] + 3, 1.5)
        found.append((sample, text, finish(Order("weld", bar, LIMITS, text.shape, letters))))
    return found


def test_few_are_held(made: list[tuple[Sample, SetText, Outline]]) -> None:
    """Under 2 % of names are held in faces that suit cutting."""
    held = [(sample.text, o.findings) for sample, _, o in made if is_held(o.findings)]
    assert len(held) < 0.02 * COUNT, held


def test_one_sound_part(made: list[tuple[Sample, SetText, Outline]]) -> None:
    """Erosion finds one part at the least width less 0.02 mm, and no counter lost to it.

    The product measures by chords between boundary points; this is shapely's buffer with 32
    chords a quarter.
    """
    for sample, _, outline in made:
        if is_held(outline.findings):
            continue
        shape = outline.shape
        assert isinstance(shape, Polygon)
        assert shape.is_valid
        core = shape.buffer(-(LIMITS.required_mm - 0.02) / 2, quad_segs=32)
        assert isinstance(core, Polygon), sample
        assert len(core.interiors) == len(shape.interiors), sample
        assert outline.neck.width_mm >= LIMITS.required_mm - 0.02, sample


def test_every_letter_is_in_it(made: list[tuple[Sample, SetText, Outline]]) -> None:
    """No ink is lost: the outline covers all that was set."""
    for sample, text, outline in made:
        lost = shapely.difference(text.shape, outline.shape).area
        assert lost < 1e-6, sample


def _curve_area(face: Face, sample: Sample, scale: float) -> float:
    """Area of the united glyph curves by skia-pathops, which keeps the curves; mm²."""
    path = pathops.Path()
    pen = path.getPen()

    class Sink:
        def __init__(self, dx: float, dy: float) -> None:
            self.at = dx, dy

        def _p(self, x: float, y: float) -> tuple[float, float]:
            return x + self.at[0], y + self.at[1]

        def move(self, x: float, y: float) -> None:
            pen.moveTo(self._p(x, y))

        def line(self, x: float, y: float) -> None:
            pen.lineTo(self._p(x, y))

        def quad(self, a: float, b: float, x: float, y: float) -> None:
            pen.qCurveTo(self._p(a, b), self._p(x, y))

        def cubic(self, a: float, b: float, c: float, d: float, x: float, y: float) -> None:
            pen.curveTo(self._p(a, b), self._p(c, d), self._p(x, y))

        def close(self) -> None:
            pen.closePath()

    for glyph in face.shape(sample.text).glyphs:
        face.draw(glyph.gid, Sink(glyph.x, glyph.y))
    path.simplify(fix_winding=True, keep_starting_points=False)
    return float(abs(path.area)) * scale * scale


def test_ink_area_agrees_with_curve_keeping_union(
    made: list[tuple[Sample, SetText, Outline]],
) -> None:
    """The polygons' area is that of the united curves within 0.2 %."""
    for sample, text, _ in made:
        scale = text.height_mm / sample.face.cap_height
        curves = _curve_area(sample.face, sample, scale)
        assert text.shape.area == pytest.approx(curves, rel=2e-3), sample
