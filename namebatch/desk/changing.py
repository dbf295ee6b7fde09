"""Changes of a docket: settings, changes by hand, approvals; each a step that can be taken back."""

from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from dataclasses import replace
from datetime import datetime

from namebatch.desk.alike import lines_alike, with_parts
from namebatch.desk.lying import Kept, Lying, planned, planned_wall, refused
from namebatch.desk.misfits import check_all, fitted
from namebatch.desk.model import Counted, Liked, Stepped
from namebatch.desk.opened import Opened
from namebatch.desk.ranges import check_ranges
from namebatch.desk.recipe import check_settings
from namebatch.desk.row_model import RowDetail
from namebatch.desk.rowviews import counts_of, row_detail
from namebatch.desk.tabletop import Tabletop
from namebatch.desk.telling import (
    told_approvals,
    told_like,
    told_list,
    told_mend,
    told_settings,
    told_title,
)
from namebatch.desk.templates import template_folder, template_of
from namebatch.errors import DeskError, NamebatchError
from namebatch.names.mend import Mend
from namebatch.pipeline import Plan
from namebatch.store import Change, Choices, KeptList, history
from namebatch.store.model import Setting
from namebatch.template import load_workshop

_MAPPED = frozenset({"template", "columns"})


class Changes:
    """What is changed in dockets that lie on a tabletop; what each call does is told in `Desk`.

    Args:
        table: where they lie.
        now: the time, with its zone.
    """

    def __init__(self, table: Tabletop, now: Callable[[], datetime]) -> None:
        self._table = table
        self._store = table.store
        self._now = now

    def put_list(self, number: int, names: KeptList) -> None:
        """Another list."""
        with self._table.lay(number) as lying:
            told, change, plan = self._with_list(lying.now.choices, names)
            history.change(self._store, number, told, self._now(), change)
            before = lying.opened
            self._table.renew(number, lying, plan)
            if lying.opened is before:
                self._table.changed(number, ())

    def rename(self, number: int, title: str) -> None:
        """Another title."""
        with self._table.lay(number) as lying:
            told = told_title(title)
            history.change(self._store, number, told, self._now(), Change(title=title))
            self._table.renew(number, lying)
            self._table.changed(number, ())

    def settings(self, number: int, wanted: Mapping[str, Setting | None]) -> None:
        """Other settings."""
        check_settings(wanted)
        name = wanted.get("template", "")
        if name is None:
            raise DeskError("A docket needs a template. Choose another one instead.")
        if name:
            template_folder(self._table.templates, str(name))
        with self._table.lay(number) as lying:
            chosen = lying.now.choices
            wanted = {**_going_along(wanted, chosen.settings), **wanted}
            check_ranges(wanted, chosen.settings)
            plan = self._planned(lying, wanted)
            mends = fitted(plan, chosen.mends) if plan is not None else {}
            change = Change(settings=wanted, mends=mends)
            told = told_settings(wanted, self._titles(wanted))
            history.change(self._store, number, told, self._now(), change)
            before = lying.opened
            self._table.renew(number, lying, plan)
            if lying.opened is before:
                self._table.changed(number, tuple(mends))

    def mend(self, number: int, line: int, mend: Mend | None) -> RowDetail:
        """A row changed by hand."""
        with self._table.lay(number) as lying:
            opened = lying.wall
            mend = noted(opened, line, mend)
            row, made = opened.tried(line, mend)
            told = told_mend(opened.read[line], opened.mends.get(line), mend)
            change = Change(mends={line: mend})
            choices = history.change(self._store, number, told, self._now(), change)
            opened.update(choices.mends, {line: (row, made)})
            self._table.renew(number, lying)
            revision = self._table.changed(number, (line,))
            return row_detail(opened, made.row, made, lying.approvals.get(line), revision)

    def approve(self, number: int, digests: Mapping[int, str | None]) -> Counted:
        """Pieces approved, or not any more."""
        with self._table.lay(number) as lying:
            opened = lying.wall
            for line in digests:
                opened.row(line)
            told = told_approvals(digests, opened.plan.names.place)
            change = Change(approvals=dict(digests))
            history.change(self._store, number, told, self._now(), change)
            self._table.renew(number, lying)
            revision = self._table.changed(number, tuple(sorted(digests)))
            return Counted(revision, counts_of(opened, lying.now.choices))

    def like(self, number: int, line: int, group: str, keys: Sequence[str]) -> Liked:
        """Parts of a row's change for the rows of a group."""
        with self._table.lay(number) as lying:
            opened = lying.wall
            row, source = opened.row(line), opened.mends.get(line, Mend())
            mends: dict[int, Mend | None] = {}
            for other in lines_alike(opened, row, opened.shown(line), group):
                before = opened.mends.get(other)
                after = noted(opened, other, with_parts(before or Mend(), source, keys))
                if after != before:
                    mends[other] = after
            check_all(opened.plan, {n: one for n, one in mends.items() if one is not None})
            lines = tuple(mends)
            if lines:
                told = told_like(row, lines, row.place)
                history.change(self._store, number, told, self._now(), Change(mends=mends))
                self._table.renew(number, lying)
                self._table.changed(number, lines)
            counts = counts_of(opened, lying.now.choices)
            return Liked(lines, self._table.revision(number), counts)

    def step(self, number: int, *, back: bool) -> Stepped:
        """The last step taken back, or the next one again."""
        with self._table.lay(number) as lying:
            before, opened = lying.now, lying.opened
            step = (history.undo if back else history.redo)(self._store, number, self._now())
            if step is None:
                return Stepped(None, self._table.revision(number), ())
            self._table.renew(number, lying)
            lines = _between(before, lying.now)
            if lying.opened is opened:
                self._table.changed(number, lines)
            return Stepped(step.told, self._table.revision(number), lines)

    def _with_list(self, chosen: Choices, names: KeptList) -> tuple[str, Change, Plan | None]:
        """Another list, without the changes and approvals that it has no place for.

        Returns:
            What the step is called, the step, and the plan if all can be made.
        """
        try:
            plan, problem = planned_wall(self._table.recipe_of(names, replace(chosen, mends={})))
        except (NamebatchError, OSError):
            return told_list(names, (), ""), Change(names=names), None
        mends = fitted(plan, chosen.mends)
        gone = tuple(line for line, mend in mends.items() if mend is None)
        lines = {row.line for row in plan.names.rows}
        lost = dict.fromkeys(line for line in chosen.approvals if line not in lines)
        told = told_list(names, gone, plan.names.place)
        return told, Change(mends=mends, approvals=lost, names=names), None if problem else plan

    def _titles(self, wanted: Mapping[str, Setting | None]) -> Mapping[str, str]:
        """What the page calls a template and materials that were chosen."""
        titles = {}
        with suppress(NamebatchError, OSError):
            name = wanted.get("template")
            if isinstance(name, str):
                titles["template"] = template_of(self._table.templates, name).title
        with suppress(NamebatchError, OSError):
            file = self._table.workshop
            known = load_workshop(file if file.is_file() else None).materials
            for setting in ("material", "board"):
                name = wanted.get(setting)
                if isinstance(name, str) and name in known:
                    titles[setting] = known[name].title
        return titles

    def _planned(self, lying: Lying, wanted: Mapping[str, Setting | None]) -> Plan | None:
        """The plan with other settings; None where there can be none yet, and that is kept.

        Raises:
            DeskError: it was possible before and would not be then.
        """
        recipe = lying.now.recipe
        if recipe is None:
            return None
        chosen = {**recipe.settings, **wanted}
        settings = {name: value for name, value in chosen.items() if value is not None}
        try:
            return planned(replace(recipe, settings=settings, mends={}))
        except NamebatchError as error:
            if lying.problem is None and not _MAPPED & set(wanted):
                raise refused(error) from error
            return None


