"""The dockets that lie open, the one used last on top; what of them is made next; who is told."""

from collections import OrderedDict
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import datetime
from functools import partial
from pathlib import Path
from threading import Event as Flag
from threading import Lock, Thread
from time import monotonic
from typing import Final

from namebatch.desk.hand import AtHome, Hand
from namebatch.desk.hub import Hub
from namebatch.desk.lying import Hooks, Kept, Lying
from namebatch.desk.model import Event
from namebatch.desk.opened import Opened
from namebatch.desk.pool import Pool, Work
from namebatch.desk.recipe import Recipe
from namebatch.desk.templates import template_folder
from namebatch.desk.warmth import Warmth
from namebatch.desk.worker import WARMING, warm_up
from namebatch.errors import NamebatchError
from namebatch.outline.compiled import is_cold
from namebatch.pipeline import Plan
from namebatch.store import Choices, Docket, KeptList, Store, dockets, history
from namebatch.template.folder import TOML_NAME

MOST_OPEN: Final = 6
"""Dockets kept open; the one that was not used for longest is put away."""
FIRST: Final = 12
"""Rows that the server makes itself while workers open the typefaces of a docket."""
_LOOK_AGAIN: Final = 0.5  # s
SECONDS_OF_REST: Final = 3.0
"""After anybody asked for anything of a docket, until what nobody waits for is done."""
SECONDS_TO_END: Final = 1.0
"""For a piece that is being made in the background when the program is ended."""
WORKSHOP: Final = "workshop.toml"
TEMPLATES: Final = "templates"


