"""Making jobs and what comes after it, for the dockets of a desk: one call each."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import AbstractContextManager
from dataclasses import asdict
from datetime import datetime
from pathlib import Path
from typing import Protocol

from namebatch.desk.aligned import aligned_files
from namebatch.desk.aligning import Measured, align_sheet
from namebatch.desk.hub import Hub
from namebatch.desk.jobs import file_of, job_of, jobs_of, spoiled_of
from namebatch.desk.lying import refused
from namebatch.desk.made_model import AlignedView, JobView, MakeView, SheetMap
from namebatch.desk.making import Makings
from namebatch.desk.model import Counts, Event
from namebatch.desk.recipe import Recipe
from namebatch.desk.remaking import Again, job_order, remake_order
from namebatch.desk.sheetmaps import sheet_map
from namebatch.desk.zipped import zipped
from namebatch.errors import DeskError, NamebatchError, NotThereError
from namebatch.names.characters import shown
from namebatch.output.manifest import FILE as MANIFEST
from namebatch.store import MeasuredMark, Store, dockets, made


class Owner(Protocol):
    """What of a desk is needed here."""

    @property
    def store(self) -> Store:
        """What is kept."""

    @property
    def hub(self) -> Hub:
        """Who is told."""

    def recipe(self, number: int) -> Recipe:
        """All that a job of a docket is made from."""

    def identity(self, number: int) -> Mapping[str, object] | None:
        """`output.manifest.identity` of a job that were made now; None if none can be."""

    def counts(self, number: int) -> Counts | None:
        """How far a docket is; None as long as it has no rows that could be made."""

    def own_templates(self) -> Path:
        """Folder of the workshop's own templates."""

    def workshop_file(self) -> Path:
        """The workshop file."""

    def touched(self, number: int) -> None:
        """Tell that a docket was changed."""


class Work:
    """The jobs of a desk's dockets; may be shared by threads.

    Args:
        owner: the desk.
        now: the time, with its zone.
    """

    def __init__(self, owner: Owner, now: Callable[[], datetime]) -> None:
        self._owner = owner
        self._now = now
        self._makings = Makings(owner.store, self._heard, now)

    def close(self) -> None:
        """Stop all that is being made."""
        self._makings.close()

    def leaving(self, docket: int) -> AbstractContextManager[None]:
        """Stop what is made for a docket, and begin nothing for it while it is deleted."""
        return self._makings.leaving(docket)

    # making

    def state(self, docket: int) -> MakeView:
        """How far the making of a docket's job is."""
        self._check(docket)
        return self._makings.state(docket)

    def make(self, docket: int) -> MakeView:
        """Begin to make a job of a docket's list as it is now.

        Raises:
            DeskError: a job of it is being made already, it has no list yet, or all of it is held.
        """
        counts = self._owner.counts(docket)
        if counts is not None and counts.made + counts.waiting == 0:
            held = "the only line is" if counts.lines == 1 else f"all {counts.lines:,} lines are"
            raise DeskError(
                f"Nothing can be made yet: {held} held. Each says what it needs; mend one of them "
                "first."
            )
        order = job_order(self._owner.store, docket, self._owner.recipe(docket))
        return self._makings.start(docket, order)

    def enough(self, docket: int) -> MakeView:
        """Be content with the sheets that a search has found so far."""
        self._check(docket)
        return self._makings.enough(docket)

    def stop(self, docket: int) -> MakeView:
        """End the making at once; nothing of it is left."""
        self._check(docket)
        return self._makings.stop(docket)

    def laid(self, docket: int, place: int) -> SheetMap:
        """A sheet of the job that is being made, as soon as it is filled; the first one is 1."""
        self._check(docket)
        return self._makings.laid(docket, place)

    def remake(self, docket: int, job: int, again: Again) -> MakeView:
        """Begin to make what is spoiled of a job, and of its remakes, again.

        Raises:
            DeskError: nothing is spoiled, or a job is being made already.
        """
        owner = self._owner
        order = remake_order(
            owner.store, docket, job, again, owner.own_templates(), owner.workshop_file()
        )
        return self._makings.start(docket, order)

    # what was made

    def jobs(self, docket: int) -> tuple[JobView, ...]:
        """All jobs of a docket, in the order in which they were made."""
        self._check(docket)
        return jobs_of(self._owner.store, docket, self._owner.identity(docket))

    def file(self, docket: int, job: int, path: str) -> Path:
        """A file of a job, as it was made; see `jobs.file_of`."""
        return file_of(self._owner.store, docket, job, path)

    def all_files(self, docket: int, job: int) -> Iterator[bytes]:
        """All files of a job in one ZIP; what is gone or was changed is told before it begins."""
        noted, folder = job_of(self._owner.store, docket, job)
        listed = {**folder.files, MANIFEST: noted.digest, **aligned_files(folder)}
        top = f"docket-{docket:04d}-job-{job}"
        return zipped({f"{top}/{path}": folder.verified(path, listed[path]) for path in listed})

    def sheet(self, docket: int, job: int, sheet: str) -> SheetMap:
        """A sheet with all that lies on it."""
        store = self._owner.store
        _, folder = job_of(store, docket, job)
        spoiled, again = spoiled_of(store, docket, job)
        marks = made.measured(store, docket, job)
        return sheet_map(folder, sheet, frozenset(spoiled), frozenset(again), marks)

    # after cutting

    def set_spoiled(self, docket: int, job: int, pieces: Sequence[str]) -> JobView:
        """Say which pieces of a job are spoiled, instead of those that were said before.

        Raises:
            NotThereError: there is no such job, or no such piece in it.
        """
        store = self._owner.store
        _, folder = job_of(store, docket, job)
        wrong = [piece for piece in pieces if piece not in folder.pieces]
        if wrong:
            some = ", ".join(shown(piece, 30) for piece in wrong[:5])
            raise NotThereError(f"Job {job} has no piece {some}. Ids stand on its work card.")
        made.set_spoiled(store, docket, job, pieces, self._now())
        self._owner.touched(docket)
        return next(one for one in self.jobs(docket) if one.number == job)

    def align(self, docket: int, job: int, sheet: str, measured: Measured) -> AlignedView:
        """Move a sheet's cut files onto its print; what was measured is kept.

        Raises:
            NamebatchError: they cannot be moved so; nothing was written.
        """
        store = self._owner.store
        _, folder = job_of(store, docket, job)
        if all(one.id != sheet for one in folder.sheets):
            raise NotThereError(f'This job has no sheet "{shown(sheet, 40)}".')
        try:
            found = align_sheet(folder, sheet, measured, None)
        except NamebatchError as error:
            raise refused(error) from error
        marks = {one.name: one for one in measured.marks}.values()
        kept = [MeasuredMark(job, sheet, one.name, one.x_mm, one.y_mm) for one in marks]
        made.set_measured(store, docket, job, kept, self._now())
        self._owner.touched(docket)
        return found

    def _check(self, docket: int) -> None:
        """Refuse a docket that is not there."""
        dockets.docket(self._owner.store, docket)

    def _heard(self, docket: int, view: MakeView) -> None:
        self._owner.hub.tell(docket, Event("make", asdict(view)))
        if view.state == "done":
            self._owner.touched(docket)
