"""First jobs for remakes: made whole, written into a folder, kept for several tests."""

import json
import shutil
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from namebatch.job import Job
from namebatch.output.atomic import write_job
from namebatch.pipeline import Settings, make_job, plan_job
from namebatch.remake import Wish, make_again, plan_remake
from namebatch.resources import bundled
from tests.conftest import silent

CARDS = "name,table,colour,quantity\nWren Teasel,Gull table,teal,2\nTeal,Tern table,,1\n"
HELD = CARDS + "Zoë 𓅯,Gull table,,1\nInka,Gull table,,3\n"
"""Line 4 is held: no typeface has the hieroglyph."""


def example(template: str, rows: int) -> str:
    """The first rows of a template's example list."""
    lines = (bundled("examples") / f"{template}.csv").read_text(encoding="utf-8").splitlines()
    return "\n".join(lines[: rows + 1]) + "\n"


@dataclass(frozen=True, slots=True)
class First:
    """A first job and its folder."""

    job: Job
    folder: Path

    @property
    def manifest(self) -> dict[str, Any]:
        """As written."""
        return manifest(self.folder)

    @property
    def ids(self) -> tuple[str, ...]:
        """Of all pieces."""
        return tuple(piece["id"] for piece in self.manifest["pieces"])


def manifest(folder: Path) -> dict[str, Any]:
    """A job folder's manifest."""
    content: dict[str, Any] = json.loads((folder / "job.json").read_bytes())
    return content


def change_manifest(folder: Path, change: Mapping[str, object]) -> None:
    """Change keys of a manifest as somebody might by hand."""
    content = manifest(folder) | dict(change)
    (folder / "job.json").write_text(json.dumps(content), encoding="utf-8")


def first_job(place: Path, text: str, template: str | Path, **settings: object) -> First:
    """Make a job from a list and write it into ``place/first``."""
    place.mkdir(parents=True, exist_ok=True)
    path = place / "list.csv"
    path.write_text(text, encoding="utf-8")
    job = make_job(plan_job(path, Settings(str(template), **settings)), silent)  # type: ignore[arg-type]
    write_job(job, place / "first", False, silent)
    return First(job, place / "first")


def own_template(place: Path, name: str, old: str, new: str) -> Path:
    """A bundled template with one thing changed, under another name."""
    folder = place / f"my-{name}"
    shutil.copytree(bundled("templates") / name, folder)
    toml = folder / "template.toml"
    text = toml.read_text(encoding="utf-8")
    assert old in text
    toml.write_text(text.replace(old, new, 1), encoding="utf-8")
    return folder


def again(first: First, *pieces: str, **wish: Any) -> Job:
    """Make pieces again, nothing written."""
    wish = {"out": first.folder / "remakes" / "001", **wish}
    return make_again(plan_remake(Wish(first.folder, pieces=pieces, **wish)), silent)


def written(first: First, number: int, *pieces: str, **wish: Any) -> Job:
    """Make pieces again and write them below the first job."""
    out = first.folder / "remakes" / f"{number:03d}"
    job = make_again(plan_remake(Wish(first.folder, out, pieces, **wish)), silent)
    write_job(job, out, False, silent)
    return job
