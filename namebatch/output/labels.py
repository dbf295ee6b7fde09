"""`labels.pdf`: one label an order, in plain cells with cut marks, to be packed by.

A large order has several labels, each for its share of the pieces; a list without orders has one
for the whole job. Spares are no part of an order and are named apart. Where rows of an order are
held, its labels say that it is not complete.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache, partial
from pathlib import Path
from typing import Any

from namebatch.job import Job
from namebatch.output.docpage import (
    ACCENT,
    INK,
    QUIET,
    WIDTH,
    Block,
    counted,
    document_of,
    flow,
    sign,
    text_block,
    tick_box,
    write_pages,
)
from namebatch.output.lettering import MM, Weight, apart, draw_text, shorten, text_width, wrap
from namebatch.output.orders import Order, orders_of
from namebatch.output.paper import paper_of
from namebatch.piece import Piece

FILE = "labels.pdf"
# Three by seven of a size of our own choice, on A4 and on letter paper; no ready-made sheet.
_ACROSS, _CELL = 3, (WIDTH / 3, 33 * MM)
_INSET = 3 * MM
_ROOM = _CELL[0] - 2 * _INSET
_MOST_PIECES = 24  # on a label: about what is still counted and packed in one go
_BODY, _LEADING = 7.5, 9.2
_GAP = 0.28 * _BODY  # between names
_MOST_NAMES = 48  # more have never room on a label
_TITLES = ((10.0, 1), (8.5, 2), (7.0, 3))  # em of a title, and how many lines it may take


@dataclass(frozen=True, slots=True)
class Part:
    """Some copies of one row.

    Attributes:
        piece: of that row.
        copies: numbers of the copies, in order.
    """

    piece: Piece
    copies: tuple[int, ...]

    @property
    def name(self) -> str:
        """What the piece says, first text first, and how often."""
        return apart(shorten(self._said, _BODY, 400, 0.7 * _ROOM)) + self._times

    @property
    def whole(self) -> tuple[str, ...]:
        """The same with nothing cut off: a name that is wider than a label on several lines."""
        room = _ROOM - text_width(f"{self._times},", _BODY)
        *lines, last = wrap(self._said, _BODY, 400, room, most=_MOST_NAMES)
        return (*map(apart, lines), apart(last) + self._times)

    @property
    def _said(self) -> str:
        texts = [" ".join(text.split()) for text in self.piece.text.values() if text]
        return texts[0] if texts and texts[0] else f"L{self.piece.line}"

    @property
    def _times(self) -> str:
        return "" if len(self.copies) == 1 else f" × {len(self.copies)}"


@dataclass(frozen=True, slots=True)
class Label:
    """One label.

    Attributes:
        title: the order, or the job.
        number, total: 1 of 2.
        parts: what it is stuck on.
        spares: what there is more, named on the last label of an order.
        counted: how many pieces it stands for, in words.
        waiting: what of the order is held, in words; empty where nothing is.
    """

    title: str
    number: int
    total: int
    parts: tuple[Part, ...]
    spares: tuple[Part, ...]
    counted: str
    waiting: str = ""

    @property
    def count(self) -> int:
        """Pieces that the label stands for."""
        return sum(len(part.copies) for part in self.parts)

    @property
    def ids(self) -> str:
        """All pieces; of rows that stand one below the other the first and the last."""
        return ", ".join(said for said, _ in self._runs)

    def ids_within(self, width: float, size: float) -> str:
        """As many of the ids as there is room for, points; the rest is counted."""
        runs = self._runs
        for kept in range(len(runs), 0, -1):
            rest = sum(count for _, count in runs[kept:])
            said = ", ".join(said for said, _ in runs[:kept])
            said += f" and {rest:,} more" if rest else ""
            if kept == 1 or text_width(said, size) <= width:
                return shorten(said, size, 400, width)
        return ""

    @property
    def _runs(self) -> tuple[tuple[str, int], ...]:
        """What pieces of rows in a row are called, and how many they are."""
        runs: list[list[Part]] = []
        for part in self.parts or self.spares:
            if runs and part.piece.line == runs[-1][-1].piece.line + 1:
                runs[-1].append(part)
            else:
                runs.append([part])
        return tuple((_ends(run), sum(len(part.copies) for part in run)) for run in runs)


def _ends(run: Sequence[Part]) -> str:
    """``L2-1 … L4-2``; of one piece its id."""
    first, last = run[0], run[-1]
    ends = (
        f"L{first.piece.line}-{first.copies[0]}",
        f"L{last.piece.line}-{last.copies[-1]}",
    )
    return ends[0] if ends[0] == ends[1] else " … ".join(ends)


def write(job: Job, folder: Path, progress: Callable[[int, int], None]) -> None:
    """Write `labels.pdf` into the folder; nothing when no piece was made.

    Args:
        job: the batch.
        folder: the job folder; it must exist.
        progress: called with (pages written, pages in all).
    """
    labels = labels_of(job)
    if not labels:
        return
    paper = paper_of(job)
    pages = flow(_blocks(labels), paper.room)

    def done(number: int) -> None:
        progress(number, len(pages))

    write_pages(folder / FILE, document_of(job, "Labels"), pages, done, paper)


def labels_of(job: Job) -> tuple[Label, ...]:
    """All labels, order by order in the order of the list; none when no piece was made."""
    orders = orders_of(job)
    if not job.pieces:
        return ()
    if len(orders) == 1 and not orders[0].name:
        (order,) = orders
        title = job.called(job.title)
        return (Label(title, 1, 1, *_parts(order.pieces), order.counted, order.waiting),)
    return tuple(label for order in orders for label in _of_order(order))


def _of_order(order: Order) -> Iterable[Label]:
    """An order on as few labels as it takes, with as equal shares as can be."""
    parts, spares = _parts(order.pieces)
    copies = [Part(part.piece, (copy,)) for part in parts for copy in part.copies]
    total = max(1, -(-len(copies) // _MOST_PIECES))  # of spares alone there is one
    for number in range(total):
        share = copies[number * len(copies) // total : (number + 1) * len(copies) // total]
        last = number == total - 1
        yield Label(
            title=order.title,
            number=number + 1,
            total=total,
            parts=_gathered(share),
            spares=spares if last else (),
            counted=order.counted if total == 1 else counted(len(share), "piece"),
            waiting=order.waiting,
        )


def _parts(pieces: Sequence[Piece]) -> tuple[tuple[Part, ...], tuple[Part, ...]]:
    """What is ordered, and the spares: the last copies of a piece."""
    ordered = tuple(
        Part(piece, piece.numbers[: piece.ordered]) for piece in pieces if piece.ordered
    )
    spares = tuple(Part(piece, piece.numbers[piece.ordered :]) for piece in pieces if piece.spares)
    return ordered, spares


def _gathered(copies: Sequence[Part]) -> tuple[Part, ...]:
    """Copies of the same row together again."""
    found: dict[int, list[Part]] = {}
    for part in copies:
        found.setdefault(part.piece.line, []).append(part)
    return tuple(
        Part(parts[0].piece, tuple(copy for part in parts for copy in part.copies))
        for parts in found.values()
    )


def _blocks(labels: Sequence[Label]) -> Iterable[Block]:
    """A line about the sheet, then rows of labels."""
    yield text_block(
        "Cut along the marks. Tick a label when its pieces are counted and packed. The names are "
        "personal data: labels that are not used are destroyed.",
        8,
        colour=QUIET,
        after=4 * MM,
    )
    for start in range(0, len(labels), _ACROSS):
        row = labels[start : start + _ACROSS]
        yield Block(_CELL[1], partial(_draw_row, row))


def _draw_row(row: Sequence[Label], canvas: Any, x: float, y: float) -> None:
    """Labels side by side, marks at their corners."""
    for at, label in enumerate(row):
        left = x + at * _CELL[0]
        for corner in (left, left + _CELL[0]):
            for level in (y, y - _CELL[1]):
                _cut_mark(canvas, corner, level)
        _draw_label(label, canvas, left + _INSET, y - _INSET)


def _cut_mark(canvas: Any, x: float, y: float) -> None:
    """A small cross where cuts meet."""
    canvas.setStrokeColor(QUIET)
    canvas.setLineWidth(0.4)
    canvas.line(x - 1.5 * MM, y, x + 1.5 * MM, y)
    canvas.line(x, y - 1.5 * MM, x, y + 1.5 * MM)


def _draw_label(label: Label, canvas: Any, x: float, y: float) -> None:
    """Order, count, names, ids and the box, from the upper left corner."""
    size, most = next(
        ((big, rows) for big, rows in _TITLES if _fits(label.title, big, rows)), _TITLES[-1]
    )
    base = y
    for text in wrap(label.title, size, 700, _ROOM, most=most):
        base -= size * 1.1
        _line(canvas, x, base, text, size, 700)
    base -= 10.5
    _line(canvas, x, base, label.counted, 8.5, 700)
    if label.total > 1:
        which = f"{label.number} of {label.total}"
        _line(canvas, x + _ROOM - text_width(which, 8.5, 700), base, which, 8.5, 700)
    if label.waiting:
        base = _draw_waiting(label.waiting, canvas, x, base)
    foot = y - _CELL[1] + 2 * _INSET
    spares = _spares(label)
    lines = int((base - foot - 10) / _LEADING) - bool(spares)
    for items in (*_parts_said(label.parts, lines), *spares):
        base -= _LEADING
        at = x
        for item in items:  # one by one, so that none turns the direction of another
            _line(canvas, at, base, item, _BODY)
            at += _width(item) + _GAP
    if label.ids:
        end = _ROOM - text_width("packed", 7)
        canvas.setFillColor(QUIET)
        draw_text(canvas, x, foot, label.ids_within(end - 5 * MM, 7), 7)
        _line(canvas, x + end, foot, "packed", 7)
        tick_box(canvas, x + end - 10, foot - 1, 7)


def _draw_waiting(told: str, canvas: Any, x: float, base: float) -> float:
    """That the order is not complete, with its sign; gives the baseline of the last line."""
    for number, text in enumerate(wrap(f"Not complete: {told}", _BODY, 700, _ROOM - 9, most=2)):
        base -= 9.6
        if number == 0:
            sign(canvas, x, base - 0.3, "warn", 6)
        canvas.setFillColor(ACCENT)
        draw_text(canvas, x + 9, base, text, _BODY, 700)
    return base


def _fits(text: str, size: float, rows: int) -> bool:
    """True if a title has room in so many lines."""
    return len(wrap(text, size, 700, _ROOM, most=rows + 1)) <= rows


def _line(canvas: Any, x: float, y: float, text: str, size: float, weight: Weight = 400) -> None:
    canvas.setFillColor(INK)
    draw_text(canvas, x, y, text, size, weight)


def _spares(label: Label) -> tuple[tuple[str, ...], ...]:
    """Spares in one line, if there are any."""
    return _names([part.name for part in label.spares], 1, "Spares apart:")


def _parts_said(parts: Sequence[Part], lines: int) -> tuple[tuple[str, ...], ...]:
    """All names in full where they have room, else shortened, and as many as there is room for."""
    if 0 < len(parts) <= _MOST_NAMES:
        items = [line for part in parts[:-1] for line in _with_comma(part.whole)]
        filled = _filled([*items, *parts[-1].whole])
        if len(filled) <= lines:
            return filled
    return _names([part.name for part in parts], lines)


def _with_comma(lines: Sequence[str]) -> tuple[str, ...]:
    return (*lines[:-1], f"{lines[-1]},")


def _names(names: Sequence[str], lines: int, begin: str = "") -> tuple[tuple[str, ...], ...]:
    """As many names as the lines hold, none of them broken; the rest is counted: `and 12 more`."""
    for kept in range(min(len(names), _MOST_NAMES), 0, -1):
        rest = len(names) - kept
        items = [begin] if begin else []
        items += [f"{name}," for name in names[: kept - 1]]
        items += [names[kept - 1], f"and {rest} more"] if rest else [names[kept - 1]]
        filled = _filled(items)
        if len(filled) <= lines or kept == 1:
            return filled[:lines]
    return ()


def _filled(items: Sequence[str]) -> tuple[tuple[str, ...], ...]:
    """Items on lines as wide as a label, each line filled before the next."""
    lines: list[list[str]] = []
    used = 0.0
    for item in items:
        width = _width(item)
        if not lines or used + _GAP + width > _ROOM:
            lines.append([])
            used = -_GAP
        lines[-1].append(item)
        used += _GAP + width
    return tuple(map(tuple, lines))


@lru_cache(maxsize=4096)
def _width(item: str) -> float:
    """Of a name; each is measured again for every number of names that is tried."""
    return text_width(item, _BODY)
