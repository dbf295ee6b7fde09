"""The sheet room: pieces become filled sheets, boards, a frame and a jig."""

from namebatch.sheet.frame import Page, board_page, printed_page
from namebatch.sheet.jig import jig_of
from namebatch.sheet.layout import Filled, Stock, fits, lay_out, spoiled
from namebatch.sheet.part_used import Leftover

__all__ = [
    "Filled",
    "Leftover",
    "Page",
    "Stock",
    "board_page",
    "fits",
    "jig_of",
    "lay_out",
    "printed_page",
    "spoiled",
]
