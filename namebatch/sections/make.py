"""A job made and written: at once, or in sections where the list is long."""

import json
import platform
from collections.abc import Callable, Mapping, Sequence
from contextlib import ExitStack
from dataclasses import dataclass, replace
from hashlib import sha256
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Final

import numpy
import pikepdf
import reportlab
import shapely

from namebatch import __version__
from namebatch.crew import Crew, Here, Processes, Work, offered
from namebatch.job import Job
from namebatch.names.row import Row
from namebatch.output.atomic import write_folder, write_job
from namebatch.output.customers import stems_of
from namebatch.output.making import lies_beside
from namebatch.output.manifest import identity
from namebatch.output.orders import WITHOUT
from namebatch.output.target import cannot_write, check_target
from namebatch.pipeline import Plan, Progress, check_total, make_job
from namebatch.sections.assemble import Sections, assemble
from namebatch.sections.facts import facts_from
from namebatch.sections.host import Ledger
from namebatch.sections.place import Place, forget_sections, kept_place
from namebatch.sections.section import FACTS, make_section, open_kit
from namebatch.sections.split import SECTION, pieces_in, split
from namebatch.sections.task import Kit, Task, Whole, kit_of
from namebatch.sections.whole import Gathered, gathered
from namebatch.sheet.wishes import Laid, NoWatch, Watch, nobody_looks

TOGETHER: Final = "putting together"
"""Stage: the job folder from its sections."""


@dataclass(frozen=True, slots=True)
class Made:
    """A job that stands in its folder.

    Attributes:
        job: it; where it was made in sections its pieces and sheets are stand-ins without
            geometry (`whole`).
        files: how many files it has.
    """

    job: Job
    files: int


def accept_all(job: Job) -> None:
    """Let every job be written."""


@dataclass(frozen=True, slots=True)
class Wish:
    """How a job is made and written, beside what it is.

    Attributes:
        replace: whether another job in the folder may be replaced.
        progress: hears of every step.
        watch: hears how far a search for fewer sheets is, and may end it.
        laid: is shown each sheet as soon as it is filled; of a long list the first ones.
        accept: is shown the job before anything is written into its folder; raises to refuse it.
        keep: what is whole of a long list stays when the run is broken off, for the next one.
        size: pieces of a section.
        crew: makes the sections; None for as many processes as the settings say.
    """

    replace: bool
    progress: Progress
    watch: Watch | None = None
    laid: Laid = nobody_looks
    accept: Callable[[Job], None] = accept_all
    keep: bool = True
    size: int = SECTION
    crew: Crew | None = None


def make_folder(plan: Plan, out: Path, wish: Wish) -> Made:
    """Make a job and write its folder; the one way for command line and page.

    Args:
        plan: what is fixed already.
        out: the job folder.
        wish: how.

    Raises:
        NamebatchError: the job is impossible, or cannot be written; the folder is as it was.
    """
    out = out.resolve()
    rows = plan.rows
    total = pieces_in(rows, plan.spare)
    if total <= wish.size or plan.only:
        job = make_job(plan, wish.progress, wish.watch, wish.laid)
        wish.accept(job)
        files = write_job(job, out, wish.replace, wish.progress)
        forget_sections(out)
        return Made(job, len(files))
    check_total(total)
    same = identity(plan.template, plan.recorded)
    check_target(out, wish.replace, same)
    order = split(rows, plan.spare, wish.size, keep_order=plan.settings.keep_order)
    try:
        out.parent.mkdir(parents=True, exist_ok=True)
        with ExitStack() as stack:
            place = _place(stack, out, same, wish)
            made = _Making(plan, rows, order, place, wish)
            return made.written(out, same)
    except OSError as error:
        raise cannot_write(out, error) from error


def _place(stack: ExitStack, out: Path, same: Mapping[str, object], wish: Wish) -> Place:
    """Where the sections are made."""
    if wish.keep:
        kept = stack.enter_context(kept_place(out, _key(same, wish.size)))
        if kept is not None:
            return kept
    where = out.parent if lies_beside(out) else out
    folder = TemporaryDirectory(prefix=f".{out.name[:60]}.sections-", dir=where)
    return Place(Path(stack.enter_context(folder)))


def _key(same: Mapping[str, object], size: int) -> str:
    """What sections depend on beside their rows: the job, the program and what it is built on."""
    versions = [
        __version__,
        platform.python_version(),
        numpy.__version__,
        shapely.__version__,
        shapely.geos_version_string,
        reportlab.__version__,
        pikepdf.__version__,
    ]
    told = json.dumps([same, size, versions], sort_keys=True)
    return sha256(told.encode("utf-8", errors="backslashreplace")).hexdigest()


