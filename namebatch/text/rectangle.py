"""Text in a rectangle."""

from dataclasses import dataclass

from namebatch.template.textbox import TextBox
from namebatch.text.block import Block
from namebatch.text.place import Placed

SHRINK = 1 - 1e-9
"""Keeps rounding from carrying ink over the box's edge."""


@dataclass(frozen=True, slots=True)
class Rectangle:
    """The box of a text.

    Attributes:
        box: whose `box_mm`, `align` and `vertical` count.
        baseline_mm: y of a baseline that all texts of a batch share, or None.
    """

    box: TextBox
    baseline_mm: float | None = None

    @property
    def lines(self) -> int:
        """Two: a box can be as high as one likes."""
        return 2

    def largest(self, block: Block, most_mm: float) -> float:
        """Closed form, from the ink's bounds; two lines stand centred about a given baseline."""
        x0, y0, x1, y1 = block.bounds
        _, _, width, height = self.box.box_mm
        limits = [most_mm, width / (x1 - x0) * SHRINK]
        if self.box.vertical == "baseline":
            above, below = height - self.box.baseline_mm, self.box.baseline_mm
            up, down = y1 + _raised(block), -y0 - _raised(block)
            limits += [above / up * SHRINK] if up > 0 else []
            limits += [below / down * SHRINK] if down > 0 else []
        else:
            limits.append(height / (y1 - y0) * SHRINK)
        return max(min(limits), 0.0)

    def settle(self, block: Block, height_mm: float, by_letter: bool) -> Placed:
        """The block aligned as the box asks; it moves only as far as its ink needs."""
        x, y = self._x(block, height_mm), self._y(block, height_mm)
        if by_letter:
            return Placed(*block.ink_and_letters(height_mm, x, y), y)
        return Placed(block.ink(height_mm, x, y), (), y)

    def _x(self, block: Block, height_mm: float) -> float:
        left, _, width, _ = self.box.box_mm
        x0, x1 = block.bounds[0] * height_mm, block.bounds[2] * height_mm
        if self.box.align == "left":
            return left - x0
        if self.box.align == "right":
            return left + width - x1
        centred = left + width / 2 - block.middle * height_mm
        return min(max(centred, left - x0), left + width - x1)

    def _y(self, block: Block, height_mm: float) -> float:
        _, bottom, _, height = self.box.box_mm
        y0, y1 = block.bounds[1] * height_mm, block.bounds[3] * height_mm
        if self.box.vertical == "baseline":
            return bottom + self.box.baseline_mm + _raised(block) * height_mm
        wanted = self.baseline_mm if len(block.rows) == 1 else None
        if wanted is None:
            wanted = wanted_baseline(self.box, block, height_mm)
        return min(max(wanted, bottom - y0), bottom + height - y1)


def wanted_baseline(box: TextBox, block: Block, height_mm: float) -> float:
    """First baseline of a block whose capitals stand in the middle, at the top or at the bottom.

    By capitals, not by ink, so that names with and without ascenders stand on one line.
    """
    _, bottom, _, height = box.box_mm
    if box.vertical == "top":
        return bottom + height - height_mm
    if box.vertical == "bottom":
        return bottom - block.rows[-1].y * height_mm
    return bottom + height / 2 - (1 + block.rows[-1].y) / 2 * height_mm


def _raised(block: Block) -> float:
    """How far the first baseline lies above the middle one, in capitals' heights."""
    return -block.rows[-1].y / 2
