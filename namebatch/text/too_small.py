"""What would really help a text that is too long for its place: computed, not guessed."""

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import ceil, floor

from namebatch.finding import Finding, hold
from namebatch.template.textbox import Step, TextBox
from namebatch.text.combined import is_made
from namebatch.text.face import Face
from namebatch.text.initials import has_initials
from namebatch.text.places import place_of
from namebatch.text.sizer import Sized, Sizer
from namebatch.text.steps import Candidate

STEP_WORDS: tuple[tuple[Step, str], ...] = (
    ("two-lines", "two lines"),
    ("tracking", "closer letters"),
    ("width", "narrower letters"),
    ("face", "a narrower typeface"),
    ("initials", "initials"),
)
CLOSEST = -0.12
"""Letters closer than that run into each other (common practice, no source)."""
SLACK_MM = 1e-6
FINER_MM = 0.5
"""Boxes are told in steps of so many mm."""


def too_small(
    text: str,
    faces: Sequence[Face],
    box: TextBox,
    sizer: Sizer,
    best: Sized,
) -> Finding:
    """The finding that holds a text, with the changes to its box that would let it be made.

    Args:
        text: as it was to be set.
        faces: that set it.
        box: where it goes.
        sizer: of the place of that box; it has measured what the box allows.
        best: the way in which the text comes out largest, and its height.
    """
    candidate, height_mm = best
    fits = f'"{text}" fits only at {floor(height_mm * 10) / 10:.1f} mm'
    ways = [*_further_steps(text, faces, box, sizer), *_closer(text, faces, box, sizer)]
    if box.min_height_mm == box.max_height_mm:
        also = f"allow {_either(ways)}, or shorten" if ways else "shorten"
        return hold(
            "text-too-small",
            f'{fits}, and "{box.name}" is to be {box.min_height_mm:g} mm high. Set it smaller, or '
            f"{also} the text.",
        )
    allow = f"Allow {_either(ways)}; or shorten" if ways else "Shorten"
    return hold(
        "text-too-small",
        f'{fits}; the least in the box "{box.name}" is {box.min_height_mm:g} mm. {allow} the text '
        f"or take {_room(candidate, box)}.{_without_initials(text, box)}",
    )


def _further_steps(text: str, faces: Sequence[Face], box: TextBox, sizer: Sizer) -> Iterator[str]:
    """Steps that the box does not allow and that would be enough with those that it does."""
    if box.sizing.break_at:
        return
    for step, word in STEP_WORDS:
        if step not in box.sizing.steps:
            sizing = replace(box.sizing, steps=(*box.sizing.steps, step))
            if is_made(text, faces, replace(box, sizing=sizing), sizer):
                yield word


def _closer(text: str, faces: Sequence[Face], box: TextBox, sizer: Sizer) -> Iterator[str]:
    """How much closer than it allows letters would have to stand."""
    if "tracking" not in box.sizing.steps:
        return
    now = min(box.sizing.tightest, box.tracking)
    levels = range(1, floor((now - CLOSEST) * 100 + SLACK_MM) + 1)

    def helps(level: int) -> bool:
        sizing = replace(box.sizing, tightest=now - level / 100)
        return is_made(text, faces, replace(box, sizing=sizing), sizer)

    if levels and helps(levels[-1]):
        level = levels[bisect_left(levels, True, key=helps)]
        yield f"letters {level} % of their height closer still"


def _room(best: Candidate, box: TextBox) -> str:
    """The place in which the best way to set it would do."""
    if box.place is not None:
        return "a template with more room"
    left, bottom, width, height = box.box_mm
    x0, y0, x1, y1 = best.block.bounds
    wide = max(_up(box.min_height_mm * (x1 - x0)), width)
    high = max(_up(box.min_height_mm * (y1 - y0)), height)
    larger = replace(box, box_mm=(left, bottom, wide, high))
    if place_of(larger, None).largest(best.block, box.max_height_mm) < box.min_height_mm - SLACK_MM:
        return "a template with more room"
    more = [f"{wide - width:g} mm wider"] if wide > width else []
    more += [f"{high - height:g} mm higher"] if high > height else []
    return f"a template whose box is {' and '.join(more)}"


def _up(length_mm: float) -> float:
    return ceil(length_mm / FINER_MM + SLACK_MM) * FINER_MM


def _without_initials(text: str, box: TextBox) -> str:
    if "initials" not in box.sizing.steps or " " not in text:
        return ""
    told = " Names in this script or language are not cut to initials."
    return "" if has_initials(text, box.language) else told


def _either(ways: Sequence[str]) -> str:
    *others, last = ways
    return f"{', '.join(others)} or {last}" if others else last
