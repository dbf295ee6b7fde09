"""What the page wants looked at beyond what a list says itself: likely slips of the pen."""

from collections.abc import Sequence
from dataclasses import replace
from statistics import median
from typing import Final

from namebatch.finding import Finding, Severity, warn
from namebatch.names.row import Row

MANY: Final = 200
"""So many pieces of one line are looked at (common practice, no source)."""
TIMES: Final = 10
"""So many times the list's usual number, too (common practice, no source)."""
DUPLICATE: Final = "duplicate"
LARGE: Final = "quantity-large"


def with_looks(rows: Sequence[Row]) -> tuple[Row, ...]:
    """Rows with a warning where a line repeats another to the letter, or orders very many.

    Two people may have one name, and a hundred pieces may be meant; one look settles it.

    Args:
        rows: of a list as it was read.
    """
    ordered = [row.quantity for row in rows if row.quantity > 0]
    usual = median(ordered) if ordered else 0
    return tuple(_looked(row, usual) for row in rows)


def _looked(row: Row, usual: float) -> Row:
    found = tuple(
        replace(each, severity=Severity.WARN) if each.code == DUPLICATE else each
        for each in row.findings
    )
    large = _large(row, usual)
    if large is None and found == row.findings:
        return row
    return replace(row, findings=(*found, large) if large else found)


def _large(row: Row, usual: float) -> Finding | None:
    if row.quantity >= MANY:
        why = "a large number for one line"
    elif row.quantity > TIMES * usual:
        why = f"more than {TIMES} times as many as usual in this list ({usual:g})"
    else:
        return None
    return warn(
        LARGE,
        f"{row.where}: {row.quantity:,} pieces are ordered, {why}. Correct the number, or approve "
        "the piece if so many are meant.",
    )
