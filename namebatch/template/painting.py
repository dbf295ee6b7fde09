"""How printed letters are painted: stroke, shadow, gradient, colours from the list."""

from namebatch.template.problems import Problems
from namebatch.template.schema import Text
from namebatch.template.textbox import Gradient, Made, Paint, Shadow, Stroke

KEYS = ("stroke", "shadow", "gradient", "colour_column")


def paint_of(text: Text) -> Paint:
    """The paint of a text, its plain colour left out."""
    stroke, shadow, gradient = text.stroke, text.shadow, text.gradient
    return Paint(
        Stroke(stroke.colour, stroke.width_mm) if stroke else None,
        Shadow(shadow.colour, (shadow.shift_mm[0], shadow.shift_mm[1])) if shadow else None,
        Gradient(gradient.start, gradient.end, gradient.angle_deg) if gradient else None,
        text.colour_column,
    )


def check_paint(text: Text, made: Made, place: str, problems: Problems) -> None:
    """Paint needs a print, and a gradient is a colour already."""
    for key in KEYS:
        if getattr(text, key) is not None and made in ("engrave", "mark"):
            problems.add(f"{place}.{key}", "is printed, and nothing is printed here; leave it out.")
    if text.gradient is not None and text.colour is not None:
        problems.add(f"{place}.colour", "stands beside a gradient; keep one of them.")
    if text.gradient is not None and text.colour_column is not None:
        problems.add(f"{place}.colour_column", "stands beside a gradient; keep one of them.")
