"""How a piece hangs from a hole."""

from math import atan2, degrees

from shapely import Point, Polygon


def hang_tilt_deg(outline: Polygon, hole: Polygon) -> float:
    """The angle by which a piece leans when it hangs by a hole.

    It hangs with its centre of mass (of an even sheet: the centroid of its area) straight
    below the point that carries it; taken here as the hole's centre.

    Returns:
        Degrees from upright, 0 to 180, as the template is drawn.
    """
    mass, pin = outline.centroid, Point(hole.centroid)
    return abs(degrees(atan2(mass.x - pin.x, pin.y - mass.y)))