def noted(opened: Opened, line: int, mend: Mend | None) -> Mend | None:
    """A change that notes for which texts it was made; None if it changes nothing."""
    if mend is None or mend.is_empty:
        return None
    read = opened.read.get(line)
    return mend if read is None else replace(mend, was=dict(read.fields))


def _between(before: Kept, after: Kept) -> tuple[int, ...] | None:
    """Lines whose changes or approvals differ; None where list or settings do."""
    old, new = before.choices, after.choices
    if old.settings != new.settings or _names(before) != _names(after):
        return None
    lines = {n for n in {*old.mends, *new.mends} if old.mends.get(n) != new.mends.get(n)}
    first, then = old.approvals, new.approvals
    return tuple(sorted(lines | {n for n in {*first, *then} if first.get(n) != then.get(n)}))


def _names(kept: Kept) -> KeptList | None:
    return None if kept.recipe is None else kept.recipe.names


def _going_along(
    wanted: Mapping[str, Setting | None], settings: Mapping[str, Setting]
) -> Mapping[str, Setting | None]:
    """What goes with a setting that is changed.

    A time for filling belongs to the tight way. Materials were chosen in place of a template's;
    another template has others.
    """
    gone: list[str] = []
    if "fill" in wanted and wanted["fill"] != "tight":
        gone.append("seconds")
    if "template" in wanted and wanted["template"] != settings.get("template"):
        gone += ["material", "board"]
    return {name: None for name in gone if name in settings}
