"""A docket that lies open: its plan, its rows as they are now, and what is shown of them so far."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from itertools import count
from threading import Condition, Lock
from time import monotonic
from typing import Final

from namebatch.desk.bench import bench_of, is_set_aside, packed_tools
from namebatch.desk.incommon import InCommon, Key
from namebatch.desk.looks import with_looks
from namebatch.desk.misfits import check_all, fits_all
from namebatch.desk.pool import Work
from namebatch.desk.row_model import Picture
from namebatch.desk.shown import Artworks, Shown
from namebatch.desk.waiting import Waiting
from namebatch.errors import DeskError, MendError, NotThereError
from namebatch.finding import hold
from namebatch.mends import Mend, as_mended
from namebatch.names.row import Row
from namebatch.pipeline import Plan

CHUNK: Final = 6
"""Rows handed to a worker at a time: few, so that one that is asked for need not wait long."""
SECONDS: Final = 120.0
"""Nobody waits longer for a piece."""
MOST_BYTES: Final = 256 * 1024 * 1024
"""Of pictures kept; those beyond are drawn again when they are asked for."""
MISFIT: Final = "mend-misfit"
_TELL: Final = 0.1  # s; what was made is told no oftener
_number = count(1)


class Opened:
    """A planned docket; may be shared by threads.

    Beside what it is given it has `read`, the rows as they were read by line, `lines` in the order
    of the list with their `places` in it, and the `mends` that count now.

    Args:
        plan: without changes by hand.
        making: held while the server itself makes a piece: one at a time is quickest.
        told: hears of lines that were made, in whatever thread.
        wake: called when there is something for the workers.
    """

    def __init__(
        self,
        plan: Plan,
        making: Lock,
        told: "Callable[[Opened, tuple[int, ...]], None]",
        wake: Callable[[], None],
    ) -> None:
        self.plan = plan
        self.bench = bench_of(plan)
        self.key = f"plan {next(_number)}"
        self.read = {row.line: row for row in with_looks(plan.names.rows)}
        self.lines = tuple(self.read)
        self.places = {line: at for at, line in enumerate(self.lines)}
        self.mends: Mapping[int, Mend] = {}
        self._tools = packed_tools(plan)
        self._making = making
        self._told = told
        self._wake = wake
        self._news = Condition()
        self._rows = dict(self.read)
        self._shown: dict[int, Shown] = {}
        self._waiting = Waiting(self.lines)
        self._bytes = 0
        self._untold: list[int] = []
        self._last = 0.0
        self._artworks = Artworks(plan.template)
        self._common = InCommon(self.lines, self._now_of)
        with self._news:
            for row in self.read.values():
                if row.held:
                    self._settle(row, Shown(row))

    # what there is

    def row(self, line: int) -> Row:
        """A row as it is to be made, with all findings that are known.

        Raises:
            NotThereError: the list has no such line.
        """
        with self._news:
            self._check(line)
            made = self._shown.get(line)
            return self._rows[line] if made is None else made.row

    def mended(self, line: int) -> Row:
        """A row with its changes by hand, without what making it found.

        Raises:
            NotThereError: the list has no such line.
        """
        with self._news:
            self._check(line)
            return self._rows[line]

    def all(self) -> list[tuple[Row, Shown | None]]:
        """All rows with all findings that are known, in the order of the list."""
        with self._news:
            found = [(row, self._shown.get(line)) for line, row in self._rows.items()]
        return [(made.row if made else row, made) for row, made in found]

    def shown(self, line: int) -> Shown | None:
        """What is shown of a row; None while it waits."""
        return self._shown.get(line)

    def others_with(self, keys: Sequence[Key], line: int) -> tuple[int, ...]:
        """How many rows beside that of a line have each of some things in common."""
        with self._news:
            return self._common.others(keys, line)

    @property
    def done(self) -> int:
        """How many rows were tried."""
        return len(self._shown)

    def wait(self, line: int) -> Shown:
        """What is shown of a row; waits until it is made, before those that nobody asked for.

        Raises:
            NotThereError: the list has no such line.
            DeskError: it takes too long.
        """
        with self._news:
            self._check(line)
            made = self._shown.get(line)
            if made is not None:
                return made
            self._waiting.ask(line)
        self._wake()
        with self._news:
            self._news.wait_for(lambda: line in self._shown, SECONDS)
            made = self._shown.get(line)
        if made is None:
            row = self.read[line]
            raise DeskError(f"{row.where} has been made for {SECONDS:g} s and is not done yet.")
        return made

    def picture(self, line: int, *, large: bool) -> Picture:
        """The picture of a piece; waits until it is made.

        Raises:
            NotThereError: there is no such line, or the row is held.
        """
        made = self.wait(line)
        return self.picture_of(made, large=large)

    def picture_of(self, made: Shown, *, large: bool) -> Picture:
        """The picture of what was made.

        Raises:
            NotThereError: it is held and has none.
        """
        drawing = made.drawing
        if drawing is not None and not drawing.packed:
            with self._making:
                drawing = self.bench.make(self._rows[made.row.line]).drawing
        if drawing is None:
            raise NotThereError(f"{made.row.where} is held, so there is no piece to look at.")
        return Picture(drawing.digest, self._artworks.put_in(drawing, large=large))

    # changes by hand

    def tried(self, line: int, mend: Mend | None) -> tuple[Row, Shown]:
        """A row with other changes by hand than it has; nothing is kept.

        Returns:
            The row as it is to be made, and what is shown of it.

        Raises:
            NotThereError: the list has no such line.
            MendError: the changes do not fit list, template or material.
        """
        self._check(line)
        if mend is not None:
            check_all(self.plan, {line: mend})
        row = self._mended(self.read[line], mend)
        with self._making:
            return row, self.bench.make(row)

    def update(
        self, mends: Mapping[int, Mend], known: Mapping[int, tuple[Row, Shown]] | None = None
    ) -> tuple[int, ...]:
        """Put other changes by hand in place of those that there are.

        Args:
            mends: all of them, by line.
            known: lines that were tried already with just these changes.

        Returns:
            Lines whose piece changes by it.
        """
        with self._news:
            lines = [
                line
                for line in sorted({*mends, *self.mends} & set(self.read))
                if mends.get(line) != self.mends.get(line)
            ]
            self.mends = dict(mends)
            fit = fits_all(self.plan, {n: mends[n] for n in lines if n in mends})
            changed = {line: self._now(line, fit) for line in lines}
            for line, row in changed.items():
                self._forget(line)
                self._rows[line] = row
            settled = {line: found for line, found in (known or {}).items() if line in changed}
            for line, (row, made) in settled.items():
                self._rows[line] = row
                self._settle(row, made)
            for line, row in changed.items():
                if line not in settled and row.held and not is_set_aside(row):
                    self._settle(row, Shown(row))
            self._waiting.add(line for line in lines if line not in self._shown)
        self._wake()
        return tuple(lines)

    # for those who make

    def take(self) -> Work | None:
        """Rows for a worker; None if all are made or being made."""
        with self._news:
            rows = tuple(self._rows[line] for line in self._waiting.take(CHUNK))
        return Work(self.key, self._tools, rows, self.give) if rows else None

    def make_here(self) -> bool:
        """Make the next row in this process; False if none waits."""
        with self._news:
            rows = tuple(self._rows[line] for line in self._waiting.take(1))
        for row in rows:
            with self._making:
                made = self.bench.make(row)
            self.give(row, made)
        return bool(rows)

    def give(self, row: Row, made: Shown) -> None:
        """Take what is shown of a row; it is dropped if the row was changed meanwhile."""
        with self._news:
            if self._rows.get(row.line) is not row:
                return
            self._settle(row, made)
            self._untold.append(row.line)
            due = monotonic() - self._last > _TELL or self.done == len(self.read)
            lines: tuple[int, ...] = ()
            if due:
                lines, self._untold, self._last = tuple(self._untold), [], monotonic()
        if lines:
            self._told(self, lines)

    def _settle(self, row: Row, made: Shown) -> None:
        if made.drawing is not None:
            self._bytes += len(made.drawing.packed)
            if self._bytes > MOST_BYTES:
                self._bytes -= len(made.drawing.packed)
                made = replace(made, drawing=replace(made.drawing, packed=b""))
        self._waiting.drop(row.line)
        self._shown[row.line] = made
        self._common.changed(row.line)
        self._news.notify_all()

    def _now_of(self, line: int) -> tuple[Row, Shown | None]:
        made = self._shown.get(line)
        return (made.row if made else self._rows[line]), made

    def _forget(self, line: int) -> None:
        self._common.changed(line)
        made = self._shown.pop(line, None)
        if made is not None and made.drawing is not None:
            self._bytes -= len(made.drawing.packed)

    def _now(self, line: int, fits: bool) -> Row:
        """A row as it is to be made; held where its changes by hand do not fit any more.

        Args:
            line: of the list.
            fits: it is known that they do.
        """
        row, mend = self.read[line], self.mends.get(line)
        try:
            if mend is not None and not fits:
                check_all(self.plan, {line: mend})
        except MendError as error:
            why = " ".join(error.problems)
            told = hold(
                MISFIT,
                f"{row.where}: what was changed here by hand does not fit any more. {why} Change "
                "it, or take the changes away. Held.",
            )
            return replace(row, findings=(*row.findings, told), mend=mend)
        return self._mended(row, mend)

    def _mended(self, row: Row, mend: Mend | None) -> Row:
        found = as_mended(row, mend, self.plan.template, self.plan.names.columns)
        return replace(found) if found is row else found  # told apart by what it is, see `give`

    def _check(self, line: int) -> None:
        if line not in self.read:
            place = self.plan.names.place.lower()
            raise NotThereError(f"The list has nothing in {place} {line}.")
