"""Outline rules: how the cut contour comes about. One function and one line in RULES each."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

import shapely
from shapely import GeometryCollection, MultiPolygon, Polygon

from namebatch.outline.bars import add_bars
from namebatch.outline.contour import contour
from namebatch.outline.cores import areas_of
from namebatch.outline.islands import tie_islands
from namebatch.outline.join import Joined, join_parts
from namebatch.outline.model import Bridge, Order
from namebatch.outline.widen import widened, with_wide_webs
from namebatch.outline.window import held_in_windows
from namebatch.template.model import Rule

RIM_MM = 0.01
"""Half the thickness of the line that stands for a window's edge."""


@dataclass(frozen=True, slots=True)
class Made:
    """What a rule gives.

    Attributes:
        shape: one polygon if all could be joined.
        bridges: bars that were added, or left standing in letters cut through.
        plain_mm2: area without anything that was added.
    """

    shape: Polygon | MultiPolygon
    bridges: tuple[Bridge, ...]
    plain_mm2: float


def base(order: Order) -> Made:
    """The cut line is the base."""
    return Made(order.base, (), order.base.area)


def weld(order: Order) -> Made:
    """The letters and the base become one silhouette; loose parts get bridges."""
    return _joined(order, _pierced(order, shapely.union(order.base, order.text)))


def contour_line(order: Order) -> Made:
    """The line runs at a set distance round name, artwork and base together."""
    rule = order.contour
    if rule is None:
        raise ValueError("the rule contour needs its sizes")
    line = contour(
        GeometryCollection([order.base, order.text]),
        rule.distance_mm,
        rule.corners,
        rule.inside_radius_mm,
        rule.gap_mm,
        rule.least_hole_mm2,
    )
    return _joined(order, _pierced(order, line))


def open_letters(order: Order) -> Made:
    """The letters are cut through the base; every island is tied back."""
    plate = shapely.difference(order.base, order.text)
    width = order.limits.required_mm
    webbed = with_wide_webs(order, plate)
    tied = tie_islands(webbed, order.base, width, order.letters, _kept(order))
    return _made(tied, plate)


def _pierced(order: Order, shape: shapely.Geometry) -> Polygon | MultiPolygon:
    """Holes stay open, whatever was laid over them."""
    return shapely.difference(shape, MultiPolygon(list(order.holes))) if order.holes else shape


def _joined(order: Order, shape: Polygon | MultiPolygon) -> Made:
    if isinstance(shape, Polygon):
        return Made(shape, (), shape.area)  # what is thin in it is made wide later
    width, letters = order.limits.required_mm, order.letters
    wide = widened(order, shape)
    joined = join_parts(wide, width, letters, _kept(order))
    if not isinstance(joined.shape, Polygon) and order.base.interiors:
        joined = _across_windows(order, wide)
    return _made(joined, shape)


def _across_windows(order: Order, wide: Polygon | MultiPolygon) -> Joined:
    """A name in a window of the base, which can only be tied across the window.

    First everything that holds without the window's edge is joined, then what is left is held by
    two bars at its ends.
    """
    width, letters = order.limits.required_mm, order.letters
    edges = shapely.union_all([Polygon(ring).exterior for ring in order.base.interiors])
    free = shapely.difference(edges, shapely.buffer(order.text, width))
    rims = areas_of(shapely.buffer(free, RIM_MM, cap_style="flat"))
    first = join_parts(wide, width, letters, MultiPolygon([*rims, *order.holes]))
    holes = MultiPolygon(list(order.holes))
    if isinstance(first.shape, Polygon):
        return first
    ties = held_in_windows(first.shape, order.base, width, holes)
    tied = add_bars(first.shape, [bar.shape for bar in ties])
    rest = join_parts(tied, width, letters, holes)
    return Joined(rest.shape, first.bridges + ties + rest.bridges)


def _made(joined: Joined, plain: shapely.Geometry) -> Made:
    """Bars count apart from what thickening adds."""
    bars = shapely.union_all([bridge.shape for bridge in joined.bridges])
    beyond = shapely.difference(bars, plain).area if joined.bridges else 0.0
    return Made(joined.shape, joined.bridges, plain.area + beyond)


def _kept(order: Order) -> MultiPolygon:
    """Where no bar should run: holes of the template, and windows of its drawing."""
    windows = [Polygon(ring) for ring in order.base.interiors]
    return MultiPolygon(windows or list(order.holes))


RuleFunction = Callable[[Order], Made]

RULES: Mapping[Rule, RuleFunction] = {
    "base": base,
    "weld": weld,
    "contour": contour_line,
    "open": open_letters,
}
