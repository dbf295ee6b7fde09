"""The small-parts test: which pieces may fit the cylinder that stands for a small child's throat.

The cylinder is 31.7 mm wide and 25.4 to 57.1 mm deep: 16 CFR 1501.4, EN 71-1 §8.2. A piece is told
of if its middle dimension is below 31.75 mm and its longest below 57.15 mm.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import MultiPolygon, Polygon

from namebatch.job import Job, some_of
from namebatch.outline.arrays import Floats
from namebatch.piece import Piece

SMALL_MIDDLE_MM, SMALL_LONGEST_MM = 31.75, 57.15
LIMITS = f"{SMALL_MIDDLE_MM:g} × {SMALL_LONGEST_MM:g} mm"
MOST_IDS = 12

Dimensions = tuple[float, float, float]
"""Least, middle and longest, mm."""


@dataclass(frozen=True, slots=True)
class SmallParts:
    """What the test gave.

    Attributes:
        pieces: those that may fit the cylinder.
        told: their ids in words; empty where there is none.
        smallest: the piece nearest to the cylinder with its three dimensions, in words:
            ``L4-1, is 3.4 × 28 × 41 mm``.
    """

    pieces: tuple[Piece, ...]
    told: str
    smallest: str


def thickness_mm(job: Job) -> float:
    """Thickness of a finished piece: prints, board, laminate and tape together.

    Left out is what has no known thickness: glue, tape without one, paper that is mounted before
    it is cut.
    """
    template, finish = job.template, job.template.finish
    materials = job.workshop.materials
    face, board = materials.get(template.material), materials.get(template.board or "")
    prints = len(template.faces) if template.build == "faced" or template.has_backs else 1
    # of a pair back to back one pouch holds both; film is laid on every printed side
    pouches = 1 if template.has_backs else prints
    sides = {"pouch": 2 * pouches, "film": prints, "none": 0}[finish.laminate]
    tapes = prints if finish.tape != "none" else 0
    return (
        (prints * face.thickness_mm if face else 0.0)
        + (board.thickness_mm if board else 0.0)
        + sides * finish.laminate_mm
        + tapes * (finish.tape_mm or 0.0)
    )


def dimensions_mm(piece: Piece, thickness: float) -> Dimensions:
    """Dimensions of the box round a piece that is most likely to fit the cylinder.

    Of all boxes with one side along the outline's hull those that pass the limits go first, then
    the narrowest (the least width of a hull is always square to one of its sides).
    """
    sides = _boxes(_whole(piece))
    boxes = np.sort(np.column_stack((sides, np.full(len(sides), thickness))), axis=1)
    fits = (boxes[:, 1] < SMALL_MIDDLE_MM) & (boxes[:, 2] < SMALL_LONGEST_MM)
    best = boxes[np.lexsort((boxes[:, 2], boxes[:, 1], ~fits))[0]]
    return float(best[0]), float(best[1]), float(best[2])


@dataclass(frozen=True, slots=True)
class SmallFound:
    """What the test gave for some of the pieces of a batch.

    Attributes:
        pieces: how many, copies counted.
        small: how many of them may fit the cylinder.
        ids: of the first of those, with their lines.
        smallest: line, id and dimensions of the piece nearest to the cylinder.
    """

    pieces: int
    small: int
    ids: tuple[tuple[int, str], ...]
    smallest: tuple[int, str, Dimensions]


def small_parts(job: Job) -> SmallParts:
    """The result of the test for all pieces of a job, of which there must be one."""
    found = _measured(job)
    small = tuple(piece for piece in job.pieces if _fits(found[piece.line]))
    return SmallParts(small, *_words([_tested(job, found)]))


def tested(job: Job) -> SmallFound:
    """The test of a part of a batch, in which there is a piece."""
    return _tested(job, _measured(job))


def of_all(parts: Sequence[SmallFound]) -> SmallParts:
    """The result for a batch from those of its parts; its pieces are not at hand."""
    return SmallParts((), *_words(parts))


def _tested(job: Job, found: Mapping[int, Dimensions]) -> SmallFound:
    small = [piece for piece in job.pieces if _fits(found[piece.line])]
    ids = [(piece.line, name) for piece in small for name in piece.ids]
    nearest = min(job.pieces, key=lambda piece: _nearness(found[piece.line]))
    return SmallFound(
        sum(piece.copies for piece in job.pieces),
        len(ids),
        tuple(ids[:MOST_IDS]),
        (nearest.line, nearest.ids[0], found[nearest.line]),
    )


def _nearness(dimensions: Dimensions) -> tuple[bool, float, float]:
    return (not _fits(dimensions), *dimensions[1:])


def _words(parts: Sequence[SmallFound]) -> tuple[str, str]:
    """Which pieces may fit the cylinder, empty where none does; the smallest."""
    count = sum(part.small for part in parts)
    ids = [name for _, name in sorted((one for part in parts for one in part.ids), key=_line)]
    told = some_of(ids[:MOST_IDS], MOST_IDS)
    told += f" and {count - MOST_IDS:,} more" if count > MOST_IDS else ""
    if count == sum(part.pieces for part in parts) and count > 1:
        told = f"All {count:,} pieces"
    nearest = min((part.smallest for part in parts), key=lambda one: (_nearness(one[2]), one[0]))
    sizes = " × ".join(f"{value:.2f}".rstrip("0").rstrip(".") for value in nearest[2])
    return told, f"{nearest[1]}, is {sizes} mm"


def _line(one: tuple[int, str]) -> int:
    return one[0]


def _measured(job: Job) -> dict[int, Dimensions]:
    """Line → dimensions; pieces that are alike are measured once."""
    thickness = thickness_mm(job)
    known: dict[bytes, Dimensions] = {}
    found: dict[int, Dimensions] = {}
    for piece in job.pieces:
        key = shapely.to_wkb(_whole(piece))
        if key not in known:
            known[key] = dimensions_mm(piece, thickness)
        found[piece.line] = known[key]
    return found


def _fits(dimensions: Dimensions) -> bool:
    """True if a piece of these dimensions may fit the cylinder."""
    return dimensions[1] < SMALL_MIDDLE_MM and dimensions[2] < SMALL_LONGEST_MM


def _whole(piece: Piece) -> Polygon | MultiPolygon:
    """The outline of a finished piece, its board with it where that stands out of the print."""
    if piece.board is None:
        return piece.outline
    return MultiPolygon([piece.outline, piece.board.outline])


def _boxes(outline: Polygon | MultiPolygon) -> Floats:
    """Width and height of every rectangle round an outline that has a side along its hull."""
    corners = shapely.get_coordinates(shapely.convex_hull(outline))[:-1]
    way = np.roll(corners, -1, axis=0) - corners
    length = np.hypot(way[:, 0], way[:, 1])
    along = way[length > 0] / length[length > 0, None]
    across = along[:, ::-1] * (-1.0, 1.0)
    return np.column_stack([np.ptp(axes @ corners.T, axis=1) for axes in (along, across)])
