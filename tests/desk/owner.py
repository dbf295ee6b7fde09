"""A desk with nothing on it but what making jobs needs, over a store of its own."""

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from pathlib import Path
from threading import Condition

from namebatch.desk.hub import Hub
from namebatch.desk.made_model import MakeView
from namebatch.desk.model import Event
from namebatch.desk.recipe import Recipe, plan_recipe
from namebatch.desk.sameness import identity_now
from namebatch.desk.work import Work
from namebatch.store import Change, KeptList, Store, dockets, history, open_store
from namebatch.store.model import Setting

START = datetime(2031, 5, 4, 9, 30, tzinfo=UTC)
CARDS = KeptList(
    "cards.csv",
    "name,table,colour,quantity\nWren Teasel,Gull table,teal,2\nTeal,Tern table,,1\n"
    "Zoë 𓅯,Gull table,,1\nInka,Gull table,,3\n".encode(),
)
"""Line 4 is held: no typeface has the hieroglyph."""
MOST_SECONDS = 300.0


class Owner:
    """What `Work` needs of a desk."""

    def __init__(self, store: Store) -> None:
        self.store = store
        self.hub = Hub()
        self.minutes = 0
        self.touches: list[int] = []

    def now(self) -> datetime:
        """A minute later each time."""
        self.minutes += 1
        return START + timedelta(minutes=self.minutes)

    def recipe(self, number: int) -> Recipe:
        """From the store alone."""
        names = dockets.kept_list(self.store, number)
        assert names is not None
        chosen = history.choices(self.store, number)
        workshop = self.workshop_file() if self.workshop_file().exists() else None
        return Recipe(names, chosen.settings, self.own_templates(), workshop, chosen.mends)

    def identity(self, number: int) -> Mapping[str, object] | None:
        """Planned anew each time."""
        recipe = self.recipe(number)
        return identity_now(plan_recipe(recipe), recipe)

    def counts(self, number: int) -> None:
        """Nothing lies open here."""

    def own_templates(self) -> Path:
        """Below the store."""
        return self.store.folder / "templates"

    def workshop_file(self) -> Path:
        """Only there if a test writes it."""
        return self.store.folder / "workshop.toml"

    def touched(self, number: int) -> None:
        """Kept for tests."""
        self.touches.append(number)

    def docket(
        self, names: KeptList = CARDS, template: str = "place-card", **settings: Setting
    ) -> int:
        """A new docket."""
        made = dockets.create(self.store, "Kite Day cards", self.now(), names)
        change = Change(settings={"template": template, **settings})
        history.change(self.store, made.number, "chosen", self.now(), change)
        return made.number


class Waiter:
    """Hears a docket's making and waits for a state of it."""

    def __init__(self, owner: Owner, docket: int) -> None:
        self.heard: list[Mapping[str, object]] = []
        self._there = Condition()
        owner.hub.listen(docket, self._hear)

    def until(self, key: str, *values: object) -> Mapping[str, object]:
        """The first event in which something has one of these values."""
        with self._there:
            found = self._there.wait_for(lambda: self._first(key, values), MOST_SECONDS)
        assert found, f"{key} never was one of {values}: {self.heard[-3:]}"
        return found

    def _first(self, key: str, values: tuple[object, ...]) -> Mapping[str, object] | None:
        return next((data for data in self.heard if data.get(key) in values), None)

    def _hear(self, event: Event) -> None:
        with self._there:
            if event.kind == "make":
                self.heard.append(event.data)
            self._there.notify_all()


@contextmanager
def opened(folder: Path) -> Iterator[tuple[Owner, Work]]:
    """A store in a folder, opened for a while."""
    store = open_store(folder)
    owner = Owner(store)
    work = Work(owner, owner.now)
    try:
        yield owner, work
    finally:
        work.close()
        store.close()


def ended(owner: Owner, work: Work, docket: int) -> MakeView:
    """Make a docket's job to its end."""
    waiter = Waiter(owner, docket)
    work.make(docket)
    waiter.until("state", "done", "failed", "stopped")
    return work.state(docket)
