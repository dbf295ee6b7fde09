"""Running a job for someone at a terminal: progress, the closing summary, what was held."""

import json
import sys
from collections.abc import Sequence
from functools import partial
from pathlib import Path

from rich.console import Console
from rich.progress import BarColumn, MofNCompleteColumn, Progress, TaskID, TextColumn
from rich.table import Table

from namebatch import sections
from namebatch.crew import Crew
from namebatch.errors import SettingsError, WorkerError
from namebatch.finding import Severity
from namebatch.job import Job
from namebatch.names.characters import JOINERS
from namebatch.names.row import NameList, Row
from namebatch.names.told import gathered
from namebatch.outline.compiled import is_cold
from namebatch.output.atomic import write_job
from namebatch.output.costwords import cost_words
from namebatch.output.manifest import identity, row_entry
from namebatch.output.stepwords import uses_laser
from namebatch.output.target import check_target
from namebatch.pipeline import Plan, Settings, found_rows, plan_job
from namebatch.remake import Wish, check_place, make_again, plan_remake
from namebatch.resources import bundled
from namebatch.searching import Searching
from namebatch.sections import SECTION, kept_for, make_folder, pieces_in
from namebatch.template import bundled_templates

SEARCH = "search"
SHOWN = 40
"""Held rows and warnings listed on the terminal, those that say the same as one; all are in the
proof and in held.csv."""

_FIRST = "The machine's manual and local rules come first; see workcard.pdf."
_CAUTIONS = {
    "laser": "Before cutting: know what the material is made of, extract the fumes, never leave "
    "the cutter unattended.",
    "blade": "Before cutting: hands off the blade and the rollers while it runs, switch off before "
    "a blade is changed, never leave the cutter unattended.",
}


class Teller:
    """Progress: a bar a stage on a terminal, a plain line a stage elsewhere."""

    def __init__(self, console: Console) -> None:
        self._console = console
        self._bars: Progress | None = None
        self._tasks: dict[str, TaskID] = {}
        self._said = ""
        if console.is_terminal:
            self._bars = Progress(
                TextColumn("{task.description:<10}"),
                BarColumn(),
                MofNCompleteColumn(),
                console=console,
            )
            self._bars.start()

    def __call__(self, stage: str, done: int, total: int) -> None:
        """Take one step of a stage."""
        if self._bars is not None:
            if stage not in self._tasks:
                self._tasks[stage] = self._bars.add_task(stage, total=total)
            self._bars.update(self._tasks[stage], completed=done, total=total)
        elif done == total:
            self._console.print(f"{stage}: {done} of {total}", highlight=False)

    def searched(self, share: float, sheets: float, seconds: float) -> None:
        """Tell how far a search for fewer sheets is.

        Args:
            share: of the time.
            sheets: that are needed so far; of the last one only what is used.
            seconds: the time.
        """
        found, spent = f"sheets {sheets:.2f}", round(share * seconds)
        if self._bars is not None:
            self(SEARCH, spent, round(seconds))
            self._bars.update(self._tasks[SEARCH], description=f"{found}, seconds")
        elif found != self._said:
            self._console.print(f"{found} … {spent} of {seconds:g} s", highlight=False)
        self._said = found

    def close(self) -> None:
        """End the bars."""
        if self._bars is not None:
            self._bars.stop()


def make_and_tell(
    list_file: Path,
    settings: Settings,
    out: Path,
    *,
    replace: bool,
    strict: bool,
    crew: Crew | None = None,
) -> int:
    """Make a job, write it, print the summary; a crew makes its sections, if one is given.

    Returns:
        The number of held rows.

    Raises:
        NamebatchError: the job is impossible, or `strict` and a row is held.
    """
    console = Console(stderr=False, soft_wrap=True)
    if is_cold():
        _say(console, "getting ready: geometry is compiled once after installing, half a minute")
    plan = plan_job(list_file, settings)
    _check_target(plan, out, replace)
    if crew is not None and pieces_in(plan.rows, plan.spare) <= SECTION:
        _say(console, f"No more than {SECTION:,} pieces: they are made here, without the cluster")
    teller = Teller(console)
    seconds = (plan.settings.seconds or 0.0) / len(plan.stocks)
    watch = Searching(
        lambda share, sheets: teller.searched(share, sheets, seconds), partial(_say, console)
    )
    accept = partial(_refuse_held, strict=strict)
    try:
        wish = sections.Wish(replace, teller, watch, accept=accept, crew=crew)
        made = make_folder(plan, out, wish)
    except (KeyboardInterrupt, WorkerError):
        teller.close()
        _tell_kept(console, out)
        raise
    finally:
        watch.close()
        teller.close()
    _tell(console, made.job, out, made.files)
    return made.job.totals.held


