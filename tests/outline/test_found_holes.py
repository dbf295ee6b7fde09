"""Found holes in finished outlines: lettering left open, mended beside the tab, told by name."""

import pytest
import shapely
from shapely import MultiPolygon, Point, Polygon, box

from namebatch.finding import Severity
from namebatch.outline import Limits, Order, Outline, finish
from namebatch.outline.found_holes import names_of, wall_notes
from namebatch.outline.mend import Mended
from namebatch.outline.model import Letter
from namebatch.template.model import ContourRule, FoundHole, Near
from tests.outline.lettering import ink, letters_of

RING = FoundHole("round", 4.0, 4.0, "top", 2.0, tab=True)
LIMITS = Limits(1.2, 0.18)
CONTOUR = ContourRule(2.0, "round", 0.5, 1.0, None)


def _hole(near: Near | tuple[float, float], *, tab: bool = True) -> FoundHole:
    return FoundHole("round", 4.0, 4.0, near, 2.0, tab)


def _codes(outline: Outline) -> list[str]:
    return [finding.code for finding in outline.findings]


def _welded(name: str, face: str, *wanted: FoundHole) -> tuple[Outline, tuple[Letter, ...]]:
    """A name on a bar; caps are 18 mm high."""
    letters = letters_of(name, face)
    text = ink(letters)
    bar = box(text.bounds[0] - 4, -4.8, text.bounds[2] + 4, 1.2)
    order = Order("weld", bar, LIMITS, text, letters, found_holes=wanted, avoid=text)
    return finish(order), letters


def _whole_at(shape: Polygon, width: float) -> bool:
    """One erosion, finer than the product's own: one part, as many holes."""
    core = shape.buffer(-width / 2 + 0.01, quad_segs=16)
    return isinstance(core, Polygon) and len(core.interiors) == len(shape.interiors)


@pytest.mark.parametrize(
    ("name", "face"),
    [
        ("Hollis", "Pacifico"),
        ("Wren", "Lobster"),
        ("Kit", "Caveat Bold"),
        ("Łukasz", "Noto Sans SemiBold"),
        ("HUUH", "Fredoka SemiBold"),
        ("كريم", "Noto Sans Arabic SemiBold"),
        ("प्रिया", "Noto Sans Devanagari SemiBold"),
        ("มาลี", "Noto Sans Thai SemiBold"),
        ("שרה", "Heebo Bold"),
    ],
)
@pytest.mark.parametrize("near", ["top", "top-left"])
def test_a_tab_leaves_counters_and_gaps_open(name: str, face: str, near: Near) -> None:
    """A tab on welded letters fills next to nothing of what lies between their strokes."""
    plain, letters = _welded(name, face)
    outline, _ = _welded(name, face, _hole(near))
    added = shapely.difference(outline.shape, plain.shape)
    between = shapely.union_all([letter.shape.convex_hull for letter in letters])
    text = ink(letters)
    assert shapely.intersection(added, between).area < 0.015 * text.area
    assert outline.hang_tilt_deg is not None
    assert outline.hang_tilt_deg < 5
    assert "tab-over-letters" not in _codes(outline)
    # the hole keeps off the letters
    assert outline.found_holes[0].shape.distance(text) > 0


@pytest.mark.parametrize(
    ("name", "face"),
    [
        ("Livia", "Lobster"),
        ("WILMA", "Noto Sans SemiBold"),
        ("نورة", "Noto Sans Arabic SemiBold"),
        ("נועם", "Heebo Bold"),
    ],
)
def test_what_a_tab_leaves_thin_or_slit_is_mended(name: str, face: str) -> None:
    """Beside a tab there is no thin place and no slit that the kerf would swallow."""
    outline, _ = _welded(name, face, RING)
    assert [f.code for f in outline.findings if f.severity is Severity.HOLD] == []
    assert outline.neck.width_mm >= LIMITS.required_mm - 0.02
    assert _whole_at(outline.shape, LIMITS.required_mm)


def test_a_hole_keeps_its_size_exactly() -> None:
    """Mending beside the tab of one hole leaves that hole and the ones before it alone."""
    outline, _ = _welded("Livia", "Lobster", RING, _hole("left"))
    rings = [Polygon(ring) for ring in outline.shape.interiors]
    for hole in outline.found_holes:
        own = min(rings, key=hole.shape.centroid.distance)
        assert own.symmetric_difference(hole.shape).area < 1e-6
    assert len(outline.found_holes) == 2


def test_letters_that_must_be_filled_are_named() -> None:
    """Where every place for a tab fills a letter, the piece says which."""
    # between two posts too high to climb over
    posts = [box(0, 0, 3, 60), box(17, 0, 20, 60)]
    letter = MultiPolygon([shapely.union_all([box(0, 0, 20, 3), *posts])])
    order = Order(
        "weld", box(0, -3, 20, 1), LIMITS, letter, (Letter(0, "U", letter),),
        found_holes=(_hole((10.0, 2.0)),), avoid=letter,
    )  # fmt: skip
    [finding] = [f for f in finish(order).findings if f.code == "tab-over-letters"]
    assert finding.severity is Severity.WARN
    assert '"U"' in finding.message
    assert "the ring hole of 4 mm near x 10, y 2 mm" in finding.message


