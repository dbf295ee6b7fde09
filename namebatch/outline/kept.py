"""What has been worked out for a shape, kept as long as the shape itself is."""

import weakref
from collections.abc import Callable, Hashable
from hashlib import blake2b
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


class Alike:
    """A shape as the key of a cache: the same for all of the same coordinates.

    Attributes:
        shape: it.
    """

    __slots__ = ("_digest", "shape")

    def __init__(self, shape: shapely.Geometry) -> None:
        """Take a shape; of one that was taken before nothing has to be worked out."""
        self.shape = shape
        self._digest = _DIGESTS.of(shape, None, lambda: _digest(shape))

    def __hash__(self) -> int:
        """By the coordinates."""
        return hash(self._digest)

    def __eq__(self, other: object) -> bool:
        """True for a shape of the same coordinates."""
        return isinstance(other, Alike) and other._digest == self._digest


def _digest(shape: shapely.Geometry) -> bytes:
    return blake2b(shapely.to_wkb(shape), digest_size=16).digest()


_DIGESTS: Kept[bytes] = Kept()