def remake_and_tell(wish: Wish, *, replace: bool, strict: bool) -> int:
    """Make spoiled pieces of a job again, write them, print the summary.

    Returns:
        The number of held rows.

    Raises:
        NamebatchError: the remake is impossible, or `strict` and a row is held.
    """
    console = Console(stderr=False, soft_wrap=True)
    check_place(wish.job, wish.out)
    remake = plan_remake(wish)
    _check_target(remake.plan, wish.out, replace)
    teller = Teller(console)
    try:
        job = make_again(remake, teller)
        _refuse_held(job, strict)
        files = write_job(job, wish.out, replace, teller)
    finally:
        teller.close()
    _tell(console, job, wish.out, len(files))
    return job.totals.held


def check_and_tell(list_file: Path, settings: Settings, *, as_json: bool) -> int:
    """Print the findings of a list; nothing is written.

    Returns:
        The number of held rows.
    """
    plan = plan_job(list_file, settings)
    rows: list[Row] = []
    ids: dict[int, tuple[str, ...]] = {}
    for row, piece in found_rows(plan, _silent):  # no piece is kept: there may be very many
        rows.append(row)
        if piece is not None:
            ids[row.line] = piece.cut_ids
    held = len(rows) - len(ids)
    if as_json:
        entries = [
            row_entry(row, ids.get(row.line, ()), read)
            for row, read in zip(rows, plan.names.rows, strict=True)
        ]
        print(json.dumps(entries, ensure_ascii=False, indent=1, sort_keys=True))
        return held
    console = Console(soft_wrap=True)
    _say(console, _counts(plan.names, len(rows), len(ids)))
    for finding in plan.names.findings:
        _say(console, f"  {finding.severity.value:<5} List: {finding.message}")
    for finding in plan.template.warnings:
        _say(console, f"  {finding.severity.value:<5} Template: {finding.message}")
    told = gathered(rows)
    for one in told:
        _say(console, f"  {one.severity.value:<5} {one.message}")
    if len(told) < sum(len(row.findings) for row in rows):
        _say(console, "What is true of several is said once; --json lists them one by one.")
    return held


def demo_and_tell(out: Path, workers: int, *, replace: bool) -> int:
    """Make every bundled template from its example list.

    Returns:
        The number of held rows over all.
    """
    held = 0
    plans = [
        (name, bundled("examples") / f"{name}.csv", Settings(name, workers=workers))
        for name in bundled_templates()
    ]
    for name, list_file, settings in plans:  # refuse before anything is written
        plan = plan_job(list_file, settings)
        _check_target(plan, out / name, replace)
    for name, list_file, settings in plans:
        held += make_and_tell(list_file, settings, out / name, replace=replace, strict=False)
        print()
    return held


def _say(console: Console, text: str) -> None:
    """One line; a control character from a list must not steer the terminal."""
    plain = "".join(c if c.isprintable() or c in JOINERS else "\ufffd" for c in text)
    console.print(plain, markup=False, highlight=False)


def _check_target(plan: Plan, out: Path, replace: bool) -> None:
    """Refuse a folder before the work begins; the template's own is never written into."""
    kept = [Path(plan.template.folder)]
    check_target(out, replace, identity(plan.template, plan.recorded), kept)


