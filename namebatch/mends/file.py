"""A file of changes by hand, TOML or JSON: one table a line of the list."""

import json
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Annotated, Any, Final

from pydantic import AfterValidator, Field, model_validator

from namebatch.errors import MendError
from namebatch.names.limits import FIELD_CHARACTERS, FILLED_ROWS, QUANTITY
from namebatch.names.mend import Mend, mend_of, plain_mend
from namebatch.ordinary import open_ordinary
from namebatch.template.problems import (
    FileProblem,
    Problems,
    did_you_mean,
    joined,
    printable,
    validated,
)
from namebatch.template.schema import At, Plain, Table
from namebatch.template.toml_file import parse_toml

MOST_BYTES: Final = 16 * 1024 * 1024
MOST_TOML_BYTES: Final = 2 * 1024 * 1024
"""Of what people write by hand; its reader is slow, and programs write JSON."""
MOST_NAMES: Final = 1_000
"""Fields or texts of one row; no list has half as many columns."""
MOST_PROBLEMS: Final = 1_000
"""So many are enough to see what is wrong; the rest of the file is not looked at."""
FORMAT: Final = 1
HIGHEST_MM: Final = 500.0
WIDEST_MM: Final = 50.0

Height = Annotated[float, Field(gt=0.0, le=HIGHEST_MM)]
Text = Annotated[str, Field(max_length=FIELD_CHARACTERS)]


def _two(lines: list[str]) -> list[str]:
    if len(lines) != 2 or not all(line.strip() for line in lines):
        raise ValueError('needs the two lines, ["Ada", "Teasel"]; for a single one: one_line.')
    return lines


class TextTable(Table):
    """``[line.14.text.name]``."""

    font: Plain | None = None
    height_mm: Height | None = None
    most_mm: Height | None = None
    one_line: bool = False
    lines: Annotated[list[Text], AfterValidator(_two)] | None = None
    shift_mm: At | None = None

    @model_validator(mode="after")
    def _one_of_each(self) -> "TextTable":
        if self.height_mm is not None and self.most_mm is not None:
            raise ValueError("has height_mm, which is exact, and most_mm too; leave one out.")
        if self.one_line and self.lines is not None:
            raise ValueError("has one_line and lines too; leave one out.")
        return self


class MendTable(Table):
    """``[line.14]``."""

    fields: dict[str, Text] = Field(default_factory=dict, max_length=MOST_NAMES)
    text: dict[str, TextTable] = Field(default_factory=dict, max_length=MOST_NAMES)
    font: Plain | None = None
    bridge_mm: Annotated[float, Field(gt=0.0, le=WIDEST_MM)] | None = None
    quantity: Annotated[int, Field(ge=1, le=QUANTITY)] | None = None
    held: Plain | None = None
    was: dict[str, str] = Field(default_factory=dict, max_length=MOST_NAMES)


def mend_from(table: object, place: str, problems: Problems) -> Mend | None:
    """One row's changes from a table of whatever source.

    Args:
        table: as TOML or JSON have it.
        place: where it stands, for messages.
        problems: gets one line a problem.

    Returns:
        None if there are problems.
    """
    found = validated(MendTable, table, place, problems)
    return None if found is None else mend_of(found.model_dump(exclude_none=True))


def read_mends(path: Path) -> dict[int, Mend]:
    """The changes of a file, by line of the list, rising.

    Raises:
        MendError: with all problems of the file, each with its place.
    """
    try:
        tables = _tables(path)
    except FileProblem as problem:
        raise MendError(f"The file of changes by hand {problem}") from None
    problems = Problems()
    if tables.get("format") != FORMAT:
        problems.add("format", f"must be {FORMAT}; this version reads no other.")
    for key in tables:
        if key not in ("format", "line"):
            told = f"there is no such key here; {did_you_mean(key, ('format', 'line'))}"
            problems.add(joined("", [key]), told)
    mends = _lines(tables.get("line", {}), problems)
    if problems:
        what = f"The file of changes by hand {printable(path.name)} cannot be used yet."
        raise MendError(what, problems.told())
    return mends


def written(mends: Mapping[int, Mend]) -> bytes:
    """Changes as a file that `read_mends` takes: JSON, the same bytes for equal changes."""
    lines = {str(line): plain_mend(mends[line]) for line in sorted(mends)}
    content = {"format": FORMAT, "line": lines}
    return (json.dumps(content, ensure_ascii=False, indent=1) + "\n").encode()


def _tables(path: Path) -> dict[str, Any]:
    name = path.name
    try:
        with open_ordinary(path) as file:
            data = file.read(MOST_BYTES + 1)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "the name cannot be used"
        raise FileProblem(name, f"cannot be read ({reason}).") from None
    if len(data) > MOST_BYTES:
        raise FileProblem(name, f"is larger than {MOST_BYTES // 2**20} MiB; shorten it.")
    if not data.removeprefix(b"\xef\xbb\xbf").lstrip().startswith(b"{"):
        if len(data) > MOST_TOML_BYTES:
            most = f"{MOST_TOML_BYTES // 2**20} MiB"
            raise FileProblem(name, f"is larger than {most}; shorten it, or write it as JSON.")
        return parse_toml(data, name)
    try:
        found = json.loads(data.decode("utf-8-sig"), object_pairs_hook=_without_twins)
    except RecursionError:
        raise FileProblem(name, "has brackets nested too deeply to be read.") from None
    except ValueError as error:
        raise FileProblem(name, f"stops making sense: {error}. Mend that place.") from None
    return dict(found)


def _without_twins(pairs: Sequence[tuple[str, Any]]) -> dict[str, Any]:
    """A JSON table; of two entries with one name the reader would keep the last in silence."""
    found: dict[str, Any] = {}
    for name, value in pairs:
        if name in found:
            raise ValueError(f'"{name[:40]}" stands twice in one table')
        found[name] = value
    return found


def _lines(tables: object, problems: Problems) -> dict[int, Mend]:
    if not isinstance(tables, dict):
        problems.add("line", "needs tables by line of the list, [line.14].")
        return {}
    if len(tables) > FILLED_ROWS:
        problems.add("line", f"holds changes of more than {FILLED_ROWS} lines; no list is so long.")
        return {}
    found: dict[int, Mend] = {}
    for key, table in tables.items():
        if len(problems) > MOST_PROBLEMS:
            problems.add("line", "the rest was not looked at; mend these first.")
            break
        place = joined("line", [key])
        if not (key.isascii() and key.isdigit() and len(key) < 10 and key == str(int(key))):
            problems.add(place, "needs the number of a line of the list, [line.14].")
            continue
        mend = mend_from(table, place, problems)
        if mend is not None:
            found[int(key)] = mend
    return {line: found[line] for line in sorted(found)}
