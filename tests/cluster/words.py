"""Tasks that are words, and a host that knows how long they are; for crews of any kind."""

import os
import signal
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from namebatch.crew import Line
from namebatch.errors import OutputError, WorkerError
from namebatch.sections.task import Counts, Task, Whole


def open_kit(kit: str) -> Callable[[str, Line], str]:
    """What does a task: tells its word and process, asks for the sum of the lengths before it."""

    def do(task: str, line: Line) -> str:
        if task == "end":
            os.kill(os.getpid(), signal.SIGKILL)
        if task == "fail":
            raise OutputError("No.", ["a problem"])
        if task == "large":
            raise MemoryError
        if task == "full":
            raise OSError(28, "No space left on device")
        line.tell((task, os.getpid()))
        while task == "until enough" and not line.enough():
            time.sleep(0.02)
        if task == "slow":
            time.sleep(1.0)
        before = line.ask(len(task))
        return f"{kit} {task} {before}"

    return do


def open_false_kit(kit: str) -> Callable[[Task, Line], Whole]:
    """What makes sections of one file and says that it has another."""

    def do(task: Task, line: Line) -> Whole:
        (Path(task.folder) / "file").write_text("made", encoding="utf-8")
        return Whole(task.number, Counts(), Counts(), {"file": "0" * 64})

    return do


@dataclass
class Sums:
    """A host that knows the sum of the lengths of all earlier words once they have been told.

    Attributes:
        words: that were told, with their process.
        lengths: by number.
        end_at: the first who is at this word is killed once another waits.
        end: called once a word has been told.
    """

    words: list[tuple[str, int]] = field(default_factory=list)
    lengths: dict[int, int] = field(default_factory=dict)
    end_at: str = ""
    end: Callable[[], None] | None = None

    def told(self, number: int, word: object) -> None:
        """Hear a word."""
        assert isinstance(word, tuple)
        self.words.append(word)
        if self.end is not None:
            self.end()

    def asked(self, number: int, question: object) -> int | None:
        """The sum, if all earlier ones are known."""
        assert isinstance(question, int)
        for word, process in self.words:
            if word == self.end_at and number > 1:
                self.end_at = ""
                os.kill(process, signal.SIGKILL)
        self.lengths[number] = question
        if not set(range(1, number)) <= self.lengths.keys():
            return None
        return sum(self.lengths[n] for n in range(1, number))

    def enough(self) -> bool:
        """Once a word has been told."""
        return bool(self.words)

    def lost(self, numbers: Sequence[int]) -> Exception:
        """Never asked by a cluster."""
        return WorkerError(f"Lost at {numbers}.")
