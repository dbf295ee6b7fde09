"""Islands of cut-through names: all tied, twice where there is room, in one direction."""

import pytest
import shapely
from shapely import MultiPolygon, Point, Polygon, box

from namebatch.outline.islands import tie_islands
from namebatch.outline.join import Joined
from namebatch.outline.model import Bridge, Letter
from tests.outline.lettering import cores_at, corpus, ink, letters_of, plate_of

NO_HOLES = MultiPolygon()


def _islands(plate: shapely.Geometry) -> list[Polygon]:
    return sorted(shapely.get_parts(plate), key=lambda part: -part.area)[1:]


def _tied(name: str, face: str, width: float, cap_mm: float = 18) -> tuple[Joined, list[Polygon]]:
    letters = letters_of(name, face, cap_mm)
    base, plate = plate_of(letters)
    return tie_islands(plate, base, width, letters, NO_HOLES), _islands(plate)


def _at(joined: Joined, island: Polygon) -> list[Bridge]:
    return [bridge for bridge in joined.bridges if bridge.shape.intersects(island)]


def _upright(bridge: Bridge) -> bool:
    return abs(bridge.start[0] - bridge.end[0]) < 1e-6


@pytest.mark.parametrize("width", [0.8, 1.2])
def test_every_island_is_tied_at_full_width(width: float) -> None:
    """Names of 14 locales: each island belongs to the plate's own core, by two bars or more."""
    islands = 0
    for name, face in corpus(5):
        joined, found = _tied(name, face, width)
        assert isinstance(joined.shape, Polygon), (name, face)
        assert joined.shape.is_valid
        core = max(cores_at(joined.shape, width - 0.01), key=lambda part: part.area)
        for island in found:
            islands += 1
            assert core.intersects(island), (name, face)
            if cores_at(island, width + 0.01):
                assert len(_at(joined, island)) >= 2, (name, face)
        assert all(bridge.width_mm >= width for bridge in joined.bridges)
    assert islands > 80


@pytest.mark.parametrize("face", ["Noto Sans SemiBold", "Lora Bold", "Fredoka SemiBold"])
def test_a_large_o_has_two_upright_bars_in_one_line(face: str) -> None:
    """The stencil custom: top and bottom, through the middle of the island."""
    joined, (island,) = _tied("O", face, 1.5, 40)
    assert len(joined.bridges) == 2
    assert all(_upright(bridge) for bridge in joined.bridges)
    first, second = joined.bridges
    assert first.start[0] == pytest.approx(second.start[0], abs=0.5)
    assert first.start[0] == pytest.approx(island.centroid.x, abs=1)
    heights = sorted(bridge.end[1] for bridge in joined.bridges)
    assert heights[0] < island.bounds[1] < island.bounds[3] < heights[1]


def test_bars_of_a_name_run_alike() -> None:
    """All bars of BAO 8% are upright; the two islands of B and of 8 share their middle bar."""
    joined, islands = _tied("BAO 8%", "Noto Sans SemiBold", 1.2)
    assert len(islands) == 8
    assert all(_upright(bridge) for bridge in joined.bridges)
    assert len(joined.bridges) == 2 * 8 - 2


def test_little_of_the_letters_is_covered() -> None:
    """Bars cover less than a twelfth of the letters of a plain name."""
    letters = letters_of("Regadob", "Noto Sans SemiBold")
    base, plate = plate_of(letters)
    joined = tie_islands(plate, base, 1.0, letters, NO_HOLES)
    text = ink(letters)
    assert text.intersection(joined.shape).area < text.area / 12


def test_island_smaller_than_a_bar_gets_one() -> None:
    """A speck of an island is held by a single bar, which thickens it."""
    stroke = Point(10, 10).buffer(3) - Point(10, 10).buffer(0.4)
    base = box(0, 0, 20, 20)
    joined = tie_islands(base - stroke, base, 1.5, (), NO_HOLES)
    assert isinstance(joined.shape, Polygon)
    assert len(joined.bridges) == 1
    assert joined.shape.covers(Point(10, 10).buffer(0.7))


def test_islands_within_islands() -> None:
    """Three rings one in another: each is tied to the next outer one by two bars."""
    rings = shapely.union_all(
        [Point(30, 30).buffer(r, 32) - Point(30, 30).buffer(r - 2, 32) for r in (8, 15, 22)]
    )
    base = box(0, 0, 60, 60)
    joined = tie_islands(base - rings, base, 1.5, (), NO_HOLES)
    assert isinstance(joined.shape, Polygon)
    assert len(cores_at(joined.shape, 1.49)) == 1
    assert len(joined.bridges) == 6
    for island in _islands(base - rings):
        assert len(_at(joined, island)) >= 2


def test_bars_keep_off_a_mark_of_the_letter() -> None:
    """A stroke right over a ring is not cut in two: the bars run level instead."""
    ring = Point(20, 15).buffer(8, 32) - Point(20, 15).buffer(5, 32)
    stroke = box(12, 23.3, 28, 25.3)
    base = box(0, 0, 40, 34)
    letters = (Letter(0, "ō", MultiPolygon([ring, stroke])),)
    joined = tie_islands(base - ring - stroke, base, 1.2, letters, NO_HOLES)
    assert isinstance(joined.shape, Polygon)
    assert len(joined.bridges) == 2
    assert all(bridge.shape.disjoint(stroke) for bridge in joined.bridges)


def test_bars_keep_off_holes_of_the_template() -> None:
    """A hole right over an island is not crossed."""
    stroke = Point(20, 15).buffer(8, 32) - Point(20, 15).buffer(5, 32)
    hole = Point(20, 25.5).buffer(2, 32)
    base = box(0, 0, 40, 30) - hole
    joined = tie_islands(base - stroke, base, 1.5, (), MultiPolygon([hole]))
    assert isinstance(joined.shape, Polygon)
    assert len(joined.bridges) == 2
    assert all(bridge.shape.distance(hole) > 0 for bridge in joined.bridges)


def test_island_ringed_by_a_slot_of_the_template_stays_apart() -> None:
    """What cannot be tied without closing a hole is left for the caller to hold."""
    slot = Point(20, 15).buffer(8, 32) - Point(20, 15).buffer(5, 32)
    base = box(0, 0, 40, 30)
    joined = tie_islands(base - slot, base, 1.5, (), MultiPolygon([slot]))
    assert len(shapely.get_parts(joined.shape)) == 2
    assert joined.bridges == ()


def test_a_plate_without_islands_stays_as_it_is() -> None:
    """Letters without insides need nothing."""
    joined, islands = _tied("LINE", "Noto Sans SemiBold", 1.2)
    assert islands == []
    assert joined.bridges == ()
    assert joined.shape.area == pytest.approx(
        plate_of(letters_of("LINE", "Noto Sans SemiBold"))[1].area
    )


def test_arabic_loops_are_tied() -> None:
    """The loops of meem and waw are islands like those of o."""
    joined, islands = _tied("ممو", "Noto Sans Arabic SemiBold", 1.0)
    assert len(islands) >= 2
    assert all(len(_at(joined, island)) >= 2 for island in islands)
