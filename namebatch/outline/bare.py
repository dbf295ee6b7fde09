"""The base of a template measured by itself, before any name is joined with it."""

from dataclasses import dataclass, replace

from shapely import Polygon

from namebatch.finding import Finding, is_held
from namebatch.outline.cores import areas_of
from namebatch.outline.finish import finish
from namebatch.outline.mend import mended
from namebatch.outline.model import NO_INK, Order
from namebatch.outline.rules import RULES


@dataclass(frozen=True, slots=True)
class BareBase:
    """What is known of a base.

    Attributes:
        findings: why it cannot be cut from the material, whatever the name.
        gain_mm2: what making its own thin places wide adds to every piece.
    """

    findings: tuple[Finding, ...]
    gain_mm2: float


def bare_base(order: Order) -> BareBase:
    """Measure the base that all pieces share; where the line runs round it, that line.

    Args:
        order: any order of the template; its text and the holes to be found do not matter.
    """
    bare = replace(order, text=NO_INK, letters=(), found_holes=(), avoid=NO_INK, picture=NO_INK)
    if bare.base.is_empty:
        return BareBase((), 0.0)
    line = RULES["contour"](bare).shape if bare.rule == "contour" else bare.base
    found: list[Finding] = []
    gain = 0.0
    parts: list[Polygon] = list(areas_of(line))
    for part in parts:
        outline = finish(Order("base", part, bare.limits))
        found += [finding for finding in outline.findings if is_held([finding])]
        gain += 0.0 if bare.rule == "base" else mended(bare, part).shape.area - part.area
    return BareBase(tuple(found), max(gain, 0.0))
