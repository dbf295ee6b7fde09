"""Pictures for the wall: without dimension line and plumb line, and without their room."""

import re
from dataclasses import replace

import pytest
from shapely import box

from namebatch.outline import Bridge
from namebatch.output.picture import piece_picture
from namebatch.output.preview import picture_svg
from namebatch.output.wall import without_notes
from namebatch.piece import Proof
from tests.output import doc_jobs

TAG = doc_jobs.kite_job("tag")


def test_the_wall_is_the_same_drawing_without_its_notes() -> None:
    """It is the picture of a piece of which nothing was measured, cropped to what is seen."""
    piece = TAG.pieces[0]
    bare = replace(piece, proof=Proof(1, 4.4, None, 2.0, 0, None))
    picture, plain = piece_picture(TAG, piece), piece_picture(TAG, bare)
    svg = picture_svg(picture, piece, {}).encode()
    assert (svg.count(b'class="narrowest"'), svg.count(b'class="hang"')) == (1, 1)
    wall = without_notes(svg, picture.bare_box_mm, picture.size_mm[1])
    assert b"class=" not in wall
    (found,) = re.findall(
        rb'width="(.*?)mm" height="(.*?)mm" viewBox="(.*?) (.*?) (.*?) (.*?)"', wall
    )
    width, height, left, top, across, down = (float(number) for number in found)
    assert (width, height) == (across, down)
    assert height == pytest.approx(plain.size_mm[1], abs=0.002)
    # beside the front there may be room for an arrow between the faces
    assert plain.size_mm[0] <= width + 0.002
    assert width < picture.size_mm[0]
    assert min(left, top) > 0
    for face in picture.faces:
        x0, y0, x1, y1 = face.outline.bounds
        (dx, dy), high = face.shift_mm, picture.size_mm[1]
        assert left < x0 + dx
        assert x1 + dx < left + width
        assert top < high - (y1 + dy)
        assert high - (y0 + dy) < top + height
    bodies = [
        text[text.index(b"<title>") :] for text in (picture_svg(plain, bare, {}).encode(), wall)
    ]
    numbers = [re.sub(rb"matrix\([^)]*\)", b"", body) for body in bodies]
    assert numbers[0] == numbers[1]


def test_bridges_stay_on_the_wall() -> None:
    """Whoever looks over the wall sees where a piece is held by a bar."""
    bar = Bridge(box(40, 19, 46, 21), (40.0, 20.0), (46.0, 20.0), 2.0)
    piece = replace(TAG.pieces[0], bridges=(bar,))
    picture = piece_picture(TAG, piece)
    svg = picture_svg(picture, piece, {}).encode()
    assert b'class="bridges"' in without_notes(svg, picture.bare_box_mm, picture.size_mm[1])
