"""What a step is called in the history."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Final

from namebatch.names.characters import shown
from namebatch.names.mend import Mend
from namebatch.names.mended import changes_told
from namebatch.names.row import Row
from namebatch.store.model import KeptList, Setting

_SETTINGS: Final = {
    "template": "template",
    "columns": "columns",
    "sheet": "sheet",
    "material": "material",
    "board": "board",
    "gap_mm": "gap",
    "font": "typeface",
    "fill": "filling of the sheets",
    "seconds": "time for the search",
    "keep_order": "order of the list",
    "by_order": "sheets by order",
    "spare": "spares",
}
_UNITS: Final = {"gap_mm": " mm", "seconds": " s"}

LEFT_OUT: Final = "left out"
"""Why a row is held that somebody does not want made, whatever may come."""
_WAYS: Final = {
    "by_order": "pieces of an order together",
    "keep_order": "in the order of the list",
}


def told_settings(
    wanted: Mapping[str, Setting | None], titles: Mapping[str, str] | None = None
) -> str:
    """Settings that were changed; how sheets are filled is one choice and told as one.

    Args:
        wanted: setting → what was chosen; None for what is usual.
        titles: setting → what people call what was chosen, where that is not the value itself.
    """
    if {"fill", *_WAYS} <= wanted.keys():
        chosen = next((told for name, told in _WAYS.items() if wanted[name]), None)
        usual = "searched for" if wanted["fill"] == "tight" else "found quickly"
        return f"which piece goes where: {chosen or usual}"
    called = {**wanted, **(titles or {})}
    return "; ".join(_setting(name, called[name]) for name in wanted) or "nothing"


def _setting(name: str, value: Setting | None) -> str:
    label = _SETTINGS.get(name, name)
    if value is None:
        return f"{label}: as usual"
    if isinstance(value, bool):
        return f"{label}: {'yes' if value else 'no'}"
    if isinstance(value, dict):
        pairs = (
            f"{shown(field, 40)} from {shown(str(header), 40)}" for field, header in value.items()
        )
        return f"{label}: {', '.join(pairs) or 'guessed'}"
    return f"{label}: {shown(str(value), 80)}{_UNITS.get(name, '')}"


def told_mend(row: Row, before: Mend | None, after: Mend | None) -> str:
    """What was done to a row by hand, and not how it stands then.

    Args:
        row: as it was read.
        before: what was changed in it till then; None for nothing.
        after: what is changed in it now.
    """
    first, then = before or Mend(), after or Mend()
    old, new = changes_told(row, first), changes_told(row, then)
    come, gone = [one for one in new if one not in old], [one for one in old if one not in new]
    told = list(_told_held(first.held, then.held))
    if come:
        told.append("; ".join(come))
    elif gone and new:
        told.append(f"taken back: {'; '.join(gone)}")
    elif gone:
        told.append("changes by hand taken away")
    return f"{row.where}: {'; '.join(told) or 'changed by hand'}"


def _told_held(before: str, after: str) -> Iterator[str]:
    if before == after:
        return
    if after:
        yield "left out" if after == LEFT_OUT else "held by hand"
    else:
        yield "taken in again" if before == LEFT_OUT else "no longer held by hand"


def told_approvals(digests: Mapping[int, str | None], place: str) -> str:
    """Pieces that were approved, or are not any more."""
    given = [line for line, digest in digests.items() if digest is not None]
    taken = [line for line, digest in digests.items() if digest is None]
    told = []
    if given:
        told.append(f"{_lines(given, place)} approved")
    if taken:
        told.append(f"{_lines(taken, place)} not approved any more")
    return "; ".join(told) or "nothing"


def told_like(row: Row, lines: Sequence[int], place: str) -> str:
    """A change that was applied to rows alike."""
    return f"change of {row.where.lower()} applied to {_lines(lines, place).lower()}"


def told_list(names: KeptList, lines: Sequence[int], place: str) -> str:
    """Another list, or the first one.

    Args:
        names: the list.
        lines: whose changes by hand do not fit it.
        place: of its rows, ``Line`` or ``Row``.
    """
    told = f"list: {'pasted text' if names.pasted else shown(names.name, 80)}"
    if lines:
        told += f"; changes by hand that do not fit it taken away: {_lines(lines, place).lower()}"
    return told


def told_title(title: str) -> str:
    """Another title of a docket."""
    return f"title: {shown(' '.join(title.split()), 80)}"


def _lines(lines: Sequence[int], place: str) -> str:
    if len(lines) == 1:
        return f"{place} {lines[0]}"
    return f"{len(lines):,} {place.lower()}s"
