"""`proof.pdf`, for the workshop: every piece with its measures and findings, then what is held.

What goes to the customer is `customerproof`.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from typing import Any

from namebatch.finding import Finding, Severity
from namebatch.job import Job
from namebatch.names.row import Row
from namebatch.output.docpage import (
    ACCENT,
    INK,
    QUIET,
    WIDTH,
    Block,
    counted,
    counts,
    document_of,
    flow,
    heading,
    masthead,
    paragraph,
    rule,
    sign,
    text_block,
    write_pages,
)
from namebatch.output.lettering import MM, draw_text, shorten, text_width, wrap
from namebatch.output.paper import paper_of
from namebatch.output.picture import PiecePicture, piece_picture
from namebatch.output.picture_pdf import draw_picture
from namebatch.output.plumb import LEVEL_DEG
from namebatch.piece import Lettering, Piece

_GUTTER = 9 * MM
_LABEL = 17 * MM
_ROW_SPACE = 14 * MM  # of a row beside its picture and its words
_TALLEST_MM = 62.0
_LEAST_SHARE = 0.82  # so much smaller a picture may be for one more row on the page
_FIGURE_MM = 2.2  # height of the dimension figures on the page
_READABLE = {3: 0.72, 2: 0.4, 1: 0.0}  # columns → least scale at which they are chosen


@dataclass(frozen=True, slots=True)
class _Layout:
    """How the entries stand: columns, their width in points, the common scale of pictures."""

    columns: int
    width: float
    scale: float


@dataclass(frozen=True, slots=True)
class _Entry:
    """One row that was made, ready to be placed."""

    piece: Piece
    where: str
    picture: PiecePicture
    scale: float
    name: tuple[str, ...]
    more: tuple[str, ...]
    facts: tuple[tuple[str, str], ...]
    abreast: int
    typefaces: tuple[str, ...]
    findings: tuple[tuple[Severity, tuple[str, ...]], ...]


def write(job: Job, folder: Path, progress: Callable[[int, int], None]) -> None:
    """Write `proof.pdf` into the folder.

    Args:
        job: the batch.
        folder: the job folder; it must exist.
        progress: called with (pages written, pages in all).
    """
    paper = paper_of(job)
    pages = flow(proof_blocks(job), paper.room)

    def done(number: int) -> None:
        progress(number, len(pages))

    write_pages(folder / "proof.pdf", document_of(job, "Proof"), pages, done, paper)


def proof_blocks(job: Job) -> Iterable[Block]:
    """The proof from top to bottom."""
    layout = _layout(job)
    yield masthead(document_of(job, "Proof"), _facts_line(job, layout))
    yield counts(_count_items(job))
    yield from _look_at(job)
    yield from _entries(job, layout)
    yield from _not_made(job)


def _facts_line(job: Job, layout: _Layout) -> str:
    """List, how it was read, and how large the pictures are."""
    place = job.names.place.lower()
    parts = [job.names.source, job.names.reading]
    if job.names.blank_lines:
        parts.append(f"{counted(job.names.blank_lines, f'blank {place}')} skipped")
    percent = round(100 * layout.scale)
    parts.append("pictures at actual size" if percent == 100 else f"pictures at {percent} %")
    return "  ·  ".join(parts)


def _count_items(job: Job) -> tuple[tuple[str, str, str], ...]:
    """118 lines in = 115 made + 3 held; then what comes of them."""
    t, place = job.totals, job.names.place.lower()
    items = [
        (f"{t.rows:,}", f"{place}{'s' if t.rows != 1 else ''} in", ""),
        (f"{t.made:,}", "made", "="),
        (f"{t.held:,}", "held", "+"),
        (f"{t.pieces:,}", "piece" if t.pieces == 1 else "pieces", "|"),
    ]
    if t.sheets:
        items.append((f"{t.sheets:,}", "sheet" if t.sheets == 1 else "sheets", ""))
    if t.boards:
        items.append((f"{t.boards:,}", "board" if t.boards == 1 else "boards", ""))
    return tuple(items)


def _look_at(job: Job) -> Iterable[Block]:
    """What concerns the whole job, and which lines somebody should look at."""
    place = job.names.place.lower()
    lines = [p.line for p in job.pieces if any(f.severity is Severity.WARN for f in p.findings)]
    remarks: list[tuple[Severity, str]] = [(f.severity, f.message) for f in job.names.findings]
    remarks += [(f.severity, f"Template: {f.message}") for f in job.template.warnings]
    if lines:
        some = ", ".join(map(str, lines[:24])) + (" …" if len(lines) > 24 else "")
        which = place if len(lines) == 1 else f"{place}s"
        remarks.insert(0, (Severity.WARN, f"Look at {which} {some} before material is spent."))
    remarks += [(Severity.NOTE, text) for text in job.notes]
    if not job.totals.held:
        remarks.append((Severity.NOTE, f"Nothing is held: every {place} of the list was made."))
    for severity, message in remarks:
        block = text_block(message, 9, indent=5 * MM, after=1 * MM)
        yield Block(block.height, partial(_signed, block, severity))
    if remarks:
        yield Block(3 * MM, lambda canvas, x, y: None)


def _signed(block: Block, severity: Severity, canvas: Any, x: float, y: float) -> None:
    """A paragraph with its sign before it."""
    sign(canvas, x, y - 8.6, severity, 6.4)
    block.draw(canvas, x, y)


def _layout(job: Job) -> _Layout:
    """As many columns as leave the usual piece readable; one scale for all."""
    if not job.pieces:
        return _Layout(2, (WIDTH - _GUTTER) / 2, 1.0)
    width, scale, columns = WIDTH, 1.0, 1
    for columns, least in _READABLE.items():
        width, scale = (WIDTH - (columns - 1) * _GUTTER) / columns, 1.0
        for _ in range(3):  # margins for figures grow as the picture shrinks: settle on both
            usual = _usual_size(job, _FIGURE_MM / scale)
            scale = min(1.0, width / MM / usual[0], _TALLEST_MM / usual[1])
        if scale >= least:
            break
    return _filled(job, _Layout(columns, width, scale))


def _filled(job: Job, layout: _Layout) -> _Layout:
    """Pictures a little smaller, where that brings one more row on every page."""
    n, picture, text = layout.columns, [0.0], [0.0]
    for start in range(0, len(job.pieces), n * (1 + len(job.pieces) // 120)):
        row = [_entry(job, piece, layout) for piece in job.pieces[start : start + n]]
        picture.append(max(entry.picture.size_mm[1] * entry.scale * MM for entry in row))
        text.append(max(_text_height(entry) for entry in row) + _ROW_SPACE)
    at = (len(text) - 1) * 9 // 10
    high, words = sorted(picture)[at], sorted(text)[at]
    if not high:
        return layout
    room = paper_of(job).room
    rows = int(room / (high + words)) + 1
    share = 0.99 * (room / rows - words) / high
    return replace(layout, scale=share * layout.scale) if _LEAST_SHARE <= share < 1 else layout


def _usual_size(job: Job, unit_mm: float) -> tuple[float, float]:
    """Width and height that nine in ten pictures stay within; long lists are sampled."""
    step = 1 + len(job.pieces) // 60
    sizes = [piece_picture(job, piece, unit_mm).size_mm for piece in job.pieces[::step]]
    at = (len(sizes) - 1) * 9 // 10
    return sorted(w for w, _ in sizes)[at], sorted(h for _, h in sizes)[at]


def _entries(job: Job, layout: _Layout) -> Iterable[Block]:
    """All entries in list order, a row of columns each."""
    n = layout.columns
    for start in range(0, len(job.pieces), n):
        row = tuple(_entry(job, piece, layout) for piece in job.pieces[start : start + n])
        picture = max(e.picture.size_mm[1] * e.scale * MM for e in row)
        height = max(_text_height(entry) for entry in row)
        draw = partial(_draw_row, row, layout, picture)
        yield Block(picture + height + _ROW_SPACE, draw)


def _entry(job: Job, piece: Piece, layout: _Layout) -> _Entry:
    """Wrap the words of a row and find its picture's scale."""
    picture = piece_picture(job, piece, _FIGURE_MM / layout.scale)
    width, height = picture.size_mm
    scale = min(layout.scale, layout.width / MM / width, 1.6 * _TALLEST_MM / height)
    texts = list(dict.fromkeys(text for text in piece.text.values() if text)) or [""]
    more = [line for text in texts[1:] for line in wrap(text, 9, 400, layout.width, most=2)]
    findings = tuple(
        (f.severity, wrap(f.message, 8, 400, layout.width - 4 * MM, most=8)) for f in piece.findings
    )
    typefaces = " · ".join(dict.fromkeys(one.font for one in _own_letterings(piece)))
    name = wrap(texts[0], 11.5, 700, layout.width - _times_width(piece), most=2)
    return _Entry(
        piece=piece,
        where=f"{job.names.place} {piece.line}",
        picture=picture,
        scale=scale,
        name=name,
        more=tuple(more),
        facts=_facts(piece, scale, layout),
        abreast=2 if layout.width > 75 * MM else 1,
        typefaces=wrap(typefaces, 8.5, 400, layout.width - _LABEL, most=2),
        findings=findings,
    )


