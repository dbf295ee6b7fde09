"""What a job costs, where the workshop file has the prices."""

from collections.abc import Sequence
from dataclasses import dataclass

from namebatch.sheet.model import Sheet
from namebatch.template.workshop import Material, Workshop

SECONDS_AN_HOUR = 3600.0


@dataclass(frozen=True, slots=True)
class Cost:
    """Money, in whatever currency the workshop file's prices are.

    Attributes:
        material: of all sheets and boards.
        cutting: of the cutter's expected time, None if an hour has no price.
    """

    material: float
    cutting: float | None

    @property
    def total(self) -> float:
        """All that is known."""
        return self.material + (self.cutting or 0.0)


def cost_of(sheets: Sequence[Sheet], workshop: Workshop) -> Cost | None:
    """New sheets and boards at their prices, and the cutter's time at that of an hour.

    A part-used board was paid for with the job that it was new for.

    Returns:
        None if there is no sheet, nothing has a price, or the price of a material is not known: a
        sum that leaves material out would say too little.
    """
    new = [sheet for sheet in sheets if not sheet.part_used]
    # where backs are printed on a sheet of their own, two go into one
    prices = [
        workshop.materials[sheet.material].price for sheet in new for _ in range(1 + sheet.backs)
    ]
    known = [price for price in prices if price is not None]
    hour = workshop.cutter.price_per_hour
    priced = any(workshop.materials[sheet.material].price is not None for sheet in sheets)
    if not sheets or len(known) < len(prices) or not (priced or hour is not None):
        return None
    hours = sum(sheet.seconds for sheet in sheets) / SECONDS_AN_HOUR
    return Cost(sum(known), None if hour is None else hour * hours)


def unpriced(materials: Sequence[Material], workshop: Workshop) -> tuple[str, ...]:
    """Titles of the materials that keep a cost from being told, if any price is given at all."""
    without = dict.fromkeys(material.title for material in materials if material.price is None)
    given = workshop.cutter.price_per_hour is not None or any(
        material.price is not None for material in materials
    )
    return tuple(without) if given else ()
