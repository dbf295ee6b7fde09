"""Where the time goes: functions wrapped by stop-watches that do not count each other's time."""

import importlib
import time
from collections import defaultdict
from collections.abc import Callable, Iterator, Sequence
from contextlib import ExitStack, contextmanager
from typing import Any
from unittest.mock import patch

Stage = tuple[str, str, str]
"""Title, module and name of a function as that module calls it."""


class StopWatch:
    """Time spent in each stage, without that of stages which it calls.

    Attributes:
        seconds: by title.
        calls: by title.
    """

    def __init__(self) -> None:
        self.seconds: dict[str, float] = defaultdict(float)
        self.calls: dict[str, int] = defaultdict(int)
        self._within: list[float] = []

    def wrapped(self, title: str, function: Callable[..., Any]) -> Callable[..., Any]:
        """The same function, timed."""

        def timed(*args: Any, **settings: Any) -> Any:
            self._within.append(0.0)
            start = time.process_time()
            try:
                return function(*args, **settings)
            finally:
                spent = time.process_time() - start
                self.seconds[title] += spent - self._within.pop()
                self.calls[title] += 1
                if self._within:
                    self._within[-1] += spent

        return timed

    @contextmanager
    def on(self, stages: Sequence[Stage]) -> Iterator[None]:
        """Wrap the functions for a while.

        Args:
            stages: what to wrap; a name that a module lacks is an error.
        """
        with ExitStack() as stack:
            for title, where, name in stages:
                module = importlib.import_module(where)
                timed = self.wrapped(title, getattr(module, name))
                stack.enter_context(patch.object(module, name, timed))
            yield

    def table(self, count: int) -> Iterator[str]:
        """Lines of a table, the dearest first.

        Args:
            count: pieces that were made.
        """
        total = sum(self.seconds.values())
        for title, spent in sorted(self.seconds.items(), key=lambda item: -item[1]):
            yield (
                f"  {title:34}{1e3 * spent / count:8.3f} ms{100 * spent / total:6.1f} %"
                f"{self.calls[title] / count:7.2f} calls a piece"
            )
