"""Furniture of the document pages."""

from pathlib import Path

import pypdfium2
import pytest

from namebatch.output.docpage import RIGHT, Block, Document, counts, flow, heading, write_pages

STROKE = 1.5  # of the rules across the page, their ends
FEW = (("20", "pieces", ""), ("2", "sheets", ""), ("20", "lines in", "|"), ("20", "made", "="))
MANY = (
    ("12,345", "pieces", ""),
    ("1,260", "sheets", ""),
    ("1,198", "boards", ""),
    ("26 h 05 min", "at the cutter, expected", ""),
    ("10,000", "lines in", "|"),
    ("9,880", "made", "="),
    ("120", "held", "+"),
)


def places_of(items: tuple[tuple[str, str, str], ...], folder: Path) -> list[tuple[float, ...]]:
    """Left, bottom, right, top of every path on a page of figures, in points."""
    path = folder / "page.pdf"
    write_pages(path, Document("Card", "Tags", "x.csv"), flow([counts(items, 26)]), lambda n: None)
    with pypdfium2.PdfDocument(path) as document:
        return [item.get_bounds() for item in document[0].get_objects()]


@pytest.mark.parametrize("items", [FEW, MANY], ids=["few", "many"])
def test_big_figures_stay_on_the_page(
    items: tuple[tuple[str, str, str], ...], tmp_path: Path
) -> None:
    """The sum of the lines is read whole, however large the job: "held" does not run off."""
    assert max(right for _, _, right, _ in places_of(items, tmp_path)) <= RIGHT + STROKE


def test_figures_are_as_large_as_they_fit(tmp_path: Path) -> None:
    """A few figures keep their size."""
    assert counts(FEW, 26).height > counts(MANY, 26).height
    assert counts(FEW, 26).height == counts(FEW[:1], 26).height


def _block(height: float, *, leads: bool = False, repeat: bool = False) -> Block:
    """A block of a height that draws nothing."""
    return Block(height, lambda canvas, x, y: None, leads=leads, repeat=repeat)


def test_a_heading_goes_with_what_it_leads() -> None:
    """Where the block below it has no room, a heading goes over the page with it."""
    row, title = _block(60), _block(10, leads=True)
    assert flow([row, title, row], room=120) == [[row], [title, row]]
    assert flow([row, title, row], room=130) == [[row, title, row]]
    assert heading("Every piece").leads


def test_headings_one_below_the_other_stay_together() -> None:
    """A section's heading, its columns and an order's name all go with the first row."""
    row, section, order = _block(40), _block(10, leads=True), _block(10, leads=True)
    columns = _block(5, leads=True, repeat=True)
    pages = flow([row, row, section, columns, order, row, row], room=120)
    assert pages == [[row, row], [section, columns, order, row, row]]


def test_what_is_too_high_for_a_page_does_not_empty_it() -> None:
    """A heading before a block higher than a page begins the page, and the block stands on one."""
    title, tall = _block(10, leads=True), _block(200)
    assert flow([title, tall], room=120) == [[title], [tall]]
