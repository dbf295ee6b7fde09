"""The proof that pieces made again are those of the first job: every measure is compared."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from namebatch.finding import is_held
from namebatch.names.row import Row
from namebatch.output.docpage import counted
from namebatch.piece import Piece
from namebatch.remake.record import PieceRecord

MEASURE_MM = 0.0005
"""Lengths in the manifest have four decimals."""
AREA_MM2 = 0.001


@dataclass(frozen=True, slots=True)
class _Measure:
    name: str
    was: object
    now: object
    same: bool


def differences(
    rows: Sequence[Row], pieces: Sequence[Piece], first: Iterable[PieceRecord]
) -> tuple[str, ...]:
    """What is not as it was, one sentence a row.

    Args:
        rows: with all that was found in making them.
        pieces: those that were made.
        first: what was measured in the first job, of a piece in parts one for each part.

    Returns:
        Nothing if every row was made and every piece says and measures the same.
    """
    told: list[str] = []
    by_line = {piece.line: piece for piece in pieces}
    was: dict[tuple[int, int], list[PieceRecord]] = {}
    for record in first:
        was.setdefault((record.line, record.copy_number), []).append(record)
    for row in rows:
        piece = by_line.get(row.line)
        if piece is None:
            held = next((f.message for f in row.findings if is_held([f])), row.where)
            told.append(f"it cannot be made now. {held}")
            continue
        told += _of_piece(piece, was.get((row.line, piece.numbers[0]), []))[:1]
    return tuple(told)


def _of_piece(piece: Piece, was: Sequence[PieceRecord]) -> list[str]:
    """What is not as it was, of the piece or part by part."""
    if [part.ids[0] for part in piece.cut] != [record.id for record in was]:
        was_in, is_in = counted(len(was), "part"), counted(len(piece.cut), "part")
        return [
            f"{piece.ids[0]} was cut in {was_in} and is in {is_in} now; take sheets of that size "
            "again."
        ]
    return [
        f"{record.id}: {measure.name} was {measure.was} and is {measure.now}."
        for part, record in zip(piece.cut, was, strict=True)
        for measure in _measures(part, record)
        if not measure.same
    ]


def _measures(piece: Piece, was: PieceRecord) -> Iterator[_Measure]:
    """Words and measures of a piece beside those of the first one."""
    proof = piece.proof
    text = {box: str(said) for box, said in was.text.items()}
    now = dict(piece.text)
    yield _Measure("the text", " · ".join(text.values()), " · ".join(now.values()), text == now)
    yield _length("the width", was.size_mm[0], piece.size_mm[0])
    yield _length("the height", was.size_mm[1], piece.size_mm[1])
    yield _length("the narrowest place", was.narrowest_mm, proof.narrowest_mm)
    heights = {lettering.box: lettering.height_mm for lettering in piece.letterings}
    for box in sorted({*heights, *was.text_heights_mm}):
        yield _length(
            f'the text height of "{box}"',
            was.text_heights_mm.get(box, 0.0),
            heights.get(box, 0.0),
        )
    area = piece.outline.area
    yield _Measure(
        "the area",
        f"{was.area_mm2:.3f} mm²",
        f"{area:.3f} mm²",
        abs(area - was.area_mm2) <= AREA_MM2,
    )
    for name, before, after in (
        ("the number of bridges", was.bridges, proof.bridges),
        ("the number of parts", was.parts, proof.parts),
    ):
        yield _Measure(name, before, after, before == after)


def _length(name: str, was: float, now: float) -> _Measure:
    return _Measure(name, f"{was:.4f} mm", f"{now:.4f} mm", abs(was - now) <= MEASURE_MM)
