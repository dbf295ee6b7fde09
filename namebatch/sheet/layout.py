"""The sheet room's front door: pieces in, filled sheets and boards out. mm."""

from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from shapely import MultiPolygon

from namebatch.errors import SheetError
from namebatch.piece import Piece, cut_pieces
from namebatch.sheet.beam import spoiled_by_cut
from namebatch.sheet.blocks import Block, blocks_of, has_room, together
from namebatch.sheet.bounds import Bounds, lower_bounds
from namebatch.sheet.cuts import cuts_of
from namebatch.sheet.fill import FILLS, by_order, placed
from namebatch.sheet.frame import Page
from namebatch.sheet.model import PlacedFace, Placement, Rect, Sheet
from namebatch.sheet.motion import run_of
from namebatch.sheet.part_used import Leftover, onto_leftover
from namebatch.sheet.prove import prove, prove_lines
from namebatch.sheet.wishes import Wishes
from namebatch.template.workshop import Material, Workshop

MOST_APART = 300
"""Of so many pieces with two faces, the faces are also tried apart."""


@dataclass(frozen=True, slots=True)
class Stock:
    """What one kind of sheet is filled with and from.

    Attributes:
        kind: printed page or board.
        page: its frame and usable area.
        material: what it is made of.
        faces: which faces of a piece lie on it, side by side.
        turns_deg: turns that are allowed.
        gap_mm: least distance of cut lines.
        leftovers: part-used boards, filled before new ones are taken.
        backs: a second sheet with the backs is stuck to each.
    """

    kind: Literal["face", "board"]
    page: Page
    material: Material
    faces: tuple[PlacedFace, ...]
    turns_deg: tuple[float, ...]
    gap_mm: float
    leftovers: tuple[Leftover, ...] = ()
    backs: bool = False


@dataclass(frozen=True, slots=True)
class Filled:
    """Sheets of one stock, and how few any arrangement could need."""

    sheets: tuple[Sheet, ...]
    bounds: Bounds


def fits(piece: Piece, stock: Stock) -> bool:
    """True if a piece has room on an empty sheet."""
    return has_room(
        piece.cut_from(stock.kind),
        stock.faces,
        stock.turns_deg,
        stock.material.kerf_mm,
        stock.gap_mm,
        stock.page.usable_mm,
    )


def spoiled(piece: Piece, stock: Stock) -> str | None:
    """What the cut would spoil in a piece at one of the turns that it may take, if anything.

    Returns:
        What is wrong and a remedy; None if every line leaves the piece as it was made.

    Raises:
        OutlineError: a line closes up when it is moved for the kerf.
    """
    piece = piece.cut_from(stock.kind)
    for mirrored in sorted({face == "back" for face in stock.faces}):
        for turn in stock.turns_deg:
            wrong = spoiled_by_cut(piece, mirrored, turn, stock.material.kerf_mm)
            if wrong is not None:
                return wrong
    return None


def lay_out(
    pieces: Sequence[Piece],
    stock: Stock,
    workshop: Workshop,
    base_width_mm: float,
    fill: str,
    wishes: Wishes,
) -> Filled:
    """Fill as many sheets as it takes and prove them.

    Args:
        pieces: each, or each of its parts, fits an empty sheet (`fits`) and is left whole by the
            cut (`spoiled`).
        stock: what they are cut from.
        workshop: for the cutter's motion.
        base_width_mm: of the template.
        fill: name of a way to fill, see `fill.FILLS`.
        wishes: what else is asked of the filling.

    Raises:
        SheetError: the way to fill is unknown, or a proof fails.
    """
    if fill not in FILLS:
        raise SheetError(
            f'There is no way to fill called "{fill}" in this version. Take '
            + " or ".join(FILLS)
            + "."
        )
    kerf = stock.material.kerf_mm
    pieces = [piece.cut_from(stock.kind) for piece in cut_pieces(pieces)]
    blocks = blocks_of(pieces, stock.faces, stock.turns_deg, kerf, stock.gap_mm)
    orders = _orders(pieces, stock) if wishes.by_order else list(range(len(blocks)))
    laid, left = _part_used(blocks, orders, stock)
    new = _new(blocks, orders, left, stock, fill, wishes)
    if (
        len(stock.faces) > 1
        and len(left) <= MOST_APART
        and not wishes.keep_order
        and not any(piece.part for piece in pieces)
    ):
        apart = _faces_apart(pieces, left, stock, orders if wishes.by_order else None)
        new = min(new, apart, key=len) if _are_paired(apart) else new
    laid += [(None, sheet) for sheet in new]
    by_id = {piece_id: piece for piece in pieces for piece_id in piece.ids}
    sheets: list[Sheet] = []
    for number, (leftover, placements) in enumerate(laid, start=1):
        sheet = _sheet(number, placements, by_id, stock, leftover, workshop, base_width_mm)
        wishes.laid(sheet, by_id)
        sheets.append(sheet)
    prove(sheets, [(piece_id, face) for piece_id in by_id for face in stock.faces])
    return Filled(tuple(sheets), lower_bounds(blocks, _largest(stock), stock.gap_mm))


