"""Outline rules: how the cut contour comes about. One function and one line in RULES each."""

from collections.abc import Callable, Mapping

import shapely
from shapely import MultiPolygon, Polygon

from namebatch.template.model import Rule


def base(base_shape: Polygon, text: MultiPolygon, holes: MultiPolygon) -> shapely.Geometry:
    """The cut line is the base."""
    return base_shape


def weld(base_shape: Polygon, text: MultiPolygon, holes: MultiPolygon) -> shapely.Geometry:
    """The letters and the base become one silhouette; holes stay open."""
    return shapely.difference(shapely.union(base_shape, text), holes)


def open_letters(base_shape: Polygon, text: MultiPolygon, holes: MultiPolygon) -> shapely.Geometry:
    """The letters are cut through the base."""
    return shapely.difference(base_shape, text)


RuleFunction = Callable[[Polygon, MultiPolygon, MultiPolygon], shapely.Geometry]

RULES: Mapping[Rule, RuleFunction] = {"base": base, "weld": weld, "open": open_letters}
