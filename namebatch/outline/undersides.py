"""Marks and tails of letters that lie in the base, though the rest of the letter stands out. mm.

Without its dot, cedilla or tail a letter may be another one: a name is then misspelt.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from namebatch.finding import Finding, warn
from namebatch.outline.arrays import Floats, Ints
from namebatch.outline.marks import called, hangs_from, marks_of, reading
from namebatch.outline.model import Letter, Order
from namebatch.outline.seen import SUNK, Ground, Shapes, sunk_letters

ALIKE = 0.1
"""Feet stand on one line if they differ by no more than this share of the letters' height."""
TALL = 0.5
TAIL = 0.06
"""A tail is at least this share of its letter's ink."""
STRIP = 0.08
"""Share of a letter's height in which the end of a mark that hangs from it is looked for."""
EVERY = 4
"""Of the corners of curves so many are enough to see how deep a letter reaches."""
MOST_NAMED = 6


@dataclass(frozen=True, slots=True)
class _Ink:
    """The ink of letters, part by part.

    Attributes:
        parts: polygons.
        owner: index of each polygon's letter.
        boxes: bounds of each polygon.
        main: index of the largest polygon of every letter.
    """

    parts: Shapes
    owner: Ints
    boxes: Floats
    main: Ints


def what_is_sunk(order: Order) -> list[Finding]:
    """Tell marks and tails of welded letters that are not seen, and what is read instead."""
    if order.base.is_empty or not order.letters:
        return []
    ground, ink = Ground(order), _ink(order.letters)
    low, high = np.array(ground.bounds[:2]), np.array(ground.bounds[2:])
    near = np.asarray(((ink.boxes[:, :2] < high) & (ink.boxes[:, 2:] > low)).all(axis=1))
    loose = near.copy()
    loose[ink.main] = False
    standing = np.flatnonzero(near[ink.main])
    lost = np.flatnonzero(loose)
    lost = lost[ground.hides(ink.parts[lost], SUNK) > 0.0]
    tails = _tails(ground, ink, standing, order.letters)
    if not len(lost) and not tails:
        return []
    told = sunk_letters(order, ground)
    marks: list[tuple[int, str | None, bool]] = []
    for part in lost:
        place = int(ink.owner[part])
        body = ink.boxes[ink.main[place]]
        below = ink.boxes[part][1] + ink.boxes[part][3] < body[1] + body[3]
        marks.append((place, _only(marks_of(order.letters[place].text, below)), below))
    marks += [
        (place, _only(marks_of(order.letters[place].text, True)), True)
        for place in tails
        if hangs_from(order.letters[place].text)
    ]
    marks = [mark for mark in dict.fromkeys(marks) if not told[mark[0]]]
    named = {place for place, _, _ in marks}
    bare = [place for place in tails if not told[place] and place not in named]
    return [*_of_marks(order.letters, marks), *_of_tails(order.letters, bare)]


def _ink(letters: Sequence[Letter]) -> _Ink:
    shapes = np.array([letter.shape for letter in letters], dtype=object)
    parts, owner = shapely.get_parts(shapes, return_index=True)
    order = np.lexsort((-shapely.area(parts), owner))
    main = order[np.searchsorted(owner, np.arange(len(letters)))]
    return _Ink(parts, owner, shapely.bounds(parts).reshape(-1, 4), main)


