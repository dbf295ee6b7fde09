"""What has to be known of a section once its pieces are forgotten; plain numbers, kept as JSON."""

import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from hashlib import sha256
from math import pi, sqrt
from typing import Any

import shapely

from namebatch.finding import Finding, Severity
from namebatch.job import Job
from namebatch.names.row import Row
from namebatch.notes import text_heights
from namebatch.output.smallparts import SmallFound, tested
from namebatch.piece import Piece, cut_pieces
from namebatch.pipeline import lacks_room
from namebatch.sheet import Stock
from namebatch.sheet.bounds import Bounds
from namebatch.sheet.model import Rect, Sheet


@dataclass(frozen=True, slots=True)
class Made:
    """A row that was made: its copies, how many of them are spares, parts of a piece (0: whole)."""

    line: int
    copies: int
    spares: int
    parts: int


@dataclass(frozen=True, slots=True)
class Need:
    """What the pieces of a section need of one stock at least.

    Attributes:
        area: of the finished pieces, mm².
        grown: the same, each grown by half the gap, at least.
        large: how many are, grown, more than half a sheet.
        sheets: the section's own lower bound.
    """

    area: float
    grown: float
    large: int
    sheets: int


@dataclass(frozen=True, slots=True)
class SheetFacts:
    """A sheet without its lines: `faces` counts what lies on it by face, the rest is a sheet's."""

    id: str
    kind: str
    material: str
    size_mm: tuple[float, float]
    usable_mm: Rect
    frame_mm: Rect
    gap_mm: float
    fill: float
    faces: Mapping[str, int]
    operations: tuple[str, ...]
    cut_length_mm: float
    travel_mm: float
    seconds: float
    part_used: str
    backs: bool


@dataclass(frozen=True, slots=True)
class Facts:
    """What is known of a section.

    Attributes:
        found: line → all findings, of rows in whose making something was found.
        made: what was made, in list order.
        lacking: why no sheet has room, of rows that are held for nothing else.
        sheets: printed ones first.
        needs: by the stocks that are filled.
        heights: of the lowest and the highest text, mm; None without one.
        small: the small-parts test; None without a piece.
        alike: the same for sections whose outlines are all the same one; empty where they differ.
    """

    found: Mapping[int, tuple[Finding, ...]]
    made: tuple[Made, ...]
    lacking: tuple[str, ...]
    sheets: tuple[SheetFacts, ...]
    needs: tuple[Need, ...]
    heights: tuple[float, float] | None
    small: SmallFound | None
    alike: str


def facts_of(
    job: Job, given: Iterable[Row], stocks: Sequence[Stock], bounds: Sequence[Bounds]
) -> Facts:
    """What is to be kept of a section.

    Args:
        job: the section.
        given: its rows as they were to be made.
        stocks: that are filled.
        bounds: how few sheets of each it could need.
    """
    before = {row.line: row.findings for row in given}
    return Facts(
        found={row.line: row.findings for row in job.rows if row.findings != before[row.line]},
        made=tuple(
            Made(piece.line, piece.copies, piece.spares, len(piece.parts)) for piece in job.pieces
        ),
        lacking=tuple(why for row in job.rows if (why := lacks_room(row))),
        sheets=tuple(map(_sheet_facts, job.sheets)),
        needs=tuple(
            _need(job.pieces, stock, bound) for stock, bound in zip(stocks, bounds, strict=True)
        ),
        heights=text_heights(job.pieces),
        small=tested(job) if job.pieces else None,
        alike=_alike(job.pieces),
    )


def _sheet_facts(sheet: Sheet) -> SheetFacts:
    faces: dict[str, int] = {}
    for placement in sheet.placements:
        faces[placement.face] = faces.get(placement.face, 0) + 1
    return SheetFacts(
        sheet.id,
        sheet.kind,
        sheet.material,
        sheet.size_mm,
        sheet.usable_mm,
        sheet.frame_mm,
        sheet.gap_mm,
        sheet.fill,
        faces,
        tuple(dict.fromkeys(cut.operation for cut in sheet.cuts)),
        sheet.cut_length_mm,
        sheet.travel_mm,
        sheet.seconds,
        sheet.part_used,
        sheet.backs,
    )


