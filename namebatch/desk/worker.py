"""A worker process: rows in, what is shown of them out, one by one, until the server hangs up."""

import signal
from collections import OrderedDict
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass
from functools import partial
from multiprocessing.connection import Connection
from typing import Final

from namebatch.desk.bench import Bench, bench_of, set_up
from namebatch.names import read_pasted
from namebatch.names.row import Row
from namebatch.pipeline import Settings, plan_list

BENCHES: Final = 4
"""Dockets whose typefaces a worker keeps open."""
WARMING: Final = ("bag-tag", "name-sign", "kite-tag")
"""Templates whose rules and prints between them use most of what is compiled."""


@dataclass(frozen=True, slots=True)
class Batch:
    """Rows of one docket.

    Attributes:
        key: of the docket's tools.
        tools: `bench.packed_tools`; None where the worker was given them before.
        rows: changes by hand applied.
    """

    key: str
    tools: bytes | None
    rows: tuple[Row, ...]


def run(line: Connection) -> None:
    """Make rows until the other end is closed; for each one `Shown` is sent back.

    Before that one word says that the worker is ready.
    """
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C is for the server, which then hangs up
    benches: OrderedDict[str, Bench] = OrderedDict()
    with suppress(EOFError, OSError):
        warm_up()
        line.send(None)
        while True:
            batch = line.recv()
            bench = _bench(benches, batch)
            for row in batch.rows:
                line.send(bench.make(row))


def warm_up(names: Sequence[str] = WARMING) -> None:
    """Make a piece or two, so that what is read and compiled once is there."""
    from namebatch.resources import bundled

    for name in names:
        source = (bundled("examples") / f"{name}.csv").read_text(encoding="utf-8").splitlines()
        # pasted: a worker that is ended in the middle leaves no file behind
        plan = plan_list(partial(read_pasted, "\n".join(source[:3])), Settings(template=name))
        bench = bench_of(plan)
        for row in plan.rows:
            bench.make(row)


def _bench(benches: "OrderedDict[str, Bench]", batch: Batch) -> Bench:
    if batch.tools is not None:
        benches[batch.key] = set_up(batch.tools)
    benches.move_to_end(batch.key)
    while len(benches) > BENCHES:
        benches.popitem(last=False)
    return benches[batch.key]
