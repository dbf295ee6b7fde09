"""Long lists in small: a few names, sections of a few pieces."""

import json
from collections.abc import Sequence
from hashlib import sha256
from itertools import product
from pathlib import Path
from typing import Any

from namebatch.crew import Crew
from namebatch.pipeline import Settings, plan_job
from namebatch.sections import Made, Wish, make_folder
from tests.conftest import silent

FIRST = ("Wren", "Inka", "Marlo", "Zoë", "Bo", "Odile", "Teal")
LAST = ("Sedge", "Kelp", "Samphire", "Marram")
SIZE = 8
"""Pieces of a section here."""


def names(count: int) -> list[str]:
    """Names that differ."""
    return [f"{first} {last}" for first, last in product(FIRST, LAST)][:count]


def plain_list(place: Path, count: int = 20) -> Path:
    """A list with names only; line 6 is held, for no typeface has its sign."""
    place.mkdir(parents=True, exist_ok=True)
    path = place / "list.csv"
    some = names(count)
    some[4] = "Zoë 𓅯"
    path.write_text("name\n" + "\n".join(some) + "\n", encoding="utf-8")
    return path


def made(
    list_file: Path,
    out: Path,
    template: str = "key-fob",
    *,
    size: int = SIZE,
    crew: Crew | None = None,
    keep: bool = True,
    **settings: object,
) -> Made:
    """Make a list in sections into a folder."""
    settings = {"workers": 1, **settings}
    plan = plan_job(list_file, Settings(template, **settings))  # type: ignore[arg-type]
    return make_folder(plan, out, Wish(False, silent, size=size, crew=crew, keep=keep))


def manifest(out: Path) -> dict[str, Any]:
    """The manifest of a job folder."""
    content: dict[str, Any] = json.loads((out / "job.json").read_bytes())
    return content


def files_of(folder: Path) -> dict[str, str]:
    """Every file below a folder, hidden ones too, with its digest."""
    return {
        path.relative_to(folder).as_posix(): sha256(path.read_bytes()).hexdigest()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def placed(content: dict[str, Any], kind: str) -> list[str]:
    """Ids of everything that lies on sheets of a kind, one a face."""
    return sorted(
        f"{place['piece']}.{place['face']}"
        for sheet in content["sheets"]
        if sheet["kind"] == kind
        for place in sheet["placements"]
    )


def lines(entries: Sequence[dict[str, Any]]) -> list[int]:
    """Their lines."""
    return [entry["line"] for entry in entries]
