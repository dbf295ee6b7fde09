"""The sheet room's front door: pieces in, filled sheets and boards out. mm."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from namebatch.errors import SheetError
from namebatch.piece import Piece
from namebatch.sheet.beam import spoiled_by_cut
from namebatch.sheet.blocks import blocks_of, fitting
from namebatch.sheet.bounds import Bounds, lower_bounds
from namebatch.sheet.cuts import cuts_of
from namebatch.sheet.fill import FILLS
from namebatch.sheet.frame import Page
from namebatch.sheet.model import PlacedFace, Placement, Sheet
from namebatch.sheet.motion import run_of
from namebatch.sheet.prove import prove, prove_lines
from namebatch.sheet.wishes import Wishes
from namebatch.template.workshop import Material, Workshop


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
    """

    kind: Literal["face", "board"]
    page: Page
    material: Material
    faces: tuple[PlacedFace, ...]
    turns_deg: tuple[float, ...]
    gap_mm: float


@dataclass(frozen=True, slots=True)
class Filled:
    """Sheets of one stock, and how few any arrangement could need."""

    sheets: tuple[Sheet, ...]
    bounds: Bounds


def fits(piece: Piece, stock: Stock) -> bool:
    """True if a piece has room on an empty sheet."""
    faces, kerf = stock.faces, stock.material.kerf_mm
    blocks = blocks_of([piece], faces, stock.turns_deg, kerf, stock.gap_mm)
    return bool(fitting(blocks[0], stock.page.usable_mm))


def spoiled(piece: Piece, stock: Stock) -> str | None:
    """What the cut would spoil in a piece at one of the turns that it may take, if anything.

    Returns:
        What is wrong and a remedy; None if every line leaves the piece as it was made.

    Raises:
        OutlineError: a line closes up when it is moved for the kerf.
    """
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
        pieces: each fits an empty sheet (`fits`) and is left whole by the cut (`spoiled`).
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
    blocks = blocks_of(pieces, stock.faces, stock.turns_deg, kerf, stock.gap_mm)
    filled = FILLS[fill](blocks, stock.page.usable_mm, stock.gap_mm, wishes)
    by_id = {piece_id: piece for piece in pieces for piece_id in piece.ids}
    sheets = tuple(
        _sheet(number, placements, by_id, stock, workshop, base_width_mm)
        for number, placements in enumerate(filled, start=1)
    )
    prove(sheets, [(piece_id, face) for piece_id in by_id for face in stock.faces])
    return Filled(sheets, lower_bounds(blocks, stock.page.usable_mm, stock.gap_mm))


def _sheet(
    number: int,
    placements: Sequence[Placement],
    pieces: Mapping[str, Piece],
    stock: Stock,
    workshop: Workshop,
    base_width_mm: float,
) -> Sheet:
    cuts = cuts_of(placements, pieces, stock.material.kerf_mm, base_width_mm)
    prove_lines(placements, cuts, pieces, stock.material.kerf_mm)
    run = run_of(cuts, stock.material, workshop.cutter)
    _, _, width, height = stock.page.usable_mm
    area = sum(pieces[placement.piece].outline.area for placement in placements)
    return Sheet(
        id=f"{stock.kind}-{number:03d}",
        kind=stock.kind,
        material=stock.material.name,
        size_mm=stock.page.size_mm,
        usable_mm=stock.page.usable_mm,
        frame_mm=stock.page.frame_mm,
        gap_mm=stock.gap_mm,
        fill=area / (width * height),
        placements=tuple(placements),
        cuts=cuts,
        cut_length_mm=run.cut_length_mm,
        travel_mm=run.travel_mm,
        seconds=run.seconds,
    )
