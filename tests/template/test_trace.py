"""Bases traced from artwork: where the line lies, what is dropped, what is told."""

from math import pi

import numpy as np
import numpy.typing as npt
import pytest
import shapely
from PIL import Image, ImageFilter
from shapely import Point, Polygon, box
from shapely.affinity import rotate

from namebatch.template import coverage
from namebatch.template.artwork import read_raster
from namebatch.template.model import RasterPicture
from namebatch.template.svg.raster import rasterise
from namebatch.template.trace import Trace, trace_artwork
from tests.template.cutouts import WHITE, Cover, cover, cut_out, disc, on_ground, points_of, square
from tests.template.images import saved

SIZE = (30.0, 30.0)
CIRCLE = disc(15.3, 14.8, 10)


def _read(picture: Image.Image, kind: str = "PNG", **options: object) -> RasterPicture:
    return read_raster(saved(picture, kind, **options), "kite.png")


def _traced(picture: Image.Image, inset_mm: float = 0.0, **options: bool) -> Trace:
    return trace_artwork(_read(picture), SIZE, inset_mm, name="kite.png", **options)


def _circle(dpi: float) -> Cover:
    return cover(CIRCLE, SIZE, dpi)


def _off_circle(found: Trace, radius: float = 10.0) -> float:
    """The farthest that any point of the outline is from the circle."""
    assert found.shape is not None, found.problems
    away = points_of(found.shape) - (15.3, 14.8)
    return float(np.abs(np.hypot(away[:, 0], away[:, 1]) - radius).max())


@pytest.mark.parametrize("dpi", [150, 300])
def test_circle_by_its_alpha(dpi: float) -> None:
    """An antialiased circle of 20 mm is met within 0.05 mm at 150 dpi."""
    found = _traced(cut_out(_circle(dpi)))
    assert _off_circle(found) < 0.05
    assert found.by == "alpha"
    assert (found.warnings, found.problems) == ((), ())


@pytest.mark.parametrize("colour", [(200, 40, 30), (20, 20, 20), (250, 235, 180)])
def test_circle_on_white(colour: tuple[int, int, int]) -> None:
    """On a plain background the line is at half coverage, whatever the colour."""
    found = _traced(on_ground(_circle(150), colour))
    assert _off_circle(found) < 0.05
    assert found.by == "background"


@pytest.mark.parametrize("ground", [(240, 242, 236), (20, 60, 90), (128, 128, 128)])
def test_circle_on_any_plain_ground(ground: tuple[int, int, int]) -> None:
    """The background's colour is that of the border."""
    assert _off_circle(_traced(on_ground(_circle(150), (230, 180, 40), ground))) < 0.05


def test_circle_in_a_jpeg() -> None:
    """The unrest that JPEG leaves beside an edge does not shift it by much."""
    picture = on_ground(_circle(150), (30, 60, 120))
    found = trace_artwork(_read(picture, "JPEG", quality=85), SIZE, 0.0)
    assert _off_circle(found) < 0.06


def test_hard_pixels_make_no_stairs() -> None:
    """A circle of hard pixels is met within half a pixel, and its line turns evenly."""
    found = _traced(cut_out((_circle(150) > 0.5).astype(np.float64)))
    assert _off_circle(found) < 0.5 * 25.4 / 150
    assert found.shape is not None
    ring = np.asarray(found.shape.exterior.coords)[:-1]
    ways = np.angle(np.diff(np.append(ring, ring[:1], axis=0) @ (1, 1j)))
    turns = np.angle(np.exp(1j * np.diff(np.append(ways, ways[0]))))
    # all to one side: a stair would turn back
    assert abs(turns.sum()) == pytest.approx(2 * pi)
    assert np.abs(turns).sum() == pytest.approx(2 * pi, rel=0.02)


