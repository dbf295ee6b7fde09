"""The boards of pieces whose print is mounted with a rim: an outline of their own."""

from collections.abc import Sequence
from dataclasses import replace

from shapely import Polygon

from namebatch.errors import TemplateError
from namebatch.finding import Finding, is_held
from namebatch.outline import Limits
from namebatch.outline.rim import Board, Rim, board_for
from namebatch.piece import BoardPart, Piece
from namebatch.sheet import Stock
from namebatch.template.model import Template


def with_board(
    piece: Piece, template: Template, stocks: Sequence[Stock]
) -> tuple[Piece, tuple[Finding, ...]]:
    """A piece with the outline of its board, where that is not the print's.

    Corners of a base stay corners; lines that follow letters are rounded by the rim.

    Args:
        piece: as it was made.
        template: its rim and its outline rule are read.
        stocks: the boards' material and kerf.

    Returns:
        The piece, with a board or as it was, and what was found in measuring it.
    """
    made = _board_of(piece.outline, template, stocks)
    if made is None:
        return piece, ()
    if is_held(made.findings):
        return piece, made.findings
    proof = replace(
        piece.proof,
        narrowest_mm=made.neck.width_mm,
        narrowest_at=made.neck.at,
        required_mm=made.required_mm,
    )
    return replace(piece, board=BoardPart(made.shape, proof)), made.findings


def refuse_bad_rim(base: Polygon | None, template: Template, stocks: Sequence[Stock]) -> None:
    """Refuse a rim that no piece can have, where all have one outline.

    Args:
        base: the outline of every piece; None where it differs from row to row.
        template: its rim is read.
        stocks: the boards' material and kerf.

    Raises:
        TemplateError: the board of this outline cannot be cut.
    """
    made = None if base is None else _board_of(base, template, stocks)
    held = [] if made is None else [f.message for f in made.findings if is_held([f])]
    if held:
        raise TemplateError(
            f'The template "{template.name}" cannot be made with its rim of {template.rim_mm:g} '
            "mm as it stands.",
            held,
        )


def _board_of(outline: Polygon, template: Template, stocks: Sequence[Stock]) -> Board | None:
    """The board of an outline, measured; None where the board has the print's outline."""
    board = next((stock for stock in stocks if stock.kind == "board"), None)
    if not template.rim_mm or board is None:
        return None
    kerf = max(max(stock.material.kerf_mm) for stock in stocks if stock.kind == "face")
    rim = Rim(template.rim_mm, template.rule == "base", kerf)
    return board_for(outline, rim, limits_of([board]))


def limits_of(stocks: Sequence[Stock]) -> Limits:
    """What the materials of all these stocks ask of one outline."""
    return Limits(
        max(stock.material.minimum_width_mm for stock in stocks),
        max(max(stock.material.kerf_mm) for stock in stocks),
    )


def print_limits(template: Template, stocks: Sequence[Stock]) -> Limits:
    """What is asked of the outline of the pieces, which is the print's where there are boards.

    A base that has a rim only has to suit the print's material: the board is proved by itself.
    Where letters are joined, all is made as wide as the board needs it, on both sides of a bridge
    where a smaller board loses its rim.
    """
    if template.rim_mm and template.rule == "base":
        return limits_of([stock for stock in stocks if stock.kind == "face"])
    limits = limits_of(stocks)
    lost = max(0.0, -2.0 * template.rim_mm)
    boards = [s.material.minimum_width_mm for s in stocks if s.kind == "board"]
    return replace(limits, required_mm=max([limits.required_mm, *(b + lost for b in boards)]))
