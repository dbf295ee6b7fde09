"""One section: its pieces made, laid on sheets and written, and then forgotten.

Below its folder: `files/` with the job's files as far as they are this section's, `entries/` with
its part of the manifest, `facts.json`. What is written depends on the section and on how many
sheets stand before it, on nothing else.
"""

import tarfile
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial
from importlib import import_module
from io import BytesIO
from pathlib import Path, PurePosixPath
from typing import Any, Final

from namebatch.crew import Line
from namebatch.errors import OutputError
from namebatch.job import Job, Section
from namebatch.names.row import Row
from namebatch.output import manifest
from namebatch.output.registry import WRITERS
from namebatch.output.target import digest_of
from namebatch.piece import Piece
from namebatch.pipeline import Plan, fill_job, found_rows
from namebatch.sections.facts import facts_json, facts_of
from namebatch.sections.task import (
    Boards,
    Counts,
    Do,
    Kit,
    Laid,
    Numbers,
    Searched,
    Step,
    Task,
    Whole,
    opened,
)
from namebatch.sheet.model import Sheet
from namebatch.stocks import unused_notes

FILES: Final = "files"
ENTRIES: Final = "entries"
FACTS: Final = "facts.json"
ROWS, PIECES, FACES, BOARDS = "rows", "pieces", "faces", "boards"
OF_THE_WHOLE: Final = ("jig", "held")
"""Writers whose files are made once, for all of the job."""
FIRST_SHOWN: Final = 60
"""Sheets that are shown while a job is made; of more nobody sees any."""


def open_kit(kit: Kit) -> Do:
    """Open the typefaces; for a process that makes sections."""
    plan = opened(kit)

    def do(task: Task, line: Line) -> Whole:
        return make_section(plan, task, line)

    return do


def make_section(plan: Plan, task: Task, line: Line) -> Whole:
    """Make a section in its folder.

    Args:
        plan: of the whole job; its rows are not looked at.
        task: what is made, and where.
        line: to whoever knows of the other sections.
    """
    folder = Path(task.folder)
    plan = replace(plan, names=replace(plan.names, rows=task.rows), settings=task.settings)
    given = plan.rows
    step = partial(_step, line)
    rows: list[Row] = []
    pieces: list[Piece] = []
    for row, piece in found_rows(plan, step):
        rows.append(row)
        if piece is not None:
            pieces.append(piece)
    if any(stock.leftovers for stock in plan.stocks):
        plan = _without(plan, line.ask(Boards()).used)
    shown = _Shown(line) if task.number == 1 else _unseen
    filled = fill_job(plan, tuple(rows), pieces, step, _Watch(line), shown)
    counts = counts_of(filled.job.sheets)
    before: Counts = line.ask(Numbers(counts))
    section = Section(task.number, task.of, before.pages, task.stems)
    idle = unused_notes(plan.filled, counts.used)  # the next section may have a use for them
    job = replace(
        filled.job,
        sheets=numbered(filled.job.sheets, before),
        notes=tuple(note for note in filled.job.notes if note not in idle),
        section=section,
    )
    _write_files(job, folder / FILES, step)
    _write_entries(job, folder / ENTRIES)
    facts = facts_of(job, given, plan.filled, filled.bounds)
    (folder / FACTS).write_bytes(facts_json(facts))
    return Whole(task.number, counts, before, digests_below(folder))


def counts_of(sheets: Sequence[Sheet]) -> Counts:
    """How many sheets of each kind, and which part-used boards."""
    faces = [sheet for sheet in sheets if sheet.kind == "face"]
    return Counts(
        len(faces),
        len(sheets) - len(faces),
        sum(1 + sheet.backs for sheet in faces),
        tuple(sheet.part_used for sheet in sheets if sheet.part_used),
    )


def numbered(sheets: Sequence[Sheet], before: Counts) -> tuple[Sheet, ...]:
    """The sheets with ids that go on from those of the sections before."""
    last = {"face": before.faces, "board": before.boards}
    found: list[Sheet] = []
    for sheet in sheets:
        last[sheet.kind] += 1
        found.append(replace(sheet, id=f"{sheet.kind}-{last[sheet.kind]:03d}"))
    return tuple(found)


