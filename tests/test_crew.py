"""Crews: who does tasks, in whatever order they end, and what becomes of one who is lost."""

import os
import signal
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

import pytest

from namebatch.crew import Crew, Here, Line, Processes, Work, offered
from namebatch.errors import OutputError, WorkerError

WORDS = ("heron", "tern", "gull", "wren", "teal")


def open_kit(kit: str) -> Callable[[str, Line], str]:
    """What does a task: tells its word, asks for the sum of the lengths before it."""

    def do(task: str, line: Line) -> str:
        if task == "end":
            os.kill(os.getpid(), signal.SIGKILL)
        if task == "fail":
            raise OutputError("No.", ["a problem"])
        line.tell(task)
        before = line.ask(len(task))
        return f"{kit} {task} {before}"

    return do


@dataclass
class Sums:
    """A host that knows the sum of the lengths of all earlier words once they have been told."""

    words: list[str] = field(default_factory=list)
    lengths: dict[int, int] = field(default_factory=dict)
    lost_at: list[int] = field(default_factory=list)

    def told(self, number: int, word: object) -> None:
        """Hear a word."""
        self.words.append(str(word))

    def asked(self, number: int, question: object) -> int | None:
        """The sum, if all earlier ones are known."""
        assert isinstance(question, int)
        self.lengths[number] = question
        if not set(range(1, number)) <= self.lengths.keys():
            return None
        return sum(self.lengths[n] for n in range(1, number))

    def enough(self) -> bool:
        """Never."""
        return False

    def lost(self, numbers: Sequence[int]) -> Exception:
        """Which."""
        self.lost_at = list(numbers)
        return WorkerError("Somebody is gone.")


def run(crew: Crew, words: Sequence[str], host: Sums) -> dict[int, str]:
    """Have words done."""
    work = Work(open_kit, "a", open_kit("a"))
    return dict(crew.run(work, list(enumerate(words, start=1)), host))


@pytest.mark.parametrize("crew", [Here(), Processes(1), Processes(3)])
def test_tasks_are_done_and_questions_answered(crew: Crew) -> None:
    """Whoever does them, each task gets the answer that depends on all earlier ones."""
    host = Sums()
    done = run(crew, WORDS, host)
    assert sorted(host.words) == sorted(WORDS)
    assert [done[n] for n in range(1, 6)] == [
        "a heron 0",
        "a tern 5",
        "a gull 9",
        "a wren 13",
        "a teal 17",
    ]


def test_no_tasks() -> None:
    """With nothing to do no process is started and nothing is waited for."""
    assert run(Processes(2), (), Sums()) == {}


@pytest.mark.parametrize("crew", [Here(), Processes(2)])
def test_an_error_comes_through(crew: Crew) -> None:
    """What a task raises is raised, with the problems that it tells."""
    with pytest.raises(OutputError, match=r"No\.") as caught:
        run(crew, ("heron", "fail", "tern"), Sums())
    assert caught.value.problems == ("a problem",)


def test_one_who_is_lost_is_told() -> None:
    """A process that is killed ends the run; the host says of which task, and none is left."""
    host = Sums()
    with pytest.raises(WorkerError, match=r"Somebody is gone\."):
        run(Processes(2), ("heron", "end", "tern"), host)
    assert host.lost_at == [2]


def open_search(kit: str) -> Callable[[str, Line], str]:
    """What searches until it is enough."""

    def do(task: str, line: Line) -> str:
        while not line.enough():
            line.tell("searching")
        return task

    return do


@dataclass
class Impatient(Sums):
    """A host that has seen enough after three words."""

    def enough(self) -> bool:
        """Soon."""
        return len(self.words) >= 3


@pytest.mark.parametrize("crew", [Here(), Processes(2)])
def test_a_search_ends_when_it_is_enough(crew: Crew) -> None:
    """All tasks hear that the host has seen enough, also those that are begun later."""
    work = Work(open_search, "a", open_search("a"))
    done = dict(crew.run(work, list(enumerate(WORDS, start=1)), Impatient()))
    assert [done[n] for n in range(1, 6)] == list(WORDS)


def test_the_machine_offers_processes() -> None:
    """At least one, at most as many as it has."""
    assert 1 <= offered() <= (os.cpu_count() or 1)
