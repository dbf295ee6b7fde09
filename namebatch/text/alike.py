"""Digits and signs of one name in one typeface, where several set it."""

import unicodedata
from collections.abc import Iterator, Sequence

from fontTools import unicodedata as script_data

from namebatch.text.bidi import bracket_pairs
from namebatch.text.clusters import clusters
from namebatch.text.face import Face
from namebatch.text.runs import NEUTRAL, Item

Share = tuple[Item, Face]
"""A stretch of a line and what sets it."""

_DIGITS = "digits"


def signs_alike(text: str, shared: Sequence[Share], faces: Sequence[Face]) -> list[Share]:
    """Give digits, and each sign that comes more than once, one typeface throughout a line.

    That is the first of those that set the line which has all of them. A pair of brackets
    counts as one sign; digits and signs of a script of its own stay with it.

    Args:
        text: the line.
        shared: its stretches in visual order.
        faces: the chain, in the order in which its faces are tried.

    Returns:
        The stretches in visual order; the same ones where all is alike.
    """
    used = {id(face) for _, face in shared}
    if len(used) < 2:
        return list(shared)
    own = {i: face for item, face in shared for i in range(item.start, item.end)}
    order = [face for face in faces if id(face) in used]
    moved: dict[int, Face] = {}
    for places in _groups(text).values():
        if len({id(own[i]) for i in places}) < 2:
            continue
        signs = "".join(dict.fromkeys(text[i] for i in places))
        face = next((face for face in order if all(face.can_set(sign) for sign in signs)), None)
        moved.update((i, face) for i in places if face is not None and own[i] is not face)
    return [part for share in shared for part in _cut(share, moved)] if moved else list(shared)


def _groups(text: str) -> dict[str, list[int]]:
    """Places of digits, and of each sign, that many scripts share."""
    opener = {closing: text[opening] for opening, closing in bracket_pairs(text)}
    found: dict[str, list[int]] = {}
    for cluster in clusters(text):
        sign, at = cluster.text, cluster.start
        if len(sign) > 1 or script_data.script(sign) not in NEUTRAL:
            continue
        if sign.isdecimal():
            found.setdefault(_DIGITS, []).append(at)
        elif unicodedata.category(sign).startswith("P"):
            found.setdefault(opener.get(at, sign), []).append(at)
    return found


def _cut(share: Share, moved: dict[int, Face]) -> Iterator[Share]:
    """A stretch in parts, in visual order, with what goes to another face in that."""
    item, face = share
    parts: list[Share] = []
    for index in range(item.start, item.end):
        here = moved.get(index, face)
        if parts and parts[-1][1] is here:
            last, _ = parts[-1]
            parts[-1] = (Item(last.start, index + 1, last.script, item.right_to_left), here)
        else:
            script = item.script if here is face else NEUTRAL[0]
            parts.append((Item(index, index + 1, script, item.right_to_left), here))
    yield from parts[::-1] if item.right_to_left else parts
