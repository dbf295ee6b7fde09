"""An opened docket: what is made when, and what of it counts."""

from threading import Lock

import pytest

from namebatch.desk import opened as module
from namebatch.desk.opened import CHUNK, MISFIT, Opened
from namebatch.desk.pool import Work
from namebatch.errors import DeskError, NotThereError
from namebatch.names.mend import Mend, TextMend
from namebatch.names.row import Row
from namebatch.pipeline import Plan, Settings, plan_job

NAMES = [f"Crew {letter}" for letter in "ABCDEFGHIJ"]


@pytest.fixture(scope="module")
def plan(tmp_path_factory: pytest.TempPathFactory) -> Plan:
    """Ten names on key fobs, one of them held by the list."""
    file = tmp_path_factory.mktemp("list") / "crew.csv"
    lines = ["name,quantity", *(f"{name},1" for name in NAMES), "Teal,many"]
    file.write_text("\n".join(lines), encoding="utf-8")
    return plan_job(file, Settings("key-fob"))


class Watcher:
    """Notes what an opened docket tells."""

    def __init__(self, plan: Plan) -> None:
        self.lines: list[int] = []
        self.woken = 0
        self.opened = Opened(plan, Lock(), self._told, self._wake)

    def _told(self, opened: Opened, lines: tuple[int, ...]) -> None:
        self.lines += lines

    def _wake(self) -> None:
        self.woken += 1

    def take(self) -> Work:
        """The next work; there has to be some."""
        work = self.opened.take()
        assert work is not None
        return work

    def make(self, row: Row) -> None:
        """Make a row and give it back."""
        self.opened.give(row, self.opened.bench.make(row))


def test_rows_that_the_list_holds_need_no_worker(plan: Plan) -> None:
    """They are known at once and never waited for."""
    watcher = Watcher(plan)
    made = watcher.opened.shown(12)
    assert made is not None
    assert made.row.held
    assert watcher.opened.wait(12) is made
    lines = []
    while (work := watcher.opened.take()) is not None:
        lines += [row.line for row in work.rows]
    assert lines == list(range(2, 12))


def test_rows_that_somebody_looks_at_come_next(plan: Plan, monkeypatch: pytest.MonkeyPatch) -> None:
    """A picture that is asked for is waited for, and its row is taken before all others."""
    monkeypatch.setattr(module, "SECONDS", 0.01)
    watcher = Watcher(plan)
    with pytest.raises(DeskError, match="Line 9 has been made for"):
        watcher.opened.picture(9, large=False)
    assert watcher.woken == 1
    assert [row.line for row in watcher.take().rows] == [9, *range(2, 2 + CHUNK - 1)]


def test_what_was_changed_meanwhile_is_dropped(plan: Plan) -> None:
    """A worker that made the row as it was before does not put that on the wall."""
    watcher = Watcher(plan)
    before = watcher.take().rows[0]
    assert watcher.opened.update({2: Mend(fields={"name": "Odile"})}) == (2,)
    watcher.make(before)
    assert watcher.opened.shown(2) is None
    after = watcher.take().rows[0]
    assert after.fields["name"] == "Odile"
    watcher.make(after)
    made = watcher.opened.shown(2)
    assert made is not None
    assert made.texts[0].text == "Odile"
    watcher.make(after)
    assert watcher.lines.count(2) <= 2


def test_taking_a_change_back_makes_the_row_anew(plan: Plan) -> None:
    """Even then a result that is under way does not count."""
    watcher = Watcher(plan)
    watcher.opened.update({2: Mend(quantity=5)})
    during = watcher.take().rows[0]
    assert watcher.opened.update({}) == (2,)
    watcher.make(during)
    assert watcher.opened.shown(2) is None
    assert watcher.take().rows[0].quantity == 1


def test_equal_changes_leave_everything_as_it_is(plan: Plan) -> None:
    """Reading the store again makes nothing anew."""
    watcher = Watcher(plan)
    watcher.opened.update({2: Mend(quantity=5)})
    watcher.make(watcher.take().rows[0])
    assert watcher.opened.update({2: Mend(quantity=5), 40: Mend(quantity=2)}) == ()
    assert watcher.opened.shown(2) is not None


def test_changes_that_do_not_fit_hold_the_row(plan: Plan) -> None:
    """The reason stands on the row, which needs no worker."""
    watcher = Watcher(plan)
    watcher.opened.update({3: Mend(texts={"motto": TextMend(one_line=True)})})
    made = watcher.opened.shown(3)
    assert made is not None
    assert made.row.findings[-1].code == MISFIT
    assert '"motto"' in made.row.findings[-1].message


def test_pictures_beyond_the_memory_are_drawn_again(
    plan: Plan, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Only so many are kept; what is not is the same when it is asked for."""
    watcher = Watcher(plan)
    row = watcher.take().rows[0]
    watcher.make(row)
    kept = watcher.opened.picture(2, large=True)
    monkeypatch.setattr(module, "MOST_BYTES", 100)
    small = Watcher(plan)
    small.make(small.take().rows[0])
    made = small.opened.shown(2)
    assert made is not None
    assert made.drawing is not None
    assert made.drawing.packed == b""
    assert small.opened.picture(2, large=True) == kept


def test_lines_that_the_list_does_not_have(plan: Plan) -> None:
    """They are told as what they are."""
    with pytest.raises(NotThereError, match="nothing in line 1"):
        Watcher(plan).opened.wait(1)


def test_what_was_made_is_told_in_bundles_and_all_of_it(plan: Plan) -> None:
    """Every line is told once, at the latest with the last one."""
    watcher = Watcher(plan)
    while (work := watcher.opened.take()) is not None:
        for row in work.rows:
            watcher.make(row)
    assert sorted(watcher.lines) == list(range(2, 12))
    assert watcher.opened.done == 11


def test_the_server_makes_rows_itself(plan: Plan) -> None:
    """One at a time, until none waits."""
    watcher = Watcher(plan)
    while watcher.opened.make_here():
        pass
    assert watcher.opened.done == len(watcher.opened.lines)
