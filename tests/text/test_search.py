"""The search for the largest text, against brute force and closed forms."""

import numpy as np
import pytest
import shapely
from shapely import MultiPolygon, Polygon, affinity

from namebatch.text.block import Block, block_of
from namebatch.text.catalogue import load_catalogue
from namebatch.text.fitting import Fit
from namebatch.text.ground import ground_of, plain_within
from namebatch.text.hulls import anchor_of, hulls_of
from namebatch.text.search import Level, Search, search_on
from namebatch.text.setting import set_line
from tests.text.areas import AREAS, ELL

TEXTS = {
    "Al": "Noto Sans SemiBold",
    "Saltmarsh": "Noto Sans SemiBold",
    "Pacifico": "Pacifico",
    "محمد": "Noto Sans Arabic SemiBold",
}


def block(text: str) -> Block:
    """A text on one line."""
    face = load_catalogue().open(TEXTS.get(text, "Noto Sans SemiBold"))
    found = block_of(text, [(0, set_line(face, text, 30.0))], "centre", 1.6, True)
    assert found is not None
    return found


def search(text: str, area: Polygon) -> Search:
    """A text made ready for an area."""
    return search_on(ground_of(plain_within(area)), hulls_of(block(text)))


def ink(text: str, fit: Fit) -> MultiPolygon:
    """The ink where a fit has it."""
    x, y = anchor_of(block(text))
    return block(text).ink(fit.size, fit.x - x * fit.size, fit.y - y * fit.size)


@pytest.mark.parametrize("area", AREAS.values(), ids=AREAS)
@pytest.mark.parametrize("text", TEXTS)
def test_anywhere_cannot_be_grown_by_one_per_cent(text: str, area: Polygon) -> None:
    """No place of a fine grid takes the same ink one per cent larger; as it is, it is inside.

    By brute force, with the exact test of containment and no part of the search.
    """
    shape = ink(text, search(text, area).anywhere((), 200.0)[-1])
    assert shapely.buffer(area, 1e-5).contains(shape)
    x0, y0, x1, y1 = area.bounds
    a0, b0, a1, b1 = shape.bounds
    larger = affinity.scale(shape, 1.01, 1.01, origin=(a0, b0))
    width, height = 1.01 * (a1 - a0), 1.01 * (b1 - b0)
    hull = larger.convex_hull if area.equals(area.convex_hull) else larger
    shapely.prepare(area)
    xs = np.arange(x0, max(x1 - width, x0) + 1e-9, 0.05 if x1 - width < x0 + 3 else 0.15)
    ys = np.arange(y0, max(y1 - height, y0) + 1e-9, 0.05 if y1 - height < y0 + 3 else 0.15)
    points = shapely.get_coordinates(hull)
    sample = points[:: max(1, len(points) // 24)]
    for x in xs:
        for y in ys:
            # a few corners first: most places fail by them
            if not shapely.contains_xy(area, sample + (x - a0, y - b0)).all():
                continue
            assert not area.contains(affinity.translate(hull, x - a0, y - b0)), (x, y)


@pytest.mark.parametrize("area", [*AREAS.values(), ELL], ids=[*AREAS, "ell"])
@pytest.mark.parametrize("text", TEXTS)
def test_on_a_line_cannot_be_grown_by_one_per_cent(text: str, area: Polygon) -> None:
    """Nowhere along the line does the same ink fit one per cent larger; as it is, it is inside."""
    y = area.centroid.y if area is not ELL else 12.0
    fit = search(text, area).on_level(Level(0.0, y), 200.0)[-1]
    assert fit.y == y
    assert shapely.buffer(area, 1e-5).contains(ink(text, fit))
    larger = ink(text, Fit(1.01 * fit.size, 0.0, y))
    shapely.prepare(area)
    for x in np.arange(area.bounds[0], area.bounds[2], 0.02):
        assert not area.contains(affinity.translate(larger, x, 0.0)), x


def test_a_line_with_two_stretches() -> None:
    """Where a hole parts the line, the longer part is found."""
    area = shapely.box(0, 0, 60, 12).difference(shapely.box(20, 0, 22, 12).buffer(-1e-3))
    fit = search("Saltmarsh", area).on_level(Level(10.0, 6.0), 50.0)[-1]
    x0, _, x1, _ = ink("Saltmarsh", fit).bounds
    assert x0 == pytest.approx(22, abs=0.1)
    assert x1 == pytest.approx(60, abs=0.1)


def test_the_nearest_place_along_a_line() -> None:
    """The middle where that is free; else towards it, but not right at the end of what is free."""
    holed = shapely.box(0, 0, 60, 12).difference(shapely.box(28, 5, 32, 7))
    found = search("Al", holed)
    assert found.along(Level(15.0, 6.0), 4.0) == 15.0
    beside = found.along(Level(30.5, 6.0), 4.0)
    assert beside is not None
    x0 = ink("Al", Fit(4.0, beside, 6.0)).bounds[0]
    assert x0 > 33.0


def test_no_place_on_a_line_outside() -> None:
    """A line that is not in the area takes nothing."""
    assert search("Al", shapely.box(0, 0, 60, 12)).on_level(Level(30.0, 13.0), 9.0) == ()
