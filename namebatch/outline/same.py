"""A shape as the key of a cache: told by identity, so that no coordinates are compared."""

from dataclasses import dataclass
from typing import Generic, TypeVar

import shapely

Shape = TypeVar("Shape", bound=shapely.Geometry)


@dataclass(frozen=True, slots=True, eq=False)
class Same(Generic[Shape]):
    """The very same shape; an equal one is another.

    Attributes:
        shape: the shape; it lives as long as the key.
    """

    shape: Shape

    def __hash__(self) -> int:
        """By identity."""
        return id(self.shape)

    def __eq__(self, other: object) -> bool:
        """True for the very same shape."""
        return isinstance(other, Same) and other.shape is self.shape
