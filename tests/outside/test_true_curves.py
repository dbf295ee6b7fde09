"""Cut lines against the curves in the font files: at most 0.02 mm between them."""

import numpy as np
import pytest
import shapely
from shapely import affinity

from namebatch.curves import Recorder, Segment
from namebatch.outline.arc_shape import along_ring
from namebatch.outline.arcs import fit_outline
from namebatch.text import load_catalogue
from namebatch.text.setting import FLATTEN_MM

CAPITALS_MM = 14.0


def sampled(path: tuple[Segment, ...], each: int = 60) -> list[list[tuple[float, float]]]:
    """For every contour points on its Béziers by their Bernstein polynomials, ends included."""
    contours: list[list[tuple[float, float]]] = []
    pen = start = (0.0, 0.0)
    for segment in path:
        if segment.verb == "M":
            pen = start = segment.points[0]
            contours.append([])
            continue
        control = [pen, *(segment.points or (start,))]
        t = np.linspace(0, 1, each)[:, None]
        basis = {
            2: (1 - t, t),
            3: ((1 - t) ** 2, 2 * t * (1 - t), t**2),
            4: ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t**2 * (1 - t), t**3),
        }[len(control)]
        xy = sum(b * np.array([p]) for b, p in zip(basis, control, strict=True))
        contours[-1] += [(float(x), float(y)) for x, y in np.asarray(xy)]
        pen = control[-1]
    return contours


@pytest.mark.parametrize("font", ["Lora Bold", "Noto Sans SemiBold", "Varela Round"])
@pytest.mark.parametrize("letter", "OSg")
def test_letters(font: str, letter: str) -> None:
    """Every point of the font's own Béziers is within 0.02 mm of the arcs, and the other way."""
    face = load_catalogue().open(font)
    gid = face.shape(letter).glyphs[0].gid
    scale = CAPITALS_MM / face.cap_height
    recorder = Recorder()
    face.draw(gid, recorder)
    truth = [np.array(ring) * scale for ring in sampled(recorder.path)]
    shape = affinity.scale(face.glyph_shape(gid, FLATTEN_MM / scale), scale, scale, origin=(0, 0))
    lines = [
        shapely.LinearRing(along_ring(ring.points, ring.bulges, 1e-4))
        for part in shape.geoms
        for ring in fit_outline(part)
    ]
    assert len(lines) == len(truth), "overlapping contours: choose another letter"
    arcs = shapely.MultiLineString(lines)
    curves = shapely.MultiLineString([shapely.LinearRing(ring) for ring in truth])
    for here, there in ((curves, arcs), (arcs, curves)):
        points = shapely.points(shapely.get_coordinates(here))
        assert shapely.distance(points, there).max() <= 0.02
