"""The workers of a cluster do tasks, and what becomes of those that are lost at one."""

from pathlib import Path

import pytest

from namebatch.cluster import Cluster, connect
from namebatch.crew import Work
from namebatch.errors import ClusterError, OutputError
from namebatch.sections.task import Task
from namebatch.settings import Settings
from tests.cluster.processes import Dask, dask
from tests.cluster.words import Sums, open_false_kit, open_kit

WORDS = ("heron", "tern", "gull", "wren", "teal")


def run(
    cluster: Dask, words: tuple[str, ...], host: Sums, done: dict[int, str] | None = None
) -> list[str]:
    """Have words done; what came of each, in order, and in `done` as it comes."""
    found = {} if done is None else done
    tasks = list(enumerate(words, start=1))
    crew = Cluster(cluster.address, gone_s=1.0)
    for number, what in crew.run(Work(open_kit, "a", open_kit("a")), tasks, host):
        found[number] = what
    return [found[number] for number in sorted(found)]


def test_tasks_are_done_and_questions_answered(pair: Dask) -> None:
    """Each task gets the answer that depends on all earlier ones; both workers are at it."""
    host = Sums()
    done = run(pair, WORDS, host)
    assert done == ["a heron 0", "a tern 5", "a gull 9", "a wren 13", "a teal 17"]
    assert sorted(word for word, _ in host.words) == sorted(WORDS)
    assert {process for _, process in host.words} == {one.pid for one in pair.workers}


def test_no_tasks() -> None:
    """With nothing to do nobody is looked for."""
    crew = Cluster("tcp://127.0.0.1:1")
    assert list(crew.run(Work(open_kit, "a", open_kit("a")), (), Sums())) == []


def test_an_error_comes_through(pair: Dask) -> None:
    """What a task raises is raised, with its problems, and those who wait at others are free."""
    with pytest.raises(OutputError, match=r"No\.") as caught:
        run(pair, ("slow", "tern", "fail"), Sums())
    assert caught.value.problems == ("a problem",)
    assert run(pair, ("heron", "tern"), Sums()) == ["a heron 0", "a tern 5"]


def test_enough_is_heard(pair: Dask) -> None:
    """A task that searches hears when the host has seen enough."""
    assert run(pair, ("until enough",), Sums()) == ["a until enough 0"]


def test_one_that_is_lost_while_the_other_waits_for_it(pair: Dask) -> None:
    """The first task goes to the worker that waits at the second for it to be done."""
    host = Sums(end_at="slow")
    assert run(pair, ("slow", "tern", "gull"), host) == ["a slow 0", "a tern 4", "a gull 8"]
    slow = [process for word, process in host.words if word == "slow"]
    alive = [one.pid for one in pair.workers if one.poll() is None]
    assert len(slow) == 2
    assert alive == slow[1:]


def test_a_task_that_needs_too_much_memory(pair: Dask) -> None:
    """It is given to others, and then is told as what it is, workers being none the worse."""
    with pytest.raises(ClusterError, match=r"3 times a worker .* out of memory at task 2\. What"):
        run(pair, ("heron", "large"), Sums())
    assert all(one.poll() is None for one in pair.workers)


def test_a_worker_whose_disk_is_full(pair: Dask) -> None:
    """That is told of the worker, and not taken for this machine's disk."""
    with pytest.raises(ClusterError, match=r"worker tcp://\S+ cannot work: .*No space left"):
        run(pair, ("full",), Sums())


def test_files_that_are_not_what_was_made(pair: Dask, tmp_path: Path) -> None:
    """What a worker sends is compared with what it says that it made."""
    task = Task(1, 1, (), Settings("key-fob"), {}, str(tmp_path))
    work = Work(open_false_kit, "a", open_false_kit("a"))
    with pytest.raises(ClusterError, match=r"sent of task 1 is not what it made"):
        list(Cluster(pair.address).run(work, [(1, task)], Sums()))


def test_all_are_gone(pair: Dask) -> None:
    """Once the last worker has ended the run ends too, and what was done before had been given."""
    done: dict[int, str] = {}
    with pytest.raises(ClusterError, match="no workers any more: they were ended"):
        run(pair, ("heron", "tern", "end"), Sums(), done)
    assert done == {1: "a heron 0", 2: "a tern 5"}
    with pytest.raises(ClusterError, match=r"The scheduler has no workers\. Start some"):
        run(pair, WORDS, Sums())


def test_the_scheduler_is_gone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """When the scheduler is ended in the middle the run ends with an error that says so."""
    monkeypatch.setattr(connect, "CONNECT_S", 5.0)
    with dask(tmp_path, 1) as running:
        host = Sums(end=running.end_scheduler)
        with pytest.raises(
            ClusterError, match=r"The scheduler at \S+ is gone, .* What is whole is"
        ):
            run(running, ("slow", "slow"), host)
    assert len(host.words) == 1
