"""One text into one box: the largest size at which no ink leaves it."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import floor

from shapely import MultiPolygon

from namebatch.finding import Finding, hold
from namebatch.template.model import TextBox
from namebatch.text.characters import describe
from namebatch.text.face import Face
from namebatch.text.runs import has_mixed_direction
from namebatch.text.setting import Letter, Line, ink_of, letters_of, set_line

SHRINK = 1 - 1e-9
"""Keeps rounding from carrying ink over the box's edge."""


@dataclass(frozen=True, slots=True)
class SetText:
    """A text as it stands in its box.

    Attributes:
        shape: the ink in mm, in the coordinates of the box.
        font: name of the face that set it.
        height_mm: height of its capital letters.
        baseline_mm: y of the baseline.
        letters: the ink letter by letter, where it takes part in the outline; else empty.
    """

    shape: MultiPolygon
    font: str
    height_mm: float
    baseline_mm: float
    letters: tuple[Letter, ...] = ()


def fit(
    text: str, faces: Sequence[Face], box: TextBox, by_letter: bool = False
) -> SetText | Finding:
    """Set a text as large as its box and heights allow.

    The first face that has every character is used. Capitals stand centred in the box
    (``middle``) and move only as far as ascenders or descenders need, so that names in a
    batch sit alike.

    Args:
        text: one line.
        faces: in the order in which they are tried.
        box: where it goes.
        by_letter: give the ink letter by letter too; done for ``outline`` boxes in any case.

    Returns:
        The text as set, or the finding that holds the row; its message lacks the line.
    """
    if has_mixed_direction(text):
        return hold(
            "mixed-direction",
            f'"{text}" mixes right-to-left letters with digits, left-to-right letters or a second '
            "right-to-left script, which one text box cannot set yet. Put the parts in columns "
            "of their own.",
        )
    face = next((face for face in faces if face.can_set(text)), None)
    if face is None:
        return _no_face(text, faces)
    line = set_line(face, text, box.max_height_mm, box.tracking)
    if line.bounds is None:
        return hold(
            "no-ink", f'"{text}" leaves no ink in the typeface {face.name}. Correct the text.'
        )
    scale = _largest_scale(line, line.bounds, box)
    height = face.cap_height * scale
    if height < box.min_height_mm - 1e-6:
        return hold(
            "text-too-small",
            f'"{text}" fits only at {floor(height * 10) / 10:.1f} mm; the least in the box '
            f'"{box.name}" is {box.min_height_mm:g} mm. Shorten the text or take a wider template.',
        )
    x, y = _origin(line, line.bounds, scale, box)
    letters = letters_of(line, scale, x, y) if by_letter or box.made == "outline" else ()
    return SetText(ink_of(line, scale, x, y), face.name, height, y, letters)


def _largest_scale(line: Line, ink: tuple[float, float, float, float], box: TextBox) -> float:
    """Millimetres a font unit, from the ink's bounds; closed form."""
    x0, y0, x1, y1 = ink
    _, _, width, height = box.box_mm
    limits = [box.max_height_mm / line.face.cap_height]
    limits.append(width / (x1 - x0) * SHRINK)
    if box.vertical == "baseline":
        above, below = height - box.baseline_mm, box.baseline_mm
        limits += [above / y1 * SHRINK] if y1 > 0 else []
        limits += [below / -y0 * SHRINK] if y0 < 0 else []
    else:
        limits.append(height / (y1 - y0) * SHRINK)
    return max(min(limits), 0.0)


def _origin(
    line: Line, ink: tuple[float, float, float, float], scale: float, box: TextBox
) -> tuple[float, float]:
    """Where the line's origin goes so that the ink stands as the box asks."""
    x0, y0, x1, y1 = (value * scale for value in ink)
    left, bottom, width, height = box.box_mm
    spare = width - (x1 - x0)
    x = left - x0 + {"left": 0.0, "centre": spare / 2, "right": spare}[box.align]
    match box.vertical:
        case "baseline":
            y = bottom + box.baseline_mm
        case "bottom":
            y = bottom - y0
        case "top":
            y = bottom + height - y1
        case "middle":
            centred = bottom + height / 2 - line.face.cap_height * scale / 2
            y = min(max(centred, bottom - y0), bottom + height - y1)
    return x, y


def _no_face(text: str, faces: Sequence[Face]) -> Finding:
    """Name the characters that keep the text from being set."""
    lacking = [set(face.shape(text).missing) for face in faces]
    nowhere = [c for c in dict.fromkeys(text) if lacking and all(c in s for s in lacking)]
    if nowhere:
        signs = ", ".join(describe(character) for character in nowhere[:5])
        what = "has a sign" if len(nowhere) == 1 else f"has {len(nowhere)} signs"
        return hold(
            "no-glyph",
            f'"{text}" {what} ({signs}) that none of this template\'s typefaces can set '
            f"({', '.join(face.name for face in faces)}). Choose another typeface or leave "
            "the sign out.",
        )
    return hold(
        "no-single-face",
        f'"{text}" has signs that no single one of this template\'s typefaces has together '
        f"({', '.join(face.name for face in faces)}). Choose a typeface that has them all.",
    )
