"""The grid of the customer's proof: every piece, small but readable, with boxes to tick.

All pictures have one scale. The largest is taken with which the batch stays on as few pages as
`_PIECES_A_PAGE` asks for; where names could not be read in pictures so small, the pages are as
few as they can be, and full.
"""

from collections.abc import Iterable, Iterator, Mapping
from math import inf

from namebatch.job import Job
from namebatch.output.customerbacks import backs_differ, front_alone
from namebatch.output.customercells import (
    GUTTER,
    TALLEST_MM,
    Grid,
    beside_picture,
    cell_of,
    row_block,
    words_height,
    words_of,
)
from namebatch.output.docpage import WIDTH, Block
from namebatch.output.lettering import MM
from namebatch.output.picture import plain_picture
from namebatch.piece import Piece

_MOST_COLUMNS = 7
_LEAST_CAPITALS_MM = 1.3  # on the page; about those of 5 pt type
_LARGEST_SCALE = 2.0
_LEAST_SHARE = 0.85  # of that, or of the usual scale, for one more row on the page
_PIECES_A_PAGE = 60
_SAMPLED = 140  # pieces whose words are measured to tell how high a row is


def grid_of(job: Job, room: float, taken: float = 0.0) -> Grid:
    """The largest pictures with which the batch takes no more pages than it must.

    Args:
        job: the batch; at least one piece.
        room: height for blocks on a page, points.
        taken: what of it is taken on the page that the grid begins on.
    """
    wanted = -(-len(job.pieces) // _PIECES_A_PAGE)
    best, fewest = Grid(1, WIDTH, 1.0, backs=True), inf
    for grid, row in _grids(job, room):
        pages = _pages(-(-len(job.pieces) // grid.columns), row, room, taken)
        if pages < fewest:
            best, fewest = grid, pages
        if pages <= wanted:
            break
    return best


def grid_blocks(job: Job, grid: Grid, numbers: Mapping[int, tuple[int, ...]]) -> Iterable[Block]:
    """All pieces in list order.

    Args:
        job: the batch.
        grid: from `grid_of`.
        numbers: line of the list → numbers of what is to be looked at.
    """
    fields = _fields(job)
    for start in range(0, len(job.pieces), grid.columns):
        row = [
            cell_of(job, grid, piece, fields.get(piece.line, {}), numbers)
            for piece in job.pieces[start : start + grid.columns]
        ]
        yield row_block(row, grid)


def _grids(job: Job, room: float) -> Iterator[tuple[Grid, float]]:
    """Grids in which names can be read, with smaller and smaller pictures, and their rows' height.

    Pieces that are hard to read at their own size are shown larger.
    """
    backs = backs_differ(job)
    wide, high = _largest(job, backs)
    capitals = _capitals(job)
    most = 1.0
    if 0.0 < capitals < _LEAST_CAPITALS_MM:
        most = min(_LARGEST_SCALE, _LEAST_CAPITALS_MM / capitals)
    readable = min(most, _LEAST_CAPITALS_MM / capitals) if capitals > 0.0 else 0.0
    for columns in range(1, _MOST_COLUMNS + 1):
        width = (WIDTH - (columns - 1) * GUTTER) / columns
        scale = min(most, width / MM / wide, TALLEST_MM / high)
        if columns > 2 and scale < readable:
            return
        rest = _words(job, columns, width) + beside_picture(width)
        row = high * scale * MM + rest
        yield Grid(columns, width, scale, backs), row
        lower = room / (int(room / row) + 1) - 0.5
        smaller = (lower - rest) / (high * MM)  # for one more row on a page
        if _LEAST_SHARE * max(scale, readable) <= smaller < scale:
            yield Grid(columns, width, smaller, backs), lower


def _pages(rows: int, row: float, room: float, taken: float) -> int:
    """How many pages rows of a height take."""
    first, other = int((room - taken) / row), max(1, int(room / row))
    return 1 + max(0, -(-(rows - first) // other))


def _largest(job: Job, backs: bool) -> tuple[float, float]:
    """Width and height that all pictures stay within, but for the odd giant; mm."""
    step = 1 + len(job.pieces) // 200
    shown: list[Piece] = [one if backs else front_alone(one) for one in job.pieces[::step]]
    sizes = [plain_picture(job, piece, 0.3).size_mm for piece in shown]
    result = []
    for sides in zip(*sizes, strict=True):
        ordered = sorted(sides)
        usual = ordered[(len(ordered) - 1) * 9 // 10]
        result.append(ordered[-1] if ordered[-1] < 1.5 * usual else usual)
    return result[0], result[1]


def _capitals(job: Job) -> float:
    """Height of the capitals that most names reach, mm; fixed lines do not count."""
    heights = [
        max((one.height_mm for one in piece.letterings if one.box in piece.text), default=0.0)
        for piece in job.pieces
    ]
    return sorted(heights)[len(heights) // 10]


def _words(job: Job, columns: int, width: float) -> float:
    """Usual height of the words of a row: each has the room of its longest cell; points."""
    fields = _fields(job)
    some = job.pieces[:_SAMPLED]
    high = [words_height(words_of(job, p, fields.get(p.line, {}), width)) for p in some]
    rows = [max(high[start : start + columns]) for start in range(0, len(high), columns)]
    return sum(rows) / len(rows)


def _fields(job: Job) -> dict[int, Mapping[str, str]]:
    return {row.line: row.fields for row in job.rows}
