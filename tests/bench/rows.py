"""One line of the table of benchmarks: a figure of ours beside one of something else."""

import os
import platform
from collections.abc import Iterable, Iterator
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Row:
    """What was measured, both sides in the same run.

    Attributes:
        what: in a few words.
        ours: our figure with its unit.
        beside: what it is compared with, with its figure.
        ratio: ours by the other; none where two figures stand beside each other only.
        bar: what the ratio should be at most, or at least with a leading ``≥``; empty if nothing.
    """

    what: str
    ours: str
    beside: str
    ratio: float | None
    bar: str = ""


def machine() -> str:
    """The machine in a few words."""
    cores = len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count()
    memory = os.sysconf("SC_PAGE_SIZE") * os.sysconf("SC_PHYS_PAGES") / 2**30
    return (
        f"{cores} cores, {memory:.0f} GiB, {platform.system()} {platform.machine()}, "
        f"Python {platform.python_version()}"
    )


def table(rows: Iterable[Row]) -> Iterator[str]:
    """Lines of a table in Markdown."""
    yield "| what | ours | beside | ratio | bar |"
    yield "|---|---|---|---|---|"
    for row in rows:
        ratio = "" if row.ratio is None else f"{row.ratio:.2f}"
        yield f"| {row.what} | {row.ours} | {row.beside} | {ratio} | {row.bar} |"
