"""Whether what was made can be cut: it has room on a sheet, and the cut leaves it as it was made.

Pieces larger than a sheet are split into parts first, where the template says how.
"""

from collections.abc import Sequence
from dataclasses import replace

from namebatch.boards import with_board
from namebatch.errors import OutlineError
from namebatch.finding import Finding, hold, is_held
from namebatch.names.row import Row
from namebatch.piece import Piece
from namebatch.sheet import Stock, fits, spoiled
from namebatch.sheet.blocks import together
from namebatch.splitting import in_parts
from namebatch.template.model import Template

NO_ROOM = "no-room-on-sheet"


def made_cuttable(
    row: Row, piece: Piece, template: Template, stocks: Sequence[Stock]
) -> tuple[Row, Piece | None]:
    """A made row as it is cut, or held.

    Args:
        row: with all findings so far.
        piece: what was made of it.
        template: how it is joined from parts, if it is.
        stocks: what it is cut from.

    Returns:
        The row with what was found, and its piece, with parts if it is split; None when the row
        is held.
    """
    piece, told = with_board(piece, template, stocks)
    if not is_held(told):  # its board is split with it
        piece, of_parts = in_parts(piece, template, stocks)
        told = (*told, *of_parts)
    wrong = None if is_held(told) else _not_to_be_cut(piece, stocks)
    found = [f for f in told if wrong is None or is_held([f])]
    if wrong is not None:
        found.append(wrong)
    named = [replace(f, message=f"{row.where}: {f.message}") for f in found]
    if not named:
        return row, piece
    row = replace(row, findings=(*row.findings, *named))
    return row, None if row.held else replace(piece, findings=row.findings)


def _not_to_be_cut(piece: Piece, stocks: Sequence[Stock]) -> Finding | None:
    """A hold if no sheet takes it, or if the kerf closes or spoils it once it is turned."""
    try:
        for part in piece.cut:
            if not all(fits(part, stock) for stock in stocks):
                return hold(NO_ROOM, _no_room_text(piece, part, stocks))
        for part in piece.cut:
            wrong = next(filter(None, (spoiled(part, stock) for stock in stocks)), None)
            if wrong is not None:
                return hold("spoiled-by-cut", _of_part(piece, part) + wrong)
    except OutlineError as error:
        return hold("gap-narrower-than-kerf", str(error))
    return None


def _of_part(piece: Piece, part: Piece) -> str:
    """Which part, to go before a sentence; nothing for a whole piece."""
    return f"part {part.part} of {len(piece.parts)}: " if part.part else ""


def _no_room_text(piece: Piece, part: Piece, stocks: Sequence[Stock]) -> str:
    stock = next(stock for stock in stocks if not fits(part, stock))
    width, height = part.cut_from(stock.kind).size_mm
    aside = len(together(part, stock.faces)[0]) > 1
    what = "two faces side by side need" if aside else "it needs"
    room = stock.page.usable_mm
    which, remedy = "the piece", "a template with a [joint] table cuts it in parts"
    if part.part:
        which = f"part {part.part} of {len(piece.parts)}"
        remedy = "give more lines in the template's [joint]"
    return (
        f"{which} is {width:.1f} × {height:.1f} mm and no sheet of {stock.material.title} has "
        f"room for it ({what} more than the usable {room[2]:.1f} × {room[3]:.1f} mm). Take a "
        f"larger sheet; or {remedy}."
    )
