"""A text as it is painted, coat by coat from the ground up: shadow, stroke, letters.

All shapes are in mm as one sees the face; the back of a welded name is the front turned over,
its colours with it.

Welded letters are cut along their own edge. Their shadow and stroke are painted before
everything else of them, so that they are seen on the base alone: what stands out of it keeps the
letters' own colour up to the cut and in the bleed.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from math import cos, radians, sin

from shapely import MultiPolygon

from namebatch.output.welded import texts_seen
from namebatch.painted import ground_of
from namebatch.piece import Lettering, Piece
from namebatch.template.model import FaceName, Made, Template

_LEAST_MM = 0.01
"""No gradient is shorter, be the ink as thin as it may."""


@dataclass(frozen=True, slots=True)
class Blend:
    """Two colours that run into each other in a straight line, and stay as they are beyond it.

    Attributes:
        start, end: ``#rrggbb``.
        start_mm, end_mm: where the one and the other is pure.
    """

    start: str
    end: str
    start_mm: tuple[float, float]
    end_mm: tuple[float, float]


@dataclass(frozen=True, slots=True)
class Coat:
    """One shape in one paint.

    Attributes:
        shape: mm, as one sees the face.
        colour: ``#rrggbb``; None for what is not printed.
        made: as of its text; what is not the letters themselves is plain print.
        blend: taken instead of the colour where there is one.
    """

    shape: MultiPolygon
    colour: str | None
    made: Made
    blend: Blend | None = None


@dataclass(frozen=True, slots=True)
class Painted:
    """A text, or what is seen of it.

    Attributes:
        text: with its shape as one sees the face.
        coats: from the ground up.
    """

    text: Lettering
    coats: tuple[Coat, ...]


def painted_texts(template: Template, piece: Piece, face: FaceName) -> tuple[Painted, ...]:
    """All texts of a face in painting order.

    Args:
        template: base, rule and artwork are read.
        piece: whose texts they are.
        face: front or back.
    """
    own = {text.box: text for text in piece.letterings}
    below: list[Painted] = []
    found: list[Painted] = []
    for text in texts_seen(template, piece, face):
        coat = Coat(text.shape, text.colour, text.made, _blend(own[text.box], template, face))
        ground = tuple(_ground(text))
        if template.rule != "weld" or own[text.box].made != "outline":
            found.append(Painted(text, (*ground, coat)))
            continue
        # of letters on the base, not of what stands out of it: that is still "outline"
        if ground and text.made != "outline":
            below.append(Painted(text, ground))
        found.append(Painted(text, (coat,)))
    return (*below, *found)


def _ground(text: Lettering) -> Iterator[Coat]:
    """Shadow, then stroke, of a text that is printed and has them."""
    if text.colour is None or text.shape.is_empty:
        return
    ground = ground_of(text)
    if text.paint.shadow is not None:
        yield Coat(ground.shadow, text.paint.shadow.colour, "print")
    if text.paint.stroke is not None:
        yield Coat(ground.stroke, text.paint.stroke.colour, "print")


def _blend(text: Lettering, template: Template, face: FaceName) -> Blend | None:
    """The gradient of a text across its own ink, as one sees the face."""
    gradient = text.paint.gradient
    if gradient is None or text.colour is None or text.shape.is_empty:
        return None
    start, end = gradient_axis(text.shape.bounds, gradient.angle_deg)
    if face != text.face:
        width = template.size_mm[0]
        start, end = (width - start[0], start[1]), (width - end[0], end[1])
    return Blend(gradient.start, gradient.end, start, end)


def gradient_axis(
    bounds: tuple[float, float, float, float], angle_deg: float
) -> tuple[tuple[float, float], tuple[float, float]]:
    """Start and end of a gradient: the bounds' extent along its direction, about their middle.

    Args:
        bounds: x0, y0, x1, y1 of the ink, mm.
        angle_deg: from start to end, counter-clockwise from three o'clock.
    """
    x0, y0, x1, y1 = bounds
    dx, dy = cos(radians(angle_deg)), sin(radians(angle_deg))
    half = max((abs(dx) * (x1 - x0) + abs(dy) * (y1 - y0)) / 2, _LEAST_MM)
    x, y = (x0 + x1) / 2, (y0 + y1) / 2
    return (x - half * dx, y - half * dy), (x + half * dx, y + half * dy)
