"""All that the output room needs to write one job."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from namebatch.names.row import NameList, Row
from namebatch.piece import Piece
from namebatch.sheet.model import Jig, ScaleBar, Sheet
from namebatch.template.model import Template
from namebatch.template.workshop import Workshop


@dataclass(frozen=True, slots=True)
class Totals:
    """Counts of a job; rows = made + held, always. Seconds and money are estimates.

    No arrangement needs fewer sheets than a lower bound; an area bound is that of area alone.
    The cost counts sheets and boards, and the cutter's time (`cutting_cost`) where it has a price.
    """

    rows: int
    made: int
    held: int
    pieces: int
    sheets: int
    sheets_lower_bound: int
    boards: int
    boards_lower_bound: int
    cut_seconds: float
    cost: float | None
    sheets_area_bound: int = 0
    boards_area_bound: int = 0
    cutting_cost: float | None = None
    spares: int = 0


@dataclass(frozen=True, slots=True)
class Section:
    """Which part of a large batch a job is.

    Attributes:
        number, of: 3 of 25.
        pages: of the print file that the parts before it have.
        stems: order → name of its files without ending; empty where the batch has no more than
            one order.
    """

    number: int
    of: int
    pages: int = 0
    stems: Mapping[str, str] = field(default_factory=dict)

    @property
    def words(self) -> str:
        """Put behind the name of a paper that is about this part."""
        return f", part {self.number} of {self.of}"


@dataclass(frozen=True, slots=True)
class Job:
    """A batch, ready to be written.

    Attributes:
        template, workshop: what it was made from.
        names: the list as read.
        rows: every row with all its findings, those of the making included.
        pieces: one for each row that was made, in list order.
        sheets: printed sheets first, then boards.
        jig: None when nothing is printed.
        scale_bars: on every printed page.
        bleed_mm: as printed (never more than half the gap).
        settings: what was chosen, for the manifest; JSON values only.
        notes: about the whole job, for summary and work card.
        totals: the counts.
        again: ids of its pieces, where it makes pieces of an earlier job again; else empty.
        section: which part of a large batch it is; None where it is all of it.
    """

    template: Template
    workshop: Workshop
    names: NameList
    rows: tuple[Row, ...]
    pieces: tuple[Piece, ...]
    sheets: tuple[Sheet, ...]
    jig: Jig | None
    scale_bars: tuple[ScaleBar, ...]
    bleed_mm: float
    settings: Mapping[str, object]
    notes: tuple[str, ...]
    totals: Totals
    again: tuple[str, ...] = ()
    section: Section | None = None

    def called(self, kind: str) -> str:
        """A kind of paper, and which part of a large batch it is about."""
        return kind if self.section is None else kind + self.section.words

    @property
    def title(self) -> str:
        """What its papers are called, so that those of a remake are told from the first ones."""
        if not self.again:
            return self.template.title
        return f"Remake of {some_of(self.again)}: {self.template.title}"


def some_of(ids: Sequence[str], most: int = 4) -> str:
    """Ids for a line: all of a few, of many the first and how many more."""
    more = len(ids) - most
    return ", ".join(ids[:most]) + (f" and {more:,} more" if more > 0 else "")
