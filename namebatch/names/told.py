"""Findings of many rows in few lines: the same thing is said once, with the rows it is true of."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from namebatch.finding import Finding, Severity
from namebatch.names.row import Row

MOST_OF_A_KIND: Final = 12
"""So many notes or warnings with one code are told in full; of more only `FIRST`."""

FIRST: Final = 5
_MOST_STRETCHES: Final = 12


@dataclass(frozen=True, slots=True)
class Told:
    """One message about one row or several.

    Attributes:
        code, severity: those of the findings.
        message: begins with the rows, ``Lines 2–501: …``.
        count: how many findings it stands for.
    """

    code: str
    severity: Severity
    message: str
    count: int


@dataclass(slots=True)
class _Same:
    """Findings that say the same of several rows."""

    code: str
    severity: Severity
    whole: str
    rest: str | None
    place: str
    lines: list[int]

    def told(self) -> Told:
        message = self.whole
        if len(self.lines) > 1 and self.rest is not None:
            message = stretches(self.lines, self.place) + self.rest
        return Told(self.code, self.severity, message, len(self.lines))


def gathered(rows: Iterable[Row]) -> tuple[Told, ...]:
    """All findings of rows, in list order by the first row that each is true of.

    Findings that differ in nothing but their row are one message. Of notes and of warnings with
    one code and many different texts the first are told, the others counted with their rows;
    holds are all told.

    Args:
        rows: in list order, all of one list.
    """
    same: dict[tuple[str, Severity, str], _Same] = {}
    for row in rows:
        for found in row.findings:
            rest = _without_row(found, row)
            key = (found.code, found.severity, found.message if rest is None else rest)
            one = same.setdefault(
                key, _Same(found.code, found.severity, found.message, rest, row.place, [])
            )
            one.lines.append(row.line)
    return tuple(_shortened(list(same.values())))


def stretches(lines: Sequence[int], place: str) -> str:
    """Rows in words: ``Lines 2–9, 12``; a few only where there are very many apart.

    Args:
        lines: their numbers; equal ones count once.
        place: ``Line`` or ``Row``.
    """
    numbers = sorted(set(lines))
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    words = [_run(run) for run in runs[:_MOST_STRETCHES]]
    more = f" … ({len(numbers):,} in all)" if len(runs) > _MOST_STRETCHES else ""
    return f"{place}{'s' if len(numbers) > 1 else ''} {', '.join(words)}{more}"


def _run(run: Sequence[int]) -> str:
    if len(run) == 1:
        return f"{run[0]}"
    return f"{run[0]}, {run[1]}" if len(run) == 2 else f"{run[0]}–{run[-1]}"


def _without_row(found: Finding, row: Row) -> str | None:
    """What a message says behind its row; None if it does not begin with it."""
    rest = found.message.removeprefix(row.where)
    return rest if rest != found.message and rest[:1] in (":", ",") else None


def _shortened(same: Sequence[_Same]) -> Iterable[Told]:
    kinds: dict[tuple[str, Severity], list[_Same]] = {}
    for one in same:
        kinds.setdefault((one.code, one.severity), []).append(one)
    for one in same:
        kind = kinds[one.code, one.severity]
        if one.severity is Severity.HOLD or len(kind) <= MOST_OF_A_KIND or one in kind[:FIRST]:
            yield one.told()
        elif one is kind[FIRST]:
            lines = [line for other in kind[FIRST:] for line in other.lines]
            where = stretches(lines, one.place)
            like = stretches(kind[FIRST - 1].lines[-1:], one.place).lower()
            message = f"{where}: {len(kind) - FIRST:,} more of the same kind as on {like}."
            yield Told(one.code, one.severity, message, len(lines))
