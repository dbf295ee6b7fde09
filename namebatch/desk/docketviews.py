"""A docket as the page shows it."""

from collections.abc import Sequence
from pathlib import Path
from typing import Final

from namebatch.desk.lying import Lying
from namebatch.desk.model import Counts, DocketView, Latest, Next, TemplateName, Told
from namebatch.desk.plainly import plainly
from namebatch.desk.remembered import Known
from namebatch.desk.rowviews import counts_of
from namebatch.desk.templates import template_of
from namebatch.errors import NamebatchError
from namebatch.store import Choices, Docket, State, Step

_PARTS: Final = {
    "list": State.LIST,
    "look": State.LOOK,
    "lay-out": State.LAY_OUT,
    "make": State.MAKE,
}
_ANOTHER: Final = Next("choose another template", "list")
"""What there is to do with a list whose template is there no longer."""


def closed_view(
    card: Docket,
    choices: Choices,
    steps: Sequence[Step],
    own: Path,
    revision: int,
    remembered: Known | None = None,
) -> DocketView:
    """A docket that does not lie open: what the store alone knows of it.

    Args:
        card: the docket itself.
        choices: what was chosen in it.
        steps: its history.
        own: folder of the workshop's own templates.
        revision: that the page is told.
        remembered: what was known of it when it lay open last.
    """
    undo, redo = _steps(steps)
    first = Next("open it", "list" if card.state is State.LIST else "look")
    template = template_name(own, choices)
    if template is None and card.list_name:
        first, remembered = _ANOTHER, None
    jobs: Latest = "unsure" if card.jobs else "none"
    return DocketView(
        number=card.number,
        title=card.title,
        created=card.created,
        changed=card.changed,
        state=card.state.value,
        revision=revision,
        template=template,
        list_name=card.list_name,
        settings=choices.settings,
        counts=remembered.counts if remembered else None,
        can_undo=card.can_undo,
        can_redo=card.can_redo,
        undo_told=undo,
        redo_told=redo,
        jobs=card.jobs,
        problem=None,
        findings=(),
        notes=(),
        next=remembered.next if remembered else first,
        latest_job=remembered.latest_job if remembered else jobs,
    )


def open_view(lying: Lying, own: Path, revision: int, latest: Latest) -> DocketView:
    """A docket that lies open.

    Args:
        lying: the docket.
        own: folder of the workshop's own templates.
        revision: that the page is told.
        latest: how the job made last stands to it.
    """
    kept, plan = lying.now, lying.opened.plan if lying.opened else None
    counts = counts_of(lying.opened, kept.choices) if lying.opened else None
    template = template_name(own, kept.choices)
    after = next_step(lying, counts, latest)
    if template is None and lying.problem is not None:
        after = _ANOTHER
    undo, redo = _steps(kept.steps)
    card = kept.card
    findings = (*plan.names.findings, *plan.template.warnings) if plan else ()
    return DocketView(
        number=card.number,
        title=card.title,
        created=card.created,
        changed=card.changed,
        state=state_of(card, after).value,
        revision=revision,
        template=template,
        list_name=card.list_name,
        settings=kept.choices.settings,
        counts=counts,
        can_undo=card.can_undo,
        can_redo=card.can_redo,
        undo_told=undo,
        redo_told=redo,
        jobs=card.jobs,
        problem=lying.problem,
        findings=tuple(Told(f.code, f.severity, plainly(f.message)) for f in findings),
        notes=tuple(plainly(note) for note in plan.notes) if plan else (),
        next=after,
        latest_job=latest,
    )


def template_name(own: Path, choices: Choices) -> TemplateName | None:
    """The template that was chosen; None if none was, or where it is there no longer."""
    name = choices.settings.get("template")
    if not isinstance(name, str):
        return None
    try:
        return TemplateName(name, template_of(own, name).title)
    except (NamebatchError, OSError):
        return None


def state_of(card: Docket, after: Next) -> State:
    """Where a docket stands; what was said to be done stays done."""
    return State.DONE if card.state is State.DONE else _PARTS[after.part]


def next_step(lying: Lying, counts: Counts | None, latest: Latest) -> Next:
    """The one thing to do next.

    Args:
        lying: the docket.
        counts: of it, if it has pieces.
        latest: how the job made last stands to it; one that is not what would be made now is never
            sent to be cut.
    """
    if lying.now.recipe is None:
        return Next("bring a list of names", "list")
    if lying.problem is not None:
        wall = lying.opened is not None
        return Next(
            "settle what the sheets lack" if wall else "settle what the list lacks",
            "lay-out" if wall else "list",
        )
    if counts is None or counts.waiting == counts.lines:
        return Next("look at the pieces", "look")
    if counts.look:
        some = "1 piece" if counts.look == 1 else f"{counts.look:,} pieces"
        before = " before they are cut" if counts.look > 1 else " before it is cut"
        return Next(f"look at {some}{before if latest == 'current' else ''}", "look")
    if counts.waiting:
        return Next("look at the pieces", "look")
    if not counts.made:
        return Next("every line is held: see why", "look")
    if latest == "current":
        return Next("print, cut, and say what was spoiled", "make")
    if latest != "none":
        return Next("something was changed: fill the sheets anew", "lay-out")
    if counts.approved < counts.made:
        return Next("approve the pieces, or go on: fill the sheets", "lay-out")
    return Next("fill the sheets and make the files", "lay-out")


def _steps(steps: Sequence[Step]) -> tuple[str | None, str | None]:
    """What would be taken back, and what would be done again."""
    done = [step.told for step in steps if step.done]
    undone = [step.told for step in steps if not step.done]
    return (done[-1] if done else None), (undone[0] if undone else None)
