"""A job made in a process of its own: an order in, its folder out, every step told through a pipe.

The server stays quick, and a make can be ended at once by ending its process and those it has
started, which are one group. Nothing is half written then (`output.making`); what is left lying is
cleared by `desk.underway`. The process ends by itself as soon as the server is gone.
"""

import errno
import os
import signal
import sys
import tempfile
import threading
import time
import traceback
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from hashlib import sha256
from multiprocessing.connection import Connection
from pathlib import Path
from typing import Final

from namebatch.desk.made_model import SheetMap
from namebatch.desk.recipe import Recipe, plan_recipe
from namebatch.desk.sheetmaps import laid_map
from namebatch.desk.underway import making_in
from namebatch.errors import NamebatchError, RemakeError
from namebatch.job import Job
from namebatch.outline.compiled import is_cold
from namebatch.output.atomic import write_job
from namebatch.output.manifest import FILE as MANIFEST
from namebatch.output.target import cannot_write
from namebatch.piece import Piece
from namebatch.remake import Wish, check_place, make_again, plan_remake
from namebatch.remake.again import REMEDY
from namebatch.sections import Searched, Step, make_folder
from namebatch.sections import Wish as MakeWish
from namebatch.sheet.model import Sheet

ENOUGH, NOTED = "enough", "noted"
"""What the server says: take the filling that there is; the job is noted, the process may end."""
PAUSE_S: Final = 0.05
"""Steps of a stage are told no oftener."""
MOST_LAID: Final = 60
"""Sheets that are shown while a job is made; of more nobody sees any."""
COLD: Final = "cold"
"""A stage: what is compiled once is not yet."""
NICE: Final = 5
"""So much the rest of the machine, the page among it, goes before the make."""
BROKEN: Final = (
    "The job could not be made: something went wrong that nobody foresaw. Nothing was written. "
    "Please report it with the list and the template."
)


@dataclass(frozen=True, slots=True)
class Order:
    """What is to be made: a list, or, where there is a wish, pieces of an earlier job.

    Attributes:
        docket: folder of the docket.
        out: folder of the job to come, below it; it is not there yet.
        recipe: list and choices; None for a remake.
        wish: what is made again; None for a job from a list.
        workers: processes that make pieces; the files do not depend on it.
    """

    docket: Path
    out: Path
    recipe: Recipe | None = None
    wish: Wish | None = None
    workers: int = 1


@dataclass(frozen=True, slots=True)
class Laid:
    """A sheet was filled."""

    map: SheetMap


@dataclass(frozen=True, slots=True)
class Written:
    """The job stands in its folder; the digest is its manifest's."""

    digest: str


@dataclass(frozen=True, slots=True)
class Refused:
    """The job is impossible; nothing was written.

    `changed`: it is a remake, and could be made with what is there now.
    """

    what: str
    problems: tuple[str, ...]
    changed: bool = False


Word = Step | Searched | Laid | Written | Refused


def run(order: Order, line: Connection) -> None:
    """Make what was ordered; the last word is `Written` or `Refused`.

    Args:
        order: what.
        line: to the server. Its end ends this process and all that it has started.
    """
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C is for the server, which then hangs up
    if hasattr(os, "setsid"):
        os.setsid()
        os.nice(NICE)
    ear = _Ear(line)
    try:
        with making_in(order.docket) as place:
            digest = _made(order, place, _Teller(line), ear)
            line.send(Written(digest))
            ear.noted.wait()  # till then what was made counts as left lying
    except Exception as error:
        line.send(refusal(order, error))


def refusal(order: Order, error: Exception) -> Refused:
    """Why a job was not made; what nobody foresaw is told on standard error, too."""
    match error:
        case RemakeError():
            told = tuple(problem for problem in error.problems if problem != REMEDY)
            return Refused(error.what, told, changed=REMEDY in error.problems)
        case NamebatchError():
            return Refused(error.what, error.problems)
        case OSError(errno=errno.ENOSPC | errno.EDQUOT | errno.EROFS):
            return Refused(cannot_write(order.out, error).what, ())
    traceback.print_exception(error, file=sys.stderr)
    return Refused(BROKEN, (f"{type(error).__name__}: {error}",))