def digests_below(folder: Path) -> dict[str, str]:
    """Path below a folder, with ``/`` → SHA-256, of all files."""
    return {
        path.relative_to(folder).as_posix(): digest_of(path)
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def _without(plan: Plan, used: Sequence[str]) -> Plan:
    """The plan without part-used boards that other sections were cut from."""
    stocks = tuple(
        replace(
            stock,
            leftovers=tuple(board for board in stock.leftovers if board.name not in used),
        )
        for stock in plan.stocks
    )
    return replace(plan, stocks=stocks)


def _write_files(job: Job, folder: Path, step: Callable[[str, int, int], None]) -> None:
    """The files of a section; there is no card of nothing."""
    folder.mkdir()
    for writer in WRITERS:
        if writer.name in OF_THE_WHOLE or (writer.name == "workcard" and not job.pieces):
            continue
        module = import_module(f"namebatch.output.{writer.name}")
        module.write(job, folder, partial(step, writer.label))


def _write_entries(job: Job, folder: Path) -> None:
    """Its part of the manifest, entry by entry, each as it will stand there."""
    folder.mkdir()
    sheets = list(zip(job.sheets, manifest.sheets(job), strict=True))
    _write_all(folder / ROWS, manifest.rows(job))
    _write_all(folder / PIECES, manifest.pieces(job))
    _write_all(folder / FACES, (entry for sheet, entry in sheets if sheet.kind == "face"))
    _write_all(folder / BOARDS, (entry for sheet, entry in sheets if sheet.kind == "board"))


def _write_all(path: Path, entries: Iterable[Mapping[str, object]]) -> None:
    with path.open("wb") as stream:
        for entry in entries:
            text = manifest.json_text(entry).replace("\n", "\n  ")
            stream.write(manifest.encoded(f"  {text}\n"))


def _step(line: Line, stage: str, done: int, total: int) -> None:
    # the first and the last step, and a hundred between: each goes through a pipe
    if done in (0, total) or done % max(1, total // 100) == 0:
        line.tell(Step(stage, done, total))


def _unseen(sheet: Sheet, pieces: Mapping[str, Piece]) -> None:
    """Only the first section's sheets are shown; their numbers are known at once."""


@dataclass(slots=True)
class _Shown:
    """Shows the first sheets."""

    line: Line
    shown: int = 0

    def __call__(self, sheet: Sheet, pieces: Mapping[str, Piece]) -> None:
        self.shown += 1
        if self.shown <= FIRST_SHOWN:
            there = {place.piece: pieces[place.piece] for place in sheet.placements}
            self.line.tell(Laid(sheet, there))


@dataclass(frozen=True, slots=True)
class _Watch:
    """Passes on how far a search is, and hears when it is enough."""

    line: Line

    def told(self, share: float, sheets: float) -> None:
        self.line.tell(Searched(share, sheets))

    def stopped(self) -> bool:
        return self.line.enough()


def packed(folder: Path) -> bytes:
    """A section's folder as one lump, to be sent from one machine to another."""
    stream = BytesIO()
    with tarfile.open(fileobj=stream, mode="w") as tar:
        for path in sorted(folder.rglob("*")):
            if path.is_file():
                tar.add(path, path.relative_to(folder).as_posix(), recursive=False)
    return stream.getvalue()


def unpack(data: bytes, folder: Path) -> None:
    """Lay a section out that another machine packed.

    Args:
        data: from `packed`.
        folder: exists and is empty.

    Raises:
        OutputError: it is not what `packed` gives.
    """
    try:
        with tarfile.open(fileobj=BytesIO(data)) as tar:
            for member in tar:
                _lay_out(tar, member, folder)
    except tarfile.TarError as error:
        raise OutputError(f"What a worker sent cannot be read: {error}. Make the job again.") from (
            error
        )


def _lay_out(tar: Any, member: tarfile.TarInfo, folder: Path) -> None:
    """One plain file, nothing that leads out of the folder."""
    path = PurePosixPath(member.name)
    content = tar.extractfile(member) if member.isreg() else None
    if content is None or path.is_absolute() or ".." in path.parts:
        raise OutputError("A worker sent something other than plain files. Make the job again.")
    target = folder / path
    target.parent.mkdir(parents=True, exist_ok=True)
    target.write_bytes(content.read())
