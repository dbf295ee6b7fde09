"""One side of spoiled pieces: a print that failed on a good board, or the other way round."""

from collections.abc import Sequence
from dataclasses import replace

from namebatch.errors import RemakeError
from namebatch.sheet import Stock
from namebatch.sheet.model import PlacedFace


def only_faces(stocks: Sequence[Stock], faces: Sequence[PlacedFace]) -> tuple[Stock, ...]:
    """What is filled when some faces only are made again.

    Args:
        stocks: of the whole piece.
        faces: which of them; all if empty.

    Raises:
        RemakeError: the template has no such face.
    """
    there = [face for stock in stocks for face in stock.faces]
    lacking = [face for face in dict.fromkeys(faces) if face not in there]
    if lacking:
        raise RemakeError(
            f"Pieces of this template have no {' and no '.join(lacking)} of their own. They have: "
            f"{', '.join(there)}."
        )
    if not faces:
        return tuple(stocks)
    kept = [(stock, tuple(face for face in stock.faces if face in faces)) for stock in stocks]
    return tuple(replace(stock, faces=some) for stock, some in kept if some)
