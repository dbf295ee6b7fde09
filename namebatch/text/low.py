"""Whether a place is too low for a text, however short it were; and how that is told."""

from math import floor

from namebatch.finding import Finding, hold
from namebatch.template.textbox import TextBox
from namebatch.text.along import Along
from namebatch.text.block import Block
from namebatch.text.place import Place
from namebatch.text.rectangle import Rectangle

HARDLY = 1.001


def is_too_low(place: Place, block: Block, height_mm: float) -> bool:
    """True if the height of a place keeps a text from being larger, not its length.

    Args:
        place: a safe area is never too low: its height and width cannot be told apart.
        block: the text on one line.
        height_mm: the greatest height of capitals that it can have there.
    """
    if len(block.rows) > 1:
        return False
    if isinstance(place, Rectangle):
        x0, _, x1, _ = block.bounds
        return height_mm * HARDLY * (x1 - x0) < place.box.box_mm[2]
    if isinstance(place, Along) and not place.upright:
        _, y0, _, y1 = block.bounds
        below, above = place.room_mm
        limits = [above / y1] if y1 > 0 else []
        limits += [below / -y0] if y0 < 0 else []
        return min(limits, default=height_mm * 2) <= height_mm * HARDLY
    return False


def too_low(text: str, box: TextBox, place: Place, best_mm: float) -> Finding:
    """Tell that a place is too low, and what it gives."""
    what = "Draw the box higher"
    if isinstance(place, Along):
        below, above = place.room_mm
        what = f"Give it more room_mm (now {below:.3g} mm below, {above:.3g} mm above)"
    return hold(
        "place-too-low",
        f'"{text}" fits only at {floor(best_mm * 10) / 10:.1f} mm; the least in the box '
        f'"{box.name}" is {box.min_height_mm:g} mm. What it lacks is height, not length: shorter '
        f"text would be no larger. {what} in the template, or allow smaller letters.",
    )
