"""Reading a TOML file that nobody vouches for."""

import tomllib
from pathlib import Path
from typing import Any

from namebatch.template.problems import FileProblem

LARGEST_BYTES = 256 * 1024
"""No template or workshop file comes near; it bounds what the parser may take."""


def read_toml(path: Path) -> tuple[dict[str, Any], bytes]:
    """The tables of a TOML file and its bytes.

    Raises:
        FileProblem: the file cannot be read, is too large, is not UTF-8 or not TOML.
    """
    try:
        with path.open("rb") as file:
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
    try:
        return tomllib.loads(text)
    except RecursionError:
        raise FileProblem(
            name, "has brackets nested too deeply to be read; look for one that is not closed."
        ) from None
    except ValueError as error:
        raise FileProblem(name, f"stops making sense: {error}. Mend that place.") from None