class _Making:
    """Sections from the first task to the job folder."""

    def __init__(
        self,
        plan: Plan,
        rows: Sequence[Row],
        order: Sequence[Sequence[int]],
        place: Place,
        wish: Wish,
    ) -> None:
        self._plan = plan
        self._rows = rows
        self._order = order
        self._place = place
        self._wish = wish
        some = {n: [rows[k] for k in places] for n, places in enumerate(order, start=1)}
        watch = wish.watch or NoWatch()
        self._ledger = Ledger(some, wish.progress, watch, wish.laid, wish.keep)
        self._stems = _stems(rows)
        self._total = pieces_in(rows, plan.spare)

    def written(self, out: Path, same: Mapping[str, object]) -> Made:
        """Make what is not there yet, and put the folder together."""
        wholes = self._all_made()
        folders = [self._place.of(whole.number) for whole in wholes]
        facts = [facts_from((folder / FACTS).read_bytes()) for folder in folders]
        whole: Gathered = gathered(self._plan, facts)
        self._wish.accept(whole.job)
        owners = [0] * len(self._rows)
        for section, places in enumerate(self._order):
            for place in places:
                owners[place] = section
        sections = Sections(folders, wholes, facts, owners)

        def fill(folder: Path) -> Sequence[str]:
            return assemble(whole, sections, folder, self._told_together)

        files = write_folder(out, self._wish.replace, same, fill)
        return Made(whole.job, len(files))

    def _told_together(self, done: int, total: int) -> None:
        self._wish.progress(TOGETHER, done, total)

    def _all_made(self) -> list[Whole]:
        """Every section, those of an earlier run as far as they are whole."""
        wholes: dict[int, Whole] = {}
        for number in range(1, len(self._order) + 1):
            kept = self._place.whole(number)
            if kept is not None:
                wholes[number] = kept
                self._ledger.stands(number, kept.counts)
        while todo := self._lacking(wholes):
            tasks = [(number, self._task(number)) for number in todo]
            try:
                for number, whole in self._crew(len(tasks)).run(self._work(), tasks, self._ledger):
                    self._place.put(whole)
                    wholes[number] = whole
                    self._ledger.stands(number, whole.counts)
            except MemoryError:
                raise self._ledger.lost([]) from None
        return [wholes[number] for number in sorted(wholes)]

    def _lacking(self, wholes: dict[int, Whole]) -> list[int]:
        """Sections that are not there, or stand after others than they were made to.

        A search that is ended by the clock may need another number of sheets the next time.
        """
        for number, whole in list(wholes.items()):
            before = self._ledger.before(number)
            if before is not None and before != whole.before:
                del wholes[number]
        lacking = [n for n in range(1, len(self._order) + 1) if n not in wholes]
        for number in lacking:
            self._ledger.falls(number)
        return lacking

    def _task(self, number: int) -> Task:
        """What is to be made; it goes to whoever makes it, and so is no more than it needs."""
        places = self._order[number - 1]
        settings = self._plan.settings
        rows = tuple(self._plan.names.rows[place] for place in places)
        lines = {row.line for row in rows}
        if settings.seconds is not None:
            own = pieces_in([self._rows[place] for place in places], self._plan.spare)
            settings = replace(settings, seconds=settings.seconds * own / self._total)
        mends = {line: mend for line, mend in settings.mends.items() if line in lines}
        stems = {row.order: self._stems[row.order] for row in rows} if self._stems else {}
        return Task(
            number,
            len(self._order),
            rows,
            replace(settings, mends=mends, workers=1),
            stems,
            str(self._place.begun(number)),
        )

    def _work(self) -> Work[Kit, Task, Whole]:
        return Work(
            open_kit, kit_of(self._plan), lambda task, line: make_section(self._plan, task, line)
        )

    def _crew(self, tasks: int) -> Crew:
        if self._wish.crew is not None:
            return self._wish.crew
        number = min(tasks, self._plan.settings.workers or offered())
        return Here() if number <= 1 else Processes(number)


def _stems(rows: Sequence[Row]) -> dict[str, str]:
    """Order → name of its files, as `output.orders` counts orders; empty for no more than one."""
    names = sorted(dict.fromkeys(row.order for row in rows), key=lambda name: not name)
    if len(names) < 2:
        return {}
    return dict(zip(names, stems_of([name or WITHOUT for name in names]), strict=True))
