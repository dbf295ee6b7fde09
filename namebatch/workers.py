"""Making pieces in one process or several; the results do not depend on how many."""

from collections.abc import Iterator, Mapping, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import replace
from multiprocessing import get_context

from namebatch.maker import Maker, make_maker
from namebatch.names.row import Row
from namebatch.orphans import end_with_parent
from namebatch.outline import Limits
from namebatch.piece import Piece
from namebatch.template.model import Template
from namebatch.text.fit import Common

CHUNK = 50
"""Rows handed to a worker at a time."""

_maker: Maker | None = None  # of a worker process; typefaces are opened there, once


def make_pieces(
    maker: Maker, rows: Sequence[Row], workers: int
) -> Iterator[tuple[Row, Piece | None]]:
    """Make rows in list order.

    Args:
        maker: the opened template.
        rows: what to make.
        workers: number of processes; few rows are made in this one in any case.
    """
    if workers <= 1 or len(rows) <= CHUNK:
        yield from map(maker.make, rows)
        return
    chunks = [rows[start : start + CHUNK] for start in range(0, len(rows), CHUNK)]
    found = (dict(maker.letterer.common), maker.letterer.han_language)
    arguments = (maker.template, maker.limits, maker.font, maker.beneath.paper, *found)
    context = get_context("spawn")
    with ProcessPoolExecutor(workers, context, _open_maker, arguments) as pool:
        for results in pool.map(_make_chunk, chunks):
            yield from results


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
