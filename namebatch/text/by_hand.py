"""How one text is set otherwise than its box says, because somebody asked for it by hand."""

from collections.abc import Collection, Sequence
from dataclasses import replace

import shapely
from shapely import MultiPolygon, affinity

from namebatch.finding import Finding, hold
from namebatch.names.mend import TextMend, told_shift
from namebatch.template.regions import region_of
from namebatch.template.textbox import AlongPath, Arc, Step, TextBox
from namebatch.text.breaks import break_number
from namebatch.text.chain import Spare
from namebatch.text.face import Face
from namebatch.text.fit import Common, SetText, reach
from namebatch.text.glyphs import as_multipolygon
from namebatch.text.setting import Letter

INSIDE_MM = 0.01
"""So far beyond its box is rounding."""
NOT_WHERE_BROKEN: frozenset[Step] = frozenset({"face", "initials", "two-lines"})
"""Steps that would undo a break that was asked for, and the break itself, which is tried last."""
LAST: tuple[Step, ...] = ("two-lines",)
TOO_SMALL = "text-too-small"
TRIES = 20
"""Halvings to find how far a text can be moved; 0.00001 of what was asked."""


def box_by_hand(box: TextBox, mend: TextMend, text: str) -> TextBox | Finding:
    """A box that asks for what was asked by hand.

    Args:
        box: as the template has it.
        mend: what was asked.
        text: what is to be set, as typed.

    Returns:
        The box, or a hold if the text cannot be broken as asked.
    """
    if mend.height_mm is not None:
        box = replace(box, min_height_mm=mend.height_mm, max_height_mm=mend.height_mm)
    elif mend.most_mm is not None:
        box = replace(box, max_height_mm=min(box.max_height_mm, mend.most_mm))
    sizing = box.sizing
    if mend.one_line:
        sizing = replace(sizing, steps=_without(box, {"two-lines"}), two_lines_larger=False)
    elif mend.lines is not None:
        number = break_number(text, *mend.lines)
        if not number:
            return _not_of_text(text, mend.lines)
        steps = _without(box, NOT_WHERE_BROKEN) + LAST
        sizing = replace(sizing, steps=steps, two_lines_larger=False, break_at=number)
    if any(mend.shift_mm) and isinstance(box.place, Arc | AlongPath):
        box = replace(box, place=replace(box.place, moved_mm=mend.shift_mm))
    return replace(box, sizing=sizing)


def common_by_hand(common: Common | None, mend: TextMend) -> Common | None:
    """What a text still has in common with its batch: its own height, on the same baseline."""
    if common is None:
        return None
    if mend.height_mm is not None:
        return replace(common, height_mm=mend.height_mm)
    if mend.most_mm is not None:
        return replace(common, height_mm=min(common.height_mm, mend.most_mm))
    return common


def too_high(
    finding: Finding,
    text: str,
    faces: Sequence[Face],
    box: TextBox,
    mend: TextMend,
    spare: Spare,
) -> Finding:
    """Why a text is held, with the height that there is room for where another one was asked.

    Args:
        finding: what holds it.
        text: as typed.
        faces: that were tried.
        box: as the template has it.
        mend: what was asked.
        spare: faces that help out.
    """
    if mend.height_mm is None or finding.code != TOO_SMALL:
        return finding
    open_box = box_by_hand(box, replace(mend, height_mm=None), text)
    if isinstance(open_box, Finding):
        return finding
    most = max(box.max_height_mm, mend.height_mm)
    found = reach(text, faces, replace(open_box, max_height_mm=most), spare)
    if found is None:
        return finding
    return hold(
        TOO_SMALL,
        f'"{text}" was to be {mend.height_mm:g} mm high by hand, and there is room for '
        f'{int(10 * found[0]) / 10:g} mm (text "{box.name}"). Ask for no more than that, or '
        "shorten it.",
    )


def moved(text: SetText, box: TextBox, mend: TextMend) -> SetText | Finding:
    """A text moved as asked; along a bent line it stands there already.

    Args:
        text: as it was set.
        box: as the template has it: no ink may leave it.
        mend: what was asked.

    Returns:
        The text, or a hold that says how far it can be moved that way.
    """
    if not any(mend.shift_mm):
        return text
    room = shapely.buffer(region_of(box), INSIDE_MM)
    bent = isinstance(box.place, Arc | AlongPath)
    shape = text.shape if bent else _shifted(text.shape, mend.shift_mm)
    if not room.contains(shape):
        if bent:
            remedy = f"by {_beyond(shape, room):.1f} mm. Move it less, or set it smaller first."
        else:
            share = _share(text.shape, room, mend.shift_mm)
            right, up = (int(100 * share * value) / 100 for value in mend.shift_mm)
            far = told_shift((right, up)) or "nothing"
            remedy = (
                f"by {_beyond(shape, room):.1f} mm. That way there is room for {far}; move it no "
                "farther, or set it smaller first."
            )
        return hold(
            "moved-out-of-place",
            f'"{text.text}" (text "{box.name}") was moved {told_shift(mend.shift_mm)} by hand and '
            f"leaves its place {remedy}",
        )
    if bent:
        return text
    letters = tuple(
        Letter(letter.index, letter.text, _shifted(letter.shape, mend.shift_mm))
        for letter in text.letters
    )
    up = text.baseline_mm + mend.shift_mm[1]
    return replace(text, shape=shape, letters=letters, baseline_mm=up)


def _without(box: TextBox, steps: Collection[Step]) -> tuple[Step, ...]:
    return tuple(step for step in box.sizing.steps if step not in steps)


def _shifted(shape: MultiPolygon, by_mm: tuple[float, float]) -> MultiPolygon:
    return as_multipolygon(affinity.translate(shape, *by_mm))


def _share(shape: MultiPolygon, room: shapely.Geometry, by_mm: tuple[float, float]) -> float:
    """The share of a shift up to which a shape stays inside."""
    low, high = 0.0, 1.0
    for _ in range(TRIES):
        middle = (low + high) / 2
        if room.contains(_shifted(shape, (by_mm[0] * middle, by_mm[1] * middle))):
            low = middle
        else:
            high = middle
    return low


def _beyond(shape: MultiPolygon, room: shapely.Geometry) -> float:
    """How far a shape reaches out of its room, and at least what can be told."""
    outside = shapely.difference(shape, room)
    corners = shapely.points(shapely.get_coordinates(outside))
    return max(float(shapely.distance(corners, room).max(initial=0.0)), 0.1)


def _not_of_text(text: str, lines: tuple[str, str]) -> Finding:
    return hold(
        "break-not-of-text",
        f'"{text}" cannot be broken by hand into "{lines[0]}" and "{lines[1]}": the two lines '
        "must be the text itself, parted at a space or behind a hyphen. Break it there, or "
        "correct the text first.",
    )
