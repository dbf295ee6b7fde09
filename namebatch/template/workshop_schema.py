"""The keys of a workshop file, one model a table."""

from typing import Annotated, Literal

from pydantic import AfterValidator, BeforeValidator, Field

from namebatch.errors import WorkshopError
from namebatch.template.paper import sheet_size
from namebatch.template.schema import Colour, Plain, Table
from namebatch.template.workshop import ENGRAVE_LINE_MM, CutterKind


def _sheet(text: str) -> str:
    """A sheet that `sheet_size` knows."""
    try:
        sheet_size(text)
    except WorkshopError as error:
        raise ValueError(error.what) from None
    return text.strip().lower()


def _exactly(count: int, names: str) -> AfterValidator:
    """A list of exactly so many numbers."""

    def check(values: list[float]) -> list[float]:
        if len(values) != count:
            raise ValueError(f"needs {count} numbers, [{names}], not {len(values)}.")
        return values

    return AfterValidator(check)


def _both_ways(value: object) -> object:
    """One kerf for x and y when only one is given."""
    alone = isinstance(value, int | float) and not isinstance(value, bool)
    return [value, value] if alone else value


Side = Annotated[float, Field(ge=20.0, le=3000.0)]
Margin = Annotated[float, Field(ge=0.0, le=100.0)]
Speed = Annotated[float, Field(ge=0.1, le=5000.0)]
Travel = Annotated[float, Field(ge=1.0, le=5000.0)]
Acceleration = Annotated[float, Field(ge=1.0, le=100_000.0)]
"""What is slower is a slip of the pen: no cutter creeps so (common practice, no source)."""
Kerf = Annotated[float, Field(ge=0.0, le=1.0)]
Scale = Annotated[float, Field(ge=0.97, le=1.03)]
"""Printers are off by 0.1 to 0.5 % (common practice), up to 3 % is documented in manuals; what is
farther off was printed to fit the page."""
Area = Annotated[list[Side], _exactly(2, "width, height")]


class PrinterTable(Table):
    """``[printer]``."""

    name: Plain = "Printer"
    sheet: Annotated[Plain, AfterValidator(_sheet)]
    margins_mm: Annotated[list[Margin], _exactly(4, "top, right, bottom, left")]
    scale: Annotated[list[Scale], _exactly(2, "x, y"), Field(default=[1.0, 1.0])]
    correct: Literal["cut", "print"] = "cut"


class ColoursTable(Table):
    """``[cutter.colours]``: the colour of an operation's lines."""

    mark: Colour = "#009e73"
    engrave: Colour = "#000000"
    inner: Colour = "#0072b2"
    outer: Colour = "#d55e00"
    window: Colour = "#cc79a7"


class CutterTable(Table):
    """``[cutter]``."""

    name: Plain = "Cutter"
    bed_mm: Area
    travel_mm_s: Travel
    acceleration_mm_s2: Acceleration
    corner_mm: Annotated[float, Field(ge=0.001, le=5.0)] = 0.05
    price_per_hour: Annotated[float, Field(ge=0.0, le=100_000.0)] | None = None
    kind: CutterKind = "laser"
    jig: Annotated[Plain, AfterValidator(_sheet)] | None = None
    files: Annotated[
        list[Literal["svg", "dxf"]], Field(min_length=1, max_length=2, default=["svg", "dxf"])
    ]
    colours: ColoursTable = ColoursTable()


class SpeedsTable(Table):
    """Speeds in mm/s; times reckon an operation that is not given as fast as the outer cut."""

    outer: Speed
    inner: Speed | None = None
    window: Speed | None = None
    mark: Speed | None = None
    engrave: Speed | None = None


class MachineTable(Table):
    """The workshop's own words for an operation, handed on to the work card as they are."""

    mark: Plain | None = None
    engrave: Plain | None = None
    inner: Plain | None = None
    outer: Plain | None = None
    window: Plain | None = None


class MaterialTable(Table):
    """``[material.NAME]``."""

    title: Plain
    sheet_mm: Area | None = None
    thickness_mm: Annotated[float, Field(gt=0.0, le=50.0)]
    kerf_mm: Annotated[list[Kerf], _exactly(2, "x, y"), BeforeValidator(_both_ways)]
    minimum_width_mm: Annotated[float, Field(ge=0.1, le=50.0)]
    edge_mm: Annotated[float, Field(ge=0.0, le=100.0)] = 0.0
    speeds_mm_s: SpeedsTable
    at_the_machine: MachineTable | None = None
    engrave_line_mm: Annotated[float, Field(ge=0.01, le=5.0)] = ENGRAVE_LINE_MM
    price: Annotated[float, Field(ge=0.0, le=1_000_000.0)] | None = None
    colour: Colour = "#f2eadb"
