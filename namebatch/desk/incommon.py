"""What rows have in common, counted as they change, so that nobody has to look at all of them."""

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import Final

from namebatch.desk.shown import Shown
from namebatch.names.row import Row

Key = tuple[str, ...]
"""Something that rows can have in common: its kind, and which it is."""
ALL: Final[Key] = ("all",)


def keys_of(row: Row, made: Shown | None) -> Iterator[Key]:
    """All that a row can have in common with others; a key may come more than once.

    Args:
        row: with all findings that are known.
        made: what is shown of it; None while it waits.
    """
    yield ALL
    for name, text in row.fields.items():
        if text:
            yield "field", name, text
    if row.order:
        yield "order", row.order
    for finding in row.findings:
        yield "code", finding.code
    for one in made.texts if made else ():
        yield "font", one.box, one.font
        if len(one.lines) > 1:
            yield "lines", one.box


class InCommon:
    """Counts of what the rows of a list have in common. Not to be shared by threads without a lock.

    Args:
        lines: of the list.
        find: gives a row as it is now, and what is shown of it.
    """

    def __init__(
        self, lines: Iterable[int], find: Callable[[int], tuple[Row, Shown | None]]
    ) -> None:
        self._find = find
        self._keys: dict[int, frozenset[Key]] = {}
        self._counts: Counter[Key] = Counter()
        self._changed = set(lines)

    def changed(self, line: int) -> None:
        """A row is another one now; it is looked at when somebody asks."""
        self._changed.add(line)

    def others(self, keys: Sequence[Key], line: int) -> tuple[int, ...]:
        """How many rows beside that of a line have each of some keys."""
        for one in self._changed:
            self._counts.subtract(self._keys.get(one, ()))
            self._keys[one] = frozenset(keys_of(*self._find(one)))
            self._counts.update(self._keys[one])
        self._changed.clear()
        own = self._keys[line]
        return tuple(self._counts[key] - (key in own) for key in keys)
