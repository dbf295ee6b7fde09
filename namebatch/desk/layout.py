"""What the sheets of a docket are made of, and what can be chosen about them. mm."""

from dataclasses import dataclass
from typing import Final, Literal

from namebatch.pipeline import DEFAULT_GAP_MM, GAP_RANGE_MM, Plan
from namebatch.sheet import Stock
from namebatch.sheet.wishes import SECONDS
from namebatch.template.examples import example_parts
from namebatch.template.paper import NAMED_MM

PAPERS: Final = {"a5": "A5", "a4": "A4", "letter": "Letter", "a3": "A3"}
"""Names of sheets as people write them, the smallest first."""


@dataclass(frozen=True, slots=True)
class Paper:
    """A size of sheet that can be chosen."""

    name: str
    title: str
    size_mm: tuple[float, float]


@dataclass(frozen=True, slots=True)
class StockView:
    """What is printed, or cut, and from what.

    Attributes:
        kind: ``face`` is printed and cut, ``board`` only cut.
        material: as people call it.
        size_mm: of a sheet.
        kerf_mm: width of the cut in x and y.
        backs: a second page with the backs is stuck to each.
    """

    kind: Literal["face", "board"]
    material: str
    size_mm: tuple[float, float]
    kerf_mm: tuple[float, float]
    backs: bool


@dataclass(frozen=True, slots=True)
class LayoutView:
    """Sheets of a docket as they will be filled.

    Attributes:
        printer: its name; None where nothing is printed.
        cutter: its name.
        bed_mm: of the cutter.
        stocks: pages first, then boards.
        usual_sheet: name or size that is taken if none is chosen; None for the material's own.
        papers: sizes that lie on the cutter's bed.
        gap_mm: least distance of two cut lines as it is now.
        usual_gap_mm: if none is chosen.
        gap_range_mm: what can be chosen.
        usual_seconds: time of the tight filling if none is chosen.
        orders: lines name orders, so that sheets can go by them.
        built_in: the workshop's own values were not entered yet.
        examples: parts in use for which they were not, in words; empty where none were.
    """

    printer: str | None
    cutter: str
    bed_mm: tuple[float, float]
    stocks: tuple[StockView, ...]
    usual_sheet: str | None
    papers: tuple[Paper, ...]
    gap_mm: float
    usual_gap_mm: float
    gap_range_mm: tuple[float, float]
    usual_seconds: float
    orders: bool
    built_in: bool
    examples: tuple[str, ...]


def layout_of(plan: Plan) -> LayoutView:
    """What the sheets of a plan are made of."""
    workshop, stocks = plan.workshop, plan.stocks
    printed = any(stock.kind == "face" for stock in stocks)
    own = stocks[0].material.sheet_mm
    bed = workshop.cutter.bed_mm
    return LayoutView(
        printer=workshop.printer.name if printed else None,
        cutter=workshop.cutter.name,
        bed_mm=bed,
        stocks=tuple(_stock(stock) for stock in stocks),
        usual_sheet=workshop.printer.sheet if printed or own is None else None,
        papers=tuple(
            Paper(name, title, NAMED_MM[name])
            for name, title in PAPERS.items()
            if min(NAMED_MM[name]) <= min(bed) and max(NAMED_MM[name]) <= max(bed)
        ),
        gap_mm=stocks[0].gap_mm,
        usual_gap_mm=DEFAULT_GAP_MM,
        gap_range_mm=GAP_RANGE_MM,
        usual_seconds=SECONDS,
        orders=any(row.order for row in plan.names.rows),
        built_in=workshop.built_in,
        examples=example_parts(plan.template, workshop),
    )


def _stock(stock: Stock) -> StockView:
    return StockView(
        kind=stock.kind,
        material=stock.material.title,
        size_mm=stock.page.size_mm,
        kerf_mm=stock.material.kerf_mm,
        backs=stock.backs,
    )