def _made(order: Order, place: Path, tell: "_Teller", ear: "_Ear") -> str:
    """Make and write the job; returns the digest of its manifest."""
    if is_cold():
        tell(COLD, 0, 1)
    if order.wish is not None:
        write_job(_again(order.wish, tell), order.out, False, tell)
    else:
        _first(order, place, tell, ear)
    return sha256((order.out / MANIFEST).read_bytes()).hexdigest()


def _first(order: Order, place: Path, tell: "_Teller", ear: "_Ear") -> None:
    """A job from a list."""
    if order.recipe is None:
        raise ValueError("an order without a list")
    tell("reading", 0, 1)
    tempfile.tempdir = str(place)  # what holds names is cleared with the place
    plan = plan_recipe(order.recipe)
    plan = replace(plan, settings=replace(plan.settings, workers=order.workers))
    tell("reading", 1, 1)
    bed = plan.workshop.cutter.bed_mm
    shown = MOST_LAID

    def laid(sheet: Sheet, pieces: Mapping[str, Piece]) -> None:
        nonlocal shown
        shown -= 1
        if shown >= 0:
            tell.word(Laid(laid_map(sheet, pieces, bed)))

    watch = _Watch(tell.searched, ear.enough)
    # a make that is stopped keeps nothing: the docket decides anew
    make_folder(plan, order.out, MakeWish(False, tell, watch, laid, keep=False))


def _again(wish: Wish, tell: "_Teller") -> Job:
    """Pieces of an earlier job."""
    check_place(wish.job, wish.out)
    tell("reading", 0, 1)
    remake = plan_remake(wish)
    tell("reading", 1, 1)
    return make_again(remake, tell)


class _Ear:
    """Listens to the server in a thread of its own."""

    def __init__(self, line: Connection) -> None:
        self.enough = threading.Event()
        self.noted = threading.Event()
        self._line = line
        threading.Thread(target=self._listen, daemon=True).start()

    def _listen(self) -> None:
        try:
            while not self.noted.is_set():
                word = self._line.recv()
                if word == ENOUGH:
                    self.enough.set()
                elif word == NOTED:
                    self.noted.set()
        except (EOFError, OSError):
            _end_all()


def _end_all() -> None:
    """End this process and those that it has started, without a word."""
    if hasattr(os, "killpg"):
        os.killpg(0, signal.SIGKILL)
    os._exit(1)


class _Teller:
    """Tells steps: the first and the last of a stage, and some between."""

    def __init__(self, line: Connection) -> None:
        self._line = line
        self._stage = ""
        self._last = 0.0

    def __call__(self, stage: str, done: int, total: int) -> None:
        """Take one step of a stage."""
        if stage == self._stage and done < total and not self._is_due():
            return
        self._stage, self._last = stage, time.monotonic()
        self._line.send(Step(stage, done, total))

    def word(self, word: Word) -> None:
        """Tell anything."""
        self._line.send(word)

    def searched(self, share: float, sheets: float) -> None:
        """Tell how far a search is."""
        if share >= 1.0 or self._is_due():
            self._last = time.monotonic()
            self._line.send(Searched(share, sheets))

    def _is_due(self) -> bool:
        return time.monotonic() - self._last >= PAUSE_S


@dataclass(frozen=True, slots=True)
class _Watch:
    """Passes on how far a search is, and ends it when the server says so."""

    tell: Callable[[float, float], None]
    enough: threading.Event

    def told(self, share: float, sheets: float) -> None:
        self.tell(share, sheets)

    def stopped(self) -> bool:
        return self.enough.is_set()
