"""Steps are taken back and taken again, whatever their order."""

import shutil
import tempfile
from collections.abc import Mapping
from pathlib import Path
from typing import TypeVar

import pytest
from hypothesis import settings, strategies
from hypothesis.stateful import RuleBasedStateMachine, invariant, precondition, rule

from namebatch.names.mend import Mend
from namebatch.store import Change, Choices, Store, dockets, history, open_store
from namebatch.store.values import from_json
from tests.store.conftest import START, later

Key = TypeVar("Key")
Value = TypeVar("Value")

_KEYS = strategies.sampled_from(["sheet", "gap", "font"])
_LINES = strategies.integers(2, 5)
_VALUES = strategies.one_of(strategies.none(), strategies.sampled_from(["a4", 3, "Ørsted \ud83e"]))
_MENDS = strategies.one_of(
    strategies.none(), strategies.builds(Mend, quantity=strategies.integers(1, 3))
)
_CHANGES = strategies.builds(
    Change,
    settings=strategies.dictionaries(_KEYS, _VALUES, max_size=2),
    mends=strategies.dictionaries(_LINES, _MENDS, max_size=2),
    approvals=strategies.dictionaries(_LINES, _VALUES.filter(lambda v: v != 3), max_size=1),
)


class UndoRedo(RuleBasedStateMachine):
    """The store beside a plain list of states."""

    def __init__(self) -> None:
        super().__init__()
        self.folder = Path(tempfile.mkdtemp())
        self.store = open_store(self.folder)
        self.docket = dockets.create(self.store, "one", START).number
        self.states = [Choices()]
        self.at = 0

    def teardown(self) -> None:
        self.store.close()
        shutil.rmtree(self.folder)

    @rule(change=_CHANGES)
    def change(self, change: Change) -> None:
        now = self.states[self.at]
        then = Choices(
            _put(now.settings, change.settings),
            _put(now.mends, change.mends),
            _put(now.approvals, change.approvals),
        )
        assert history.change(self.store, self.docket, "step", later(1), change) == then
        if then != now:
            self.at += 1
            self.states[self.at :] = [then]

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
        assert history.choices(self.store, self.docket) == self.states[self.at]
        done = [step.done for step in history.steps(self.store, self.docket)]
        assert done == [True] * self.at + [False] * (len(self.states) - 1 - self.at)
        docket = dockets.docket(self.store, self.docket)
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


def test_a_mend_that_changes_nothing_is_none(store: Store) -> None:
    """Going back to what the list says by hand leaves no change behind."""
    number = dockets.create(store, "one", START).number
    history.change(store, number, "four", later(1), Change(mends={2: Mend(quantity=4)}))
    plain = Change(mends={2: Mend(was={"name": "Marlo"})})
    assert history.change(store, number, "as it was", later(2), plain).mends == {}
