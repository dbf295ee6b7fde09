"""The plumb line of a picture: from where a piece hangs through its centre of mass."""

from dataclasses import replace
from io import BytesIO
from math import hypot
from typing import Any

import pypdfium2
import pytest
import resvg_py
from defusedxml.ElementTree import fromstring
from PIL import Image, ImageChops
from reportlab.pdfgen.canvas import Canvas
from shapely import LineString, Point, Polygon, box

from namebatch.outline import Hang
from namebatch.output.lettering import MM
from namebatch.output.picture import PiecePicture, piece_picture, plain_picture
from namebatch.output.picture_pdf import draw_picture
from namebatch.output.plumb import plumb_line, told
from namebatch.output.plumb_svg import plumb_svg
from namebatch.output.preview import preview_svg
from tests.output import doc_jobs

SVG = "{http://www.w3.org/2000/svg}"
TAG = doc_jobs.kite_job("tag")
PLATE = box(0, 0, 60, 30).difference(Point(15, 25).buffer(2))
LEANING = Hang((15.0, 25.0), (30.3, 14.9), -56.6)


def test_the_line_goes_through_the_centre_of_mass_and_ends_below() -> None:
    """From the hole straight through the centre, and out of the piece: nothing of it is beyond."""
    plumb = plumb_line(LEANING, PLATE, 3.0)
    assert plumb is not None
    assert plumb.start == (15.0, 25.0)
    line = LineString([plumb.start, plumb.end])
    assert line.distance(Point(LEANING.mass)) < 1e-9
    assert not PLATE.covers(Point(plumb.end))
    assert PLATE.distance(Point(plumb.end)) == pytest.approx(0.7 * 3.0 * 10.1 / hypot(15.3, 10.1))


def test_what_is_below_a_hollow_is_passed_too() -> None:
    """The line ends below the lowest part of the piece, not in a window of it."""
    frame = PLATE.difference(box(20, 4, 56, 18))
    plumb = plumb_line(LEANING, frame, 3.0)
    assert plumb is not None
    assert plumb.end[1] < 0


@pytest.mark.parametrize("hang", [None, Hang((30.0, 15.0), (30.1, 15.0), 90.0)])
def test_no_line_without_a_direction(hang: Hang | None) -> None:
    """A piece without a hole, or hung by its very centre of mass, has no plumb line."""
    assert plumb_line(hang, PLATE, 3.0) is None


@pytest.mark.parametrize(
    ("turn", "words"),
    [
        (0.2, "hangs level"),
        (-0.49, "hangs level"),
        (3.21, "leans 3.2° to the left"),
        (-12.0, "leans 12.0° to the right"),
    ],
)
def test_it_is_said_how_a_piece_hangs(turn: float, words: str) -> None:
    """Anticlockwise from the front, the top goes to the left."""
    assert told(Hang((0.0, 0.0), (0.0, -9.0), turn)) == words


def test_a_preview_shows_it_on_the_front_only() -> None:
    """One group with its words, within the picture; none on a proof without measures."""
    root = fromstring(preview_svg(TAG, TAG.pieces[0]))
    front = next(g for g in root.iter(f"{SVG}g") if g.attrib.get("id") == "front")
    (group,) = [g for g in root.iter(f"{SVG}g") if g.attrib.get("class") == "hang"]
    assert group in list(front)
    assert [title.text for title in group.iter(f"{SVG}title")] == ["leans 3.2° to the left"]
    picture = piece_picture(TAG, TAG.pieces[0])
    face = picture.faces[0]
    assert face.plumb is not None
    x0, y0, x1, y1 = face.plumb.bounds
    (dx, dy), (width, height) = face.shift_mm, picture.size_mm
    assert min(x0 + dx, y0 + dy) >= 0
    assert x1 + dx <= width
    assert y1 + dy <= height
    assert all(f.plumb is None for f in plain_picture(TAG, TAG.pieces[0], 0.2).faces)


@pytest.mark.parametrize("ground", ["#000000", "#ffffff", "#4a5a63"])
def test_it_is_seen_on_any_print(ground: str) -> None:
    """On black, on white and on its own colour there is an edge or a line that stands out."""
    plumb = plumb_line(LEANING, PLATE, 3.0)
    svg = f'<svg xmlns="http://www.w3.org/2000/svg" width="70mm" height="40mm" viewBox="0 0 70 40">{plumb_svg(plumb, 0.22)}</svg>'  # noqa: E501
    data = resvg_py.svg_to_bytes(svg_string=svg, dpi=200, background=ground)
    grey = Image.open(BytesIO(bytes(data))).convert("L")
    low, high = grey.getextrema()
    assert isinstance(low, int)
    assert isinstance(high, int)
    assert high - low > 120


def test_a_pdf_has_the_same_line() -> None:
    """What the plumb line adds to a page lies on the line and round the centre, nowhere else.

    Rendered by PDFium, an independent reader, at 200 dpi.
    """
    shown = piece_picture(TAG, TAG.pieces[0])
    front = shown.faces[0]
    without = replace(shown, faces=(replace(front, plumb=None), *shown.faces[1:]))
    change = ImageChops.difference(_page(shown), _page(without)).convert("L")
    plumb = front.plumb
    assert plumb is not None
    line = LineString([plumb.start, plumb.end]).buffer(0.5)
    where = line.union(Point(plumb.mass).buffer(plumb.ring_mm + 0.5))
    (dx, dy), scale = front.shift_mm, 200 / 25.4
    touched = [
        (x / scale - dx, shown.size_mm[1] - y / scale - dy)
        for y in range(change.height)
        for x in range(change.width)
        if _at(change, x, y) > 40
    ]
    assert len(touched) > 200
    assert all(where.covers(Point(place)) for place in touched)


def _at(image: Image.Image, x: int, y: int) -> int:
    value: Any = image.getpixel((x, y))
    return int(value)


def _page(picture: PiecePicture) -> Image.Image:
    stream = BytesIO()
    width, height = picture.size_mm
    canvas = Canvas(stream, pagesize=(width * MM, height * MM))
    draw_picture(canvas, picture, 0, 0, 1.0)
    canvas.save()
    page = pypdfium2.PdfDocument(stream.getvalue())[0]
    image: Image.Image = page.render(scale=200 / 72).to_pil().convert("RGB")
    return image


def test_the_centre_is_a_ring_with_a_dot() -> None:
    """The dot lies in the ring, which is small beside the figures."""
    plumb = plumb_line(LEANING, Polygon(PLATE.exterior), 4.0)
    assert plumb is not None
    assert plumb.mass == LEANING.mass
    assert 0 < plumb.dot_mm < plumb.ring_mm < 2.0
