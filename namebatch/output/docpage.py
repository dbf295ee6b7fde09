"""Furniture of the document pages: paper, type, colours, headings, counts, flow over pages.

Everything is measured in points from the bottom left corner of an A4 page; `paper` says where that
lies on another. A page is made of blocks
that know their height and how to draw themselves; `flow` puts them on pages, so the number of
pages is known before the first one is drawn.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TypeAlias

from reportlab.lib.colors import HexColor
from reportlab.pdfgen.canvas import Canvas

from namebatch.job import Job
from namebatch.output.lettering import (
    MM,
    Weight,
    draw_text,
    fits_unbroken,
    shorten,
    text_width,
    wrap,
)
from namebatch.output.paper import A4, LOWER_EDGE_MM, TOP_MM, Paper

LEFT, RIGHT = 16 * MM, 194 * MM
TOP, BOTTOM = TOP_MM * MM, LOWER_EDGE_MM * MM
WIDTH = RIGHT - LEFT
SMALLEST_FIGURE = 12.0
"""Of the big figures, pt."""
_TITLES = (24.0, 19.0, 15.0)  # em of a title: the largest in which it has room on two lines
INK = HexColor("#211f1b")
QUIET = HexColor("#6a655c")
RULE = HexColor("#cfc9bd")
PALE = HexColor("#f4f1ea")
ACCENT = HexColor("#b4472e")

Draw: TypeAlias = Callable[[Any, float, float], None]


@dataclass(frozen=True, slots=True)
class Block:
    """Something as wide as the page.

    Attributes:
        height: points, space below it included.
        draw: called with canvas, left edge and top edge.
        keep: points that must still fit below it on the same page.
        leads: what comes next must fit below it on the same page; it may lead on in turn.
        new_page: begins a page.
        repeat: drawn again at the top of every page that its section runs on to.
    """

    height: float
    draw: Draw
    keep: float = 0.0
    new_page: bool = False
    repeat: bool = False
    leads: bool = False


@dataclass(frozen=True, slots=True)
class Document:
    """What stands on every page.

    Attributes:
        kind: `Proof`, `Work card`.
        title: of the job.
        source: of the list.
    """

    kind: str
    title: str
    source: str


def document_of(job: Job, kind: str) -> Document:
    """The heading of a job's page of a kind."""
    return Document(job.called(kind), job.title, job.names.source)


def flow(blocks: Iterable[Block], room: float = TOP - BOTTOM) -> list[list[Block]]:
    """Put blocks on pages, from top to bottom.

    A block that is higher than a page stands alone on one. A repeating block counts until
    the next one, or until a page that begins anew.
    """
    pages: list[list[Block]] = [[]]
    used, head = 0.0, None
    for block, keep in _with_what_they_lead(list(blocks)):
        if block.new_page:
            head = None
        if block.repeat:
            head = None
        full = used + block.height + keep > room
        if pages[-1] and (block.new_page or full):
            pages.append([])
            used = 0.0
            if head is not None:
                pages[-1].append(head)
                used = head.height
        pages[-1].append(block)
        used += block.height
        if block.repeat:
            head = block
    return pages


def _with_what_they_lead(blocks: Sequence[Block]) -> Iterable[tuple[Block, float]]:
    """Every block with the points that must still fit below it."""
    keeps: list[float] = []
    led = 0.0
    for block in reversed(blocks):
        keeps.append(max(block.keep, led) if block.leads else block.keep)
        led = block.height + keeps[-1]
    return zip(blocks, reversed(keeps), strict=True)


def write_pages(
    path: Path,
    document: Document,
    pages: Sequence[Sequence[Block]],
    progress: Callable[[int], None],
    paper: Paper = A4,
) -> None:
    """Draw pages into a PDF file; the same pages give the same bytes.

    Args:
        path: the file.
        document: what stands at the head and the foot of every page.
        pages: from `flow`.
        progress: called with the number of finished pages.
        paper: what it is printed on; the pages must have been put together for it.
    """
    canvas = Canvas(str(path), pagesize=paper.size, invariant=1, pageCompression=1, lang="en-GB")
    canvas.setTitle(f"{document.kind}: {document.title}")
    canvas.setAuthor("namebatch")
    canvas.setSubject(document.source)
    for number, page in enumerate(pages, start=1):
        canvas.translate(*paper.shift)
        _furniture(canvas, document, number, len(pages), paper.bottom)
        y = TOP
        for block in page:
            canvas.saveState()
            block.draw(canvas, LEFT, y)
            canvas.restoreState()
            y -= block.height
        canvas.showPage()
        progress(number)
    canvas.save()