def _refuse_held(job: Job, strict: bool) -> None:
    if strict and job.totals.held:
        raise SettingsError(
            f"{job.totals.held} of {job.totals.rows} rows are held and --strict was asked "
            "for; nothing was written.",
            _held_lines(job.rows, rest="`namebatch check` lists all"),
        )


def _silent(stage: str, done: int, total: int) -> None:
    """No progress."""


def _tell_kept(console: Console, out: Path) -> None:
    """That something is kept, and where: it holds names."""
    kept = kept_for(out)
    if kept is not None:
        _say(
            console,
            f"What is whole is kept in {kept}; the same command goes on from it. It holds names: "
            "delete it if the job is not made after all.",
        )


def _tell(console: Console, job: Job, out: Path, files: int) -> None:
    totals = job.totals
    say = partial(_say, console)
    say(f"{job.title} from {job.names.source} ({job.names.reading})")
    say(_counts(job.names, totals.rows, totals.made))
    table = Table(show_header=False, box=None, pad_edge=False)
    spares = f", {totals.spares} of them spares" if totals.spares else ""
    table.add_row("pieces", f"{totals.pieces}{spares}")
    if totals.sheets:
        table.add_row("sheets", _sheets(job, "face", totals.sheets, totals.sheets_lower_bound))
    if totals.boards:
        table.add_row("boards", _sheets(job, "board", totals.boards, totals.boards_lower_bound))
    table.add_row("cutting", f"about {_minutes(totals.cut_seconds)}")
    if totals.cost is not None:
        table.add_row("cost", _cost(job))
    table.add_row("files", f"{files} in {out}")
    console.print(table, highlight=False)
    for finding in job.names.findings:
        say(f"List: {finding.message}")
    for finding in job.template.warnings:
        say(f"Template: {finding.message}")
    for line in (*_held_lines(job.rows), *_warned_lines(job.rows)):
        say(line)
    for text in job.notes:
        say(f"Note: {text}")
    say(_caution(job))
    sys.stdout.flush()


def _counts(names: NameList, rows: int, made: int) -> str:
    place = f"{names.place.lower()}{'s' if names.blank_lines != 1 else ''}"
    blank = f" ({names.blank_lines} blank {place} skipped)" if names.blank_lines else ""
    return f"{rows} in = {made} made + {rows - made} held{blank}"


def _sheets(job: Job, kind: str, count: int, bound: int) -> str:
    fills = [sheet.fill for sheet in job.sheets if sheet.kind == kind]
    full = ", ".join(f"{100 * fill:.0f} %" for fill in fills[:6])
    more = " …" if len(fills) > 6 else ""
    return f"{count} (none could do with fewer than {bound}), filled {full}{more}"


def _cost(job: Job) -> str:
    """The sum, what it counts and what it leaves out."""
    return f"{job.totals.cost or 0.0:.2f}: {cost_words(job)}"


def _caution(job: Job) -> str:
    """What to mind before the first cut, by the kind of the cutter."""
    return f"{_CAUTIONS['laser' if uses_laser(job) else 'blade']} {_FIRST}"


def _minutes(seconds: float) -> str:
    whole = round(seconds / 60)
    if whole >= 60:
        return f"{whole // 60} h {whole % 60:02d} min"
    return f"{seconds:.0f} s" if seconds < 90 else f"{whole} min"


IN_FILES = "all are in proof.pdf and job.json"


def _held_lines(rows: Sequence[Row], rest: str = IN_FILES) -> list[str]:
    return _lines(rows, Severity.HOLD, "Held:", rest)


def _warned_lines(rows: Sequence[Row]) -> list[str]:
    made = [row for row in rows if not row.held]
    return _lines(made, Severity.WARN, "Look:", IN_FILES)


def _lines(rows: Sequence[Row], severity: Severity, word: str, rest: str) -> list[str]:
    found = [one for one in gathered(rows) if one.severity is severity]
    lines = [f"{word} {one.message.removesuffix(' Held.')}" for one in found[:SHOWN]]
    if len(found) > SHOWN:
        lines.append(f"… and {sum(one.count for one in found[SHOWN:]):,} more; {rest}.")
    return lines
