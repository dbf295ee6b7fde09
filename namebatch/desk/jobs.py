"""The jobs of a docket: what was made, what of it is there, which pieces were spoiled. mm."""

import re
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import Final

from namebatch.desk.aligned import aligned_files
from namebatch.desk.jobfolder import JobFolder, JobSheetLine, read_job
from namebatch.desk.lying import Lying
from namebatch.desk.made_model import JobFile, JobView, SheetLine
from namebatch.desk.model import Latest
from namebatch.desk.sameness import identity_of, is_same
from namebatch.errors import DeskError, NotThereError
from namebatch.measured.jobsheet import REMAKES
from namebatch.names.characters import shown
from namebatch.output import customerproof, held
from namebatch.output.customers import plain_name
from namebatch.output.manifest import FILE as MANIFEST
from namebatch.store import MadeJob, SpoiledPiece, Store, made

GONE: Final = (
    "The folder of this job is gone, or its job.json is not the one that was written. Make the "
    "job again."
)
WHAT: Final[Mapping[str, tuple[str, str]]] = {
    "print.pdf": ("print", "Pages to print, at 100 %"),
    "workcard.pdf": ("paper", "Work card: steps, maps of the sheets, what belongs together"),
    "proof.pdf": ("paper", "Proof: every piece with what was found, for the workshop"),
    "customer-proof.pdf": ("paper", "Proof to send to whoever ordered"),
    "labels.pdf": ("paper", "Labels for packing"),
    "held.csv": ("list", "Lines that were not made, to be corrected"),
    MANIFEST: ("list", "Record of the job: every figure of it; keep it with the files"),
}
"""File → its kind and what it is, for people."""
KINDS: Final = ("print", "cut", "jig", "paper", "aligned", "list", "order")
_CUT: Final = re.compile(r"cut/((?:face|board)-\d+)\.(\w+)", re.ASCII)
_ORDERS: Final[Mapping[str, str]] = {
    f"{customerproof.FOLDER}/.pdf": "Proof to send",
    f"{held.FOLDER}/.csv": "Lines that were not made, to be corrected",
}
"""What there is of each order where the list has several."""
_OF_ORDER: Final = re.compile(r"([a-z-]+/)(\d{3,})-([a-z0-9-]+)(\.[a-z]+)", re.ASCII)
_NO_ORDER: Final = "Without an order"
_JIG: Final = re.compile(r"jig\.(\w+)", re.ASCII)
_PIECE: Final = re.compile(r"L\d+-\d+", re.ASCII)


def jobs_of(
    store: Store, docket: int, identity: Mapping[str, object] | None
) -> tuple[JobView, ...]:
    """All jobs of a docket, in the order in which they were made.

    Args:
        store: what is kept.
        docket: its number.
        identity: `output.manifest.identity` of a job that were made now; None if none can be.
    """
    noted = made.jobs(store, docket)
    spoiled = made.spoiled(store, docket)
    read = {job.number: _read(store, docket, job) for job in noted}
    firsts = {job.folder: job.number for job in noted}
    found = []
    for job in noted:
        folder = read[job.number]
        ids = tuple(one.piece for one in spoiled if one.job == job.number)
        again = remade(job, noted, read, spoiled)
        first = firsts.get(first_folder(job.folder))
        of = None if first == job.number else first
        found.append(_view(job, folder, ids, again, identity, of))
    return tuple(found)


def latest_job(store: Store, lying: Lying) -> Latest:
    """How the job that was made last stands to its docket; remakes belong to theirs.

    Args:
        store: what is kept.
        lying: the docket.
    """
    card = lying.now.card
    noted = made.jobs(store, card.number) if card.jobs else ()
    firsts = [job for job in noted if first_folder(job.folder) == job.folder]
    if not firsts:
        return "none"
    folder = _read(store, card.number, firsts[-1])
    same = folder is not None and is_same(folder, identity_of(lying))
    return "current" if same else "changed"


def job_of(store: Store, docket: int, number: int) -> tuple[MadeJob, JobFolder]:
    """One job and its folder.

    Raises:
        NotThereError: there is no such job.
        DeskError: its folder is gone.
    """
    job = next((job for job in made.jobs(store, docket) if job.number == number), None)
    if job is None:
        raise NotThereError(f"Docket {docket:04d} has no job {number}.")
    folder = _read(store, docket, job)
    if folder is None:
        raise DeskError(GONE)
    return job, folder


def spoiled_of(store: Store, docket: int, number: int) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Ids of the spoiled pieces of a job, and those of them that were made again since."""
    noted = made.jobs(store, docket)
    spoiled = made.spoiled(store, docket)
    read = {job.number: _read(store, docket, job) for job in noted}
    job = next(job for job in noted if job.number == number)
    ids = tuple(one.piece for one in spoiled if one.job == number)
    return ids, remade(job, noted, read, spoiled)


def file_of(store: Store, docket: int, number: int, path: str) -> Path:
    """A file of a job, as it was made.

    Args:
        store: what is kept.
        docket: its number.
        number: of the job.
        path: as the manifest, or the record of an aligned sheet, lists it.

    Raises:
        NotThereError: there is no such file or job.
        OutputError: it is gone, or is not the one that was made.
    """
    job, folder = job_of(store, docket, number)
    listed = {**folder.files, MANIFEST: job.digest, **aligned_files(folder)}
    if path not in listed:
        raise NotThereError(f'Job {number} has no file "{shown(path, 100)}".')
    return folder.verified(path, listed[path])


def first_folder(folder: str) -> str:
    """Where the first job of a remake lies, below the docket's folder; of a first one itself."""
    return folder.partition(f"/{REMAKES}/")[0]


