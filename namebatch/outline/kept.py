"""What has been worked out for a shape, kept as long as the shape itself is."""

import weakref
from collections.abc import Callable, Hashable
from typing import Generic, TypeVar

import shapely

Found = TypeVar("Found")


class Kept(Generic[Found]):
    """Results by shape, told by identity, and by whatever else they depend on.

    A job of thousands of different pieces finds every result again, and nothing outlives the
    pieces.
    """

    def __init__(self) -> None:
        self._known: dict[int, tuple[weakref.ref[shapely.Geometry], dict[Hashable, Found]]] = {}

    def of(self, shape: shapely.Geometry, key: Hashable, make: Callable[[], Found]) -> Found:
        """The result for a shape, made when it is first asked for.

        Args:
            shape: the very same shape finds what was kept, an equal one does not.
            key: what else the result depends on.
            make: gives the result.
        """
        number = id(shape)
        known = self._known.get(number)
        if known is None or known[0]() is not shape:
            gone = weakref.ref(shape, lambda _: self._known.pop(number, None))
            known = self._known[number] = (gone, {})
        if key not in known[1]:
            known[1][key] = make()
        return known[1][key]