@pytest.mark.parametrize("angle", [0, 3, 17, 45])
def test_square_keeps_its_corners(angle: float) -> None:
    """A turned square's corners are met within 0.15 mm at 150 dpi, and its sides are straight."""
    found = _traced(cut_out(cover(square(15, 15, 16, angle), SIZE, 150)))
    assert found.shape is not None
    drawn = rotate(box(7, 7, 23, 23), angle)
    for corner in drawn.exterior.coords:
        assert found.shape.exterior.distance(Point(corner)) < 0.15
    assert found.shape.exterior.hausdorff_distance(drawn.exterior) < 0.15
    assert len(found.shape.exterior.coords) < 16


@pytest.mark.parametrize("inset", [0.5, 1.5, -2.0])
def test_inset_and_outset(inset: float) -> None:
    """The line runs so far inside the edge, or outside of it."""
    found = _traced(cut_out(_circle(200)), inset)
    assert _off_circle(found, 10 - inset) < 0.05


def test_inset_of_half_a_millimetre_is_the_default() -> None:
    """Nothing said, the cut is 0.5 mm inside the print."""
    found = trace_artwork(_read(cut_out(_circle(200))), SIZE)
    assert _off_circle(found, 9.5) < 0.05


def test_same_colour_inside_stays() -> None:
    """White inside a figure on white is no background: the border does not reach it."""
    share = _circle(150) - cover(disc(15.3, 14.8, 6), SIZE, 150)
    for keep in (False, True):
        found = _traced(on_ground(share), keep_holes=keep)
        assert found.shape is not None
        assert len(found.shape.interiors) == 0
        assert found.shape.area == pytest.approx(pi * 100, rel=0.01)


def test_see_through_places_inside() -> None:
    """They are filled, or kept if that is asked; slits never are."""
    share = _circle(150) - cover(disc(15.3, 14.8, 4), SIZE, 150)
    slit = cover(lambda x, y: (np.abs(x - 21.3) < 0.4) & (np.abs(y - 14.8) < 2), SIZE, 150)
    share = share - slit
    whole = _traced(cut_out(share))
    assert whole.shape is not None
    assert whole.shape.area == pytest.approx(pi * 100, rel=0.01)
    kept = _traced(cut_out(share), keep_holes=True)
    assert kept.shape is not None
    assert len(kept.shape.interiors) == 1
    assert kept.shape.area == pytest.approx(pi * (10**2 - 4**2), rel=0.01)


def test_specks_are_dropped() -> None:
    """A fleck of 0.3 mm² is no part, and not worth a word."""
    share = np.maximum(_circle(150), cover(disc(2, 2, 0.3), SIZE, 150))
    found = _traced(cut_out(share))
    assert _off_circle(found) < 0.05
    assert found.warnings == ()


def test_a_part_that_would_be_lost_is_a_problem() -> None:
    """A second part of some size is named with its place; a border may join it."""
    share = np.maximum(_circle(150), cover(disc(27, 27, 2), SIZE, 150))
    found = _traced(cut_out(share))
    assert found.shape is None
    assert "1 part lies apart" in found.problems[0]
    assert "x 27" in found.problems[0]
    joined = _traced(cut_out(share), -3.0)
    assert joined.problems == ()


def test_artwork_at_the_edge_of_its_picture() -> None:
    """What runs off the picture is cut along the picture's edge."""
    found = _traced(cut_out(cover(disc(0, 15, 12), SIZE, 150)))
    assert found.shape is not None
    assert found.shape.bounds[0] == pytest.approx(0, abs=0.1)
    assert found.shape.area == pytest.approx(pi * 144 / 2, rel=0.01)


@pytest.mark.parametrize(("dpi", "warned", "refused"), [(150, 0, 0), (149, 1, 0), (74, 0, 1)])
def test_resolution_at_final_size(dpi: float, warned: int, refused: int) -> None:
    """Below 150 dpi it is warned, below 75 it is a problem, and both say how much is lacking."""
    found = _traced(cut_out(_circle(dpi)))
    assert (len(found.warnings), len(found.problems)) == (warned, refused)
    for line in (*(warning.message for warning in found.warnings), *found.problems):
        assert f"only {found.dpi:.0f} pixels an inch at 30.0 × 30.0 mm" in line
    assert (found.shape is None) == bool(refused)


