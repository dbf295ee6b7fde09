"""From a text box to the place that its text is fitted into."""

from namebatch.template.textbox import TextBox
from namebatch.text.place import Place
from namebatch.text.rectangle import Rectangle


def place_of(box: TextBox, baseline_mm: float | None) -> Place:
    """The place of a box.

    Args:
        box: as the template has it.
        baseline_mm: y of a baseline that all texts of a batch share, or None.
    """
    return Rectangle(box, baseline_mm)
