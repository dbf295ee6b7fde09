"""The paper of the document pages: A4, or letter where the workshop prints on that.

Pages are laid out in the coordinates of an A4 page: as wide on both papers, in the middle of it,
from the top down. Only how far down differs.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from namebatch.job import Job
from namebatch.output.lettering import MM
from namebatch.template.paper import NAMED_MM, sheet_size

_A4_MM, _LETTER_MM = NAMED_MM["a4"], NAMED_MM["letter"]
TOP_MM, LOWER_EDGE_MM = 283.0, 18.0
_SAME_MM = 0.5


@dataclass(frozen=True, slots=True)
class Paper:
    """A page for documents, in points.

    Attributes:
        size: width and height.
        shift: where the origin of the layout's A4 page lies on it.
        bottom: lowest place for blocks, in the coordinates of the layout.
        room: height for blocks.
    """

    size: tuple[float, float]
    shift: tuple[float, float]
    bottom: float
    room: float


def _paper(size_mm: tuple[float, float]) -> Paper:
    """The same margins on every paper."""
    lower = _A4_MM[1] - size_mm[1]
    return Paper(
        size=(size_mm[0] * MM, size_mm[1] * MM),
        shift=((size_mm[0] - _A4_MM[0]) / 2 * MM, -lower * MM),
        bottom=(LOWER_EDGE_MM + lower) * MM,
        room=(TOP_MM - LOWER_EDGE_MM - lower) * MM,
    )


A4, LETTER = _paper(_A4_MM), _paper(_LETTER_MM)


def paper_of(job: Job) -> Paper:
    """Letter where a printed sheet, or the printer's own, has a side of letter paper; else A4.

    Legal and tabloid paper share a side with letter: who prints on them has letter too.
    """
    sizes = [sheet.size_mm for sheet in job.sheets if sheet.kind == "face"]
    return paper_for([*sizes, sheet_size(job.workshop.printer.sheet)])


def paper_for(sizes: Sequence[tuple[float, float]]) -> Paper:
    """Letter where one of the sheets, in mm, has a side of letter paper; else A4."""
    inch = any(abs(side - own) < _SAME_MM for size in sizes for side in size for own in _LETTER_MM)
    return LETTER if inch else A4