def _tails(ground: Ground, ink: _Ink, standing: Ints, letters: Sequence[Letter]) -> list[int]:
    """Letters that reach farther into the base than their neighbours, and not out of it again."""
    if not len(standing):
        return []
    shapes, boxes = ink.parts[ink.main[standing]], ink.boxes[ink.main[standing]]
    heights = boxes[:, 3] - boxes[:, 1]
    middle = float(np.sort(heights)[len(heights) // 2])
    tall = heights >= TALL * middle  # hyphens and quotes stand on no line
    alike = ALIKE * middle
    line = float(boxes[tall, 1].max()) - alike
    hangs = [i for i, place in enumerate(standing.tolist()) if hangs_from(letters[place].text)]
    low = np.flatnonzero(boxes[:, 1] < line)
    if not len(low) and not hangs:
        return []
    tails = shapely.clip_by_rect(shapes[low], *boxes[:, :2].min(0), boxes[:, 2].max(), line)
    large = shapely.area(tails) > TAIL * shapely.area(shapes[low])
    low, tails = low[large], tails[large]
    found: list[int] = low[ground.hides(tails, SUNK) > 0.0].tolist()
    for index in set(hangs) - set(found):
        left, bottom, right, top = boxes[index]
        strip = shapely.clip_by_rect(
            shapes[index], left, bottom, right, bottom + STRIP * (top - bottom)
        )
        found += [index] * bool(ground.hides(np.array([strip], dtype=object), SUNK)[0] > 0.0)
    found.sort()
    if not found:
        return []
    below = int((boxes[:, 1] < line).sum())
    between = np.flatnonzero(boxes[:, 1] >= line)[[0, -1]]  # no bent line dips in its middle
    if any(not between[0] < index < between[1] for index in found if boxes[index, 1] < line):
        deeper = _deeper(ground, shapes, alike)
        if deeper is None and below > len(boxes) / 2:
            found = [index for index in found if index in hangs]
        elif deeper is not None and len(deeper) < below:  # the feet stand on a bent line
            found = deeper
    return [int(place) for place in standing[found]]


def _deeper(ground: Ground, shapes: Shapes, alike: float) -> list[int] | None:
    """Inks that reach deeper below the base's edge than the one that reaches least deep.

    Returns:
        None where the base is too narrow to tell.
    """
    low, high = np.array(ground.bounds).reshape(2, 2)
    if 4 * alike > (high - low).min():
        return None
    xy, owner = (found[::EVERY] for found in shapely.get_coordinates(shapes, return_index=True))
    inside = shapely.contains_xy(ground.shape, xy)
    depth = np.zeros(len(shapes))
    away = shapely.distance(shapely.points(xy[inside]), ground.shape.boundary)
    np.maximum.at(depth, owner[inside], away)
    least = depth[depth > 0.0].min(initial=np.inf) + alike
    if not np.isfinite(least) or shapely.buffer(ground.shape, -least - alike).is_empty:
        return None
    core = shapely.buffer(ground.shape, -least)
    over = shapely.area(shapely.intersection(shapes, core)) > TAIL * shapely.area(shapes)
    return [int(i) for i in np.flatnonzero((depth > least) & over)]


def _only(marks: Sequence[str]) -> str | None:
    return marks[0] if len(marks) == 1 else None


def _of_marks(
    letters: Sequence[Letter], marks: Sequence[tuple[int, str | None, bool]]
) -> list[Finding]:
    """Tell marks by their names, and how the name reads without them."""
    if not marks:
        return []
    words = [
        f'the {called(mark)} of "{letters[place].text}"'
        if mark and called(mark) != "mark"
        else f'a mark {"below" if below else "above"} in "{letters[place].text}"'
        for place, mark, below in marks
    ]
    words = list(dict.fromkeys(words))
    which = ", ".join(words[:MOST_NAMED])
    lie = "lies inside the base and is" if len(words) == 1 else "lie inside the base and are"
    known = {(place, mark) for place, mark, _ in marks if mark}
    read = ""
    if len(known) == len(marks) and len(_names(letters)) == 1:
        read = f': it reads "{reading(letters, known)}"'
    return [
        warn(
            "mark-in-base",
            f"{which[:1].upper()}{which[1:]} {lie} not seen{read}. Move the text box up so that "
            "it stands out of the base, or choose a base that leaves room for marks.",
        )
    ]


def _of_tails(letters: Sequence[Letter], places: Sequence[int]) -> list[Finding]:
    if not places:
        return []
    which = ", ".join(dict.fromkeys(f'"{letters[place].text}"' for place in places))
    return [
        warn(
            "tail-in-base",
            f"The part of {which} below the line lies inside the base and is not seen: look "
            "whether the name can still be read. Set it in capitals, move the text box up, or "
            "choose a base below which tails stand out.",
        )
    ]


def _names(letters: Sequence[Letter]) -> list[int]:
    """Where each text begins: several boxes may be welded."""
    index = [letter.index for letter in letters]
    return [0, *(i for i in range(1, len(index)) if index[i] <= index[i - 1])]
