"""What the desk hands out: frozen, and of nothing but plain values, so that it can be sent as JSON.

Names and shapes are those of the page's interface. Lengths in mm, areas in mm².
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import Literal

from namebatch.finding import Severity

RowState = Literal["waiting", "made", "held"]
Part = Literal["list", "look", "lay-out", "make"]
"""A part of the docket on the page."""
Latest = Literal["none", "current", "changed", "unsure"]
"""How the job made last stands to the docket; ``changed``: it is not what would be made now."""
EventKind = Literal["pieces", "changed", "make"]


@dataclass(frozen=True, slots=True)
class Told:
    """A finding as it is sent."""

    code: str
    severity: Severity
    message: str


@dataclass(frozen=True, slots=True)
class Problem:
    """Why nothing can be made of a docket yet: a sentence, and one line for each thing wrong."""

    what: str
    details: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class TemplateName:
    """A template by its folder's name and its title."""

    name: str
    title: str


@dataclass(frozen=True, slots=True)
class Counts:
    """How far a docket is; lines = made + held + waiting, always.

    Attributes:
        lines: rows of the list.
        made: rows whose piece is made.
        held: rows that cannot be made, or shall not; `left_out` of them on purpose.
        waiting: rows that were not tried yet.
        look: made rows that have a warning and were not approved as they are.
        approved: made rows that were approved as they are.
        pieces: what the made rows order in all.
        spares: what is made beside that.
    """

    lines: int
    made: int
    held: int
    waiting: int
    look: int
    approved: int
    pieces: int
    spares: int = 0
    left_out: int = 0


@dataclass(frozen=True, slots=True)
class Next:
    """The one thing to do next, and the part of the docket where it is done."""

    text: str
    part: Part


@dataclass(frozen=True, slots=True)
class DocketView:
    """A docket as the page shows it.

    Attributes:
        number, title, created, changed, list_name, can_undo, can_redo, jobs: as the store has them.
        state: the part where it stands; ``done`` if that was said.
        revision: rises with every change; never the same again after a restart.
        template: None as long as none was chosen, or where it is there no longer.
        settings: what was chosen, by the names of `pipeline.Settings`.
        counts: as they were seen last while it is not open; None if they never were, it has no
            list, or cannot be made.
        undo_told, redo_told: what would be taken back, or done again.
        problem: why nothing can be made yet.
        findings: about list and template as a whole.
        notes: what should be known of it as a whole, in sentences.
        next: what to do next.
        latest_job: whether a job was made, and whether something was changed since.
    """

    number: int
    title: str
    created: datetime
    changed: datetime
    state: str
    revision: int
    template: TemplateName | None
    list_name: str
    settings: Mapping[str, object]
    counts: Counts | None
    can_undo: bool
    can_redo: bool
    undo_told: str | None
    redo_told: str | None
    jobs: int
    problem: Problem | None
    findings: tuple[Told, ...]
    notes: tuple[str, ...]
    next: Next
    latest_job: Latest


@dataclass(frozen=True, slots=True)
class FieldView:
    """A field of the template, quantity and order included, and the header that feeds it.

    Attributes:
        name: of the field, ``quantity`` or ``order``.
        required: False if it may stay without a column.
        header: None where no column feeds it.
        guessed: False if somebody said it.
    """

    name: str
    required: bool
    header: str | None
    guessed: bool


@dataclass(frozen=True, slots=True)
class FirstRow:
    """One of the first rows: its line, and header → cell."""

    line: int
    values: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Correction:
    """A row that is held, or in which the list is doubtful; changes by hand are on it already.

    Left out, held by hand or approved it is `settled`, needs no mending and has no findings.
    """

    line: int
    place: str
    state: RowState
    fields: Mapping[str, str]
    quantity: int
    findings: tuple[Told, ...]
    settled: Literal["", "left out", "held by hand", "approved"]


@dataclass(frozen=True, slots=True)
class ListView:
    """The list of a docket.

    Attributes:
        source: name of the file, or ``pasted text``; empty as long as there is none.
        reading: how it was read, for people.
        lines: rows that are not blank.
        blank_lines: how many were skipped.
        headers: in the order of the list.
        fields: what needs a column, quantity and order last.
        first: the first eight rows.
        problem: why it cannot be used as it is.
        findings: about the list as a whole.
        corrections: rows that are held, or with something to look at in the list itself.
    """

    source: str
    reading: str
    lines: int
    blank_lines: int
    headers: tuple[str, ...]
    fields: tuple[FieldView, ...]
    first: tuple[FirstRow, ...]
    problem: Problem | None
    findings: tuple[Told, ...]
    corrections: tuple[Correction, ...]


@dataclass(frozen=True, slots=True)
class Counted:
    """After a change: revision and counts."""

    revision: int
    counts: Counts


@dataclass(frozen=True, slots=True)
class Liked:
    """After a change was applied to rows alike: which lines, revision and counts."""

    changed: tuple[int, ...]
    revision: int
    counts: Counts


@dataclass(frozen=True, slots=True)
class Stepped:
    """After a step was taken back, or again.

    Attributes:
        told: what it was; None if there was none.
        revision: now.
        lines: whose pieces change by it; None for all of them.
    """

    told: str | None
    revision: int
    lines: tuple[int, ...] | None


@dataclass(frozen=True, slots=True)
class StepView:
    """A step of the history; `done` is False if it was taken back."""

    number: int
    told: str
    at: datetime
    done: bool


@dataclass(frozen=True, slots=True)
class Event:
    """What whoever watches a docket is told.

    Attributes:
        kind: ``pieces`` {done, total, lines}; ``changed`` {revision, lines or None for all};
            ``make``, see `making`.
        data: as JSON has it.
    """

    kind: EventKind
    data: Mapping[str, object] = field(default_factory=dict)