def _furniture(canvas: Any, document: Document, number: int, total: int, bottom: float) -> None:
    """The thin head of a page that continues, and the foot of every page."""
    canvas.setFillColor(QUIET)
    y = bottom - 8 * MM
    if number > 1:
        draw_text(canvas, LEFT, TOP + 5 * MM, document.kind, 7.5, 700)
    rule(canvas, LEFT, y + 3.6 * MM, RIGHT)
    canvas.setFillColor(QUIET)
    page = f"page {number} of {total}"
    end = text_width(page, 7.5)
    draw_text(canvas, RIGHT - end, y, page, 7.5)
    room = WIDTH - end - 6 * MM
    title = shorten(document.title, 7.5, 700, room * 0.6)
    x = draw_text(canvas, LEFT, y, title, 7.5, 700)
    source = shorten(document.source, 7.5, 400, max(20.0, LEFT + room - x))
    draw_text(canvas, x + 3 * MM, y, source, 7.5)


def rule(
    canvas: Any, x: float, y: float, end: float, colour: Any = RULE, width: float = 0.5
) -> None:
    """A thin level line."""
    canvas.setStrokeColor(colour)
    canvas.setLineWidth(width)
    canvas.line(x, y, end, y)


def perforation(canvas: Any, y: float) -> None:
    """A row of dots across the page: where a docket's stub would be torn off."""
    canvas.saveState()
    canvas.setStrokeColor(QUIET)
    canvas.setLineWidth(1.1)
    canvas.setLineCap(1)
    canvas.setDash([0.01, 4.2])
    canvas.line(LEFT, y, RIGHT, y)
    canvas.restoreState()


def tick_box(canvas: Any, x: float, y: float, size: float = 8.5) -> None:
    """An empty box to be ticked, its lower left corner at x, y."""
    canvas.setStrokeColor(INK)
    canvas.setLineWidth(0.8)
    canvas.setFillColor(HexColor("#ffffff"))
    canvas.rect(x, y, size, size, stroke=1, fill=1)


def label(
    canvas: Any, x: float, y: float, text: str, colour: Any = QUIET, size: float = 7.5
) -> float:
    """A small bold label; gives x where it ends."""
    canvas.setFillColor(colour)
    return draw_text(canvas, x, y, text, size, 700)


def sign(canvas: Any, x: float, y: float, severity: str, size: float = 6.0) -> None:
    """The mark before a finding: filled square for held, triangle to look at, ring for a note."""
    canvas.setLineWidth(0.9)
    if severity == "hold":
        canvas.setFillColor(ACCENT)
        canvas.rect(x, y, size, size, stroke=0, fill=1)
    elif severity == "warn":
        canvas.setFillColor(ACCENT)
        path = canvas.beginPath()
        path.moveTo(x, y)
        path.lineTo(x + size, y)
        path.lineTo(x + size / 2, y + size)
        path.close()
        canvas.drawPath(path, stroke=0, fill=1)
    else:
        canvas.setStrokeColor(QUIET)
        canvas.circle(x + size / 2, y + size / 2, size / 2 - 0.8, stroke=1, fill=0)


def paragraph(
    canvas: Any,
    x: float,
    y: float,
    lines: Sequence[str],
    size: float,
    *,
    weight: Weight = 400,
    colour: Any = INK,
    leading: float = 1.35,
) -> float:
    """Lines from a first baseline y downwards; gives the baseline below the last."""
    for line in lines:
        canvas.setFillColor(colour)
        draw_text(canvas, x, y, line, size, weight)
        y -= size * leading
    return y


def text_block(
    text: str,
    size: float = 9.0,
    *,
    weight: Weight = 400,
    colour: Any = INK,
    after: float = 2 * MM,
    indent: float = 0.0,
) -> Block:
    """A paragraph as wide as the page."""
    lines = wrap(text, size, weight, WIDTH - indent)

    def draw(canvas: Any, x: float, y: float) -> None:
        paragraph(canvas, x + indent, y - size, lines, size, weight=weight, colour=colour)

    return Block(len(lines) * size * 1.35 + after, draw)


