"""Plain labels in any script, for proofs and work cards; never held, never raising."""

from functools import lru_cache

from shapely import MultiPolygon

from namebatch.errors import FontError
from namebatch.text.catalogue import Catalogue, load_catalogue
from namebatch.text.chain import lacking, stretches
from namebatch.text.face import Face
from namebatch.text.fallback import fallback_for
from namebatch.text.setting import ink_of, set_line

REGULAR = ("Atkinson Hyperlegible", "Noto Sans")
BOLD = ("Atkinson Hyperlegible Bold", "Noto Sans SemiBold")


def label_shape(text: str, height_mm: float, bold: bool = False) -> tuple[MultiPolygon, float]:
    """The ink of a label and its width.

    Args:
        text: one line in any script.
        height_mm: size of the em.
        bold: heavier.

    Returns:
        The ink in mm, baseline at y = 0, starting at x = 0; and the advance in mm. A
        character that no face has stands as its code, ``[1F3AA]``.
    """
    faces = _faces(bold)
    if stretches(text, faces) is None:
        faces = (*faces, *_others(text))
    shown = _shown(text, faces)
    if not shown:
        return MultiPolygon(), 0.0
    scale = height_mm / faces[0].units_per_em
    line = set_line(faces, shown, max(faces[0].cap_height * scale, 0.1))
    scale = height_mm / line.face.units_per_em
    return ink_of(line, scale, 0.0, 0.0), line.advance * scale


def _shown(text: str, faces: tuple[Face, ...]) -> str:
    """The text with the codes of signs that no face has in their place."""
    if stretches(text, faces) is not None:
        return text
    for character in lacking(text, faces):
        text = text.replace(character, f"[{ord(character):04X}]")
    if stretches(text, faces) is not None:
        return text
    # what is left can only be set sign by sign, not together with what stands before it
    return "".join(c if stretches(c, faces) is not None else f"[{ord(c):04X}]" for c in text)


@lru_cache(maxsize=2)
def _faces(bold: bool) -> tuple[Face, ...]:
    opened = [_open(name) for name in (BOLD if bold else REGULAR)]
    found = tuple(face for face in opened if face is not None)
    if not found:
        raise FontError("No typeface for labels is installed. Install namebatch again.")
    return found


def _others(text: str) -> tuple[Face, ...]:
    """Typefaces of the other scripts, as far as they are installed."""
    opened = [_open(name) for name in fallback_for(text, _catalogue())]
    return tuple(face for face in opened if face is not None)


@lru_cache(maxsize=1)
def _catalogue() -> Catalogue:
    return load_catalogue()


def _open(name: str) -> Face | None:
    try:
        return _catalogue().open(name)
    except FontError:
        return None
