"""Marks that cannot stand where they are written: shaping puts a dotted circle under them."""

from collections.abc import Sequence
from dataclasses import dataclass

from namebatch.text.chain import stretches
from namebatch.text.characters import describe
from namebatch.text.face import Face

CIRCLE = "\u25cc"


@dataclass(frozen=True, slots=True)
class Astray:
    """A mark that its script does not allow there.

    Attributes:
        mark: the character.
        place: which character of the text it is, from 1.
        after: what it is written with, up to it; empty where nothing comes before.
    """

    mark: str
    place: int
    after: str

    @property
    def words(self) -> str:
        """The mark, where it stands and after what, in words."""
        behind = f', after "{self.after}"' if self.after else ""
        return f"{describe(self.mark)} (character {self.place}{behind})"


def marks_astray(text: str, faces: Sequence[Face]) -> tuple[Astray, ...]:
    """Find marks for which shaping inserts a dotted circle that the text does not have.

    Args:
        text: one line.
        faces: a chain that sets it.

    Returns:
        The first of each cluster that has one, in text order. A face without a dotted circle
        shows none, and nothing is found.
    """
    if text.isascii() or CIRCLE in text:
        return ()
    found: dict[int, Astray] = {}
    for stretch in stretches(text, faces) or ():
        starts = stretch.face.circled(text, stretch.item)
        for start in starts:
            found[start] = _astray(text, start, stretch.item.end, stretch.face)
    return tuple(found[start] for start in sorted(found))


def _astray(text: str, start: int, end: int, face: Face) -> Astray:
    """The mark of a cluster with which the circle comes."""
    for place in range(start + 1, end + 1):
        if face.has_circle(text[start:place]):
            return Astray(text[place - 1], place, text[start : place - 1])
    return Astray(text[start], start + 1, "")
