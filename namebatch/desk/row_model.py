"""What the desk hands out of rows and their pieces: frozen and of plain values, as in `model`."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from namebatch.desk.model import RowState, Told
from namebatch.finding import Severity

Approved = Literal["no", "yes", "stale"]


@dataclass(frozen=True, slots=True)
class RowView:
    """A row on the wall.

    Attributes:
        line, place, fields, quantity, order: as in `names.Row`, changes by hand applied.
        text: what the piece says, in one line.
        state: made, held, or not tried yet.
        severity: of its gravest finding; None without any.
        codes: of its findings, each once.
        message: of its gravest finding; empty without any.
        looks: what of it is to be looked at, each of its warnings without its place.
        approved: ``stale`` if another piece was approved than the one that is there now.
        mended: something was changed by hand.
        held_by_hand: somebody does not want it made.
        picture: digest of what it looks like; None as long as it is not made.
        size_mm: width and height of the finished piece.
    """

    line: int
    place: str
    text: str
    fields: Mapping[str, str]
    quantity: int
    order: str
    state: RowState
    severity: Severity | None
    codes: tuple[str, ...]
    message: str
    looks: tuple[str, ...]
    approved: Approved
    mended: bool
    held_by_hand: bool
    picture: str | None
    size_mm: tuple[float, float] | None


@dataclass(frozen=True, slots=True)
class RowsView:
    """Rows of a docket as of a revision."""

    revision: int
    rows: tuple[RowView, ...]


@dataclass(frozen=True, slots=True)
class TextView:
    """A text of a piece as it is set.

    Attributes:
        box: name of its text box.
        face: front or back.
        text: what was set; empty where it is not set, as it is empty or the row is held.
        font: typeface that set it; empty where it is not set.
        height_mm: of its capitals; 0 where it is not set.
        min_height_mm: the template's least.
        bent: it runs along an arc or a path and has one line.
        lines: what stands on each line.
        shift_mm: how far it was moved by hand.
        breaks: the two lines of every way in which it may be broken by hand.
        is_empty: the row has nothing to set in it.
    """

    box: str
    face: str
    text: str
    font: str
    height_mm: float
    min_height_mm: float
    bent: bool
    lines: tuple[str, ...]
    shift_mm: tuple[float, float]
    breaks: tuple[tuple[str, str], ...] = ()
    is_empty: bool = False


@dataclass(frozen=True, slots=True)
class Measures:
    """What was measured on a piece.

    Attributes:
        size_mm: width and height of the finished outline.
        area_mm2: of it.
        narrowest_mm: width of its narrowest place.
        required_mm: least width that the material asks for.
        bridges: how many there are.
        bridge_least_mm: no bridge may be narrower.
        has_bridges: False where the template's rule never makes any.
        hang_tilt_deg: how far it leans when it hangs; None without a hole.
        holes: how many go through it.
    """

    size_mm: tuple[float, float]
    area_mm2: float
    narrowest_mm: float
    required_mm: float
    bridges: int
    bridge_least_mm: float
    has_bridges: bool
    hang_tilt_deg: float | None
    holes: int


@dataclass(frozen=True, slots=True)
class Alike:
    """Rows that have something in common with one: what a change may be applied to.

    Attributes:
        key: to name the group by.
        label: for people: ``all with team "Terns"``.
        count: how many there are beside the one.
    """

    key: str
    label: str
    count: int


@dataclass(frozen=True, slots=True)
class AsRead:
    """What the list says in a row, before any change by hand; quantity 0: none of use."""

    fields: Mapping[str, str]
    quantity: int


@dataclass(frozen=True, slots=True)
class RowDetail(RowView):
    """One row opened large: all of `RowView`, and what is known of its piece.

    Attributes:
        values: header → cell, as the list has it.
        read: its texts and its quantity as the list has them.
        findings: all of them.
        texts: that can be changed by hand, set or not, in painting order.
        measures: None where there is no piece.
        mend: what was changed by hand, as `mends.file` has it; None for nothing.
        alike: groups of rows that a change may be applied to.
        previous, next_line: lines before and after it in the list.
    """

    revision: int
    values: Mapping[str, str]
    read: AsRead
    findings: tuple[Told, ...]
    texts: tuple[TextView, ...]
    measures: Measures | None
    mend: Mapping[str, object] | None
    alike: tuple[Alike, ...]
    previous: int | None
    next_line: int | None


@dataclass(frozen=True, slots=True)
class Tried:
    """A row with a change that is not kept: how it would be, and its large picture."""

    detail: RowDetail
    picture_svg: str | None


@dataclass(frozen=True, slots=True)
class Picture:
    """A picture of a piece.

    Attributes:
        digest: of what it looks like.
        svg: the document, UTF-8.
    """

    digest: str
    svg: bytes