def test_no_plain_background() -> None:
    """A picture full to its border has nothing to trace, and is told what to do."""
    y, x = np.mgrid[0:200, 0:200]
    busy = np.dstack([x, y, (x * 7 + y * 13) % 200]).astype(np.uint8)
    found = _traced(Image.fromarray(busy))
    assert found.shape is None
    assert "no plain background" in found.problems[0]


@pytest.mark.parametrize("share", [np.zeros((200, 200)), np.full((200, 200), 0.3)])
def test_nothing_to_see(share: Cover) -> None:
    """An empty picture is said to be empty."""
    assert "shows nothing to trace" in _traced(cut_out(share)).problems[0]
    assert "shows nothing to trace" in _traced(on_ground(share * 0)).problems[0]


def test_too_thin_for_its_inset() -> None:
    """Where the inset eats everything, the inset is named."""
    found = _traced(cut_out(cover(square(15, 15, 4, 10), SIZE, 150)), 2.5)
    assert "outline 2.5 mm inside" in found.problems[0]


def test_other_kinds_of_pixels() -> None:
    """Palettes with transparency, grey with alpha, 16 bit and CMYK give the same line."""
    share = _circle(150)
    grey = Image.fromarray(np.rint(share * 255).astype(np.uint8))
    deep = Image.fromarray((np.rint((1 - share) * 255) * 257).astype(np.uint16))
    palette = on_ground(share).convert("P", palette=Image.Palette.ADAPTIVE, colors=255)
    both = Image.merge("LA", [grey, grey])
    for picture, kind in ((deep, "PNG"), (palette, "PNG"), (both, "PNG")):
        assert _off_circle(trace_artwork(_read(picture, kind), SIZE, 0.0)) < 0.06
    cmyk = _read(on_ground(share).convert("CMYK"), "JPEG", quality=95)
    assert _off_circle(trace_artwork(cmyk, SIZE, 0.0)) < 0.06


def test_large_pictures_are_scaled_down(monkeypatch: pytest.MonkeyPatch) -> None:
    """A picture of more pixels than are of use is averaged, and its line stays in place."""
    monkeypatch.setattr(coverage, "MOST_PIXELS", 32_000)
    found = _traced(cut_out(_circle(250)))
    assert found.dpi == pytest.approx(250, abs=1)
    assert _off_circle(found) < 0.06


def test_a_drawing_is_traced_through_pixels() -> None:
    """An SVG, drawn as pixels, gives the outline of what it shows."""
    svg = (
        '<svg xmlns="http://www.w3.org/2000/svg" width="30mm" height="30mm" viewBox="0 0 30 30">'
        '<circle cx="15.3" cy="15.2" r="10" fill="#c8281e"/></svg>'
    )
    found = trace_artwork(rasterise(svg.encode(), "kite.svg", SIZE), SIZE, 0.0)
    assert _off_circle(found) < 0.03


def test_white_cut_out_on_see_through() -> None:
    """Alpha counts, not colour: a white figure is traced."""
    assert _off_circle(_traced(cut_out(_circle(150), WHITE))) < 0.05


KITE_TIPS = [(5.0, 15.0), (15.0, 3.0), (25.0, 15.0), (15.0, 27.0)]


def _kite(x: Cover, y: Cover) -> npt.NDArray[np.bool_]:
    return np.asarray(np.abs(x - 15) / 10 + np.abs(y - 15) / 12 <= 1)


def _soft_jpeg(blur_px: float, quality: int) -> RasterPicture:
    blurred = on_ground(cover(_kite, SIZE, 300), (220, 90, 40)).filter(
        ImageFilter.GaussianBlur(blur_px)
    )
    return _read(blurred, "JPEG", quality=quality)


