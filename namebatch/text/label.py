"""Plain labels in any script, for proofs and work cards; never held, never raising."""

from functools import lru_cache

import shapely
from shapely import MultiPolygon, affinity

from namebatch.errors import FontError
from namebatch.text.catalogue import Catalogue, load_catalogue
from namebatch.text.face import Face
from namebatch.text.glyphs import as_multipolygon
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
    shapes: list[MultiPolygon] = []
    x = 0.0
    for stretch, face in _stretches(text, faces):
        scale = height_mm / face.units_per_em
        line = set_line(face, stretch, max(face.cap_height * scale, 0.1))
        shapes.append(affinity.translate(ink_of(line, scale, 0.0, 0.0), x, 0.0))
        x += line.run.advance * scale
    return as_multipolygon(shapely.union_all(shapes)) if shapes else MultiPolygon(), x


def _stretches(text: str, faces: tuple[Face, ...]) -> list[tuple[str, Face]]:
    """The text cut where another face is needed."""
    whole = next((face for face in faces if face.can_set(text)), None)
    if whole is not None:
        return [(text, whole)]
    out: list[tuple[str, Face]] = []
    for character in text:
        face = next((face for face in faces if face.can_set(character)), None)
        shown = character if face is not None else f"[{ord(character):04X}]"
        face = face or faces[0]
        if out and out[-1][1] is face:
            out[-1] = (out[-1][0] + shown, face)
        else:
            out.append((shown, face))
    return out


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
