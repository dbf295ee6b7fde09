"""Text on arcs and along lines: where letters stand, that they stay whole, and keep their room."""

from dataclasses import replace
from math import cos, degrees, pi, radians, sin

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, MultiPolygon

from namebatch.template.regions import region_of
from namebatch.template.textbox import Align, AlongPath, Arc, Letters, Side, Sizing, TextBox
from namebatch.text.batch import common_size
from namebatch.text.catalogue import load_catalogue
from namebatch.text.fit import SetText, fit
from namebatch.text.setting import FLATTEN_MM
from tests.text.conftest import text_box

CENTRE = (33.0, 40.0)
JOINED = {
    "محمد": "Noto Sans Arabic SemiBold",
    "क्षितिज": "Noto Sans Devanagari SemiBold",
    "মধুমিতা": "Noto Sans Bengali SemiBold",
    "Pacifico": "Pacifico",
    "Jiří Tjønn": "Pacifico",
}
APART = {
    "Saltmarsh": "Noto Sans SemiBold",
    "iiijjj": "Noto Sans SemiBold",
    "Kite Day": "Fredoka SemiBold",
    "WWggyj,": "Vollkorn SemiBold",
    "ÅÇĘ": "Noto Sans",
}


def arc(
    radius: float = 30.0,
    side: Side = "outside",
    letters: Letters = "turned",
    sweep: float = 170.0,
    middle: float | None = None,
    room: tuple[float, float] = (3.0, 9.0),
) -> Arc:
    """An arc whose text stands on top of it, or inside it at the bottom."""
    at = (90.0 if side == "outside" else 270.0) if middle is None else middle
    return Arc(CENTRE, radius, at, sweep, side, letters, room)


def box_on(place: Arc | AlongPath, largest: float = 6.0, align: Align = "centre") -> TextBox:
    """A box on an arc or a path, its letters given one by one."""
    return replace(text_box(largest=largest, least=0.2, align=align), place=place, made="outline")


def set_on(text: str, font: str, box: TextBox) -> SetText:
    """A text that fits."""
    result = fit(text, [load_catalogue().open(font)], box)
    assert isinstance(result, SetText), result
    return result


def polar(shape: shapely.Geometry) -> tuple[np.ndarray, np.ndarray]:
    """Distances from the centre, and angles in degrees, of every corner of a shape."""
    x, y = (shapely.get_coordinates(shape) - CENTRE).T
    return np.hypot(x, y), np.degrees(np.arctan2(y, x))


def straight(text: str, font: str, height: float) -> SetText:
    """The same text in a wide rectangle."""
    box = replace(text_box(400, 60, least=0.2, largest=height), made="outline")
    return set_on(text, font, box)


def count(shape: MultiPolygon) -> tuple[int, int]:
    """Parts and holes."""
    return len(shape.geoms), sum(len(part.interiors) for part in shape.geoms)


@pytest.mark.parametrize(("side", "turn"), [("outside", -1), ("inside", 1)])
def test_separate_letters_stand_at_length_over_radius(side: Side, turn: int) -> None:
    """A letter's middle lies at the angle (length along the straight line) / radius.

    Closed form: an arc of length s on a circle of radius r spans s / r radians. These letters
    are alike on both sides of their middle, so their centre of mass shows it; turned rigidly,
    it lies as far from the baseline as in the straight line. Set wide, so that none crowd.
    """
    r, font = 30.0, "Noto Sans SemiBold"
    wide = replace(text_box(400, 60, least=0.2, largest=5.0, tracking=0.4), made="outline")
    flat = set_on("HITHVMI", font, wide)
    bent = set_on("HITHVMI", font, replace(box_on(arc(r, side), 5.0), tracking=0.4))
    assert bent.height_mm == pytest.approx(5.0)
    first = flat.letters[0].shape.centroid.x
    start = np.radians(_angle(bent.letters[0].shape))
    for before, after in zip(flat.letters, bent.letters, strict=True):
        centre, moved = before.shape.centroid, after.shape.centroid
        up = centre.y - flat.baseline_mm
        angle = start + turn * (centre.x - first) / r
        radius = r - turn * up
        expected = CENTRE[0] + radius * cos(angle), CENTRE[1] + radius * sin(angle)
        assert (moved.x, moved.y) == pytest.approx(expected, abs=0.01)
        assert after.shape.area == pytest.approx(before.shape.area, rel=1e-3)


