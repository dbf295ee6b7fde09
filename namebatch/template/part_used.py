"""A file of part-used boards: pieces of material of which it is known what is gone. mm."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, Any

from pydantic import Field

from namebatch.errors import WorkshopError
from namebatch.template.problems import (
    FileProblem,
    Problems,
    did_you_mean,
    joined,
    printable,
    validated,
)
from namebatch.template.schema import Plain, Table
from namebatch.template.toml_file import read_toml
from namebatch.template.workshop_schema import Area

MOST_BOARDS = 200
MOST_RECTANGLES = 500
Corner = tuple[float, float, float, float]


class BoardTable(Table):
    """``[[board]]``."""

    name: Plain | None = None
    material: Plain | None = None
    size_mm: Area | None = None
    used_mm: Annotated[list[list[float]], Field(max_length=MOST_RECTANGLES, default=[])]
    job: Plain | None = None
    sheet: Plain | None = None


@dataclass(frozen=True, slots=True)
class PartUsed:
    """One part-used board as the file tells it.

    Attributes:
        name: what it is called in the workshop.
        material: name in the workshop file; empty where an earlier job says it.
        size_mm: of the whole board; None for the material's own.
        used_mm: rectangles that are gone: x, y, width, height from its bottom left corner.
        job: folder of the earlier job that was cut from it, None if there is none.
        sheet: id of the board in that job.
    """

    name: str
    material: str
    size_mm: tuple[float, float] | None
    used_mm: tuple[Corner, ...]
    job: Path | None = None
    sheet: str = ""


def load_part_used(path: Path) -> tuple[PartUsed, ...]:
    """The boards of a file, in its order.

    Raises:
        WorkshopError: with all problems of the file, each with its place.
    """
    try:
        tables, _ = read_toml(path)
    except FileProblem as problem:
        raise WorkshopError(f"The file of part-used boards {problem}") from None
    problems = Problems()
    boards = _boards(tables, path.parent, problems)
    if problems:
        raise WorkshopError(
            f"The file of part-used boards {printable(path.name)} cannot be used yet.",
            problems.told(),
        )
    return boards


def _boards(tables: Mapping[str, Any], folder: Path, problems: Problems) -> tuple[PartUsed, ...]:
    for key in tables:
        if key != "board":
            told = f"there is no such key here; {did_you_mean(key, ('board',))}"
            problems.add(joined("", [key]), told)
    data = tables.get("board")
    if not isinstance(data, list) or not data:
        problems.add("[[board]]", "is missing; at least one part-used board is needed.")
        return ()
    if len(data) > MOST_BOARDS:
        problems.add("[[board]]", f"stands there more than {MOST_BOARDS} times; take some out.")
        return ()
    found = (
        _board(entry, f"board {number}", folder, problems)
        for number, entry in enumerate(data, start=1)
    )
    return tuple(board for board in found if board is not None)


def _board(entry: object, place: str, folder: Path, problems: Problems) -> PartUsed | None:
    table = validated(BoardTable, entry, place, problems)
    if table is None:
        return None
    if (table.job is None) != (table.sheet is None):
        problems.add(place, "job and sheet belong together: a job folder and the board's id in it.")
    if table.job is None and table.material is None:
        problems.add(place, "needs a material, or job and sheet of what was cut from it before.")
    if table.job is None and not table.used_mm:
        problems.add(place, "needs used_mm, what is gone of it, or job and sheet.")
    if table.job is not None and (table.material or table.size_mm):
        problems.add(place, "takes material and size from the job; leave both out.")
    for rectangle in table.used_mm:
        if len(rectangle) != 4 or min(rectangle[2:]) <= 0 or max(map(abs, rectangle)) > 1e5:
            problems.add(
                f"{place}.used_mm",
                "holds rectangles [x, y, width, height] from the bottom left corner, the last "
                "two above 0.",
            )
            break
    size = None if table.size_mm is None else (table.size_mm[0], table.size_mm[1])
    told = f"{table.sheet} of {table.job}" if table.job else f"part-used {place}"
    return PartUsed(
        name=table.name or told,
        material=table.material or "",
        size_mm=size,
        used_mm=tuple((r[0], r[1], r[2], r[3]) for r in table.used_mm if len(r) == 4),
        job=None if table.job is None else folder / table.job,
        sheet=table.sheet or "",
    )