def _times_width(piece: Piece) -> float:
    """Room at the right of the name for the quantity."""
    return text_width(f"× {piece.ordered}", 11.5, 700) + 4 * MM


def _facts(piece: Piece, scale: float, layout: _Layout) -> tuple[tuple[str, str], ...]:
    """Label and value of everything that was measured."""
    width, height = piece.size_mm
    proof = piece.proof
    facts = [("Size", f"{width:.1f} × {height:.1f} mm")]
    if piece.board is not None:  # long ones first: the first column is the wider one
        wide, tall = piece.cut_from("board").size_mm
        facts.append(("Board", f"{wide:.1f} × {tall:.1f} mm"))
    own = _own_letterings(piece)
    if own:
        heights = " · ".join(dict.fromkeys(f"{one.height_mm:.1f}" for one in own))
        facts.append(("Capitals", f"{heights} mm"))
    facts.append(("Narrowest", f"{proof.narrowest_mm:.2f} mm"))
    facts.append(("Must have", f"{proof.required_mm:.2f} mm"))
    if proof.bridges:
        facts.append(("Bridges", str(proof.bridges)))
    if proof.hang_tilt_deg is not None:
        facts.append(("Hangs", _hang(proof.hang_tilt_deg)))
    if piece.board is not None:
        own_proof = piece.board.proof
        facts.append(("Board neck", f"{own_proof.narrowest_mm:.2f} mm"))
        facts.append(("Board needs", f"{own_proof.required_mm:.2f} mm"))
    if scale < 0.98 * layout.scale:
        facts.append(("Shown", f"at {100 * scale:.0f} %"))
    return tuple(facts)


