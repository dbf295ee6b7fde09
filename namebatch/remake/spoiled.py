"""Which copies are to be made again: ids as people say them, or a file of such ids."""

import re
from collections.abc import Mapping, Sequence
from itertools import islice
from pathlib import Path
from typing import Final

from namebatch.errors import RemakeError
from namebatch.finding import Severity
from namebatch.names.characters import shown
from namebatch.names.decode import decode
from namebatch.ordinary import open_ordinary
from namebatch.remake.record import PieceRecord, Record, RowRecord
from namebatch.sheet.model import PlacedFace
from namebatch.template.problems import nearest

Copies = dict[int, tuple[int, ...]]
"""Line → numbers of its copies, both rising."""

_ID: Final = re.compile(r"[Ll](\d{1,9})(?:-(\d{1,9})(-\d{1,3})?)?", re.ASCII)
_OF_GROUP: Final = re.compile(r"(?i)(L\d{1,9}-[\d-]{1,13})\.(front|back|board)", re.ASCII)
"""As it stands in a cut file, with the face."""
_FACES: Final[tuple[PlacedFace, ...]] = ("front", "back", "board")
_APART: Final = re.compile(r"[,;\t]")
_MOST_BYTES: Final = 4 * 1024 * 1024
_TOLD: Final = 30


def ids_of_file(path: Path) -> tuple[str, ...]:
    """Piece ids of a text or CSV file, one a line; a first line without an id is its header.

    Ids are what stands first on a line, and whatever else on it looks like one; an id that is
    meant to be one and is not comes back as well, to be told.

    Raises:
        RemakeError: the file cannot be read, or there is no id in it.
    """
    name = shown(path.name, 200)
    try:
        with open_ordinary(path) as file:
            data = file.read(_MOST_BYTES + 1)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "its name cannot be used"
        raise RemakeError(f'"{name}" cannot be read: {reason}.') from error
    if len(data) > _MOST_BYTES or data.startswith(b"PK"):
        raise RemakeError(
            f'"{name}" is no list of piece ids. Save it as text or CSV, one id a line.'
        )
    lines = [line for line in decode(data, lambda _: False).text.splitlines() if line.strip()]
    rows = [[_bare(cell) for cell in _APART.split(line)] for line in lines]
    if rows and not any(map(_ID.fullmatch, rows[0])):
        rows = rows[1:]
    found = [_with_face(cell, row) for row in rows for k, cell in enumerate(row) if _meant(cell, k)]
    if not found:
        raise RemakeError(f'"{name}" holds no piece id. Write one a line, for example L14-2.')
    return tuple(found)


def _bare(cell: str) -> str:
    return cell.strip().strip("\"'").strip()


def _meant(cell: str, at: int) -> bool:
    """True for the first cell of a line that says something, and for ids behind it."""
    return bool(cell) and (at == 0 or _ID.fullmatch(cell) is not None)


def _with_face(cell: str, row: Sequence[str]) -> str:
    """An id, with the face that stands in another cell of its line."""
    face = next((one.lower() for one in row if one.lower() in _FACES), "")
    return f"{cell}.{face}" if face and _ID.fullmatch(cell) else cell


def said_faces(words: Sequence[str]) -> tuple[PlacedFace, ...]:
    """What of the pieces is meant where ids name faces, as they stand in a cut file.

    Raises:
        RemakeError: some ids name a face and others do not, or pieces differ in theirs.
    """
    faces: dict[str, set[str]] = {}
    for word in words:
        for part in filter(None, map(_bare, re.split(r"[,;\s]+", word))):
            group = _OF_GROUP.fullmatch(part)
            name = (group[1] if group else part).upper()
            faces.setdefault(name, set()).update({group[2].lower()} if group else set())
    sets = {frozenset(some) for some in faces.values()}
    if len(sets) > 1:
        raise RemakeError(
            "Of some of these pieces another face is named than of others, or none. Make one "
            "remake of those with the same faces, then the next."
        )
    named = sets.pop() if sets else frozenset[str]()
    return tuple(face for face in _FACES if face in named)


