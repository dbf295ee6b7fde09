"""Spare pieces beside what a list orders, by count or by share; or some of its copies only."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import ceil, floor

from namebatch.errors import SettingsError
from namebatch.piece import Piece

MOST = 99
MOST_PERCENT = 100.0
_ROUNDING = 1e-9


@dataclass(frozen=True, slots=True)
class Spare:
    """How many spares: so many of every piece, or a share of all pieces together.

    Attributes:
        each: more of every row that is made.
        share: of all pieces that the list orders, 0 to 1.
    """

    each: int = 0
    share: float = 0.0


def read_spare(text: str | None) -> Spare:
    """A wish for spares as a person writes it: ``2`` of each, or ``5%`` of all.

    Raises:
        SettingsError: it is neither, or too many.
    """
    if text is None:
        return Spare()
    said = re.fullmatch(r"(\d{1,4})(?:[.,](\d{1,3}))?\s*(%?)", text.strip())
    if said is None or (said[2] and not said[3]):
        raise SettingsError(
            f"--spare takes how many more of every piece, for example 1, or a share of all "
            f'pieces, for example 5%, not "{text[:40]}".'
        )
    if not said[3]:
        if int(said[1]) > MOST:
            raise SettingsError(f"--spare {text.strip()} is more than {MOST} spares of each piece.")
        return Spare(each=int(said[1]))
    percent = float(f"{said[1]}.{said[2] or 0}")
    if percent > MOST_PERCENT:
        raise SettingsError(
            f"--spare {text.strip()} is more spares than pieces; give at most {MOST_PERCENT:g}%, "
            "or a number for so many more of each."
        )
    return Spare(share=percent / 100)


def with_spares(pieces: Sequence[Piece], spare: Spare) -> tuple[Piece, ...]:
    """The pieces with their spares as further copies.

    A share is one of all pieces together, rounded up. Every row gets its own share as far as that
    is whole; what is left over goes one by one to the rows with most of a share left and, of
    those alike, to the pieces that break most easily: whose narrowest place has least to spare.

    Args:
        pieces: as the list orders them.
        spare: how many.
    """
    ordered = [piece.copies for piece in pieces]
    parts = [count * spare.share for count in ordered]
    whole = [floor(part + _ROUNDING) for part in parts]
    rest = ceil(sum(ordered) * spare.share - _ROUNDING) - sum(whole)
    frail = sorted(
        range(len(pieces)),
        key=lambda k: (round(whole[k] - parts[k], 6), _strength(pieces[k]), k),
    )
    more = {*frail[:rest]}
    return tuple(
        _with(piece, spare.each + whole[k] + (k in more)) for k, piece in enumerate(pieces)
    )


def spares_of(spare: Spare, pieces: int, rows: int) -> int:
    """How many spares `with_spares` adds in all.

    Args:
        spare: how many are wished.
        pieces: that the rows order.
        rows: that are made.
    """
    return spare.each * rows + ceil(pieces * spare.share - _ROUNDING)


def only_copies(pieces: Sequence[Piece], wanted: Mapping[int, Sequence[int]]) -> tuple[Piece, ...]:
    """The pieces with some of their copies only.

    Args:
        pieces: with as many copies as the list orders.
        wanted: line → numbers of the copies, rising; those above what the list orders are spares.
            Pieces of other lines stay as they are.
    """
    return tuple(
        _only(piece, tuple(wanted[piece.line])) if piece.line in wanted else piece
        for piece in pieces
    )


def _only(piece: Piece, numbers: tuple[int, ...]) -> Piece:
    spares = sum(number > piece.ordered for number in numbers)
    return replace(piece, copies=len(numbers), spares=spares, only=numbers)


def _with(piece: Piece, spares: int) -> Piece:
    if not spares:
        return piece
    return replace(piece, copies=piece.copies + spares, spares=spares)


def _strength(piece: Piece) -> float:
    """How much wider the narrowest place is than it must be."""
    return round(piece.proof.narrowest_mm / max(piece.proof.required_mm, 1e-6), 4)
