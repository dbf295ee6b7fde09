"""Two lines where they make a text clearly larger."""

from collections.abc import Sequence

from namebatch.finding import note
from namebatch.template.textbox import TextBox
from namebatch.text.block import Block
from namebatch.text.face import Face
from namebatch.text.place import Place
from namebatch.text.steps import Candidate, on_two_lines

CLEARLY = 1.25
"""A text goes from one line to two if it is so many times as large there."""
FAR = 1.5
"""The same for a break after a hyphen, which parts what is one name."""
HARDLY = 1.001


def enlarged(
    chosen: tuple[Candidate, float],
    text: str,
    faces: Sequence[Face],
    box: TextBox,
    place: Place,
    most_mm: float,
) -> tuple[Candidate, float]:
    """A text on two lines, if its box allows them for the sake of size and they are worth it.

    Of all breaks the one with the largest text counts. Letters stay as far apart and as wide as
    the template has them.

    Args:
        chosen: how it would be set otherwise, and its height.
        text: one line.
        faces: that set it.
        box: where it goes.
        place: of that box.
        most_mm: greatest height that is of use: of the box, or the one that its batch shares.

    Returns:
        The candidate that is set, and its height.
    """
    candidate, height_mm = chosen
    allowed = box.sizing.two_lines_larger and place.lines > 1
    if not allowed or "initials" in candidate.steps:
        return chosen
    best: tuple[Block, float] | None = None
    for block in on_two_lines(text, faces, box):
        wanted = _wanted(chosen, block, box, most_mm)
        size = place.largest(block, most_mm) if wanted <= most_mm else 0.0
        if size >= wanted and (best is None or size > best[1] * HARDLY):
            best = block, size
    if best is None:
        return chosen
    now, before = f"{best[1]:.1f} mm", f"{height_mm:.1f} mm"
    instead = f" instead of {before}" if now != before else ""
    told = note("two-lines", f"Set on two lines, {now} high{instead}.")
    return Candidate(best[0], (told,), ("two-lines",)), best[1]


def _wanted(chosen: tuple[Candidate, float], block: Block, box: TextBox, most_mm: float) -> float:
    """The height from which two lines, or another break of them, are worth it."""
    candidate, height_mm = chosen
    if len(candidate.block.rows) > 1 or height_mm < box.min_height_mm:
        return height_mm * HARDLY
    if box.sizing.alike and height_mm * HARDLY < most_mm < box.max_height_mm:
        return most_mm
    whole_words = block.text[block.rows[1].start - 1] == " "
    return height_mm * (CLEARLY if whole_words else FAR)
