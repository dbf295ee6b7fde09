"""Plain labels in any script, for proofs and work cards; never held, never raising."""

from functools import lru_cache

from shapely import MultiPolygon

from namebatch.errors import FontError
from namebatch.text.catalogue import Catalogue, load_catalogue
from namebatch.text.chain import lacking, stretches
from namebatch.text.face import Face
from namebatch.text.setting import ink_of, set_line

REGULAR = ("Atkinson Hyperlegible", "Noto Sans")
BOLD = ("Atkinson Hyperlegible Bold", "Noto Sans SemiBold")
OTHERS = (
    "Noto Sans Arabic SemiBold",
    "Noto Sans Devanagari SemiBold",
    "Noto Sans Thai SemiBold",
    "Heebo Bold",
)


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
    catalogue = load_catalogue()
    names = (*(BOLD if bold else REGULAR), *OTHERS)
    opened = [face for face in (_open(catalogue, name) for name in names) if face is not None]
    if not opened:
        raise FontError("No typeface for labels is installed. Install namebatch again.")
    return tuple(opened)


def _open(catalogue: Catalogue, name: str) -> Face | None:
    try:
        return catalogue.open(name)
    except FontError:
        return None