def _angle(shape: shapely.Geometry) -> float:
    """Of a shape's centre of mass about the centre of the circle, in degrees."""
    x, y = shape.centroid.x - CENTRE[0], shape.centroid.y - CENTRE[1]
    return degrees(float(np.arctan2(y, x)))


@pytest.mark.parametrize("side", ["outside", "inside"])
def test_joined_letters_are_bent_point_by_point(side: Side) -> None:
    """Every corner of joined ink goes from (x, y) to angle x / r and distance r ± y.

    Closed form of bending. Looked at the other way round: bent back, the ink is the straight one.
    """
    r, turn = 30.0, -1 if side == "outside" else 1
    flat = straight("محمد", JOINED["محمد"], 6.0)
    bent = set_on("محمد", JOINED["محمد"], box_on(arc(r, side)))
    radius, angle = polar(bent.shape)
    middle = 90.0 if side == "outside" else -90.0
    back = np.column_stack([turn * r * np.radians(angle - middle), turn * (r - radius)])
    unbent = shapely.set_coordinates(bent.shape, back)
    x0, y0, x1, y1 = flat.shape.bounds
    there = shapely.transform(flat.shape, lambda p: p - ((x0 + x1) / 2, flat.baseline_mm))
    a0, _, a1, _ = unbent.bounds
    unbent = shapely.transform(unbent, lambda p: p - ((a0 + a1) / 2, 0.0))
    assert y1 > y0
    assert shapely.hausdorff_distance(unbent, there) < 2 * FLATTEN_MM


@pytest.mark.parametrize("text", JOINED)
@pytest.mark.parametrize("side", ["outside", "inside"])
@pytest.mark.parametrize("radius", [13.0, 40.0])
def test_joined_letters_stay_joined(text: str, side: Side, radius: float) -> None:
    """Bending neither breaks ink apart nor closes what was open: parts and holes as before."""
    bent = set_on(text, JOINED[text], box_on(arc(radius, side), 5.0))
    flat = straight(text, JOINED[text], bent.height_mm)
    assert bent.shape.is_valid
    assert count(bent.shape) == count(flat.shape)


@pytest.mark.parametrize("text", APART)
@pytest.mark.parametrize("letters", ["turned", "upright"])
@pytest.mark.parametrize(("side", "radius"), [("outside", 9.0), ("inside", 13.0), ("inside", 40.0)])
def test_separate_letters_stay_apart(
    text: str, letters: Letters, side: Side, radius: float
) -> None:
    """Where heads or feet crowd, letters move apart rather than run into each other."""
    place = arc(radius, side, letters, 300.0)
    moved = set_on(text, APART[text], box_on(place, 5.0))
    flat = straight(text, APART[text], moved.height_mm)
    assert count(moved.shape) == count(flat.shape)
    for before, after in zip(flat.letters, moved.letters, strict=True):
        assert after.text == before.text
        assert after.shape.area == pytest.approx(before.shape.area, rel=5e-3)


@settings(max_examples=40, deadline=None)
@given(
    st.sampled_from([*JOINED.items(), *APART.items()]),
    st.floats(12.5, 60),
    st.floats(40, 360),
    st.floats(-180, 180),
    st.sampled_from(["outside", "inside"]),
    st.sampled_from(["turned", "upright"]),
    st.sampled_from(["left", "centre", "right"]),
)
def test_ink_stays_in_the_sector(
    named: tuple[str, str],
    radius: float,
    sweep: float,
    middle: float,
    side: Side,
    letters: Letters,
    align: Align,
) -> None:
    """Ink never leaves the room below and above the baseline, nor the sweep, by 0.01 mm."""
    text, font = named
    place = arc(radius, side, letters, sweep, middle)
    result = set_on(text, font, box_on(place, 6.0, align))
    distance, angle = polar(shapely.segmentize(result.shape, 0.1))
    above = (distance - radius) * (1 if side == "outside" else -1)
    assert above.max() <= place.room_mm[1] + 0.01
    assert above.min() >= -place.room_mm[0] - 0.01
    off = (angle - middle + 180) % 360 - 180
    assert np.abs(off).max() <= sweep / 2 + degrees(0.01 / (radius - 10))
    assert result.shape.is_valid


