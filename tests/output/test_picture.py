"""The drawing of a piece: real geometry, the back as one sees it, the narrowest place."""

from dataclasses import replace
from io import BytesIO

import pytest
import resvg_py
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image, ImageChops
from shapely import Polygon, box

from namebatch.output.lettering import (
    figure_path,
)
from namebatch.output.picture import piece_picture, scorched, unit_for
from namebatch.output.picture_data import pdf_path, svg_curves, svg_path
from namebatch.piece import Proof
from tests.output import doc_jobs, jobs

TAG = doc_jobs.kite_job("tag")


def test_faces_stand_side_by_side() -> None:
    """Front and back do not overlap and both lie within the picture."""
    picture = piece_picture(TAG, TAG.pieces[0])
    front, back = picture.faces
    assert (front.face, back.face) == ("front", "back")
    boxes = []
    for face in picture.faces:
        x0, y0, x1, y1 = face.outline.bounds
        dx, dy = face.shift_mm
        boxes.append((x0 + dx, y0 + dy, x1 + dx, y1 + dy))
    assert boxes[0][2] < boxes[1][0]
    assert min(b[0] for b in boxes) >= 0
    assert min(b[1] for b in boxes) >= 0
    assert boxes[1][2] <= picture.size_mm[0]
    assert max(b[3] for b in boxes) <= picture.size_mm[1]


def test_back_is_the_front_turned_over() -> None:
    """The hole at the left of the front is at the right of the back, equally far in."""
    job = jobs.faced_job()
    front, back = piece_picture(job, job.pieces[0]).faces
    left = Polygon(front.outline.interiors[0]).centroid
    right = Polygon(back.outline.interiors[0]).centroid
    assert left.x == pytest.approx(5.0, abs=1e-6)
    assert right.x == pytest.approx(job.template.size_mm[0] - 5.0, abs=1e-6)
    assert right.y == pytest.approx(left.y, abs=1e-6)
    assert back.outline.area == pytest.approx(front.outline.area)


def test_measure_spans_the_neck_and_stays_in_the_picture() -> None:
    """The two arrow tips are as far apart as the figure says, all of it inside the picture."""
    picture = piece_picture(TAG, TAG.pieces[0])
    front = picture.faces[0]
    measure = front.measure
    assert measure is not None
    (x0, y0), (x1, y1) = (arrow[0] for arrow in measure.arrows)
    assert ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5 == pytest.approx(4.4)
    assert measure.text == "4.40 mm"
    dx, dy = front.shift_mm
    left, low, right, high = measure.bounds
    assert left + dx >= 0
    assert low + dy >= 0
    assert right + dx <= picture.size_mm[0]
    assert high + dy <= picture.size_mm[1]


def test_measure_points_across_a_bar() -> None:
    """In a level bar the arrows point up and down, at its upper and lower edge."""
    bar = replace(
        TAG.pieces[0], outline=box(0, 0, 40, 3), proof=Proof(1, 3.0, (20.0, 1.5), 2.0, 0, None)
    )
    measure = piece_picture(TAG, bar).faces[0].measure
    assert measure is not None
    assert {arrow[0] for arrow in measure.arrows} == {(20.0, 0.0), (20.0, 3.0)}


def test_no_narrowest_place_no_measure() -> None:
    """A piece without a known neck has no dimension line."""
    plain = replace(TAG.pieces[0], proof=Proof(1, 42.0, None, 2.0, 0, None))
    assert all(face.measure is None for face in piece_picture(TAG, plain).faces)


def test_a_place_on_the_wall_does_no_harm() -> None:
    """A narrowest place that lies on the cut line itself still gives a dimension line."""
    edge = replace(TAG.pieces[0], proof=Proof(1, 2.0, (85.0, 20.0), 2.0, 0, None))
    assert piece_picture(TAG, edge).faces[0].measure is not None


def test_engraving_is_darker_than_its_material() -> None:
    """What is burnt is drawn in a darker shade of the material's own colour."""
    tint, burnt = "#e2c79b", scorched("#e2c79b")
    for i in (1, 3, 5):
        assert int(burnt[i : i + 2], 16) < int(tint[i : i + 2], 16)


def test_a_welded_name_has_no_ink_of_its_own() -> None:
    """The name is the outline itself; only the engraved line is drawn as ink."""
    job = doc_jobs.kite_job("winder")
    inks = piece_picture(job, job.pieces[0]).faces[0].inks
    assert [ink.filled for ink in inks] == [True]


def test_unit_follows_the_size() -> None:
    """Figures grow with the piece and stay within bounds."""
    assert unit_for((10, 10)) == 1.6
    assert unit_for((60, 20)) == pytest.approx(3.0)
    assert unit_for((900, 20)) == 5.0


def _area_of_svg(data: str) -> float:
    """Signed area of relative path data as this program writes it, by the shoelace formula."""
    area = 0.0
    for ring in data.split("z"):
        if not ring:
            continue
        start, steps = ring[1:].split("l")
        x, y = _numbers(start)
        points = [(x, y)]
        flat = _numbers(steps)
        for dx, dy in zip(flat[::2], flat[1::2], strict=True):
            x, y = x + dx, y + dy
            points.append((x, y))
        pairs = zip(points, points[1:] + points[:1], strict=True)
        area += sum(a * d - b * c for (a, b), (c, d) in pairs) / 2
    return area


def _numbers(text: str) -> list[float]:
    """Numbers of path data, a minus being enough to part two of them."""
    return [float(part) for part in text.replace("-", " -").split()]


@given(
    st.lists(st.floats(2.0, 40.0), min_size=3, max_size=30),
    st.floats(-200.0, 500.0),
)
def test_svg_path_keeps_the_shape(radii: list[float], shift: float) -> None:
    """Relative steps on the grid do not drift: the area comes back to a part in a thousand."""
    from math import cos, pi, sin

    n = len(radii)
    star = Polygon(
        [(shift + r * cos(2 * pi * i / n), r * sin(2 * pi * i / n)) for i, r in enumerate(radii)]
    )
    tolerance = 0.001 * star.length + 0.001
    assert abs(_area_of_svg(svg_path(star))) == pytest.approx(star.area, abs=tolerance)


def test_svg_curves_render_like_the_recorded_path() -> None:
    """Relative curves with repeated verbs left out draw the same picture as absolute ones.

    Rendered by resvg, an independent reader; the absolute form is written here.
    """
    path, width = figure_path("80 mm ß&", 40.0, 700)
    absolute = "".join(
        s.verb + " ".join(f"{v:.4f}" for point in s.points for v in point) for s in path
    )
    images = []
    for data in (absolute, svg_curves(path)):
        svg = (
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{width:.0f}" height="60">'
            f'<path transform="matrix(1 0 0 -1 0 45)" d="{data}"/></svg>'
        )
        png = bytes(resvg_py.svg_to_bytes(svg_string=svg, background="#ffffff"))
        images.append(Image.open(BytesIO(png)).convert("L"))
    assert images[0].getextrema() == (0, 255)
    differences = ImageChops.difference(*images).histogram()
    assert sum(differences[16:]) == 0


def test_paths_of_shapes_with_holes() -> None:
    """Every ring is there and closed, in SVG and in PDF."""
    shape = box(0, 0, 10, 10).difference(box(2, 2, 4.5, 4.25))
    assert svg_path(shape).count("z") == 2
    assert pdf_path(shape).count("h") == 2
    assert "e" not in pdf_path(shape)
    assert svg_path(Polygon()) == ""
