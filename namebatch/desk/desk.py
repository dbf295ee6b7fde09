"""The desk: everything that the page asks for, one call each; what lies open is kept in memory."""

import csv
import io
import logging
from collections.abc import Callable, Mapping, Sequence
from datetime import UTC, datetime
from pathlib import Path
from threading import Thread
from types import TracebackType

from namebatch.desk.changing import Changes, noted
from namebatch.desk.docketviews import closed_view, open_view
from namebatch.desk.hub import Hub
from namebatch.desk.jobs import latest_job
from namebatch.desk.layout import LayoutView, layout_of
from namebatch.desk.listviews import list_view
from namebatch.desk.lying import Lying
from namebatch.desk.materials import MaterialChoice, material_choices
from namebatch.desk.model import Counted, Counts, DocketView, Liked, ListView, Stepped, StepView
from namebatch.desk.opened import Opened
from namebatch.desk.recipe import Recipe
from namebatch.desk.remembered import Remembered
from namebatch.desk.row_model import Picture, RowDetail, RowsView, Tried
from namebatch.desk.rowviews import row_detail, row_view
from namebatch.desk.sameness import identity_of
from namebatch.desk.tabletop import Tabletop
from namebatch.desk.template_pictures import TemplatePictures
from namebatch.desk.templates import template_of
from namebatch.desk.trials import Trials
from namebatch.desk.work import Work
from namebatch.errors import DeskError, NamebatchError
from namebatch.names.mend import Mend
from namebatch.resources import bundled
from namebatch.store import Deleted, KeptList, State, Store, dockets, history
from namebatch.store.dockets import LONGEST_TITLE
from namebatch.store.model import Setting
from namebatch.template import bundled_templates, load_workshop

WORKERS = 2
PICTURES = "pictures"
_COPY = ", copy"
log = logging.getLogger("namebatch.desk")


def _now() -> datetime:
    return datetime.now(UTC)


