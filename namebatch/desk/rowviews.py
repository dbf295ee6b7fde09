"""Rows as the page shows them."""

import re
from collections.abc import Iterable
from dataclasses import replace
from typing import Final

from namebatch.desk.alike import alike_of
from namebatch.desk.boxes import texts_of
from namebatch.desk.model import Counts, RowState, Told
from namebatch.desk.opened import Opened
from namebatch.desk.plainly import plainly
from namebatch.desk.row_model import Approved, AsRead, RowDetail, RowView
from namebatch.desk.shown import Shown
from namebatch.errors import SettingsError
from namebatch.finding import Finding, Severity
from namebatch.names.mend import plain_mend
from namebatch.names.mended import is_left_out
from namebatch.names.row import Row
from namebatch.spares import Spare, read_spare, spares_of
from namebatch.store import Choices

_PLACE: Final = re.compile(r"^(?:Line|Row) \d+(?:: |, (?=\"))")
_GRAVE = (Severity.HOLD, Severity.WARN, Severity.NOTE)


def told(findings: Iterable[Finding]) -> tuple[Told, ...]:
    """Findings as they are sent."""
    return tuple(Told(f.code, f.severity, plainly(f.message)) for f in findings)


def _bare(finding: Finding) -> str:
    """What a finding says, without where."""
    said = plainly(_PLACE.sub("", finding.message))
    return said[:1].upper() + said[1:]


def gravest(findings: Iterable[Finding]) -> Finding | None:
    """The first of the gravest."""
    return min(findings, key=lambda f: _GRAVE.index(f.severity), default=None)


def row_view(row: Row, made: Shown | None, approved: str | None) -> RowView:
    """A row on the wall.

    Args:
        row: with all findings that are known.
        made: what is shown of it; None while it waits.
        approved: digest of what was approved, None if nothing was.
    """
    worst = gravest(row.findings)
    measures = made.measures if made else None
    return RowView(
        line=row.line,
        place=row.place,
        text=said(row, made),
        fields=row.fields,
        quantity=row.quantity,
        order=row.order,
        state=state_of(made),
        severity=worst.severity if worst else None,
        codes=tuple(dict.fromkeys(f.code for f in row.findings)),
        message=plainly(worst.message) if worst else "",
        looks=tuple(dict.fromkeys(_bare(f) for f in row.findings if f.severity is Severity.WARN)),
        approved=approval(made, approved),
        mended=row.mend is not None and not row.mend.is_empty,
        held_by_hand=row.mend is not None and bool(row.mend.held),
        picture=made.drawing.digest if made and made.drawing else None,
        size_mm=measures.size_mm if measures else None,
    )


def said(row: Row, made: Shown | None) -> str:
    """What a piece says, in one line; of one that is not made what it would say."""
    texts = [text.text for text in made.texts] if made and made.texts else row.fields.values()
    return " · ".join(dict.fromkeys(" ".join(text.split()) for text in texts if text.strip()))


def state_of(made: Shown | None) -> RowState:
    """Whether a row is made, held, or waits."""
    if made is None:
        return "waiting"
    return "held" if made.row.held else "made"


def approval(made: Shown | None, approved: str | None) -> Approved:
    """Whether what there is now is what was approved; nothing is said of a row that waits."""
    if made is None or approved is None:
        return "no"
    return "yes" if made.drawing is not None and made.drawing.digest == approved else "stale"


def row_detail(
    opened: Opened, row: Row, made: Shown, approved: str | None, revision: int
) -> RowDetail:
    """A row opened large."""
    view = row_view(row, made, approved)
    lines = opened.lines
    at = opened.places[row.line]
    mend = plain_mend(replace(row.mend, was={})) if row.mend else {}
    read = opened.read[row.line]
    return RowDetail(
        **{name: getattr(view, name) for name in RowView.__slots__},
        revision=revision,
        values=row.values,
        read=AsRead(read.fields, read.quantity),
        findings=told(row.findings),
        texts=texts_of(opened.plan.template, row, made.texts),
        measures=made.measures,
        mend=mend or None,
        alike=alike_of(opened, row, made),
        previous=lines[at - 1] if at else None,
        next_line=lines[at + 1] if at + 1 < len(lines) else None,
    )


def counts_of(opened: Opened, choices: Choices) -> Counts:
    """How far a docket is; lines = made + held + waiting."""
    approvals, wish = choices.approvals, choices.settings.get("spare")
    made = held = out = look = agreed = pieces = 0
    for line in opened.lines:
        found = opened.shown(line)
        if found is None:
            continue
        if found.row.held:
            held += 1
            out += is_left_out(found.row)
            continue
        made += 1
        pieces += found.row.quantity
        if approval(found, approvals.get(line)) == "yes":
            agreed += 1
        elif any(f.severity is Severity.WARN for f in found.row.findings):
            look += 1
    lines = len(opened.lines)
    spares = spares_of(_spare(wish), pieces, made)
    return Counts(lines, made, held, lines - made - held, look, agreed, pieces, spares, out)


def _spare(wish: object) -> Spare:
    """None where what was chosen is no number of spares; that is the docket's problem then."""
    try:
        return read_spare(wish if isinstance(wish, str) else None)
    except SettingsError:
        return Spare()
