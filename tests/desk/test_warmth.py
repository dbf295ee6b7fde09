"""At a cold start one worker compiles; the others, and the server, wait for what it keeps."""

from collections.abc import Callable
from multiprocessing.connection import Connection
from pathlib import Path
from threading import Lock, Thread

import pytest

from namebatch.desk import Desk, tabletop
from namebatch.desk.hand import AtHome, Hand
from namebatch.desk.pool import Pool
from namebatch.desk.warmth import Warmth
from namebatch.store import open_store
from tests.desk import workers
from tests.desk.desks import FOBS
from tests.desk.test_pool import SECONDS, Tray


def held_back(line: Connection) -> None:
    """Ready only once somebody writes to the line."""
    line.recv()
    workers.run(line)


def until(true: Callable[[], bool]) -> None:
    """Wait for something that other threads do."""
    warmth = Warmth(cold=True)
    for _ in range(int(SECONDS * 20)):
        if true():
            return
        warmth._there.wait(0.05)
    raise AssertionError("it never came")


@pytest.mark.parametrize("comes", [True, False], ids=["ready", "ended"])
def test_only_the_first_is_started_until_it_is_ready(comes: bool) -> None:
    """The second begins when the first is ready, or has ended before that."""
    warmth = Warmth(cold=True)
    first, second = Hand(held_back), Hand(workers.run, at_once=False)
    pool = Pool(Tray(), [first, second], AtHome(Lock()), warmth)
    try:
        until(lambda: first.process_id is not None)
        assert second.process_id is None
        assert not warmth.ready
        if comes:
            first._line.send(None)
        else:
            first.end()
        until(lambda: second.process_id is not None)
        assert warmth.ready
    finally:
        pool.close()


def test_closing_waits_for_nobody() -> None:
    """A program that is ended while it gets ready ends at once, and starts no more workers."""
    second = Hand(workers.run, at_once=False)
    pool = Pool(Tray(), [Hand(held_back), second], AtHome(Lock()), Warmth(cold=True))
    pool.close()
    assert second.process_id is None


def test_what_draws_or_plans_waits_on_a_cold_start(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A docket is planned, and a template drawn, once what that takes is compiled."""
    monkeypatch.setattr(tabletop, "is_cold", lambda: True)
    monkeypatch.setattr(tabletop, "Hand", lambda at_once: Hand(held_back, at_once=at_once))
    store = open_store(tmp_path / "data")
    with Desk(store, workers=1) as desk:
        assert not desk.ready
        made: list[int] = []
        Thread(
            target=lambda: made.append(desk.create("", "key-fob", FOBS).number), daemon=True
        ).start()
        desk._table.warmth._there.wait(0.5)
        assert made == []
        desk._table._pool._hands[0]._line.send(None)  # type: ignore[union-attr]
        until(lambda: made == [1])
        assert desk.ready
    store.close()