def test_one_hole_is_told_by_its_kind_and_edge() -> None:
    """A hole without a place is named, not just counted."""
    bar = box(0, 0, 60, 4)
    [finding] = finish(Order("base", bar, LIMITS, found_holes=(_hole("top", tab=False),))).findings
    assert finding.code == "no-room-for-hole"
    assert "no place for the ring hole of 4 mm near the top with a wall of 2 mm" in finding.message


def test_several_holes_are_numbered() -> None:
    """Of several holes each has its number, those with a given place first."""
    slot = FoundHole("slot", 3.0, 12.0, "bottom-left", 2.0, tab=True)
    given = Point(5, 5).buffer(2)
    order = Order("base", box(0, 0, 9, 9), LIMITS, holes=(given,), found_holes=(RING, slot))
    assert names_of(order) == [
        "hole 2, a ring hole of 4 mm near the top,",
        "hole 3, a slot of 12 × 3 mm near the bottom left corner,",
    ]


def test_a_lean_names_the_hole_that_was_found() -> None:
    """A piece that cannot hang straight says by which hole it leans, and what may help."""
    shape = box(0, 0, 60, 40) - box(10, 6, 50, 41)
    outline = finish(Order("base", shape, LIMITS, found_holes=(_hole("top", tab=False),)))
    [finding] = [f for f in outline.findings if f.code == "hangs-askew"]
    assert finding.message.startswith("Hung by the ring hole of 4 mm near the top the piece leans")
    assert "allow a tab" in finding.message
    assert "let its place be found" not in finding.message


def test_a_picture_is_spared_where_there_is_ground() -> None:
    """A hole goes onto the ground beside a picture, or onto a tab, if it hangs as straight."""
    plate, picture = box(0, 0, 80, 40), box(2.6, 2.6, 77.4, 37.4)
    order = Order("base", plate, LIMITS, found_holes=(RING,), picture=picture)
    spared = finish(order)
    assert spared.found_holes[0].shape.intersection(picture).area < 1e-9
    assert spared.hang_tilt_deg == pytest.approx(0, abs=0.1)
    assert spared.findings == ()


def test_a_picture_without_ground_is_no_obstacle() -> None:
    """Where everything is painted the hole is cut all the same, and straight."""
    plate = box(0, 0, 80, 40)
    order = Order("base", plate, LIMITS, found_holes=(_hole("top", tab=False),), picture=plate)
    outline = finish(order)
    assert outline.findings == ()
    assert outline.found_holes[0].shape.centroid.y == pytest.approx(36, abs=0.01)


def test_a_tab_that_cannot_be_mended_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    """Then the hole goes where it needs none; and where there is no such place it is said."""
    monkeypatch.setattr(
        "namebatch.outline.found_holes.mend_at_tab", lambda shape, *_: (Mended(shape), False)
    )
    # two pads under one bar: nothing above the centre of mass but a tab, or a lean
    pads = shapely.union_all([box(0, 0, 60, 4), box(0, 0, 16, 20), box(50, 0, 60, 20)])
    outline = finish(Order("base", pads, LIMITS, found_holes=(RING,)))
    assert shapely.difference(outline.shape, pads).area == 0
    assert len(outline.found_holes) == 1
    bar = finish(Order("base", box(0, 0, 60, 4), LIMITS, found_holes=(RING,)))
    assert [f.code for f in bar.findings] == ["tab-not-mended"]
    assert "the tab of the ring hole of 4 mm near the top" in bar.findings[0].message


def test_a_wall_that_the_material_makes_thicker_is_told_once() -> None:
    """Of all found holes together one sentence says what wall they get instead."""
    holes = (RING, FoundHole("round", 3.0, 3.0, "left", 1.5, tab=True))
    [told] = wall_notes(holes, Limits(3.0))
    assert told.startswith("The wall round a found hole is 3 mm instead of 1.5 mm")
    assert wall_notes(holes, Limits(1.5)) == ()
    assert wall_notes((), Limits(3.0)) == ()


def test_a_hole_in_the_counter_of_a_letter_is_told() -> None:
    """Where there is no better place, the letter that the hole lies in is named."""
    letter = MultiPolygon([box(10, 4, 34, 28) - box(14, 8, 30, 24)])
    order = Order(
        "contour", box(0, 0, 44, 32), LIMITS, letter, (Letter(0, "O", letter),),
        found_holes=(_hole("top", tab=False),), avoid=letter, contour=CONTOUR,
    )  # fmt: skip
    [finding] = finish(order).findings
    assert (finding.code, finding.severity) == ("hole-in-letter", Severity.WARN)
    assert (
        'The ring hole of 4 mm near the top lies inside "O" and may be read as' in finding.message
    )
    assert "or allow a tab" in finding.message


def test_signs_of_a_batch_are_alike() -> None:
    """Names that hardly move the centre of mass leave the hole of a sign where others have it."""
    bar, end = box(0, 0, 150, 12), FoundHole("round", 4.0, 4.0, "left", 2.0, tab=True)
    places = set()
    for name in ("Wren", "Ida", "Tamsin"):
        text = shapely.transform(ink(letters_of(name, "Pacifico", 9.0)), lambda xy: xy + (40, 11))
        order = Order("weld", bar, LIMITS, text, found_holes=(end,), avoid=text)
        outline = finish(order)
        assert outline.hang_tilt_deg is not None
        assert outline.hang_tilt_deg < 1
        [hole] = outline.found_holes
        places.add(tuple(hole.shape.centroid.coords[0]))
    assert len({(round(x, 4), round(y, 4)) for x, y in places}) == 1
