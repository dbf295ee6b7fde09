"""Steps are taken back and taken again, whatever their order."""

import shutil
import tempfile
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import TypeVar

import pytest
from hypothesis import settings, strategies
from hypothesis.stateful import RuleBasedStateMachine, invariant, precondition, rule

from namebatch.errors import StoreError
from namebatch.names.limits import FILE_BYTES
from namebatch.names.mend import Mend
from namebatch.store import Change, Choices, KeptList, Store, dockets, history, open_store
from namebatch.store.values import from_json
from tests.store.conftest import LIST, START, later

Key = TypeVar("Key")
Value = TypeVar("Value")

_KEYS = strategies.sampled_from(["sheet", "gap", "font"])
_LINES = strategies.integers(2, 5)
_VALUES = strategies.one_of(strategies.none(), strategies.sampled_from(["a4", 3, "Ørsted \ud83e"]))
_MENDS = strategies.one_of(
    strategies.none(), strategies.builds(Mend, quantity=strategies.integers(1, 3))
)
_LISTS = [KeptList("a.csv", b"name\nMarlo\n"), KeptList("b", b"Odile", True), LIST]
_CHANGES = strategies.builds(
    Change,
    settings=strategies.dictionaries(_KEYS, _VALUES, max_size=2),
    mends=strategies.dictionaries(_LINES, _MENDS, max_size=2),
    approvals=strategies.dictionaries(_LINES, _VALUES.filter(lambda v: v != 3), max_size=1),
    title=strategies.sampled_from([None, "one", "Ørsted"]),
    names=strategies.sampled_from([None, *_LISTS]),
)
_State = tuple[Choices, str, KeptList | None]


class UndoRedo(RuleBasedStateMachine):
    """The store beside a plain list of states."""

    def __init__(self) -> None:
        super().__init__()
        self.folder = Path(tempfile.mkdtemp())
        self.store = open_store(self.folder)
        self.docket = dockets.create(self.store, "one", START).number
        self.states: list[_State] = [(Choices(), "one", None)]
        self.at = 0

    def teardown(self) -> None:
        self.store.close()
        shutil.rmtree(self.folder)

    @rule(change=_CHANGES)
    def change(self, change: Change) -> None:
        now, title, names = self.states[self.at]
        then = Choices(
            _put(now.settings, change.settings),
            _put(now.mends, change.mends),
            _put(now.approvals, change.approvals),
        )
        assert history.change(self.store, self.docket, "step", later(1), change) == then
        state = (then, change.title or title, change.names or names)
        if state != self.states[self.at]:
            self.at += 1
            self.states[self.at :] = [state]

    @rule()
    def undo(self) -> None:
        step = history.undo(self.store, self.docket, later(2))
        assert (step is not None) == (self.at > 0)
        self.at = max(self.at - 1, 0)

    @rule()
    def redo(self) -> None:
        step = history.redo(self.store, self.docket, later(3))
        assert (step is not None) == (self.at + 1 < len(self.states))
        self.at = min(self.at + 1, len(self.states) - 1)

    @precondition(lambda self: self.at % 3 == 2)
    @rule()
    def close_and_open(self) -> None:
        self.store.close()
        self.store = open_store(self.folder)

    @invariant()
    def as_the_list_says(self) -> None:
        choices, title, names = self.states[self.at]
        assert history.choices(self.store, self.docket) == choices
        assert dockets.kept_list(self.store, self.docket) == names
        done = [step.done for step in history.steps(self.store, self.docket)]
        assert done == [True] * self.at + [False] * (len(self.states) - 1 - self.at)
        docket = dockets.docket(self.store, self.docket)
        assert (docket.title, docket.list_name) == (title, names.name if names else "")
        assert docket.can_undo == (self.at > 0)
        assert docket.can_redo == (self.at + 1 < len(self.states))


def _put(now: Mapping[Key, Value], changed: Mapping[Key, Value | None]) -> dict[Key, Value]:
    merged = {**now, **changed}
    return {key: value for key, value in merged.items() if value is not None}


TestUndoRedo = UndoRedo.TestCase
TestUndoRedo.settings = settings(max_examples=25, stateful_step_count=25, deadline=None)


def test_one_step_takes_many_lines_back(store: Store) -> None:
    """A change for all pieces like one is a single step."""
    number = dockets.create(store, "one", START).number
    mends = {line: Mend(font="Lobster") for line in range(2, 40)}
    history.change(store, number, "Lobster for all of them", later(1), Change(mends=mends))
    step = history.undo(store, number, later(2))
    assert step is not None
    assert (step.told, step.done) == ("Lobster for all of them", False)
    assert history.choices(store, number) == Choices()


def test_every_value_is_read_once(store: Store, monkeypatch: pytest.MonkeyPatch) -> None:
    """Reading a docket of a thousand changes costs a thousand values and not their square."""
    number = dockets.create(store, "one", START).number
    approvals = {line: f"digest {line}" for line in range(2, 200)}
    history.change(store, number, "all approved", later(1), Change(approvals=approvals))
    asked: list[str] = []

    def counted(text: str) -> object:
        asked.append(text)
        return from_json(text)

    monkeypatch.setattr("namebatch.store.history.from_json", counted)
    assert history.choices(store, number).approvals == approvals
    assert len(asked) == len(approvals)


def test_lists_that_no_step_leads_to_are_dropped(store: Store) -> None:
    """A list is kept as long as it counts or can come back, and not for longer."""

    def kept() -> list[str]:
        with store.reading() as connection:
            return [name for (name,) in connection.execute("SELECT name FROM list ORDER BY name")]

    number = dockets.create(store, "one", START, LIST).number
    for at, name in enumerate(("second.csv", "third.csv"), 1):
        names = KeptList(name, f"name\nMarlo {at}\n".encode())
        history.change(store, number, name, later(at), Change(names=names))
    assert kept() == ["crew.csv", "second.csv", "third.csv"]
    history.undo(store, number, later(4))
    assert kept() == ["crew.csv", "second.csv", "third.csv"]
    history.change(store, number, "gap", later(5), Change(settings={"gap": 2}))
    assert kept() == ["crew.csv", "second.csv"]
    twin = dockets.copy(store, number, "two", later(6)).number
    assert kept() == ["crew.csv", "second.csv", "second.csv"]
    dockets.delete(store, number)
    assert kept() == ["second.csv"]
    assert dockets.docket(store, twin).list_name == "second.csv"


def test_nothing_of_a_list_or_title_that_is_refused_is_kept(store: Store) -> None:
    """One bad part of a step keeps all of it from being done."""
    number = dockets.create(store, "one", START, LIST).number
    large = KeptList("large.csv", bytes(FILE_BYTES + 1))
    for wrong, why in ((Change(title=" "), "no title"), (Change(names=large), "larger than")):
        both = replace(wrong, settings={"gap": 2})
        with pytest.raises(StoreError, match=why):
            history.change(store, number, "x", later(1), both)
    assert history.choices(store, number) == Choices()
    assert dockets.docket(store, number).changed == START


def test_a_mend_that_changes_nothing_is_none(store: Store) -> None:
    """Going back to what the list says by hand leaves no change behind."""
    number = dockets.create(store, "one", START).number
    history.change(store, number, "four", later(1), Change(mends={2: Mend(quantity=4)}))
    plain = Change(mends={2: Mend(was={"name": "Marlo"})})
    assert history.change(store, number, "as it was", later(2), plain).mends == {}