def _part_used(
    blocks: Sequence[Block], orders: Sequence[Hashable], stock: Stock
) -> tuple[list[tuple[Leftover | None, list[Placement]]], list[int]]:
    """What part-used boards take, board by board, and the numbers of the blocks that are left."""
    left = list(range(len(blocks)))
    laid: list[tuple[Leftover | None, list[Placement]]] = []
    for leftover in stock.leftovers:
        some = onto_leftover(blocks, left, orders, leftover, stock.gap_mm)
        if some:
            [placements] = placed([some], leftover.page.usable_mm)
            laid.append((leftover, placements))
            there = {place[0] for place in some}
            left = [number for number in left if number not in there]
    return laid, left


def _new(
    blocks: Sequence[Block],
    orders: Sequence[Hashable],
    left: Sequence[int],
    stock: Stock,
    fill: str,
    wishes: Wishes,
) -> list[list[Placement]]:
    """What is left, on new sheets."""
    usable, gap_mm = stock.page.usable_mm, stock.gap_mm
    some = [blocks[number] for number in left]
    if wishes.by_order:
        return by_order(some, [orders[number] for number in left], usable, gap_mm)
    return FILLS[fill](some, usable, gap_mm, wishes)


def _are_paired(sheets: Sequence[Sequence[Placement]]) -> bool:
    """True if both faces of every piece are on one sheet; an order may be split between them."""
    return all(
        {p.piece for p in sheet if p.face == "front"}
        == {p.piece for p in sheet if p.face == "back"}
        for sheet in sheets
    )


def _faces_apart(
    pieces: Sequence[Piece],
    left: Sequence[int],
    stock: Stock,
    orders: Sequence[Hashable] | None,
) -> list[list[Placement]]:
    """Front and back of a piece, or all of an order, on one sheet, but not side by side.

    Ragged ones nest better so.
    """
    faces = [
        blocks_of(pieces, (face,), stock.turns_deg, stock.material.kerf_mm, stock.gap_mm)
        for face in stock.faces
    ]
    some = [  # a back is another shape than its front
        replace(blocks[number], kind=blocks[number].kind * len(faces) + side)
        for number in left
        for side, blocks in enumerate(faces)
    ]
    owners = [number if orders is None else orders[number] for number in left for _ in faces]
    return by_order(some, owners, stock.page.usable_mm, stock.gap_mm)


def _largest(stock: Stock) -> Rect:
    """An area that no sheet's usable area exceeds in width or in height."""
    pages = [stock.page, *(leftover.page for leftover in stock.leftovers)]
    x, y, width, height = stock.page.usable_mm
    return (
        x,
        y,
        max(width, *(page.usable_mm[2] for page in pages)),
        max(height, *(page.usable_mm[3] for page in pages)),
    )


def _orders(pieces: Sequence[Piece], stock: Stock) -> list[str]:
    """What each block belongs to; a piece of no order goes wherever it finds room."""
    return [
        f"order {' '.join(piece.order.split()).casefold()}" if piece.order else f"piece {piece_id}"
        for piece in pieces
        for _ in together(piece, stock.faces)
        for piece_id in piece.ids
    ]


def _sheet(
    number: int,
    placements: Sequence[Placement],
    pieces: Mapping[str, Piece],
    stock: Stock,
    leftover: Leftover | None,
    workshop: Workshop,
    base_width_mm: float,
) -> Sheet:
    page = leftover.page if leftover else stock.page
    cuts = cuts_of(placements, pieces, stock.material.kerf_mm, base_width_mm)
    prove_lines(placements, cuts, pieces, stock.material.kerf_mm)
    run = run_of(cuts, stock.material, workshop.cutter)
    _, _, width, height = page.usable_mm
    area = sum(pieces[placement.piece].outline.area for placement in placements)
    return Sheet(
        id=f"{stock.kind}-{number:03d}",
        kind=stock.kind,
        material=stock.material.name,
        size_mm=page.size_mm,
        usable_mm=page.usable_mm,
        frame_mm=page.frame_mm,
        gap_mm=stock.gap_mm,
        fill=area / (width * height),
        placements=tuple(placements),
        cuts=cuts,
        cut_length_mm=run.cut_length_mm,
        travel_mm=run.travel_mm,
        seconds=run.seconds,
        part_used=leftover.name if leftover else "",
        used=leftover.used if leftover else MultiPolygon(),
        backs=stock.backs,
    )
