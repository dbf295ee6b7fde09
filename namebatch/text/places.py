"""From a text box to the place that its text is fitted into."""

from namebatch.template.textbox import SafeArea, TextBox
from namebatch.text.along import along_of
from namebatch.text.place import Place
from namebatch.text.rectangle import Rectangle
from namebatch.text.safe_area import Inside


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
        return Inside(box.place.area)
    return along_of(box, box.place)
