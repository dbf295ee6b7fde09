"""Skin tones of pictures that a typeface does not show."""

from collections.abc import Sequence

import regex

from namebatch.text.chain import stretches
from namebatch.text.face import Face
from namebatch.text.runs import Item

_TONE = regex.compile(r"\p{Emoji_Modifier}")


def tones_lost(text: str, faces: Sequence[Face]) -> tuple[str, ...]:
    """Find pictures whose skin tone leaves no trace: they look the same without it.

    Args:
        text: one line.
        faces: a chain that sets it.

    Returns:
        Names of the faces that set them; empty where all tones are shown.
    """
    if not _TONE.search(text):
        return ()
    found = (
        stretch.face.name
        for stretch in stretches(text, faces) or ()
        if _is_lost(text[stretch.item.start : stretch.item.end], stretch.face)
    )
    return tuple(dict.fromkeys(found))


def _is_lost(text: str, face: Face) -> bool:
    """Whether a text in a face has the same glyphs without its tones."""
    plain = _TONE.sub("", text)
    return plain not in ("", text) and _glyphs(text, face) == _glyphs(plain, face)


def _glyphs(text: str, face: Face) -> list[int]:
    """The glyphs that leave ink."""
    run = face.shape_item(text, Item(0, len(text), "Zyyy", False))
    return [glyph.gid for glyph in run.glyphs if face.mass(glyph.gid)[0] > 0]
