"""From a text box to the place that its text is fitted into."""

from namebatch.template.textbox import SafeArea, TextBox
from namebatch.text.along import along_of
from namebatch.text.place import Place
from namebatch.text.rectangle import Rectangle
from namebatch.text.safe_area import Inside


def inside_of(box: TextBox, place: SafeArea) -> Inside:
    """The safe area of a box."""
    gap = box.sizing.line_gap if box.sizing.two_lines_larger else None
    return Inside(place.area, box.min_height_mm, box.max_height_mm, place.line_mm, gap)


def place_of(box: TextBox, baseline_mm: float | None) -> Place:
    """The place of a box.

    Args:
        box: as the template has it.
        baseline_mm: y of a baseline that all texts of a batch share, or None; a rectangle
            heeds it.
    """
    if box.place is None:
        return Rectangle(box, baseline_mm)
    if isinstance(box.place, SafeArea):
        return inside_of(box, box.place)
    return along_of(box, box.place)