def heading(text: str, aside: str = "", *, keep: float = 30 * MM, new_page: bool = False) -> Block:
    """A section's heading on a rule, with a quiet remark at the right; never alone at a foot."""

    def draw(canvas: Any, x: float, y: float) -> None:
        rule(canvas, x, y - 2 * MM, x + WIDTH, INK, 0.9)
        canvas.setFillColor(INK)
        end = draw_text(canvas, x, y - 8.2 * MM, text, 13, 700)
        if aside:
            short = shorten(aside, 8.5, 400, WIDTH - (end - x) - 6 * MM)
            canvas.setFillColor(QUIET)
            draw_text(canvas, x + WIDTH - text_width(short, 8.5), y - 8.2 * MM, short, 8.5)

    return Block(12.5 * MM, draw, keep=keep, new_page=new_page, leads=True)


def masthead(document: Document, line: str) -> Block:
    """The head of the first page: kind, title, one line of facts."""
    room = WIDTH - 4 * MM
    fitting = (one for one in _TITLES if fits_unbroken(document.title, one, 700, room, most=2))
    size = next(fitting, _TITLES[-1])
    title = wrap(document.title, size, 700, room, most=2)
    facts = wrap(line, 9.5, 400, WIDTH, most=3)
    leading = size + 4
    height = 7 * MM + len(title) * leading + len(facts) * 13

    def draw(canvas: Any, x: float, y: float) -> None:
        top = y + 4 * MM
        canvas.setFillColor(INK)
        canvas.rect(x, top, WIDTH, 1.4, stroke=0, fill=1)
        canvas.setFillColor(ACCENT)
        tab = text_width(document.kind, 10, 700) + 8 * MM
        canvas.rect(x, top - 6.6 * MM, tab, 6.6 * MM + 1.4, stroke=0, fill=1)
        canvas.setFillColor(HexColor("#ffffff"))
        draw_text(canvas, x + 4 * MM, top - 4.5 * MM, document.kind, 10, 700)
        first = y - 12 * MM + (_TITLES[0] - size)
        below = paragraph(canvas, x, first, title, size, weight=700, leading=leading / size)
        paragraph(canvas, x, below + 9, facts, 9.5, colour=QUIET, leading=13 / 9.5)

    return Block(height, draw)


def counts(items: Sequence[tuple[str, str, str]], size: float = 21) -> Block:
    """Big figures in a row: (figure, label, sign before it). Figures add up in sight.

    All of them are smaller where they would be wider than the page.
    """
    while _width_of_counts(items, size) > WIDTH and size > SMALLEST_FIGURE:
        size -= 0.5
    gap = _gap(size)

    def draw(canvas: Any, x: float, y: float) -> None:
        base = y - 4 * MM - size * 0.72
        for figure, text, joint in items:
            if joint == "|":
                canvas.setStrokeColor(RULE)
                canvas.setLineWidth(0.5)
                canvas.line(x, base - 5.5 * MM, x, base + size * 0.8)
                x += gap
            elif joint:
                canvas.setFillColor(QUIET)
                x = draw_text(canvas, x, base, joint, size * 0.8) + gap * 0.7
            held = text in ("held", "line held", "lines held") and figure != "0"
            canvas.setFillColor(ACCENT if held else INK)
            end = draw_text(canvas, x, base, figure, size, 700)
            canvas.setFillColor(QUIET)
            end = max(end, draw_text(canvas, x, base - 4.6 * MM, text, 8.5))
            x = end + gap
        perforation(canvas, base - 9 * MM)

    return Block(size * 0.72 + 17 * MM, draw)


def _gap(size: float) -> float:
    """Between two figures of this size."""
    return min(6 * MM, size * 0.8)


def _width_of_counts(items: Sequence[tuple[str, str, str]], size: float) -> float:
    """From the first figure to the end of the last."""
    gap, width = _gap(size), -_gap(size)
    for figure, text, joint in items:
        width += gap if joint == "|" else 0.0
        width += text_width(joint, size * 0.8) + gap * 0.7 if joint not in ("", "|") else 0.0
        width += max(text_width(figure, size, 700), text_width(text, 8.5)) + gap
    return width


def minutes(seconds: float) -> str:
    """A time for people: `40 s`, `12 min`, `2 h 05 min`."""
    if seconds < 59.5:
        return f"{max(0, round(seconds))} s"
    whole = round(seconds / 60)
    return f"{whole} min" if whole < 60 else f"{whole // 60} h {whole % 60:02d} min"


def counted(number: int, one: str, many: str = "") -> str:
    """`1 sheet`, `3 sheets`."""
    return f"{number:,} {one if number == 1 else many or one + 's'}"
