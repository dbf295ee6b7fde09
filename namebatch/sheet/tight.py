"""Filling within a time: sheets packed anew, each fuller than before, the last one shortened. mm.

Begins with what another way has filled and never ends with more. In waves, two sheets at a time:

1. Deal the pieces to sheets by area, large and small ones on each, somewhat more than lies on them
   now; what has no room on its sheet is taken off, the smallest that suffices, until it has.
2. Make each sheet a little fuller: one piece more from the last sheet, or a larger one for a
   smaller. A sheet that fails asks for less, then rests. The last sheet empties.
3. Shorten the last sheet, step by step, along both of its sides.

Every sheet is packed as a strip as high as one of its sides that is to become as short as the
other (`strip.py`), with a fixed seed and so many steps at most, and proved on the true shapes.
What is tried next depends on what succeeded, not on the time it took. So the clock decides only
how far the search comes: where two runs come equally far, their sheets are equal.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from namebatch.sheet.blocks import Block
from namebatch.sheet.model import Placement, Rect
from namebatch.sheet.strip import PROCESSES
from namebatch.sheet.tight_clock import Clock
from namebatch.sheet.tight_deal import deal, exchange, reduced
from namebatch.sheet.tight_stuff import Got, Sheets, Stuff, Wanted
from namebatch.sheet.tries import Laid

GAIN = (0.15, 0.1)
"""A sheet is first asked to use so much of what lies idle on it; less where time is short."""
LEISURE_S = 8.0
"""Seconds a sheet from which time is not short."""
CLOSER = 0.02
"""Sheets are asked for so much more of their area if that does away with the last one."""
NEARLY = 0.85
"""What comes so near to a full sheet is packed like one."""
STEP = 0.015
"""Share of its area by which a sheet is to become fuller."""
LEAST_STEP = 0.004
SURE = 0.99
"""Of the area that had room in a strip that became too long."""
STEPS = (300, 500, 1500)
"""Of the search for a first filling, a fuller one, and a shorter last sheet."""
TIMES = 3
"""A sheet that fails so often is given up."""
FILLING = 0.8
"""Share of the time after which the last sheet is shortened."""
SHEET_S = 2.5
"""A sheet takes about so long. Where there is no time for all, the least filled are packed anew."""
SHORTER = 0.995
"""Lengths that are asked for one after the other, each so much of the one before."""
SEED = 120


@dataclass(frozen=True, slots=True)
class _Full:
    """A sheet that is to be full.

    Attributes:
        numbers: of its blocks.
        laid: where they lie; empty before it was first packed.
        step: share of its area by which it is to become fuller.
        tries: so often it was packed; gives seed and direction.
        failures: since it was packed last.
    """

    numbers: tuple[int, ...]
    laid: tuple[Laid, ...] = ()
    step: float = STEP
    tries: int = 0
    failures: int = 0


@dataclass(frozen=True, slots=True)
class _State:
    """Where the search is.

    Attributes:
        kept: sheets that are not packed anew.
        full: sheets that are.
        left: blocks of the last sheet.
        last: the last sheet as it lies; empty if its blocks have changed.
    """

    kept: Sheets
    full: tuple[_Full, ...]
    left: tuple[int, ...]
    last: tuple[Laid, ...] = ()


def tightened(
    sheets: Sequence[Sequence[Placement]],
    blocks: Sequence[Block],
    usable: Rect,
    gap_mm: float,
    clock: Clock,
) -> list[list[Placement]]:
    """Fill sheets more tightly, for as long as the clock goes.

    Args:
        sheets: filled in another way.
        blocks: what lies on them.
        usable: x, y, width, height.
        gap_mm: least distance of two blocks.
        clock: how long it may take.

    Returns:
        Sheets and the used length of the last one: together never more than before.
    """
    search = _Search(Stuff(blocks, usable, gap_mm), clock)
    search.run(search.stuff.read(sheets))
    return search.stuff.placements(search.best) if search.better else [list(s) for s in sheets]


class _Search:
    """One search: the best so far, and what is tried next."""

    def __init__(self, stuff: Stuff, clock: Clock) -> None:
        self.stuff = stuff
        self.clock = clock
        self.best: Sheets = ()
        self.better = False

    def run(self, sheets: Sheets) -> None:
        """Begin with filled sheets."""
        self.best = self.stuff.sorted_sheets(sheets)
        self.clock.sheets = self.stuff.length(self.best)
        state = self._begin()
        if self._filling() and state.full:
            state = self._pack_first(state)
        while self._filling():
            state, changed = self._fuller(state)
            if not changed:
                break
        self._shorten(state)

    def _filling(self) -> bool:
        return self.clock.going_on(FILLING)

    def _begin(self) -> _State:
        """As it lies: sheets that there is time to pack anew, and the last one."""
        *others, last = self.best
        size = {k: sum(self.stuff.blocks[n].area_mm2 for n, *_ in s) for k, s in enumerate(others)}
        emptiest = sorted(size, key=lambda k: (size[k], k))[: self._most_sheets()]
        left = tuple(number for number, *_ in last)
        full = tuple(_Full(tuple(n for n, *_ in others[k]), others[k]) for k in sorted(emptiest))
        self.stuff.prepare(number for sheet in full for number in sheet.numbers)
        self.stuff.prepare(left)
        kept = tuple(sheet for k, sheet in enumerate(others) if k not in emptiest)
        return _State(kept, full, left, last)

    def _most_sheets(self) -> int:
        if len({block.kind for block in self.stuff.blocks}) == 1:
            return len(self.best)  # equal sheets are packed once
        return int(self._time() / SHEET_S)

    def _time(self) -> float:
        """Seconds for filling sheets, of all processes together."""
        return self.clock.seconds * FILLING * PROCESSES

    def _pack_first(self, before: _State) -> _State:
        """Deal all pieces anew and pack every sheet; without success the state before stands."""
        stuff = self.stuff
        numbers = [*(n for sheet in before.full for n in sheet.numbers), *before.left]
        rooms, spill = self._rooms(before, numbers)
        groups, rest = deal(numbers, stuff.areas, rooms, spill)
        left = list(rest)
        done: list[_Full] = []
        waiting = [_Full(tuple(sorted(group))) for group in groups if group]
        while waiting and self._filling():
            got = self._pack(waiting, STEPS[0])
            again: list[_Full] = []
            for sheet, one in zip(waiting, got, strict=True):
                if one.laid:
                    done.append(_Full(sheet.numbers, one.laid, tries=sheet.tries + 1))
                    continue
                kept = self._smaller(sheet, one)
                left += sorted(set(sheet.numbers) - set(kept))
                if kept:
                    again.append(_Full(kept, tries=sheet.tries + 1))
            waiting = again
        left += [number for sheet in waiting for number in sheet.numbers]
        state = _State(before.kept, tuple(done), tuple(left))
        self._look(state)
        return state if done else before

    def _rooms(self, before: _State, numbers: Sequence[int]) -> tuple[list[float], float]:
        """Area that is asked for on each sheet, and what is to be left for the last one."""
        room, total = self.stuff.room, self.stuff.area(numbers) / self.stuff.room
        now = self.stuff.area(n for s in before.full for n in s.numbers) / room / len(before.full)
        asked = now + GAIN[self._time() < LEISURE_S * len(before.full)] * (1 - now)
        count = int(total / asked)
        rest = total - count * asked
        if count and rest <= CLOSER * count:
            return [total / count * room] * count, 0.0
        if rest >= NEARLY * now:
            even = total / (count + 1)
            rooms = [asked] * count + [rest] if asked - even > CLOSER / 2 else [even] * (count + 1)
            return [share * room for share in rooms], 0.0
        return [asked * room] * count, rest * room

    def _smaller(self, sheet: _Full, got: Got) -> tuple[int, ...]:
        """What is left on a sheet that was too full; nothing once it is given up."""
        if not got.share or sheet.tries + 1 >= TIMES:
            return ()
        most = self.stuff.area(sheet.numbers) / max(got.share, 1.0) * SURE
        return tuple(reduced(sheet.numbers, self.stuff.areas, most))

    def _fuller(self, state: _State) -> tuple[_State, bool]:
        """Try to make sheets a little fuller; False if there is nothing to try."""
        state = self._with_last(state)
        asked = self._exchanges(state)
        got = self._pack([sheet for _, sheet, _ in asked], STEPS[1])
        full = list(state.full)
        left = set(state.left)
        for (k, sheet, comes), one in zip(asked, got, strict=True):
            before = full[k]
            tries = sheet.tries + 1
            if not one.laid:
                step = max(before.step / 2, LEAST_STEP)
                failures = before.failures + 1
                full[k] = replace(before, step=step, tries=tries, failures=failures)
            elif comes in left:
                left |= set(before.numbers)
                left -= set(sheet.numbers)
                full[k] = replace(sheet, laid=one.laid, tries=tries)
        lies = {number for number, *_ in state.last}
        last = tuple(one for one in state.last if one[0] in left) if left <= lies else ()
        new = _State(state.kept, tuple(full), tuple(sorted(left)), last)
        if new.left != state.left:
            self._look(new)
        return new, bool(asked)

    def _exchanges(self, state: _State) -> list[tuple[int, _Full, int]]:
        """Sheets as they might become, the least full first, each with the block that comes.

        Where few blocks are left one is offered to several sheets, so that no process is idle.
        """
        asked: list[tuple[int, _Full, int]] = []
        free: list[int] = []
        areas = self.stuff.areas
        for k in sorted(
            range(len(state.full)), key=lambda k: self.stuff.area(state.full[k].numbers)
        ):
            sheet = state.full[k]
            if sheet.failures >= TIMES:
                continue
            if not free and len(asked) < PROCESSES:
                free = list(state.left)
            change = exchange(sheet.numbers, free, areas, sheet.step * self.stuff.room)
            if change is None:
                continue
            goes, comes = change
            free.remove(comes)
            numbers = tuple(sorted({*sheet.numbers, comes} - {goes}))
            asked.append((k, _Full(numbers, step=sheet.step, tries=sheet.tries), comes))
        return asked

    def _with_last(self, state: _State) -> _State:
        """A state with something on its last sheet: the least full one, if there is nothing."""
        if state.left or not state.full:
            return state
        least = min(range(len(state.full)), key=lambda k: self.stuff.area(state.full[k].numbers))
        last = state.full[least]
        full = state.full[:least] + state.full[least + 1 :]
        return _State(state.kept, full, last.numbers, last.laid)

    def _pack(self, sheets: Sequence[_Full], steps: int) -> list[Got]:
        wanted = [
            Wanted(
                sheet.numbers, self.stuff.frames[sheet.tries % 2], (1.0,), SEED + sheet.tries, steps
            )
            for sheet in sheets
        ]
        return self.stuff.pack(wanted, self._filling)

    def _shorten(self, state: _State) -> None:
        """Shorten the last sheet until time or search end."""
        state = self._with_last(state)
        before = self._last_sheets(state)
        if not before:
            return
        *others, last = before
        if others and self.stuff.area(state.left) < self.stuff.room:
            numbers, share = state.left, 1.0  # perhaps one sheet is enough
            others = []
        else:
            numbers, share = tuple(sorted(n for n, *_ in last)), self.stuff.used(last)
        for turn in range(TIMES):
            if not self.clock.going_on():
                break
            shares = ladder(share)
            wanted = [
                Wanted(numbers, frame, shares, SEED + turn, STEPS[2]) for frame in self.stuff.frames
            ]
            for one in self.stuff.pack(wanted, self.clock.going_on):
                if one.laid:
                    share = min(share, self.stuff.used(one.laid))
                    self._take([*state.kept, *(s.laid for s in state.full), *others, one.laid])

    def _last_sheets(self, state: _State) -> Sheets:
        """What is left, on as few sheets as a short search needs."""
        if not state.left:
            return ()
        tried = self.stuff.few_tries(state.left)
        if state.last and (len(tried), self.stuff.used(tried[-1])) > (
            1,
            self.stuff.used(state.last),
        ):
            return (state.last,)
        return tried

    def _look(self, state: _State) -> None:
        """Take a state's sheets if they are better than the best so far."""
        self._take([*state.kept, *(s.laid for s in state.full), *self._last_sheets(state)])

    def _take(self, sheets: Sequence[Sequence[Laid]]) -> None:
        ordered = self.stuff.sorted_sheets(sheets)
        length = self.stuff.length(ordered)
        if length < self.clock.sheets - 1e-9:
            self.best, self.better = ordered, True
            self.clock.sheets = length


def ladder(share: float) -> tuple[float, ...]:
    """Shares of a sheet that are worth hearing of, ever smaller ones.

    Args:
        share: the first.
    """
    shares = [min(share, 1.0)]
    while shares[-1] > 0.02:
        shares.append(shares[-1] * SHORTER)
    return tuple(shares)
