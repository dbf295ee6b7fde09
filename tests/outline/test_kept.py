"""Results kept with a shape."""

import gc
from functools import partial

import shapely
from shapely import box

from namebatch.outline.kept import Alike, Kept


def test_the_very_same_shape_finds_its_result() -> None:
    """It is made once for each key; an equal shape has its own."""
    kept, made = Kept[int](), list[int]()

    def make() -> int:
        made.append(len(made))
        return made[-1]

    shape = box(0, 0, 1, 1)
    assert [kept.of(shape, key, make) for key in ("a", "a", "b", "a")] == [0, 0, 1, 0]
    assert kept.of(shapely.from_wkb(shape.wkb), "a", make) == 2


def test_nothing_outlives_the_shape() -> None:
    """A shape that takes the place of another in memory does not find its results."""
    kept = Kept[int]()
    for number in range(200):
        assert kept.of(box(0, 0, number + 1, 1), None, partial(int, number)) == number
    gc.collect()
    assert not kept._known


def test_alike_are_shapes_of_the_same_coordinates() -> None:
    """An equal shape finds what was kept; the slightest difference, or another type, does not."""
    shape = box(0, 0, 1, 1)
    known = {Alike(shape): "found"}
    assert known.get(Alike(shapely.from_wkb(shape.wkb))) == "found"
    assert Alike(shape).shape is shape
    for other in (box(0, 0, 1, 1 + 2**-52), shape.exterior, shape.reverse()):
        assert Alike(other) not in known
    assert Alike(shape) != shape
