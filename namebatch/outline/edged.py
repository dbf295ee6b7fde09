"""A polygon with its edges on grids and the necks between them, measured once for all who ask. mm.

Every measure of a shape begins with its boundary. Joining, gaps, thickening and the proof at the
end ask for the same few, so the last ones are kept.
"""

from functools import lru_cache

from shapely import Polygon

from namebatch.outline.arrays import Floats
from namebatch.outline.boundary import Boundary, boundary_of
from namebatch.outline.chords import necks_below
from namebatch.outline.same import Same
from namebatch.outline.tips import Survey, survey

KEPT = 32
"""Shapes whose edges are kept: those of one piece on its way."""


class Edged:
    """A polygon's edges, each side laid on its grid when it is first asked for.

    Attributes:
        shape: the polygon.
    """

    __slots__ = ("_inside", "_necks", "_outside", "_surveys", "shape")

    def __init__(self, shape: Polygon) -> None:
        self.shape = shape
        self._inside: Boundary | None = None
        self._outside: Boundary | None = None
        self._necks: dict[float, Floats] = {}
        self._surveys: dict[float, Survey] = {}

    @property
    def inside(self) -> Boundary:
        """The boundary with the polygon on its left."""
        if self._inside is None:
            self._inside = boundary_of(self.shape)
        return self._inside

    @property
    def outside(self) -> Boundary:
        """The boundary with what is not the polygon on its left."""
        if self._outside is None:
            self._outside = boundary_of(self.shape, outside=True)
        return self._outside

    def necks(self, width_mm: float) -> Floats:
        """Necks of the polygon below a width, as `necks_below` gives them."""
        for wider, found in self._necks.items():
            if wider >= width_mm:
                return found[found[:, 0] < width_mm]
        return self._necks.setdefault(width_mm, necks_below(self.inside, width_mm))

    def has_necks(self, width_mm: float) -> bool:
        """True if the necks below a width are known already."""
        return any(wider >= width_mm for wider in self._necks)

    def survey(self, radius: float) -> Survey:
        """The thin places inside, as `survey` gives them for circles of a radius."""
        found = self._surveys.get(radius)
        return found or self._surveys.setdefault(radius, survey(self.inside, radius))


def edged(shape: Polygon) -> Edged:
    """The edges of a polygon that is valid and not empty; asked again, the same object."""
    return _edged(Same(shape))


@lru_cache(maxsize=KEPT)
def _edged(same: Same[Polygon]) -> Edged:
    return Edged(same.shape)