@pytest.mark.parametrize("text", ["Saltmarsh Kite Day", "मेरा नाम क्षितिज"])
@pytest.mark.parametrize("side", ["outside", "inside"])
def test_long_text_fills_the_sweep(text: str, side: Side) -> None:
    """A text that is too long for its largest height takes the whole sweep, to a hundredth."""
    fonts = [load_catalogue().open(n) for n in ("Noto Sans", "Noto Sans Devanagari SemiBold")]
    box = box_on(arc(20.0, side, sweep=120.0), 9.0)
    result = fit(text, fonts, replace(box, sizing=replace(box.sizing, steps=())))
    assert isinstance(result, SetText)
    _, angle = polar(result.shape)
    off = (angle - (90 if side == "outside" else 270) + 180) % 360 - 180
    assert off.max() - off.min() == pytest.approx(120, rel=0.01)


@pytest.mark.parametrize(("align", "end"), [("left", 165.0), ("right", 15.0)])
def test_ends_of_the_arc(align: Align, end: float) -> None:
    """Aligned left, the first ink stands where the sweep begins; aligned right, the last ends."""
    result = set_on("Marlo", "Noto Sans", box_on(arc(30, sweep=150), 5.0, align))
    _, angle = polar(result.shape)
    assert (angle.max() if align == "left" else angle.min()) == pytest.approx(end, abs=0.01)


def test_text_all_round_keeps_its_ends_apart() -> None:
    """On a whole circle the end of a long text does not run into its beginning."""
    result = set_on("Saltmarsh Kite Day 2031", "Noto Sans", box_on(arc(10, sweep=360), 9.0))
    first, last = result.letters[0].shape, result.letters[-1].shape
    assert first.distance(last) > 0.1 * result.height_mm


def test_upright_letters_are_not_turned() -> None:
    """Each letter is the straight one, moved; the middle of its capitals lies over the line."""
    place = arc(20, letters="upright", sweep=300)
    result = set_on("Saltmarsh", "Noto Sans SemiBold", box_on(place, 5.0))
    flat = straight("Saltmarsh", "Noto Sans SemiBold", result.height_mm)
    for before, after in zip(flat.letters, result.letters, strict=True):
        x, y = (after.shape.bounds[i] - before.shape.bounds[i] for i in (0, 1))
        moved = shapely.transform(before.shape, lambda p, x=x, y=y: p + (x, y))
        assert shapely.hausdorff_distance(moved, after.shape) < 0.01
        centre = (after.shape.bounds[0] + after.shape.bounds[2]) / 2, flat.baseline_mm + y
        middle = centre[0] - CENTRE[0], centre[1] + result.height_mm / 2 - CENTRE[1]
        assert np.hypot(*middle) == pytest.approx(20 + result.height_mm / 2, abs=0.02)


def test_joined_letters_cannot_stand_upright() -> None:
    """A joined text is bent all the same, and a warning says so."""
    upright = set_on("Pacifico", "Pacifico", box_on(arc(letters="upright")))
    turned = set_on("Pacifico", "Pacifico", box_on(arc()))
    assert [n.code for n in upright.notes] == ["letters-turned"]
    assert "cannot stand upright" in upright.notes[0].message
    assert upright.shape.equals(turned.shape)


@pytest.mark.parametrize("letters", ["turned", "upright"])
def test_a_single_letter_stands_in_the_middle(letters: Letters) -> None:
    """One letter alone is set at the top of its arc, upright by either rule."""
    result = set_on("H", "Noto Sans", box_on(arc(20, letters=letters), 5.0))
    x0, y0, x1, y1 = result.shape.bounds
    assert (x0 + x1) / 2 == pytest.approx(CENTRE[0], abs=0.01)
    assert y0 == pytest.approx(CENTRE[1] + 20, abs=0.01)
    assert y1 == pytest.approx(CENTRE[1] + 25, abs=0.01)


@pytest.mark.parametrize("letters", ["turned", "upright"])
def test_one_size_for_a_batch_on_an_arc(letters: Letters) -> None:
    """The height that the longest name reaches is set for all, none of them a hair smaller."""
    box = box_on(arc(16, letters=letters, sweep=120), 8.0)
    box = replace(box, sizing=replace(box.sizing, steps=(), alike=True))
    faces = [load_catalogue().open("Noto Sans")]
    names = ["Bo", "Saltmarsh", "Tove Lymegrass"]
    common = common_size(names, faces, box)
    assert common is not None
    for name in names:
        result = fit(name, faces, box, common=common)
        assert isinstance(result, SetText)
        assert result.height_mm == pytest.approx(common.height_mm, abs=1e-6)
        assert result.notes == ()


