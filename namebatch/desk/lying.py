"""A docket as it lies on the desk: what is kept of it, read; its plan, or why there is none."""

import logging
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from threading import Lock, RLock

from namebatch.desk.model import Problem
from namebatch.desk.opened import Opened
from namebatch.desk.plainly import plainly, problem_of
from namebatch.desk.recipe import LOOK, Recipe, plan_recipe
from namebatch.errors import DeskError, ListError, NamebatchError
from namebatch.pipeline import Plan
from namebatch.store import Choices, Docket, Step

log = logging.getLogger("namebatch.desk")


@dataclass(frozen=True, slots=True)
class Kept:
    """What is kept of a docket.

    Attributes:
        card: the docket itself.
        choices: what was chosen in it.
        recipe: what its pieces are made from; None as long as there is no list.
        steps: its history.
        stamp: changes with workshop file and template.
    """

    card: Docket
    choices: Choices
    recipe: Recipe | None
    steps: tuple[Step, ...]
    stamp: object


@dataclass(frozen=True, slots=True)
class Hooks:
    """What an opened docket calls; see `Opened`."""

    making: Lock
    told: Callable[[Opened, tuple[int, ...]], None]
    wake: Callable[[], None]


class Lying:
    """A docket that lies open. Whoever looks at more than one thing in it holds its lock.

    Beside the lock it has `kept`, what the store has; its `plan`, None with a `problem`; and what
    is `opened` for the wall, which may be there beside a problem that concerns sheets only.

    Args:
        hooks: what an opened docket calls.
    """

    def __init__(self, hooks: Hooks) -> None:
        self.lock = RLock()
        self.kept: Kept | None = None
        self.plan: Plan | None = None
        self.problem: Problem | None = None
        self.opened: Opened | None = None
        self._hooks = hooks
        self._look: object = None
        self._planned: object = None

    @property
    def now(self) -> Kept:
        """What the store has.

        Raises:
            DeskError: it was not read yet.
        """
        if self.kept is None:
            raise DeskError("This docket was not opened yet. Load the page again.")
        return self.kept

    @property
    def approvals(self) -> Mapping[int, str]:
        """Line → digest of what was approved."""
        return self.now.choices.approvals

    @property
    def wall(self) -> Opened:
        """What is opened.

        Raises:
            DeskError: there is nothing, and why.
        """
        if self.opened is not None:
            return self.opened
        if self.problem is not None:
            raise DeskError(self.problem.what, self.problem.details)
        raise DeskError("This docket has no list yet. Bring one first.")

    def renew(self, kept: Kept, plan: Plan | None = None) -> bool:
        """Bring everything in line with what is kept.

        Args:
            kept: what the store has now.
            plan: of it, where that was made already.

        Returns:
            Whether all pieces may be others now.
        """
        self.kept = kept
        if kept.recipe is None:
            return self._clear(None)
        try:
            look = (kept.recipe.look, kept.stamp)
            wanted = (look, repr(sorted(kept.recipe.settings.items())))
            new = False
            if wanted != self._planned:
                new = self._plan(kept.recipe, look, plan)
                self._planned = wanted
        except (NamebatchError, OSError) as error:
            return self._clear(problem_of(error))
        if self.opened is not None:
            self.opened.update(kept.choices.mends)
        return new

    def _plan(self, recipe: Recipe, look: object, plan: Plan | None) -> bool:
        bare = replace(recipe, mends={})
        found, error = (plan, None) if plan else planned_wall(bare)
        self.plan = None if error else found
        self.problem = problem_of(error) if error else None
        if self.opened is not None and look == self._look:
            return False
        self._look = look
        hooks = self._hooks
        self.opened = Opened(found, hooks.making, hooks.told, hooks.wake)
        return True

    def _clear(self, problem: Problem | None) -> bool:
        had = self.opened is not None or problem != self.problem
        self.plan = self.opened = None
        self.problem, self._look, self._planned = problem, None, None
        return had


def planned_wall(recipe: Recipe) -> tuple[Plan, NamebatchError | None]:
    """The plan of a docket, or of its pieces alone: what concerns sheets takes no wall away.

    Returns:
        The plan, and what keeps its sheets from being filled.

    Raises:
        NamebatchError: no piece can be made.
    """
    try:
        return planned(recipe), None
    except ListError:
        raise  # it cannot be read, with whatever settings
    except NamebatchError as error:
        kept = {name: recipe.settings[name] for name in LOOK if name in recipe.settings}
        try:
            return planned(replace(recipe, settings=kept)), error
        except NamebatchError:
            raise error from None


def planned(recipe: Recipe) -> Plan:
    """The plan of a docket; what nobody foresaw is a problem of that docket alone.

    Raises:
        NamebatchError: nothing can be made of it.
    """
    try:
        return plan_recipe(recipe)
    except (NamebatchError, OSError):
        raise
    except Exception as error:
        log.exception("a list could not be planned")
        raise DeskError(
            f"namebatch broke down over this list ({type(error).__name__}). Save it again as CSV, "
            "or paste the names; please report it with the list."
        ) from error


def refused(error: NamebatchError) -> DeskError:
    """An error of the rooms below in the words of the page."""
    return DeskError(plainly(error.what), tuple(plainly(one) for one in error.problems))
