"""Orders: a job from a docket's list, or spoiled pieces of an earlier job again."""

import os
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from namebatch.desk.jobfolder import JobFolder
from namebatch.desk.jobs import job_of, jobs_of, whole_id
from namebatch.desk.make_process import Order
from namebatch.desk.making import job_folders
from namebatch.desk.recipe import Recipe
from namebatch.desk.templates import template_source
from namebatch.desk.underway import next_job
from namebatch.errors import DeskError
from namebatch.remake import Wish, next_folder
from namebatch.sheet.model import PlacedFace
from namebatch.store import Store
from namebatch.template.workshop_file import BUILTIN_NAME

MOST_WORKERS: Final = 4
NOTHING_SPOILED: Final = (
    "No piece of this job is marked as spoiled, or all that are were made again already. Mark "
    "pieces on the map of a sheet first."
)


@dataclass(frozen=True, slots=True)
class Again:
    """What is asked of a remake.

    Attributes:
        faces: what of the pieces is made again; all of it if empty.
        onto: boards of the first job that are filled before new ones.
        sheet: other sheets than the first job's.
        as_now: with template, typefaces and workshop file as they are now.
    """

    faces: tuple[PlacedFace, ...] = ()
    onto: tuple[str, ...] = ()
    sheet: str | None = None
    as_now: bool = False


def job_order(store: Store, docket: int, recipe: Recipe) -> Order:
    """The order of a job from the list of a docket."""
    place = store.docket_folder(docket)
    folder = next_job(place, job_folders(store, docket))
    return Order(place, place / folder, recipe, workers=_workers())


def remake_order(
    store: Store, docket: int, number: int, again: Again, own_templates: Path, workshop: Path
) -> Order:
    """The order of a remake of what is spoiled of a job and of its remakes, and not made again yet.

    Args:
        store: what is kept.
        docket: its number.
        number: of the job, or of a remake of it.
        again: what is asked.
        own_templates: folder of the workshop's own templates.
        workshop: the workshop file.

    Raises:
        DeskError: nothing is spoiled.
        NamebatchError: there is no such job, its folder is gone, or its template is.
    """
    job_of(store, docket, number)
    views = jobs_of(store, docket, None)
    of = next(one.remake_of for one in views if one.number == number)
    first, folder = job_of(store, docket, number if of is None else of)
    pieces = [
        piece
        for one in views
        if first.number in (one.number, one.remake_of)
        for piece in one.spoiled
        if piece not in one.remade
    ]
    if not pieces:
        raise DeskError(NOTHING_SPOILED)
    place = store.docket_folder(docket)
    out = next_folder(folder.folder)
    wish = Wish(
        job=folder.folder,
        out=out,
        pieces=tuple(dict.fromkeys(whole_id(piece) for piece in pieces)),
        template=template_source(own_templates, folder.template),
        workshop=_workshop(folder, workshop),
        sheet=again.sheet,
        onto=again.onto,
        faces=again.faces,
        as_now=again.as_now,
        workers=_workers(),
    )
    return Order(place, out, wish=wish)


def _workshop(folder: JobFolder, now: Path) -> Path | None:
    """The workshop file for a remake: none if the first job was made with the built-in values."""
    settings = folder.identity.get("settings")
    was = settings.get("workshop") if isinstance(settings, dict) else None
    built_in = isinstance(was, dict) and was.get("name") == BUILTIN_NAME
    return None if built_in else now


def _workers() -> int:
    """As many as there are processors, within reason."""
    return min(os.cpu_count() or 1, MOST_WORKERS)
