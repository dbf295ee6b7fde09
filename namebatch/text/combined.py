"""Several steps at once, for a text that no single one makes fit."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import combinations

from namebatch.template.textbox import Step, TextBox
from namebatch.text.chain import faces_of
from namebatch.text.face import Face
from namebatch.text.initials import all_initials, initials
from namebatch.text.sizer import Sized, Sizer
from namebatch.text.steps import (
    Candidate,
    Way,
    broken,
    narrower_cuts,
    other_faces,
    shortened,
    single,
    tighter,
)

Setter = Callable[[str, Way, TextBox], Iterator[Candidate]]


def combined(text: str, faces: Sequence[Face], box: TextBox, sizer: Sizer) -> Iterator[Sized]:
    """Every combination of the steps of a box, whatever their order, up to one that is enough.

    Here it is the face that leads the text which is narrowed, be it the first of the box or not.

    The fewest steps come first, then those that the box names first. The whole name is tried in
    all of them before any initial, and the family name stays whole as long as the others can be
    cut. Of letters brought closer or narrowed the most is tried first, and less only where that
    is enough.

    Args:
        text: one line that the faces can set; each step has been tried alone.
        faces: in the order in which they are tried.
        box: its steps.
        sizer: of the place of that box; it knows the least height.

    Returns:
        What was tried and its height; the last is large enough if any is.
    """
    cut = box.sizing.steps[-1:] == ("initials",)  # all before it were combined already
    for form, rungs, setter in _ladders(text, faces, box, sizer.place.lines, whole=not cut):
        most = list(sizer.measured(_set(setter, form, rungs[-1:], box)))
        if any(sizer.is_enough(height) for _, height in most):
            each = sizer.measured(_set(setter, form, rungs, box))
            yield next(pair for pair in each if sizer.is_enough(pair[1]))
            return
        yield from most


def is_made(text: str, faces: Sequence[Face], box: TextBox, sizer: Sizer) -> bool:
    """Whether some combination of the steps of a box is enough; arguments as for `combined`."""
    return any(
        sizer.is_enough(height)
        for form, rungs, setter in _ladders(text, faces, box, sizer.place.lines, whole=True)
        for _, height in sizer.measured(_set(setter, form, rungs[-1:], box))
    )


def _ladders(
    text: str, faces: Sequence[Face], box: TextBox, lines: int, whole: bool
) -> Iterator[tuple[str, list[Way], Setter]]:
    """What is set, in ways from the mildest on, and how: a list for each set of steps and face."""
    plain = Way(tuple(faces), box.tracking)
    steps = tuple(step for step in box.sizing.steps if step != "initials")
    forms = [(text, plain)] if whole else []
    if len(steps) < len(box.sizing.steps):
        short = (*initials(text, box.language), *all_initials(text, box.language))
        forms += [(form, shortened(text, form, plain)) for form in short]
    for form, way in forms:
        for taken in _sets(steps, lines, least=1 if form == text else 0):
            setter = broken if "two-lines" in taken else single
            for rungs in _rungs(form, way, box, taken):
                yield form, rungs, setter


def _sets(steps: Sequence[Step], lines: int, least: int) -> Iterator[tuple[Step, ...]]:
    """Sets of steps from the smallest on, in their order."""
    possible = [step for step in steps if step != "two-lines" or lines > 1]
    for count in range(least, len(possible) + 1):
        yield from combinations(possible, count)


def _rungs(form: str, way: Way, box: TextBox, steps: Sequence[Step]) -> Iterator[list[Way]]:
    """Ways from the mildest on that take all of some steps, one list for every face."""
    for begun in other_faces(form, way) if "face" in steps else (way,):
        rungs = [begun]
        if "tracking" in steps:
            rungs = list(tighter(begun, box))
        if "width" in steps:
            lead = faces_of(form, begun.faces)[0]
            # As narrow as need be only when closer letters do not do.
            rungs = [cut for rung in rungs[-1:] for cut in narrower_cuts(lead, rung, box)]
        if rungs:
            yield rungs


def _set(setter: Setter, form: str, rungs: Iterable[Way], box: TextBox) -> Iterator[Candidate]:
    """What a setter makes of each way, what was done told in the order of the template."""
    for rung in rungs:
        for made in setter(form, rung, box):
            pairs = zip(made.steps, made.notes, strict=True)
            told = sorted(pairs, key=lambda pair: box.sizing.steps.index(pair[0]))
            yield replace(
                made, notes=tuple(n for _, n in told), steps=tuple(step for step, _ in told)
            )
