"""All benchmarks in one table: ``python -m tests.bench [--names N] [--only WORD]``.

Every row is a ratio of two things measured side by side in this run. Run it on a machine that does
nothing else. Growth is followed up to 10,000 names, with ``--names 100000`` up to there, which
takes an hour or two. ``--only`` runs the groups whose name has that word in it.
"""

import argparse
import sys
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path

from tests.bench import parts, sheets, wholes
from tests.bench.rows import Row, machine, table

GROUPS: dict[str, Callable[[Path, int], Iterator[Row]]] = {
    "pieces": lambda folder, names: parts.pieces(),
    "print": lambda folder, names: parts.print_size(folder),
    "start": lambda folder, names: parts.start(),
    "fill": lambda folder, names: sheets.fill(),
    "stages": lambda folder, names: wholes.stages(folder),
    "words": lambda folder, names: wholes.words(folder, names),
    "workers": lambda folder, names: wholes.workers(folder),
    "growth": lambda folder, names: wholes.growth(folder, names),
}
"""Name of a group → its rows, from a folder to work in and the most names."""


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench", description=__doc__)
    parser.add_argument("--names", type=int, default=10_000, help="the longest list")
    parser.add_argument("--only", default="", help="groups with this word in their name")
    asked = parser.parse_args()
    rows: list[Row] = []
    with tempfile.TemporaryDirectory() as folder:
        for name, group in GROUPS.items():
            if asked.only in name:
                print(f"{name} …", file=sys.stderr, flush=True)
                rows += group(Path(folder), asked.names)
    print(machine())
    print("\n".join(table(rows)))


if __name__ == "__main__":
    main()
