"""What the store takes and gives. Times are given by the caller and carry their zone."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from enum import StrEnum

from namebatch.names.mend import Mend

Setting = str | int | float | bool | list["Setting"] | dict[str, "Setting"]


class State(StrEnum):
    """Where a docket stands: the section that comes next, or all done."""

    LIST = "list"
    LOOK = "look"
    LAY_OUT = "lay-out"
    MAKE = "make"
    DONE = "done"


@dataclass(frozen=True, slots=True)
class KeptList:
    """A list as it came.

    Attributes:
        name: of its file, without folder; ``pasted text`` where it was pasted.
        data: its bytes.
        pasted: True if it was typed or pasted and is no file.
    """

    name: str
    data: bytes
    pasted: bool = False


@dataclass(frozen=True, slots=True)
class Docket:
    """A docket without what it holds.

    Attributes:
        number: counted up; that of a deleted docket is never given again.
        title: for people.
        created, changed: as the caller said.
        state: where it stands.
        list_name: file name of its list; empty as long as there is none.
        mends, approvals, jobs, spoiled: how many it holds.
        can_undo, can_redo: whether there is a step to take back, or to take again.
    """

    number: int
    title: str
    created: datetime
    changed: datetime
    state: State
    list_name: str
    mends: int
    approvals: int
    jobs: int
    spoiled: int
    can_undo: bool
    can_redo: bool


@dataclass(frozen=True, slots=True)
class Choices:
    """What was chosen in a docket, as it stands now.

    Attributes:
        settings: name → JSON value: template, workshop, sheet, gap, columns and so on.
        mends: line of the list → what was changed by hand.
        approvals: line of the list → digest of what was approved, so that it can be seen whether
            the piece is still that one.
    """

    settings: Mapping[str, Setting] = field(default_factory=dict)
    mends: Mapping[int, Mend] = field(default_factory=dict)
    approvals: Mapping[int, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Change:
    """What is changed in one step, taken back and taken again as one; None takes away.

    Attributes:
        settings, mends, approvals: as in `Choices`; what is not named stays as it is.
        title: another one for the docket; None leaves it.
        names: another list, or the first; None leaves what there is.
    """

    settings: Mapping[str, Setting | None] = field(default_factory=dict)
    mends: Mapping[int, Mend | None] = field(default_factory=dict)
    approvals: Mapping[int, str | None] = field(default_factory=dict)
    title: str | None = None
    names: KeptList | None = None


@dataclass(frozen=True, slots=True)
class Step:
    """A step of a docket's history.

    Attributes:
        number: counted from 1.
        told: what was done, for people.
        at: when.
        done: False if it was taken back.
    """

    number: int
    told: str
    at: datetime
    done: bool


@dataclass(frozen=True, slots=True)
class MadeJob:
    """A job that was written.

    Attributes:
        number: within its docket, from 1.
        folder: its name below the docket's folder.
        digest: of its manifest.
        at: when.
    """

    number: int
    folder: str
    digest: str
    at: datetime


@dataclass(frozen=True, slots=True)
class SpoiledPiece:
    """A piece that has to be made again: its job, its id, when it was said."""

    job: int
    piece: str
    at: datetime


@dataclass(frozen=True, slots=True)
class MeasuredMark:
    """A mark as it was measured: its job and sheet, its name, and where it is in mm."""

    job: int
    sheet: str
    mark: str
    x_mm: float
    y_mm: float


@dataclass(frozen=True, slots=True)
class Deleted:
    """What became of a deletion.

    Attributes:
        complete: nothing of the docket is left on the disk.
        left: what could not be removed yet, for people; it is tried again at the next start.
    """

    complete: bool
    left: tuple[str, ...] = ()