def test_small_text_on_a_large_circle_is_as_good_as_straight() -> None:
    """With the radius the arc goes to a line: heights and widths are those of a rectangle."""
    place = Arc((0.0, -2000.0), 2000.0, 90.0, 5.0, "outside", "turned", (3.0, 9.0))
    bent = set_on("Pacifico", "Pacifico", box_on(place, 6.0))
    flat = straight("Pacifico", "Pacifico", 6.0)
    a, b = bent.shape.bounds, flat.shape.bounds
    assert bent.height_mm == pytest.approx(6.0)
    assert a[2] - a[0] == pytest.approx(b[2] - b[0], abs=0.08)
    assert bent.shape.area == pytest.approx(flat.shape.area, rel=4e-3)


def circle_line(radius: float, points: int = 4000) -> LineString:
    """A circle as a line, clockwise from nine o'clock over the top to three o'clock."""
    angle = np.linspace(pi, 0, points)
    return LineString(np.column_stack([np.cos(angle), np.sin(angle)]) * radius + CENTRE)


@pytest.mark.parametrize(("text", "font"), [("Saltmarsh", "Noto Sans"), ("Pacifico", "Pacifico")])
def test_a_path_that_is_an_arc_gives_the_same(text: str, font: str) -> None:
    """Along a drawn half circle a text stands as on the arc, to two hundredths."""
    path = AlongPath("rim", circle_line(25.0), "turned", (3.0, 9.0))
    drawn = set_on(text, font, box_on(path, 6.0))
    true = set_on(text, font, box_on(arc(25.0, sweep=180.0), 6.0))
    assert drawn.height_mm == pytest.approx(true.height_mm, abs=1e-3)
    assert shapely.hausdorff_distance(drawn.shape, true.shape) < 0.02


S_CURVE = LineString([(t, 12 * sin(radians(t * 4.5))) for t in np.linspace(0, 80, 3000)])


@pytest.mark.parametrize("named", [*JOINED.items(), *APART.items()], ids=lambda n: n[0])
@pytest.mark.parametrize("letters", ["turned", "upright"])
def test_letters_on_an_s_curve_stay_whole(named: tuple[str, str], letters: Letters) -> None:
    """On a line that bends both ways ink keeps its parts and stays beside the line."""
    text, font = named
    place = AlongPath("s", S_CURVE, letters, (3.0, 9.0))
    result = set_on(text, font, box_on(place, 6.0))
    flat = straight(text, font, result.height_mm)
    assert count(result.shape) == count(flat.shape)
    assert (
        shapely.distance(S_CURVE, shapely.points(shapely.get_coordinates(result.shape))).max() < 9.1
    )
    assert result.shape.is_valid


def test_text_longer_than_its_path_is_smaller() -> None:
    """What would run over the end of a line is set smaller, and reaches from end to end."""
    place = AlongPath("s", LineString([(0, 0), (40, 0)]), "turned", (3.0, 9.0))
    box = box_on(place, 9.0)
    box = replace(box, sizing=replace(box.sizing, steps=()))
    result = set_on("Saltmarsh Kite Day", "Noto Sans", box)
    x0, _, x1, _ = result.shape.bounds
    assert (x0, x1) == (pytest.approx(0, abs=0.02), pytest.approx(40, abs=0.02))


BENDS = {
    "wave": LineString([(t, 6 * sin(t / 5.5 + 1.9)) for t in np.linspace(0, 55, 1500)]),
    "hollow": LineString([(14 * cos(a), 14 * sin(a)) for a in np.linspace(-2.9, -0.3, 900)]),
}


@pytest.mark.parametrize("bend", BENDS)
@pytest.mark.parametrize("letters", ["turned", "upright"])
@pytest.mark.parametrize("align", ["left", "centre", "right"])
def test_ink_stays_in_the_strip_along_a_line(bend: str, letters: Letters, align: Align) -> None:
    """Where a line begins or ends in a bend, ink does not reach past its ends by 0.01 mm."""
    box = box_on(AlongPath(bend, BENDS[bend], letters, (3.0, 8.0)), 5.0, align)
    region = region_of(box)
    for text, font in (
        ("Rafi Eddy", "Noto Sans"),
        ("Bo Lymegrass", "Pacifico"),
        ("Tove Lysander Jetty", "Noto Sans"),
    ):
        ink = set_on(text, font, replace(box, sizing=Sizing(steps=()))).shape
        points = shapely.points(shapely.get_coordinates(shapely.segmentize(ink, 0.1)))
        assert shapely.distance(region, points).max() < 0.01, text
