"""What letters that are cut through lose to bars and webs, and whether they can still be read."""

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt
import shapely
from shapely import Polygon

from namebatch.finding import Finding, hold, note, warn
from namebatch.outline.model import Letter, Order
from namebatch.outline.naming import with_shares

LOOK_AT = 0.25
"""A letter that loses more than this share of its ink must be looked at."""
LOST = 0.5
"""A letter that loses more than this share cannot be read.

Measured on the twenty letters and digits with islands in five faces, capitals 3 to 15 mm high,
bars 1.2 mm wide: what was left was nearer in shape to another letter or digit in 1.4 % of cases
where less than a quarter was lost, 7 % from there to 0.4, 21 % from 0.4 to 0.6, 63 % above.
"""
MARK_GONE = 0.6
"""A dot or accent that loses more than this share of its ink is as good as not there."""
NOTED_MM2 = 0.05
REMEDY = (
    "Choose a larger size, a heavier or a stencil typeface, or a material that allows narrower "
    "bars."
)


def what_letters_lose(order: Order, shape: Polygon, widened_mm2: float) -> list[Finding]:
    """Hold letters that bars and webs leave unreadable, and tell what else they take.

    Args:
        order: an order for open letters.
        shape: the finished plate.
        widened_mm2: what was added to the plate beside its bars.
    """
    findings: list[Finding] = []
    shares = _shares([letter.shape for letter in order.letters], shape)
    gone = shares > LOST
    width = order.limits.required_mm
    if gone.any():
        lost = with_shares(order.letters, shares, gone, "of")
        findings.append(
            hold(
                "letters-unreadable",
                f"Bars and webs of {width:g} mm take {lost}: more "
                f"than half of a letter, which cannot be read then. {REMEDY}",
            )
        )
    much = (shares > LOOK_AT) & ~gone
    if much.any():
        short = with_shares(order.letters, shares, much, "of")
        findings.append(
            warn(
                "letters-cut-short",
                f"Bars and webs of {width:g} mm take {short}: look "
                f"whether it can still be read. {REMEDY}",
            )
        )
    without = [letter for letter in order.letters if _loses_a_mark(letter, shape)]
    if without:
        names = ", ".join(dict.fromkeys(f'"{letter.text}"' for letter in without))
        findings.append(
            warn(
                "mark-lost",
                f"A dot, an accent or another small part of {names} is nearly gone, because the "
                f"webs beside it must be {width:g} mm wide. {REMEDY}",
            )
        )
    if not findings and widened_mm2 >= NOTED_MM2:
        findings.append(
            note(
                "webs-widened",
                f"Webs of the sheet between letters were made {width:g} mm wide, which takes "
                f"{widened_mm2:.1f} mm² from the letters.",
            )
        )
    return findings


def _shares(areas: Sequence[shapely.Geometry], shape: Polygon) -> npt.NDArray[np.float64]:
    """The share of each area that the plate covers."""
    if not areas:
        return np.zeros(0)
    covered = shapely.area(shapely.intersection(areas, shape))
    return np.asarray(covered / np.maximum(shapely.area(areas), 1e-9))


def _loses_a_mark(letter: Letter, shape: Polygon) -> bool:
    """True if a part of a letter in several parts is nearly covered."""
    parts = list(letter.shape.geoms)
    return len(parts) > 1 and bool((_shares(parts, shape) > MARK_GONE).any())
