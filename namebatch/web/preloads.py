"""Which modules a page needs in all, so that a browser fetches them at once and not in turns."""

import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

_MODULES = Path(__file__).resolve().parent / "static" / "js"
_IMPORT = re.compile(r'^(?:import|export)[^"]*"\./([\w-]+\.mjs)"', re.MULTILINE)


@cache
def modules_of(first: str) -> tuple[str, ...]:
    """A module of the page and all that it imports, those that are needed first before others.

    Args:
        first: name of a file in `static/js`.

    Raises:
        FileNotFoundError: one of them is not there.
    """
    found = [first]
    for name in found:  # grows as it goes
        found += [each for each in _imported(_MODULES / name) if each not in found]
    return tuple(found)


def _imported(path: Path) -> Iterator[str]:
    yield from dict.fromkeys(_IMPORT.findall(path.read_text(encoding="utf-8")))