class Desk:
    """What lies open of a store, and the hands that make its pieces; may be shared by threads.

    Every call raises `NotThereError` where a docket or a line is named that there is none of,
    and another `NamebatchError` where something cannot be done; nothing was changed then.

    Beside its calls it has the `store`, the `hub` that tells who watches, the `work` of making
    jobs, and the `trials` of templates.

    Args:
        store: what is kept.
        workers: processes that make pieces, started at once; with none they are made in this one.
        now: the time, with its zone.
    """

    def __init__(
        self, store: Store, workers: int = WORKERS, now: Callable[[], datetime] = _now
    ) -> None:
        self.store = store
        self.hub = Hub()
        self._now = now
        self._remembered = Remembered(store)
        self._table = Tabletop(store, self.hub, workers, now, self._put_away)
        self._changes = Changes(self._table, now)
        self._workers = workers
        folder = store.folder / PICTURES
        self._pictures = TemplatePictures(folder, self._table.templates, self._table.workshop)
        self._draw_pictures()
        self.work = Work(self, now)
        self.trials = Trials(store.folder, self.own_templates(), self.workshop_file())

    def close(self) -> None:
        """End all that is being made. The store stays open: it is whose who opened it."""
        self.work.close()
        self.trials.close()
        self._table.close()
        self._table.forget_all()

    def __enter__(self) -> "Desk":
        """The desk itself, closed at the end of a ``with``."""
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """Close it."""
        self.close()

    # dockets

    def dockets(self) -> tuple[DocketView, ...]:
        """All of them, the one that was changed last first.

        Counts of those that do not lie open are as they were when they did.
        """
        return tuple(self._seen(card.number) for card in dockets.all_dockets(self.store))

    def docket(self, number: int) -> DocketView:
        """One docket, opened: planned if that was not done yet (0.1 to 0.5 s for 1,000 rows)."""
        with self._table.lay(number) as lying:
            view = self._open_view(lying, self._table.revision(number))
            if view.state != lying.now.card.state:
                # the order on the hook goes by what somebody changed, and this is not a change
                dockets.set_state(self.store, number, State(view.state), lying.now.card.changed)
            if view.counts is None or not view.counts.waiting:
                self._remembered.note(view, lying.now.stamp)
            return view

    def create(self, title: str, template: str, names: KeptList | None = None) -> DocketView:
        """A new docket; an empty title becomes that of the template.

        Raises:
            NotThereError: there is no such template.
        """
        known = template_of(self.own_templates(), template)
        title = title.strip() or known.title
        made = dockets.create(self.store, title, self._now(), names, {"template": template})
        return self.docket(made.number)

    def rename(self, number: int, title: str) -> DocketView:
        """Another title."""
        self._changes.rename(number, title)
        return self.docket(number)

    def copy(self, number: int, title: str | None = None) -> DocketView:
        """The same list, settings and changes by hand in a new docket."""
        if title is None:
            first = dockets.docket(self.store, number).title
            title = first[: LONGEST_TITLE - len(_COPY)] + _COPY
        made = dockets.copy(self.store, number, title, self._now())
        return self.docket(made.number)

    def delete(self, number: int) -> Deleted:
        """Delete a docket with all its data."""
        dockets.docket(self.store, number)
        with self.work.leaving(number):
            deleted = dockets.delete(self.store, number)
        self._table.forget(number)
        self._table.changed(number, None)
        return deleted

    # list and settings

    def sample(self, template: str) -> KeptList:
        """An example list for a template; of an own one just the texts that it names.

        Raises:
            NotThereError: there is no such template, or it has no example.
        """
        known = template_of(self.own_templates(), template)
        name = f"{template}.csv"
        file = bundled("examples") / name
        if template in bundled_templates() and file.is_file():
            return KeptList(name, file.read_bytes())
        text = io.StringIO()
        rows = csv.writer(text, lineterminator="\n")
        rows.writerow(known.fields)
        rows.writerow(known.samples.get(field, field) for field in known.fields)
        return KeptList(name, text.getvalue().encode())

    def put_list(self, number: int, names: KeptList) -> DocketView:
        """Another list, in one step with the changes by hand that do not fit it taken away."""
        self._changes.put_list(number, names)
        return self.docket(number)

    def list_view(self, number: int) -> ListView:
        """The list, how its columns are used, and what is to be looked at in it."""
        with self._table.lay(number) as lying:
            name = lying.now.choices.settings.get("template")
            try:
                template = template_of(self.own_templates(), str(name))
            except NamebatchError:
                template = None
            return list_view(lying, template)

    def change_settings(self, number: int, wanted: Mapping[str, Setting | None]) -> DocketView:
        """Change settings in one step; None takes one away.

        Template and columns are kept even if nothing can be made then (the docket tells its
        problem); any other that makes the job impossible is refused.
        """
        self._changes.settings(number, wanted)
        return self.docket(number)

    # rows

    def rows(self, number: int, lines: Sequence[int] | None = None) -> RowsView:
        """The rows of a docket, or some of them, in the order of the list."""
        with self._table.lay(number) as lying:
            opened, approvals = lying.wall, lying.approvals
            revision = self._table.revision(number)
            wanted = set(opened.lines if lines is None else lines)
            views = [
                row_view(row, made, approvals.get(row.line))
                for row, made in opened.all()
                if row.line in wanted
            ]
        return RowsView(revision, tuple(views))

    def row(self, number: int, line: int) -> RowDetail:
        """One row opened large; waits until it is made."""
        with self._table.lay(number) as lying:
            opened = lying.wall
        opened.wait(line)  # others may change the docket meanwhile
        return self._detail(number, line, opened)

    def picture(self, number: int, line: int, *, large: bool = False) -> Picture:
        """The picture of a piece; waits until it is made, before those that nobody asked for.

        Raises:
            NotThereError: there is no such line, or it is held and has no picture.
        """
        with self._table.lay(number) as lying:
            opened = lying.wall
        return opened.picture(line, large=large)

    def try_mend(self, number: int, line: int, mend: Mend | None) -> Tried:
        """How a row would be with a change; nothing is kept."""
        with self._table.lay(number) as lying:
            opened, approved = lying.wall, lying.approvals.get(line)
            revision = self._table.revision(number)
        _, made = opened.tried(line, noted(opened, line, mend))
        detail = row_detail(opened, made.row, made, approved, revision)
        picture = opened.picture_of(made, large=True).svg.decode() if made.drawing else None
        return Tried(detail, picture)

    def put_mend(self, number: int, line: int, mend: Mend | None) -> RowDetail:
        """Change a row by hand, instead of what was changed before; None takes all away."""
        return self._changes.mend(number, line, mend)

    def approve(self, number: int, digests: Mapping[int, str | None]) -> Counted:
        """Approve pieces by the digests of their pictures as they were seen; None takes it back."""
        return self._changes.approve(number, digests)

    def like(self, number: int, line: int, group: str, keys: Sequence[str]) -> Liked:
        """Apply parts of a row's change to the rows of a group.

        Args:
            number: of the docket.
            line: whose change it is.
            group: a key of `RowDetail.alike`.
            keys: which parts: ``font``, ``bridge_mm``, ``quantity``, ``held``, ``fields.NAME``,
                ``text.BOX`` or ``text.BOX.KEY``; of a part that the row does not have, what the
                others have is taken away.
        """
        return self._changes.like(number, line, group, keys)

    # steps

    def undo(self, number: int) -> Stepped:
        """Take the last step back."""
        return self._changes.step(number, back=True)

    def redo(self, number: int) -> Stepped:
        """Take it again."""
        return self._changes.step(number, back=False)

    def history(self, number: int) -> tuple[StepView, ...]:
        """All steps in order."""
        dockets.docket(self.store, number)
        steps = history.steps(self.store, number)
        return tuple(StepView(step.number, step.told, step.at, step.done) for step in steps)

    # for those who make jobs, templates and workshop files

    def recipe(self, number: int) -> Recipe:
        """All that a job is made from, for `recipe.plan_recipe` in a process of its own.

        Raises:
            DeskError: there is no list yet.
        """
        dockets.docket(self.store, number)
        found = self._table.recipe(history.choices(self.store, number), number)
        if found is None:
            raise DeskError("This docket has no list yet. Bring one first.")
        return found

    def counts(self, number: int) -> Counts | None:
        """How far a docket is; None as long as it has no rows that could be made."""
        return self.docket(number).counts

    def identity(self, number: int) -> Mapping[str, object] | None:
        """What a job that were made now would be, see `sameness`; None if none can be made."""
        with self._table.lay(number) as lying:
            return identity_of(lying)

    def layout(self, number: int) -> LayoutView:
        """What its sheets are made of, and what can be chosen about them.

        Raises:
            DeskError: nothing can be planned yet.
        """
        with self._table.lay(number) as lying:
            plan = lying.plan or (lying.opened.plan if lying.opened else None)
            if plan is None:
                raise DeskError("No sheets can be laid out yet. Settle what the list lacks first.")
            return layout_of(plan)

    def materials(self, number: int) -> tuple[MaterialChoice, ...]:
        """What it can be made of; told also where nothing can be planned for want of a material.

        Raises:
            DeskError: it has no list yet.
        """
        with self._table.lay(number) as lying:
            recipe = lying.now.recipe
            if recipe is None:
                raise DeskError("This docket has no list yet. Bring one first.")
            template = template_of(self.own_templates(), str(recipe.settings["template"]))
            return material_choices(template, load_workshop(recipe.workshop), recipe.settings)

    def own_templates(self) -> Path:
        """The folder of the workshop's own templates."""
        return self._table.templates

    def workshop_file(self) -> Path:
        """The workshop file; it need not be there yet."""
        return self._table.workshop

    def renew(self) -> None:
        """Plan everything anew: the workshop file, or a template, is another one now."""
        for number in self._table.forget_all():
            self._table.changed(number, None)
        self._draw_pictures()

    @property
    def ready(self) -> bool:
        """False while the first start compiles what draws; whoever needs that waits."""
        return self._table.warmth.ready

    def template_picture(self, name: str) -> bytes:
        """A piece of a template with the sample texts that it names, as SVG.

        Raises:
            NotThereError: there is no such template.
        """
        self._table.warmth.wait()
        return self._pictures.picture(name)

    def touched(self, number: int) -> None:
        """Tell all who watch a docket that it was changed, for example a job was added to it."""
        self._table.changed(number, ())

    def _seen(self, number: int) -> DocketView:
        """A docket as it is known without opening it."""
        lying, revision = self._table.peek(number), self._table.revision(number)
        if lying is not None and lying.kept is not None:
            with self._table.lay(number) as lying:
                return self._open_view(lying, revision)
        card = dockets.docket(self.store, number)
        choices = history.choices(self.store, number)
        steps = history.steps(self.store, number)
        known = self._remembered.of(number, self._table.stamp(choices))
        return closed_view(card, choices, steps, self.own_templates(), revision, known)

    def _open_view(self, lying: Lying, revision: int) -> DocketView:
        return open_view(lying, self.own_templates(), revision, latest_job(self.store, lying))

    def _put_away(self, number: int, lying: Lying) -> None:
        """Remember how far a docket was, whether or not anybody looked since."""
        if lying.opened is None:
            return
        try:
            self._remembered.note(self._open_view(lying, 0), lying.now.stamp)
        except NamebatchError as error:
            log.warning("how far docket %04d was could not be noted: %s", number, error)

    def _draw_pictures(self) -> None:
        """Have the pictures of templates ready before anybody asks, while there is nothing else."""
        if self._workers:
            Thread(
                target=self._pictures.draw_all,
                args=(self._table.rest,),
                daemon=True,
                name="desk pictures",
            ).start()

    def _detail(self, number: int, line: int, opened: Opened) -> RowDetail:
        with self._table.lay(number) as lying:
            made = opened.wait(line)
            approved = lying.approvals.get(line)
            return row_detail(opened, made.row, made, approved, self._table.revision(number))