def wanted_copies(record: Record, words: Sequence[str]) -> Copies:
    """The copies that are meant.

    Args:
        record: of the first job.
        words: ``L14-2`` for a piece, ``L14`` for all copies of a line, spares included; several
            in one word with commas between. What is said twice counts once. A part,
            ``L14-2-1``, stands for the piece with all its parts.

    Raises:
        RemakeError: nothing is meant, or there is no such piece; all such words are told.
    """
    made: dict[int, list[PieceRecord]] = {}
    for piece in record.pieces:
        made.setdefault(piece.line, []).append(piece)
    rows = {row.line: row for row in record.rows}
    wanted: dict[int, set[int]] = {}
    unknown: dict[str, None] = {}
    said = said_ids(words)
    if not said:
        raise RemakeError("No piece is named. Give --piece L14-2, or --file with one id a line.")
    for word in said:
        meant = _ID.fullmatch(word)
        line = _line_of(word)
        copy = int(meant[2]) if meant and meant[2] else None
        numbers = set(_numbers(made.get(line, ()))) if line in rows else set()
        if meant and meant[3] and word.upper() not in {piece.id for piece in made.get(line, ())}:
            numbers = set()
        if numbers and (copy is None or copy in numbers):
            wanted.setdefault(line, set()).update(numbers if copy is None else {copy})
        else:
            unknown.setdefault(word)
    if unknown:
        told = dict.fromkeys(
            _told(word, rows.get(_line_of(word)), made, record.list.place)
            for word in islice(unknown, _TOLD)
        )
        more = [f"and {len(unknown) - _TOLD} more."] if len(unknown) > _TOLD else []
        raise RemakeError("Not all of these pieces were made.", [*told, *more])
    return {line: tuple(sorted(wanted[line])) for line in sorted(wanted)}


def _line_of(word: str) -> int:
    """The line that an id names; 0 for what is no id."""
    meant = _ID.fullmatch(word)
    return int(meant[1]) if meant else 0


def ids_of(copies: Mapping[int, Sequence[int]]) -> tuple[str, ...]:
    """Piece ids of copies, in list order."""
    return tuple(f"L{line}-{number}" for line, some in copies.items() for number in some)


def _numbers(pieces: Sequence[PieceRecord]) -> list[int]:
    """Numbers of the copies; a piece in parts stands there part by part."""
    return list(dict.fromkeys(piece.copy_number for piece in pieces))


def said_ids(words: Sequence[str]) -> list[str]:
    """Ids one by one, as they were said, without a face behind them."""
    found = []
    for word in words:
        for part in filter(None, map(_bare, re.split(r"[,;\s]+", word))):
            group = _OF_GROUP.fullmatch(part)
            found.append(group[1] if group else part)
    return found


def _told(
    word: str, row: RowRecord | None, made: Mapping[int, Sequence[PieceRecord]], place: str
) -> str:
    """What is wrong with an id."""
    name = f'"{shown(word)}"'
    if row is not None and row.status == "held":
        held = next((f for f in row.findings if f.finding.severity is Severity.HOLD), None)
        why = f" {shown(str(held.message), 300)}" if held else ""
        return f"{name} was never made.{why}"
    if row is not None and row.line in made:
        ids = [f"L{row.line}-{number}" for number in _numbers(made[row.line])]
        only = f"only {ids[0]}" if len(ids) == 1 else f"{ids[0]} to {ids[-1]}"
        return f"{name}: of {place.lower()} {row.line} there is {only}."
    known = [f"L{line}-{number}" for line, some in made.items() for number in _numbers(some)]
    guess = nearest(word, known)
    hint = f' Did you mean "{guess}"?' if guess else " Ids look like L14-2."
    return f"{name}: there is no such piece.{hint}"
