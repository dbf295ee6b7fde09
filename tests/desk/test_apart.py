"""Work in a process of its own: results and refusals come back, a breakdown costs one request."""

import os
import time
from collections.abc import Iterator
from multiprocessing import get_context
from threading import Thread

import pytest

from namebatch.desk import apart as apart_module
from namebatch.desk.apart import MOST_MEMORY, START_SECONDS, Apart
from namebatch.errors import DeskError, TemplateError
from namebatch.template.problems import FileProblem


@pytest.fixture(scope="module")
def apart() -> Iterator[Apart]:
    """A process that tests share."""
    running = Apart()
    yield running
    running.close()


def doubled(value: int) -> int:
    return 2 * value


def whose() -> int:
    return os.getpid()


def refused(what: str) -> None:
    raise TemplateError(what, ["first", "second"])


def of_a_file() -> None:
    raise FileProblem("front.svg line 3", "is bent.")


def broken() -> None:
    raise KeyError("x")


def gone() -> None:
    os._exit(9)


def endless() -> None:
    while True:
        time.sleep(1)


def greedy() -> int:
    return len(bytearray(2 * MOST_MEMORY))


def test_a_result_comes_back(apart: Apart) -> None:
    """From another process, the same one each time."""
    assert apart.run(doubled, 21) == 42
    first = apart.run(whose)
    assert first == apart.run(whose)
    assert first != os.getpid()


def test_a_refusal_comes_back_with_all_it_says(apart: Apart) -> None:
    """Whatever class it has: some of them cannot be sent as they are."""
    with pytest.raises(DeskError, match="not so") as error:
        apart.run(refused, "not so")
    assert error.value.problems == ("first", "second")
    with pytest.raises(DeskError, match=r"front\.svg line 3: is bent"):
        apart.run(of_a_file)


def test_a_fault_is_told_and_the_process_lives_on(apart: Apart) -> None:
    """Of a reader that raises what nobody thought of."""
    before = apart.run(whose)
    with pytest.raises(DeskError, match="KeyError"):
        apart.run(broken)
    assert apart.run(whose) == before


def test_a_breakdown_costs_one_request(apart: Apart) -> None:
    """The next one has a fresh process."""
    before = apart.run(whose)
    with pytest.raises(DeskError, match="broke down"):
        apart.run(gone)
    assert apart.run(whose) != before


def test_too_much_memory_is_refused(apart: Apart) -> None:
    """The process may not take more than it was given; the machine stays usable."""
    with pytest.raises(DeskError, match="not enough memory"):
        apart.run(greedy)
    assert apart.run(doubled, 1) == 2


def test_what_takes_too_long_is_ended() -> None:
    """After its time, and the next request is done."""
    short = Apart(most_seconds=0.5)
    with pytest.raises(DeskError, match="broken off"):
        short.run(endless)
    short.close()


def test_closing_ends_the_process() -> None:
    """Nothing is left of it."""
    running = Apart()
    first = running.run(whose)
    running.close()
    with pytest.raises(ProcessLookupError):
        os.kill(first, 0)


def test_closing_waits_for_no_picture() -> None:
    """What is being read when the program ends is broken off, and nothing is begun after it."""
    apart = Apart()
    apart.run(doubled, 1)
    ended: list[str] = []

    def read() -> None:
        try:
            apart.run(endless)
        except DeskError as error:
            ended.append(str(error))

    reader = Thread(target=read)
    reader.start()
    while not apart._lock.locked():
        time.sleep(0.01)
    apart.close()
    reader.join()
    assert "broke down" in ended[0]
    with pytest.raises(DeskError, match="is being ended"):
        apart.run(doubled, 1)


def test_a_server_that_is_gone_at_once_is_no_fault() -> None:
    """Nobody is at the other end when the process has come up: it ends without a word."""
    ours, theirs = get_context("spawn").Pipe()
    process = get_context("spawn").Process(target=apart_module._serve, args=(theirs,))
    process.start()
    theirs.close()
    ours.close()
    process.join(START_SECONDS)
    assert process.exitcode == 0


def test_warming_waits_for_nobody() -> None:
    """The process is there when it is asked for the first thing."""
    running = Apart()
    running.warm(whose)
    first = running.run(whose)
    assert running.run(whose) == first
    running.close()