def whole_id(piece: str) -> str:
    """The id of the piece that a part belongs to; of a whole one its own."""
    found = _PIECE.match(piece)
    return found[0] if found else piece


def remade(
    job: MadeJob,
    noted: Iterable[MadeJob],
    read: Mapping[int, JobFolder | None],
    spoiled: Iterable[SpoiledPiece],
) -> tuple[str, ...]:
    """Spoiled pieces of a job that a remake, made after that was said, makes again."""
    family = first_folder(job.folder)
    later = [
        (one.at, folder.again)
        for one in noted
        if one.number != job.number
        and first_folder(one.folder) == family
        and (folder := read[one.number]) is not None
    ]
    return tuple(
        one.piece
        for one in spoiled
        if one.job == job.number
        and any(at > one.at and whole_id(one.piece) in again for at, again in later)
    )


def _read(store: Store, docket: int, job: MadeJob) -> JobFolder | None:
    return read_job(store.docket_folder(docket) / job.folder, job.digest)


def _view(
    job: MadeJob,
    folder: JobFolder | None,
    spoiled: tuple[str, ...],
    again: tuple[str, ...],
    identity: Mapping[str, object] | None,
    first: int | None,
) -> JobView:
    """A job for the page; of one whose folder is gone only what was noted."""
    missing = (GONE,) if folder is None else folder.missing()
    moved = frozenset[str]() if folder is None else frozenset(aligned_files(folder))
    return JobView(
        number=job.number,
        at=job.at,
        remake_of=first,
        pieces_again=folder.again if folder else (),
        stale=folder is not None and not folder.again and not is_same(folder, identity),
        whole=not missing,
        missing=missing,
        template=folder.template if folder else "",
        totals=folder.totals if folder else {},
        sheets=tuple(_sheet(sheet, moved) for sheet in folder.sheets) if folder else (),
        spoiled=spoiled,
        remade=again,
        files=_files(folder, moved) if folder else (),
        held=folder.held if folder else (),
        notes=folder.notes if folder else (),
        cautions=folder.cautions if folder else (),
        faces=folder.faces if folder else (),
    )


def _sheet(sheet: JobSheetLine, moved: frozenset[str]) -> SheetLine:
    return SheetLine(
        id=sheet.id,
        kind=sheet.kind,
        size_mm=sheet.size_mm,
        fill=sheet.fill,
        seconds=sheet.seconds,
        pieces=len({placed.piece for placed in sheet.placements}),
        part_used=sheet.part_used,
        aligned=any(path.rpartition(".")[0] == f"aligned/{sheet.id}" for path in moved),
    )


def _files(folder: JobFolder, moved: Iterable[str]) -> tuple[JobFile, ...]:
    """What can be fetched; the pictures of single pieces are in the ZIP only."""
    found = []
    for path in (*folder.files, MANIFEST, *moved):
        told = file_words(path)
        try:
            size = (folder.folder / path).stat().st_size
        except OSError:
            continue
        if told is not None:
            order = order_of(path, folder.orders) if told[0] == "order" else None
            found.append(JobFile(path, size, told[1], told[0], order))
    return tuple(sorted(found, key=lambda file: (KINDS.index(file.kind), file.path)))


def order_of(path: str, orders: Sequence[str]) -> str | None:
    """Whose a file of one order is; None where its name cannot be told.

    Args:
        path: as ``customer-proof/002-mill-house.pdf``.
        orders: the list's orders as files number them.
    """
    found = _OF_ORDER.fullmatch(path)
    number = int(found[2]) if found else 0
    if found is None or not 1 <= number <= len(orders):
        return None
    title = orders[number - 1] or _NO_ORDER
    return title if plain_name(title) == found[3] else None


def file_words(path: str) -> tuple[str, str] | None:
    """Kind of a file and what it is, for people; None for what is fetched with the others only."""
    if path in WHAT:
        return WHAT[path]
    order = _OF_ORDER.fullmatch(path)
    if order and order[1] + order[4] in _ORDERS:
        return "order", _ORDERS[order[1] + order[4]]
    cut, jig = _CUT.fullmatch(path), _JIG.fullmatch(path)
    if cut:
        return "cut", f"Cut lines of {cut[1]}, {cut[2].upper()}"
    if jig:
        return "jig", f"Jig that holds the prints, {jig[1].upper()}"
    if path.startswith("aligned/") and not path.endswith(".json"):
        stem, _, ending = path.removeprefix("aligned/").rpartition(".")
        return "aligned", f"{stem} moved onto its print, {ending.upper()}"
    return None
