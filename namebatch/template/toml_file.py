"""Reading a TOML file that nobody vouches for."""

import re
import tomllib
from pathlib import Path
from typing import Any

from namebatch.ordinary import open_ordinary
from namebatch.template.problems import FileProblem

LARGEST_BYTES = 256 * 1024
"""No template or workshop file comes near; it bounds what the parser may take."""
MOST_DOTS = 64
"""Of one dotted key; the parser takes time with their square."""
DEEPEST = 64
"""Of tables in tables, however they are written."""
LARGEST_WHOLE = 2**63
"""What every TOML reader has to take (TOML 1.0, Integer); more is a slip or meant to harm."""
_QUOTED = re.compile(r'"(?:[^"\\\n]|\\.)*"|\'[^\'\n]*\'')
_BETWEEN_KEYS = re.compile(r"[=,{}\[\]]")


def read_toml(path: Path) -> tuple[dict[str, Any], bytes]:
    """The tables of a TOML file and its bytes.

    Raises:
        FileProblem: the file cannot be read, is too large, is not UTF-8 or not TOML.
    """
    try:
        with open_ordinary(path) as file:
            data = file.read(LARGEST_BYTES + 1)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "the name cannot be used"
        raise FileProblem(path.name, f"cannot be read ({reason}).") from None
    if len(data) > LARGEST_BYTES:
        raise FileProblem(path.name, f"is larger than {LARGEST_BYTES // 1024} KiB; shorten it.")
    return parse_toml(data, path.name), data


def parse_toml(data: bytes, name: str) -> dict[str, Any]:
    """TOML bytes as tables.

    Raises:
        FileProblem: with line and column where the reading stopped.
    """
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise FileProblem(f"{name} line {line}", "is not UTF-8 text; save it as UTF-8.") from None
    _check_keys(text, name)
    try:
        tables = tomllib.loads(text)
    except RecursionError:
        raise FileProblem(
            name, "has brackets nested too deeply to be read; look for one that is not closed."
        ) from None
    except ValueError as error:
        raise FileProblem(name, f"stops making sense: {error}. Mend that place.") from None
    _check_values(tables, name)
    return tables


def _check_keys(text: str, name: str) -> None:
    """Refuse a key of very many parts before the parser meets it."""
    for number, line in enumerate(text.split("\n"), start=1):
        if line.count(".") > MOST_DOTS:
            parts = _BETWEEN_KEYS.split(_QUOTED.sub("", line).partition("#")[0])
            if max(part.count(".") for part in parts) > MOST_DOTS:
                raise FileProblem(
                    f"{name} line {number}",
                    f"has a key of more than {MOST_DOTS} parts; no table here lies so deep.",
                )


def _check_values(tables: dict[str, Any], name: str) -> None:
    """Refuse what later steps would have to go down into too deep, or could not write out."""
    level: list[Any] = [tables]
    for _ in range(DEEPEST):
        inner: list[Any] = []
        for value in level:
            inner += value.values() if isinstance(value, dict) else value
        if any(type(one) is int and abs(one) > LARGEST_WHOLE for one in inner):
            raise FileProblem(name, "holds a whole number of more than 18 digits; mend it.")
        level = [one for one in inner if isinstance(one, dict | list)]
        if not level:
            return
    raise FileProblem(name, f"has tables or lists nested more than {DEEPEST} deep; mend it.")