def largest_mm(stock: Stock) -> tuple[float, float]:
    """Width and height that no usable area of a stock exceeds."""
    pages = [stock.page, *(leftover.page for leftover in stock.leftovers)]
    return max(page.usable_mm[2] for page in pages), max(page.usable_mm[3] for page in pages)


def grown_room_mm2(stock: Stock) -> float:
    """The usable area grown by half the gap, mm²."""
    width, height = largest_mm(stock)
    half = stock.gap_mm / 2
    return width * height + stock.gap_mm * (width + height) + pi * half * half


def _need(pieces: Sequence[Piece], stock: Stock, bounds: Bounds) -> Need:
    """See `whole.bounds_of` for what is made of it.

    What is cut free lies at least half the gap from the middle between any two, and no shape
    grows by less than a disc of its area (Brunn & Minkowski; from memory).
    """
    half, room = stock.gap_mm / 2, grown_room_mm2(stock)
    area = grown = 0.0
    large = 0
    for piece in cut_pieces(pieces):
        one = piece.cut_from(stock.kind).outline.area
        count = piece.copies * len(stock.faces)
        disc = sqrt(one / pi) + half
        area += count * one
        grown += count * pi * disc * disc
        large += count if pi * disc * disc > 0.5001 * room else 0
    return Need(area, grown, large, bounds.sheets)


def _alike(pieces: Sequence[Piece]) -> str:
    """What the outlines of print and board have in common, if there is but one of each."""
    pairs = {
        (shapely.to_wkb(piece.outline), shapely.to_wkb(piece.cut_from("board").outline))
        for piece in cut_pieces(pieces)
    }
    return sha256(b"".join(*pairs)).hexdigest() if len(pairs) == 1 else ""


def facts_json(facts: Facts) -> bytes:
    """Facts as they are kept; half a surrogate pair in a name stands escaped."""
    content = {
        "found": {
            str(line): [[f.code, f.severity.value, f.message] for f in findings]
            for line, findings in facts.found.items()
        },
        "made": [[one.line, one.copies, one.spares, one.parts] for one in facts.made],
        "lacking": facts.lacking,
        "sheets": [
            [getattr(sheet, name) for name in SheetFacts.__slots__] for sheet in facts.sheets
        ],
        "needs": [[one.area, one.grown, one.large, one.sheets] for one in facts.needs],
        "heights": facts.heights,
        "small": None
        if facts.small is None
        else [facts.small.pieces, facts.small.small, facts.small.ids, facts.small.smallest],
        "alike": facts.alike,
    }
    return json.dumps(content, sort_keys=True, allow_nan=False).encode()


def facts_from(data: bytes) -> Facts:
    """Facts as `facts_json` wrote them.

    Raises:
        ValueError, TypeError, KeyError: it did not.
    """
    content: Any = json.loads(data)
    words: dict[str, str] = {}  # many rows are told the same

    def finding(code: str, severity: str, message: str) -> Finding:
        return Finding(words.setdefault(code, code), Severity(severity), message)

    small, heights = content["small"], content["heights"]
    return Facts(
        found={
            int(line): tuple(finding(*one) for one in findings)
            for line, findings in content["found"].items()
        },
        made=tuple(Made(*one) for one in content["made"]),
        lacking=tuple(content["lacking"]),
        sheets=tuple(_sheet_from(one) for one in content["sheets"]),
        needs=tuple(Need(*one) for one in content["needs"]),
        heights=None if heights is None else (heights[0], heights[1]),
        small=None if small is None else _tested_from(*small),
        alike=content["alike"],
    )


def _sheet_from(values: Sequence[Any]) -> SheetFacts:
    plain: list[Any] = [tuple(value) if isinstance(value, list) else value for value in values]
    return SheetFacts(*plain)


def _tested_from(pieces: int, small: int, ids: Any, smallest: Any) -> SmallFound:
    line, name, sides = smallest
    return SmallFound(
        pieces,
        small,
        tuple((one[0], one[1]) for one in ids),
        (line, name, (sides[0], sides[1], sides[2])),
    )
