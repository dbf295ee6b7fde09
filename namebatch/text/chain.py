"""Which typeface of a chain sets which stretch of a line."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import lru_cache

from namebatch.text.alike import signs_alike
from namebatch.text.clusters import clusters
from namebatch.text.face import SPACED_SCRIPTS, Face
from namebatch.text.runs import NEUTRAL, Item, items_of

Spare = Callable[[str], Sequence[Face]]
"""Gives the faces that may help out where a template's own lack a character of a text."""


def none_spare(_: str) -> Sequence[Face]:
    """No face but the template's own."""
    return ()


@dataclass(frozen=True, slots=True)
class Stretch:
    """A stretch of a line in one typeface.

    Attributes:
        item: where it stands, its script and direction.
        face: what sets it.
    """

    item: Item
    face: Face


def stretches(text: str, faces: Sequence[Face]) -> tuple[Stretch, ...] | None:
    """Share a line out among typefaces.

    The first face that sets the whole line sets it. Else every stretch of one script and
    direction goes to the first face that sets all of it, and what no single one sets is cut
    between grapheme clusters; spaces and signs stay with the letters before them, and spaces
    behind signs go to the first face of all. A face that
    only helps out leaves to the others every letter that they have, but does not part letters
    that join or stack. Digits, and signs that come more than once, are set alike (`alike`).

    Args:
        text: one line.
        faces: in the order in which they are tried.

    Returns:
        In visual order; None if there is a cluster that no face sets.
    """
    return _stretches(text, tuple(faces))


@lru_cache(maxsize=64)
def _stretches(text: str, faces: tuple[Face, ...]) -> tuple[Stretch, ...] | None:
    items = items_of(text)
    own = tuple(face for face in faces if not face.helps_out) or faces
    whole = next((face for face in own if face.can_set(text)), None)
    if whole is not None:
        return tuple(Stretch(item, whole) for item in items)
    found: list[Stretch] = []
    for item in items:
        tried = own if _has_letters(text, item, own) else faces
        face = next((face for face in tried if not face.shape_item(text, item).missing), None)
        whole_item = face is not None and not (face.helps_out and _is_spaced_signs(text, item))
        shared = [Stretch(item, face)] if face and whole_item else _shared(text, item, faces)
        if shared is None:
            return None
        found += shared
    alike = signs_alike(text, [(part.item, part.face) for part in found], faces)
    return tuple(Stretch(item, face) for item, face in alike)


def faces_of(text: str, faces: Sequence[Face]) -> tuple[Face, ...]:
    """The faces of a chain that set a text, in the order of the chain; all where it cannot.

    What is made of the text, its lines or a shorter form, is set in these, so that no part of a
    name goes to a face that lacks a letter of another part.
    """
    shared = stretches(text, faces) or ()
    used = {id(stretch.face) for stretch in shared}
    return tuple(face for face in faces if id(face) in used) or tuple(faces)


def _has_letters(text: str, item: Item, own: tuple[Face, ...]) -> bool:
    """Whether faces have some letter of a stretch whose letters stand apart."""
    if item.script not in SPACED_SCRIPTS:
        return False
    letters = [c for c in text[item.start : item.end] if c.isalpha()]
    return any(face.can_set(letter) for letter in letters for face in own)


def _is_spaced_signs(text: str, item: Item) -> bool:
    """Signs with spaces between them: spaces of a face of pictures are as wide as pictures."""
    return item.script in NEUTRAL and any(c.isspace() for c in text[item.start : item.end])


def _shared(text: str, item: Item, faces: Sequence[Face]) -> list[Stretch] | None:
    """One item cut between clusters where another face is needed, in visual order."""
    cut: list[Stretch] = []
    for cluster in clusters(text[item.start : item.end]):
        start, end = item.start + cluster.start, item.start + cluster.end
        lettered = any(c.isalpha() for c in cluster.text)
        here = Item(start, end, item.script if lettered else NEUTRAL[0], item.right_to_left)
        last = cut[-1] if cut else None
        after_letters = last is not None and last.item.script not in NEUTRAL
        stays = not lettered and (after_letters or not cluster.text.isspace())
        tried = [last.face, *faces] if last is not None and stays else list(faces)
        face = next((f for f in tried if not f.shape_item(text, here).missing), None)
        if face is None:
            return None
        if last is not None and last.face is face:
            script = last.item.script if last.item.script not in NEUTRAL else here.script
            joined = Item(last.item.start, end, script, item.right_to_left)
            cut[-1] = Stretch(joined, face)
        else:
            cut.append(Stretch(here, face))
    return cut[::-1] if item.right_to_left else cut


def chain_for(text: str, faces: Sequence[Face], spare: Spare) -> tuple[Face, ...] | None:
    """The faces that set a text: the template's own, and spare ones only where they must.

    Returns:
        None if even with the spare faces a character is lacking.
    """
    if stretches(text, faces) is not None:
        return tuple(faces)
    names = {face.name for face in faces}
    longer = (*faces, *(face for face in spare(text) if face.name not in names))
    return longer if stretches(text, longer) is not None else None


def lacking(text: str, faces: Sequence[Face]) -> tuple[str, ...]:
    """Characters that keep a line from being set: those of clusters that no face sets."""
    found: dict[str, None] = {}
    for item in items_of(text):
        for cluster in clusters(text[item.start : item.end]):
            here = Item(
                item.start + cluster.start,
                item.start + cluster.end,
                item.script,
                item.right_to_left,
            )
            missing = [set(face.shape_item(text, here).missing) for face in faces]
            if missing and all(missing):
                everywhere = [c for c in cluster.text if all(c in lost for lost in missing)]
                found.update(dict.fromkeys(everywhere or missing[0]))
    return tuple(found)
