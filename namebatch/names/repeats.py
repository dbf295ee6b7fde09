"""Rows that say the same as an earlier one, to the letter or nearly."""

import re
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from namebatch.finding import Finding, note, warn
from namebatch.names.characters import shown
from namebatch.names.row import Row
from namebatch.names.same_orders import order_key

_SHOWN: Final = 40
_MOST_LINES: Final = 3
# Spaces, and the signs that people type for an apostrophe or a hyphen.
_LOOSE: Final = re.compile(r"[\s'’‘ʼʻ`´\-–]+")

Said = tuple[str, ...]


def with_repeats(rows: Sequence[Row], place: str) -> tuple[Row, ...]:
    """Rows again, with a finding on those that repeat another.

    A row that says exactly what an earlier one says has a note: two people may have one name.
    Rows that differ in nothing but capitals, spaces, apostrophes or hyphens have a warning,
    each of them, for one of the spellings is likely a slip. Where rows name orders each order is
    looked at by itself: what another customer ordered is no repetition, and nobody else's business.

    Args:
        rows: in list order.
        place: ``Line`` or ``Row``.
    """
    alike: dict[tuple[str, Said], list[int]] = defaultdict(list)
    for at, row in enumerate(rows):
        said = tuple(row.fields.values())
        if any(said):
            alike[order_key(row.order), _loosely(said)].append(at)
    found: dict[int, list[Finding]] = {}
    for group in alike.values():
        if len(group) > 1:
            found.update(_in_group([rows[at] for at in group], group, place))
    if not found:
        return tuple(rows)
    return tuple(
        replace(row, findings=(*row.findings, *found[at])) if found.get(at) else row
        for at, row in enumerate(rows)
    )


def _loosely(said: Said) -> Said:
    return tuple(_LOOSE.sub("", text.casefold()) or text for text in said)


def _in_group(rows: Sequence[Row], places: Sequence[int], place: str) -> dict[int, list[Finding]]:
    first: dict[Said, int] = {}
    for row in rows:
        first.setdefault(tuple(row.fields.values()), row.line)
    found: dict[int, list[Finding]] = {at: [] for at in places}
    for at, row in zip(places, rows, strict=True):
        said = tuple(row.fields.values())
        if len(first) > 1:
            found[at].append(_nearly(row, [one for one in first.items() if one[0] != said], place))
        if first[said] != row.line:
            found[at].append(_exactly(row, first[said], place))
    return found


def _exactly(row: Row, line: int, place: str) -> Finding:
    return note(
        "duplicate",
        f'{place} {row.line}: "{_text(tuple(row.fields.values()))}" stands on {place.lower()} '
        f"{line} already{_where(row)}. Delete one of the two if it is not meant twice.",
    )


def _nearly(row: Row, others: Sequence[tuple[Said, int]], place: str) -> Finding:
    some = ", ".join(
        f'"{_text(said)}" on {place.lower()} {line}' for said, line in others[:_MOST_LINES]
    )
    more = f" and {len(others) - _MOST_LINES} more" if len(others) > _MOST_LINES else ""
    return warn(
        "almost-duplicate",
        f'{place} {row.line}: "{_text(tuple(row.fields.values()))}" is nearly {some}{more}. '
        "Write both alike, or delete one if they are the same.",
    )


def _where(row: Row) -> str:
    """That only the row's own order was looked at, if it has one."""
    return ", in this order" if row.order else ""


def _text(said: Said) -> str:
    return shown(", ".join(text for text in said if text), _SHOWN)