class Tabletop:
    """Dockets that lie open; may be shared by threads.

    Args:
        store: what is kept.
        hub: who is told.
        workers: processes that make pieces; with none they are made in this one.
        now: the time.
        put_away: hears of a docket that is not kept open any longer.
    """

    def __init__(
        self,
        store: Store,
        hub: Hub,
        workers: int,
        now: Callable[[], datetime],
        put_away: Callable[[int, Lying], None],
    ) -> None:
        self.store = store
        self._hub = hub
        self._put_away = put_away
        self._lock = Lock()
        self._making = Lock()
        self._warm, self._closed = Flag(), Flag()
        self._lying: OrderedDict[int, Lying] = OrderedDict()
        self._recent: tuple[Lying, ...] = ()
        # of a run before this one none is so high, so that no page takes old for new
        self._start = int(now().timestamp()) * 1000
        self._revisions: dict[int, int] = {}
        self._workers = workers
        self._threads: list[Thread] = []
        self._used = -SECONDS_OF_REST
        home = AtHome(self._making)
        cold = workers > 0 and is_cold()
        self.warmth = Warmth(cold)
        hands = [Hand(at_once=not cold or at == 0) for at in range(workers)]
        self._pool = Pool(self, hands or [home], home, self.warmth)
        if workers:
            self._in_background(self._warm_up, "desk warm-up")

    @property
    def templates(self) -> Path:
        """Folder of the workshop's own templates."""
        return self.store.folder / TEMPLATES

    @property
    def workshop(self) -> Path:
        """The workshop file; it need not be there yet."""
        return self.store.folder / WORKSHOP

    def close(self) -> None:
        """End the workers, and what is made here in the background: as soon as a piece is done."""
        self._closed.set()
        self._pool.close()
        until = monotonic() + SECONDS_TO_END
        for thread in self._threads:
            thread.join(max(0.0, until - monotonic()))

    def rest(self) -> bool:
        """Wait until nothing is made or changed of all that lies open; False once this is closed.

        Whoever changes one piece after the other would wait behind each picture that is drawn.
        """
        while not self._closed.is_set():
            made = not any(
                one.opened and one.opened.done < len(one.opened.lines) for one in self._recent
            )
            if made and self._warm.is_set() and monotonic() - self._used > SECONDS_OF_REST:
                return True
            self._closed.wait(_LOOK_AGAIN)
        return False

    # dockets

    @contextmanager
    def lay(self, number: int) -> Iterator[Lying]:
        """A docket, open and as the store has it, for oneself.

        Raises:
            NoDocketError: there is none of this number.
        """
        self._used = monotonic()
        card = dockets.docket(self.store, number)
        lying = self._place(number)
        with lying.lock:
            if (
                lying.kept is None
                or lying.kept.card != card
                or lying.kept.stamp != self.stamp(lying.kept.choices)
            ):
                self.renew(number, lying)
            yield lying

    def renew(self, number: int, lying: Lying, plan: Plan | None = None) -> None:
        """Read what the store has of a docket, and tell who watches if all its pieces are others.

        Args:
            number: of the docket.
            lying: it; its lock is held.
            plan: of it, where that was made already.
        """
        self.warmth.wait()  # planning needs what is compiled, too
        first = lying.kept is None
        new = lying.renew(self._kept(number), plan)
        if new and lying.opened is not None:
            self._in_background(partial(self._begin, lying.opened), "desk first")
            self._pool.wake()
        if new and not first:
            self.changed(number, None)

    def forget(self, number: int) -> None:
        """Put a docket away."""
        with self._lock:
            self._lying.pop(number, None)
            self._recent = tuple(reversed(self._lying.values()))

    def forget_all(self) -> tuple[int, ...]:
        """Put all dockets away; returns their numbers."""
        with self._lock:
            lying = tuple(self._lying.items())
            self._lying.clear()
            self._recent = ()
        for number, one in lying:
            self._put_away(number, one)
        return tuple(number for number, _ in lying)

    def peek(self, number: int) -> Lying | None:
        """A docket if it lies open, as it lies; it may be behind the store."""
        with self._lock:
            return self._lying.get(number)

    def recipe(self, choices: Choices, number: int) -> Recipe | None:
        """What a docket's pieces are made from; None as long as it has no list."""
        names = dockets.kept_list(self.store, number)
        return None if names is None else self.recipe_of(names, choices)

    def recipe_of(self, names: KeptList, choices: Choices) -> Recipe:
        """What pieces are made from with a list."""
        workshop = self.workshop if self.workshop.is_file() else None
        return Recipe(names, choices.settings, self.templates, workshop, choices.mends)

    # who is told

    def revision(self, number: int) -> int:
        """Rises with every change of a docket."""
        return self._revisions.get(number, self._start)

    def changed(self, number: int, lines: tuple[int, ...] | None) -> int:
        """Tell who watches that a docket was changed.

        Args:
            number: of the docket.
            lines: whose rows are others now; None for all.

        Returns:
            The new revision.
        """
        with self._lock:
            revision = self._revisions[number] = self.revision(number) + 1
        told = None if lines is None else list(lines)
        self._hub.tell(number, Event("changed", {"revision": revision, "lines": told}))
        return revision

    def _told(self, opened: Opened, lines: tuple[int, ...]) -> None:
        """Rows were made; of a plan that counts no longer nobody wants to hear."""
        with self._lock:
            number = next((n for n, one in self._lying.items() if one.opened is opened), None)
        if number is not None:
            data = {"done": opened.done, "total": len(opened.lines), "lines": list(lines)}
            self._hub.tell(number, Event("pieces", data))

    # for the workers

    def take(self) -> Work | None:
        """The rows that come next: those of the docket used last first."""
        for lying in self._recent:
            opened = lying.opened
            work = opened.take() if opened is not None else None
            if work is not None:
                return work
        return None

    def _begin(self, opened: Opened) -> None:
        """Make the first rows here until a worker has made one."""
        for _ in range(FIRST if self._workers else 0):
            if self._closed.is_set() or self._pool.knows(opened.key) or not opened.make_here():
                return

    def _in_background(self, call: Callable[[], None], name: str) -> None:
        """Do something in a thread of its own; it is given a moment to end when this is closed."""
        thread = Thread(target=call, daemon=True, name=name)
        thread.start()
        self._threads = [*(one for one in self._threads if one.is_alive()), thread]

    def _warm_up(self) -> None:
        """Make a piece of each kind here too, as long as nobody waits for one of a docket."""
        try:
            self.warmth.wait()
            for name in WARMING:
                if self._recent or self._closed.is_set():
                    return
                with self._making:
                    warm_up((name,))
        finally:
            self._warm.set()

    def _place(self, number: int) -> Lying:
        with self._lock:
            lying = self._lying.get(number)
            if lying is None:
                lying = Lying(Hooks(self._making, self._told, self._pool.wake))
                self._lying[number] = lying
            self._lying.move_to_end(number)
            away = []
            while len(self._lying) > MOST_OPEN:
                away.append(self._lying.popitem(last=False))
            self._recent = tuple(reversed(self._lying.values()))
        for other, one in away:
            self._put_away(other, one)
        return lying

    def _kept(self, number: int) -> Kept:
        choices = history.choices(self.store, number)
        card: Docket = dockets.docket(self.store, number)
        return Kept(
            card,
            choices,
            self.recipe(choices, number),
            history.steps(self.store, number),
            self.stamp(choices),
        )

    def stamp(self, choices: Choices) -> object:
        """Changes when the workshop file, or the description of the template, is another one."""
        paths = [self.workshop]
        name = choices.settings.get("template")
        try:
            if isinstance(name, str):
                paths.append(template_folder(self.templates, name) / TOML_NAME)
        except NamebatchError:
            paths.append(self.templates)
        return tuple(_stamp_of(path) for path in paths)


def _stamp_of(path: Path) -> tuple[int, int] | None:
    try:
        at = path.stat()
    except OSError:
        return None
    return at.st_mtime_ns, at.st_size
