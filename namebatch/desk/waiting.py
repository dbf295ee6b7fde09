"""Lines that wait to be made, in the order in which they are: asked for, changed, then the list."""

from collections import OrderedDict
from collections.abc import Iterable, Sequence


class Waiting:
    """Lines that wait. Not to be shared by threads without a lock.

    Args:
        lines: in the order of the list.
    """

    def __init__(self, lines: Sequence[int]) -> None:
        self._lines = OrderedDict.fromkeys(lines)
        self._first: OrderedDict[int, None] = OrderedDict()

    def __len__(self) -> int:
        """How many."""
        return len(self._lines) + len(self._first)

    def ask(self, line: int) -> None:
        """A line that somebody looks at comes next, before those asked for earlier."""
        if line in self._lines or line in self._first:
            self._lines.pop(line, None)
            self._first[line] = None
            self._first.move_to_end(line, last=False)

    def add(self, lines: Iterable[int]) -> None:
        """Lines that have to be made anew, before the rest of the list."""
        for line in lines:
            if line not in self._first:
                self._lines.pop(line, None)
                self._first[line] = None

    def drop(self, line: int) -> None:
        """A line that does not wait any more."""
        self._lines.pop(line, None)
        self._first.pop(line, None)

    def take(self, most: int) -> tuple[int, ...]:
        """The next lines; they do not wait any more."""
        found: list[int] = []
        for queue in (self._first, self._lines):
            while queue and len(found) < most:
                found.append(queue.popitem(last=False)[0])
        return tuple(found)
