"""Workers that end over a row cost that row at most."""

import os
import signal
from collections import deque
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from threading import Condition, Lock

import pytest

from namebatch.desk import hand
from namebatch.desk.bench import NOT_MADE, bench_of, packed_tools
from namebatch.desk.hand import AtHome, Hand, Starter
from namebatch.desk.pool import Pool, Work
from namebatch.desk.shown import Shown
from namebatch.names.row import Row
from namebatch.pipeline import Plan, Settings, plan_job
from tests.desk import workers
from tests.desk.desks import PLACES

SECONDS = 60.0


class Tray:
    """Rows that wait, and what came of them."""

    def __init__(self, key: str = "tray", tools: bytes = b"", *rows: tuple[Row, ...]) -> None:
        self.news = Condition()
        self.shown: dict[int, Shown] = {}
        self.gave: list[int] = []
        self._key, self._tools = key, tools
        self._rows = deque(rows)

    def take(self) -> Work | None:
        """The next rows."""
        if not self._rows:
            return None
        return Work(self._key, self._tools, self._rows.popleft(), self.give)

    def give(self, row: Row, made: Shown) -> None:
        """Note what came."""
        with self.news:
            self.shown[row.line] = made
            self.gave.append(row.line)
            self.news.notify_all()

    def waited(self, count: int) -> None:
        """Until so many rows came back."""
        with self.news:
            assert self.news.wait_for(lambda: len(self.shown) == count, SECONDS)


def _rows(*names: str) -> tuple[Row, ...]:
    return tuple(
        Row(line, {"name": name}, {"name": name}, 1) for line, name in enumerate(names, start=2)
    )


def _at_home() -> AtHome:
    return AtHome(Lock())


def _planned(folder: Path) -> Plan:
    file = folder / PLACES.name
    file.write_bytes(PLACES.data)
    return plan_job(file, Settings("place-card"))


@contextmanager
def _pool(tray: Tray, starter: Starter = workers.run, count: int = 1) -> Iterator[Pool]:
    pool = Pool(tray, [Hand(starter) for _ in range(count)], _at_home())
    try:
        yield pool
    finally:
        pool.close()


def test_all_rows_come_back_from_several_workers() -> None:
    """Every row is given back once."""
    names = [f"name {number}" for number in range(30)]
    rows = _rows(*names)
    tray = Tray("tray", b"", *(rows[start : start + 4] for start in range(0, 30, 4)))
    with _pool(tray, count=2) as pool:
        tray.waited(30)
        assert pool.knows("tray")
    assert sorted(tray.gave) == [row.line for row in rows]


def test_a_worker_that_ends_over_a_row_costs_that_row_only() -> None:
    """It is tried once more alone and then held; those before and behind it are made."""
    tray = Tray("tray", b"", _rows("Ada", workers.FALLS, "Inka", workers.FALLS, "Odile"))
    with _pool(tray):
        tray.waited(5)
    held = {line: made.row for line, made in tray.shown.items() if made.row.held}
    assert sorted(held) == [3, 5]
    assert held[3].findings[-1].code == NOT_MADE
    assert held[3].findings[-1].message.startswith("Line 3: ")
    assert tray.gave == [2, 3, 4, 5, 6]


def test_a_row_is_tried_once_more(tmp_path: Path) -> None:
    """A worker that ended by chance, as another program ate the memory, costs nothing."""
    tray = Tray("tray", b"", _rows("Ada", f"{workers.ONCE}{tmp_path / 'fell'}", "Inka"))
    with _pool(tray):
        tray.waited(3)
    assert not any(made.row.held for made in tray.shown.values())
    assert (tmp_path / "fell").exists()


def test_a_stuck_worker_is_ended(monkeypatch: pytest.MonkeyPatch) -> None:
    """A row that takes for ever is held like one over which the worker ends."""
    monkeypatch.setattr(hand, "SECONDS_A_ROW", 0.3)
    tray = Tray("tray", b"", _rows(workers.STICKS, "Inka"))
    with _pool(tray):
        tray.waited(2)
    assert {line: made.row.held for line, made in tray.shown.items()} == {2: True, 3: False}


def test_without_workers_the_server_makes_the_rows(tmp_path: Path) -> None:
    """Where processes cannot be started no row is held for that, and nobody waits for ever."""
    plan = _planned(tmp_path)
    tray = Tray("places", packed_tools(plan), plan.rows[:2], plan.rows[2:])
    with _pool(tray, workers.cannot_start):
        tray.waited(len(plan.rows))
    assert not tray.shown[2].row.held
    assert {line: one.row.held for line, one in tray.shown.items()}[4]


def test_a_worker_killed_while_idle_is_noticed() -> None:
    """What is taken next is made by a new worker."""
    tray = Tray("tray", b"", _rows("Ada"))
    worker = Hand(workers.run)
    pool = Pool(tray, [worker], _at_home())
    try:
        tray.waited(1)
        pid = worker.process_id
        assert pid is not None
        os.kill(pid, signal.SIGKILL)
        tray._rows.append(_rows("x", "Inka")[1:])
        pool.wake()
        tray.waited(2)
    finally:
        pool.close()
    assert not any(made.row.held for made in tray.shown.values())


def test_closing_does_not_wait_for_rows() -> None:
    """A worker that is busy is ended with the pool, and no process is left."""
    tray = Tray("tray", b"", _rows(workers.STICKS))
    worker = Hand(workers.run)
    pool = Pool(tray, [worker], _at_home())
    pool.close()
    assert worker.process_id is None
    assert tray.shown == {}


@pytest.mark.parametrize("maker", [Hand, _at_home])
def test_workers_make_what_the_server_makes(
    maker: Callable[[], Hand | AtHome], tmp_path: Path
) -> None:
    """Rows, findings, figures and pictures are the same wherever they were made."""
    plan = _planned(tmp_path)
    bench = bench_of(plan)
    tray = Tray("places", packed_tools(plan), plan.rows[:3], plan.rows[3:])
    pool = Pool(tray, [maker()], _at_home())
    try:
        tray.waited(len(plan.rows))
    finally:
        pool.close()
    assert [tray.shown[row.line] for row in plan.rows] == [bench.make(row) for row in plan.rows]


def test_what_nobody_foresaw_holds_the_row(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """An error in making one piece is told on its row."""
    plan = _planned(tmp_path)

    def breaks(*_: object) -> None:
        raise ZeroDivisionError("no room")

    monkeypatch.setattr("namebatch.desk.bench.made_cuttable", breaks)
    made = bench_of(plan).make(plan.rows[0])
    assert made.row.held
    assert "ZeroDivisionError: no room" in made.row.findings[-1].message
