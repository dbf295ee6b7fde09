"""What is noted of a docket when it was looked at."""

from pathlib import Path

from namebatch.store import Store, counted, dockets, open_store
from tests.store.conftest import LIST, START


def test_what_was_noted_last_comes_back_and_is_no_change(tmp_path: Path) -> None:
    """It outlives the process, and the docket keeps its place on the hook."""
    store = open_store(tmp_path)
    number = dockets.create(store, "one", START, LIST).number
    assert counted.known(store, number) is None
    for lines in (2, 3):
        counted.note(store, number, {"counts": {"lines": lines}})
    store.close()
    store = open_store(tmp_path)
    assert counted.known(store, number) == {"counts": {"lines": 3}}
    assert dockets.docket(store, number).changed == START
    counted.note(store, number, None)
    assert counted.known(store, number) is None
    store.close()


def test_it_goes_with_its_docket(store: Store) -> None:
    """Of a deleted docket nothing is kept, nor noted any more."""
    number = dockets.create(store, "one", START, LIST).number
    counted.note(store, number, {"counts": {"lines": 3}})
    dockets.delete(store, number)
    assert counted.known(store, number) is None
    counted.note(store, number, {"counts": {"lines": 4}})
    assert counted.known(store, number) is None