def _own_letterings(piece: Piece) -> list[Lettering]:
    """The texts from the list; fixed lines only where there are no others."""
    return [one for one in piece.letterings if one.box in piece.text] or list(piece.letterings)


def _hang(tilt_deg: float) -> str:
    """How the piece hangs by its first hole."""
    return "straight" if abs(tilt_deg) < LEVEL_DEG else f"{abs(tilt_deg):.1f}° askew"


def _text_height(entry: _Entry) -> float:
    """Height of everything below the picture, points."""
    lines = -(-len(entry.facts) // entry.abreast) + len(entry.typefaces)
    height = 1 * MM + len(entry.name) * 14 + len(entry.more) * 12 + lines * 11.5
    return height + sum(len(lines) * 10.6 + 2.5 for _, lines in entry.findings)


def _draw_row(
    row: Sequence[_Entry], layout: _Layout, picture: float, canvas: Any, x: float, y: float
) -> None:
    """Entries side by side, their pictures on one level."""
    for entry in row:
        _draw_entry(entry, layout.width, picture, canvas, x, y)
        x += layout.width + _GUTTER


def _draw_entry(
    entry: _Entry, width: float, picture: float, canvas: Any, x: float, y: float
) -> None:
    """One entry: line number on a rule, picture, name and quantity, measures, findings."""
    rule(canvas, x, y, x + width)
    canvas.setFillColor(QUIET)
    draw_text(canvas, x, y - 11, entry.where, 8)
    tall = entry.picture.size_mm[1] * entry.scale * MM
    draw_picture(canvas, entry.picture, x, y - 5 * MM - (picture + tall) / 2, entry.scale)
    y -= 5 * MM + picture + 5 * MM
    times = f"× {entry.piece.ordered}"
    canvas.setFillColor(INK if entry.piece.ordered == 1 else ACCENT)
    draw_text(canvas, x + width - text_width(times, 11.5, 700), y, times, 11.5, 700)
    y = paragraph(canvas, x, y, entry.name, 11.5, weight=700, leading=14 / 11.5)
    y = paragraph(canvas, x, y + 1, entry.more, 9, leading=12 / 9) - 1
    y = _draw_facts(entry, width, canvas, x, y)
    for severity, lines in entry.findings:
        y -= 2.5
        sign(canvas, x, y - 0.3, severity)
        y = paragraph(canvas, x + 4 * MM, y, lines, 8, leading=10.6 / 8)


def _draw_facts(entry: _Entry, width: float, canvas: Any, x: float, y: float) -> float:
    """Measures with their labels, read down the columns; gives the baseline below them."""
    rows = -(-len(entry.facts) // entry.abreast)
    first = 0.57 * width if entry.abreast == 2 else width
    for i, (name, value) in enumerate(entry.facts):
        left, base = x + i // rows * first, y - i % rows * 11.5
        room = (first if i < rows else width - first) - _LABEL - 2
        canvas.setFillColor(QUIET)
        draw_text(canvas, left, base, name, 8)
        canvas.setFillColor(INK)
        draw_text(canvas, left + _LABEL, base, shorten(value, 8.5, 400, room), 8.5)
    y -= rows * 11.5
    if entry.typefaces:
        canvas.setFillColor(QUIET)
        draw_text(canvas, x, y, "Typeface", 8)
    return paragraph(canvas, x + _LABEL, y, entry.typefaces, 8.5, leading=11.5 / 8.5)


def _not_made(job: Job) -> Iterable[Block]:
    """The held rows: line, values, reasons."""
    held = [row for row in job.rows if row.held]
    if not held:
        return
    total = job.totals
    sums = f"{total.rows:,} in = {total.made:,} made + {total.held:,} held"
    yield heading("Not made", sums, keep=22 * MM)
    yield Block(6 * MM, partial(_held_head, job.names.place), repeat=True, leads=True)
    for row in held:
        yield _held_row(row)


_VALUES, _REASON = 18 * MM, 76 * MM


def _held_head(place: str, canvas: Any, x: float, y: float) -> None:
    """The names of the three columns."""
    canvas.setFillColor(QUIET)
    for at, text in (
        (0.0, place),
        (_VALUES, "What the list says"),
        (_REASON, "Why, and what to do"),
    ):
        draw_text(canvas, x + at, y - 8, text, 8, 700)


def _held_row(row: Row) -> Block:
    """One held row."""
    values = [
        line
        for text in _values(row.values)
        for line in wrap(text, 9, 400, _REASON - _VALUES - 6 * MM, most=3)
    ][:12]
    reasons = [wrap(f.message, 9, 400, WIDTH - _REASON - 5 * MM) for f in _reasons(row.findings)]
    height = 12.2 * max(1, len(values), sum(map(len, reasons))) + 5 * MM

    def draw(canvas: Any, x: float, y: float) -> None:
        rule(canvas, x, y, x + WIDTH)
        base = y - 12.5
        canvas.setFillColor(INK)
        draw_text(canvas, x, base, str(row.line), 11, 700)
        paragraph(canvas, x + _VALUES, base, values, 9, leading=12.2 / 9)
        for lines in reasons:
            sign(canvas, x + _REASON, base - 0.2, Severity.HOLD)
            base = paragraph(canvas, x + _REASON + 5 * MM, base, lines, 9, leading=12.2 / 9)

    return Block(height, draw)


def _values(values: Mapping[str, str]) -> Iterable[str]:
    """Header and cell, an empty cell said in words."""
    for header, value in values.items():
        yield f"{header}: {value}" if value.strip() else f"{header}: (empty)"


def _reasons(findings: Iterable[Finding]) -> Iterable[Finding]:
    """What holds the row; the other findings do not matter then."""
    return (finding for finding in findings if finding.severity is Severity.HOLD)