@pytest.mark.parametrize(("blur_px", "quality"), [(0, 60), (1, 60), (2, 60), (4, 60), (4, 85)])
def test_soft_edges_are_cut_half_way(blur_px: float, quality: int) -> None:
    """However soft a JPEG's edge, its straight sides are met within 0.05 mm at 300 dpi."""
    found = trace_artwork(_soft_jpeg(blur_px, quality), SIZE, 0.0)
    assert found.shape is not None, found.problems
    drawn = Polygon(KITE_TIPS)
    points = shapely.points(points_of(drawn))
    sides = points[shapely.distance(points, shapely.multipoints(KITE_TIPS)) > 2.0]
    assert shapely.distance(sides, found.shape.exterior).max() < 0.05
    tips = shapely.distance(shapely.points(KITE_TIPS), found.shape.exterior)
    assert tips.max() < 0.1


def test_a_soft_picture_gives_the_base_of_a_sharp_one() -> None:
    """A blurred JPEG on white and a cut-out PNG of one artwork agree within 0.1 mm."""
    sharp = trace_artwork(_read(cut_out(cover(_kite, SIZE, 300))), SIZE)
    soft = trace_artwork(_soft_jpeg(4, 60), SIZE)
    assert sharp.shape is not None
    assert soft.shape is not None
    assert soft.shape.exterior.hausdorff_distance(sharp.shape.exterior) < 0.1


def test_rounds_of_soft_pictures_stay_round() -> None:
    """A blurred corner that was drawn round is not drawn out to a point."""
    drawn = shapely.buffer(box(8, 8, 22, 22), 1.5)

    def inside(x: Cover, y: Cover) -> npt.NDArray[np.bool_]:
        return np.asarray(shapely.contains_xy(drawn, x, y))

    blurred = on_ground(cover(inside, SIZE, 300)).filter(ImageFilter.GaussianBlur(3))
    found = trace_artwork(_read(blurred, "JPEG", quality=80), SIZE, 0.0)
    assert found.shape is not None
    assert found.shape.exterior.hausdorff_distance(drawn.exterior) < 0.2


def test_a_pale_part_beside_a_dark_one_is_not_cut_off() -> None:
    """Where two colours of the artwork meet far from the background there is no edge."""
    pale, dark = cover(square(10, 15, 12, 0), SIZE, 200), cover(square(20.5, 15, 9, 0), SIZE, 200)
    picture = np.asarray(on_ground(pale, (245, 225, 130)), dtype=np.float64)
    mixed = picture * (1 - dark[..., None]) + dark[..., None] * np.array((20, 40, 120))
    found = _traced(Image.fromarray(np.rint(mixed).astype(np.uint8)))
    assert found.shape is not None, found.problems
    assert found.shape.area == pytest.approx(144 + 81, rel=0.01)


def test_thin_lines_that_fall_off_are_told() -> None:
    """What the inset leaves nothing of is named with its place and width; corners are not."""
    line = cover(lambda x, y: (np.abs(x - 15) < 0.12) & (y > 15) & (y < 28), SIZE, 300)
    share = np.maximum(cover(square(15, 12, 10, 20), SIZE, 300), line)
    found = trace_artwork(_read(cut_out(share)), SIZE, name="kite.png")
    (told,) = found.warnings
    assert told.code == "trace-thin"
    assert "Part of kite.png is thinner than 1 mm and is cut off (at x 15.0" in told.message
    assert "mm long and about 0.2 mm wide" in told.message
    assert trace_artwork(_read(cut_out(share)), SIZE, -0.5).warnings == ()


def test_a_pale_rim_is_told() -> None:
    """An edge so soft that the cut shows a rim of it is warned of; a larger inset has none."""
    told = trace_artwork(_soft_jpeg(5, 85), SIZE, 0.3, name="kite.jpg").warnings
    assert [warning.code for warning in told] == ["trace-fades"]
    assert "kite.jpg is soft: it fades over 1." in told[0].message
    assert trace_artwork(_soft_jpeg(5, 85), SIZE, 0.8).warnings == ()
    assert trace_artwork(_soft_jpeg(0, 85), SIZE, 0.0).warnings == ()


def test_the_remedy_for_a_coarse_picture_is_enough() -> None:
    """The factor is rounded up: "1.0 times as wide" helps nobody."""
    found = _traced(cut_out(_circle(144)))
    assert "use a picture 1.1 times as wide and high" in found.warnings[0].message
