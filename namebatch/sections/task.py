"""What goes to whoever makes a section, and what comes back: plain data, for any process."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace

from namebatch.crew import Line
from namebatch.maker import make_maker
from namebatch.names.row import NameList, Row
from namebatch.outline import Limits
from namebatch.piece import Piece
from namebatch.pipeline import Plan
from namebatch.settings import Settings
from namebatch.sheet import Stock
from namebatch.sheet.model import Jig, Sheet
from namebatch.spares import Spare
from namebatch.template.model import Template
from namebatch.template.workshop import Workshop
from namebatch.text.fit import Common


@dataclass(frozen=True, slots=True)
class Kit:
    """A plan without its rows and its open typefaces, which are opened where they are used."""

    settings: Settings
    template: Template
    workshop: Workshop
    names: NameList
    stocks: tuple[Stock, ...]
    limits: Limits
    font: str | None
    paper: str
    common: Mapping[str, Common]
    han_language: str
    bleed_mm: float
    recorded: Mapping[str, object]
    notes: tuple[str, ...]
    spare: Spare
    jig: Jig | None


@dataclass(frozen=True, slots=True)
class Task:
    """A section to be made.

    Attributes:
        number, of: which one, from 1.
        rows: of the list, as they were read.
        settings: of the job, as far as they concern these rows.
        stems: order → name of its files; empty where the list has no more than one order.
        folder: where it is made; it exists and is empty. Empty where the maker has a place of
            its own.
    """

    number: int
    of: int
    rows: tuple[Row, ...]
    settings: Settings
    stems: Mapping[str, str]
    folder: str = ""


@dataclass(frozen=True, slots=True)
class Counts:
    """Sheets of a section, or of all before it.

    Attributes:
        faces, boards: so many sheets of each kind.
        pages: of the print file.
        used: names of the part-used boards that were cut from.
    """

    faces: int = 0
    boards: int = 0
    pages: int = 0
    used: tuple[str, ...] = ()

    def plus(self, other: "Counts") -> "Counts":
        """Both together."""
        return Counts(
            self.faces + other.faces,
            self.boards + other.boards,
            self.pages + other.pages,
            (*self.used, *other.used),
        )


@dataclass(frozen=True, slots=True)
class Boards:
    """A section asks, before it is filled: which part-used boards are gone? Answer: `Counts`."""


@dataclass(frozen=True, slots=True)
class Numbers:
    """A section asks, once it is filled: what is before it? Answer: `Counts`."""

    counts: Counts


@dataclass(frozen=True, slots=True)
class Step:
    """How far a stage is."""

    stage: str
    done: int
    total: int


@dataclass(frozen=True, slots=True)
class Searched:
    """How far a search for fewer sheets is: share of its time, sheets needed so far."""

    share: float
    sheets: float


@dataclass(frozen=True, slots=True)
class Laid:
    """A section shows a sheet."""

    sheet: Sheet
    pieces: Mapping[str, Piece]


@dataclass(frozen=True, slots=True)
class Whole:
    """A section that is made.

    Attributes:
        number: which one.
        counts: of its sheets.
        before: what it took to be before it.
        files: path below its folder, with ``/`` → SHA-256, all files but the marker.
    """

    number: int
    counts: Counts
    before: Counts
    files: Mapping[str, str] = field(default_factory=dict)


def kit_of(plan: Plan) -> Kit:
    """What of a plan goes to other processes."""
    maker = plan.maker
    return Kit(
        settings=replace(plan.settings, mends={}),
        template=maker.template,
        workshop=plan.workshop,
        names=replace(plan.names, rows=()),
        stocks=plan.stocks,
        limits=maker.limits,
        font=maker.font,
        paper=maker.beneath.paper,
        common=dict(maker.letterer.common),
        han_language=maker.letterer.han_language,
        bleed_mm=plan.bleed_mm,
        recorded=plan.recorded,
        notes=plan.notes,
        spare=plan.spare,
        jig=plan.jig,
    )


def opened(kit: Kit) -> Plan:
    """The plan again, its typefaces open, without rows."""
    maker = make_maker(kit.template, kit.limits, kit.font, kit.paper)
    letterer = replace(maker.letterer, common=kit.common, han_language=kit.han_language)
    return Plan(
        settings=kit.settings,
        template=kit.template,
        workshop=kit.workshop,
        names=kit.names,
        stocks=kit.stocks,
        maker=replace(maker, letterer=letterer),
        bleed_mm=kit.bleed_mm,
        recorded=kit.recorded,
        notes=kit.notes,
        spare=kit.spare,
        jig=kit.jig,
    )


Do = Callable[[Task, Line], Whole]
"""Makes a section."""
