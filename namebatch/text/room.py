"""How much room letters want below and above a bent baseline, by their typefaces."""

from collections.abc import Sequence
from functools import lru_cache
from math import hypot

from namebatch.template.regions import with_room
from namebatch.template.textbox import Arc, SafeArea, TextBox
from namebatch.text.baseline import track_of
from namebatch.text.face import Face
from namebatch.text.setting import set_line
from namebatch.text.upright import CORE

LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789ÞßþðŁłØøÆæ,;()"
MARKED = "ÅÄÖÜÉÈÊÑÕŐŰŘŠŽČĎĚĜĤĴÛŮĀĖİÇŞŢŖĢĶĻŅĄĘĮŲȘȚẠỆỘỤỴẨỂỖẪỸçşţŗģķļņąęįųșțạẹọụỵ"
"""Letters of European languages and Vietnamese with their highest and lowest marks."""
OTHERS = "אبकকਕકଓதతಕമසกກཀကაԱአកᠠ漢あ한"
"""A letter of each of the scripts whose lines are as high as their typeface says."""
WIDEST_OTHER = 1.4
"""Width of a letter of theirs, in capitals' heights."""
SPARE = 1.02
"""Room is given a little more, for outlines here are rough."""
ROUGH_MM = 1.0
"""Height of capitals for which outlines are drawn here."""

Extent = tuple[float, float, float]


def roomy(box: TextBox, faces: Sequence[Face]) -> TextBox:
    """A box whose letters all have room at its largest height, whatever the name.

    Where the template gives the room, or the place is no arc or line, nothing changes.

    Args:
        box: as the template has it.
        faces: those that it is set in.
    """
    place = box.place
    if place is None or isinstance(place, SafeArea) or place.room_given:
        return box
    height = box.max_height_mm
    extents = [extent for face in faces for extent in extents_of(face)]
    if place.letters == "upright":
        # however the line runs below it, a letter reaches so far from its core
        far = max(hypot(w / 2, max(up - CORE, CORE - low)) for w, low, up in extents)
        below, above = far - CORE, far + CORE
        corner = 0.0
    else:
        below = max(-low for _, low, _ in extents)
        above = max(up for _, _, up in extents)
        # the corners of a letter stand off the circle that its middle touches
        half = height * max(w for w, _, _ in extents) / 2
        radius = place.radius_mm if isinstance(place, Arc) else track_of(place).tightest
        corner = hypot(max(radius, half), half) - max(radius, half)
    most = max(below, 0.0) * height * SPARE + corner, above * height * SPARE + corner
    return with_room(box, (round(most[0], 6), round(most[1], 6)))


@lru_cache(maxsize=256)
def extents_of(face: Face) -> tuple[Extent, ...]:
    """Width, depth and height of letters, in capitals' heights; below the baseline is below 0."""
    found: list[Extent] = []
    for letter in (*LETTERS, *MARKED):
        if face.can_set(letter):
            bounds = set_line(face, letter, ROUGH_MM).bounds
            if bounds is not None:
                x0, y0, x1, y1 = (value / face.cap_height for value in bounds)
                found.append((x1 - x0, y0, y1))
    if not found or any(face.can_set(letter) for letter in OTHERS):
        low, high = face.line
        found.append((WIDEST_OTHER, low / face.cap_height, high / face.cap_height))
    return tuple(found)
