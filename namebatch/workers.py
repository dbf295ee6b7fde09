"""Making pieces in one process or several; the results do not depend on how many."""

from collections.abc import Iterator, Mapping, Sequence
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from dataclasses import replace

from namebatch.crew import offered
from namebatch.errors import WorkerError
from namebatch.maker import Maker, make_maker
from namebatch.names.row import Row
from namebatch.orphans import end_with_parent
from namebatch.outline import Limits
from namebatch.piece import Piece
from namebatch.standby import worker_context
from namebatch.template.model import Template
from namebatch.text.fit import Common

CHUNK = 50
"""Rows handed to a worker at a time."""
FEW = 300
"""So many rows are made here sooner than other processes have opened the typefaces."""

_maker: Maker | None = None  # of a worker process; typefaces are opened there, once


def make_pieces(
    maker: Maker, rows: Sequence[Row], workers: int
) -> Iterator[tuple[Row, Piece | None]]:
    """Make rows in list order.

    Args:
        maker: the opened template.
        rows: what to make.
        workers: number of processes; 0: as many as the machine offers. Few rows are made in this
            one in any case.

    Raises:
        WorkerError: a process was ended by something else.
    """
    if workers <= 0:
        workers = 1 if len(rows) <= FEW else offered()
    if workers <= 1 or len(rows) <= CHUNK:
        yield from map(maker.make, rows)
        return
    chunks = [rows[start : start + CHUNK] for start in range(0, len(rows), CHUNK)]
    found = (dict(maker.letterer.common), maker.letterer.han_language)
    arguments = (maker.template, maker.limits, maker.font, maker.beneath.paper, *found)
    context = worker_context()
    done = 0
    with ProcessPoolExecutor(workers, context, _open_maker, arguments) as pool:
        try:
            for results in pool.map(_make_chunk, chunks):
                yield from results
                done += len(results)
        except BrokenProcessPool:
            last = min(len(rows), done + workers * CHUNK) - 1
            at = (rows[done].place, rows[done].line, rows[last].line)
            raise ended_without_a_word([at]) from None


def ended_without_a_word(at: Sequence[tuple[str, int, int]], kept: bool = False) -> WorkerError:
    """What to say of a process that is gone.

    Args:
        at: what people call a place of the list, first and last of those that it was making.
        kept: whether the same command goes on from what is whole.
    """
    made = " and ".join(f"{place.lower()}s {first} to {last}" for place, first, last in at)
    begin = f"A worker ended without a word{f' while it made {made}' if made else ''}"
    then = "Free memory"
    if kept:
        then = "What is whole is kept: free memory"
    return WorkerError(
        f"{begin}; it may have run out of memory, or somebody ended it. Nothing was written into "
        f"the job's folder. {then}, or take fewer of them (--workers 1), and run the same command "
        "again."
    )


def _open_maker(
    template: Template,
    limits: Limits,
    font: str | None,
    paper: str,
    common: Mapping[str, Common],
    han_language: str,
) -> None:
    global _maker
    end_with_parent()
    maker = make_maker(template, limits, font, paper)
    letterer = replace(maker.letterer, common=common, han_language=han_language)
    _maker = replace(maker, letterer=letterer)


def _make_chunk(rows: Sequence[Row]) -> list[tuple[Row, Piece | None]]:
    if _maker is None:
        raise RuntimeError("a worker was not set up")
    return [_maker.make(row) for row in rows]
