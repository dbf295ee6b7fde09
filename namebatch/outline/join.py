"""Loose parts of a welded outline become one: bars between cores. Lengths in mm."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import MultiPolygon, Polygon

from namebatch.outline.bars import HOLE_MARGIN_MM, Ground, add_bars, bridges_of, ground_of
from namebatch.outline.choice import candidates, tree
from namebatch.outline.cores import (
    ERODE_MARGIN_MM,
    VERIFY_MARGIN_MM,
    Cores,
    areas_of,
    cores_of,
)
from namebatch.outline.edged import edged
from namebatch.outline.links import links, thickened
from namebatch.outline.model import Bridge, Letter

ROUNDS = 4


@dataclass(frozen=True, slots=True)
class Joined:
    """A shape after joining.

    Attributes:
        shape: the parts with their bars; one polygon if all could be joined.
        bridges: bars between parts that were apart.
    """

    shape: Polygon | MultiPolygon
    bridges: tuple[Bridge, ...]


def join_parts(
    shape: Polygon | MultiPolygon,
    width_mm: float,
    letters: Sequence[Letter],
    keep_open: MultiPolygon,
    slant: float | None = None,
) -> Joined:
    """Join loose parts by bars, and strengthen strokes of a part that part at full width.

    Marks join their own letter; the bars of all marks of a name run alike, upright or with
    the slant, and those between letters level, unless another way is much shorter. Where it
    cannot be done the parts stay apart.

    Args:
        shape: base and letters, united; valid.
        width_mm: nothing that is added is narrower.
        letters: ink of each letter as it stands in the shape.
        keep_open: holes of the template, cut out of the shape already.
        slant: lean of the typeface in degrees to the right of upright; taken from the letters
            if None.
    """
    bridges: list[Bridge] = []
    # what is added holds by construction; later rounds look for places that are wide enough by
    # next to nothing and show only at the width that will be checked
    for margin in (ERODE_MARGIN_MM, *[VERIFY_MARGIN_MM] * ROUNDS):
        cores = None if _is_one(shape, width_mm, margin) else cores_of(shape, width_mm, margin)
        if cores is None or len(cores.cores) <= 1:
            if margin == VERIFY_MARGIN_MM:
                break
            continue
        added, made = _round(cores, width_mm, letters, keep_open, slant)
        if not added:
            break
        shape = add_bars(shape, added)
        bridges += made
    return Joined(_plain(shape), tuple(bridges))


def _is_one(shape: Polygon | MultiPolygon, width_mm: float, margin_mm: float) -> bool:
    """True if a shape plainly has one core, because it has no neck that an erosion would part."""
    if not isinstance(shape, Polygon):
        return False
    return not edged(shape).necks(2 * (width_mm / 2 + margin_mm)).shape[0]


def _plain(shape: Polygon | MultiPolygon) -> Polygon | MultiPolygon:
    """A single part as a polygon."""
    if isinstance(shape, Polygon):
        return shape
    parts = areas_of(shape)
    return parts[0] if len(parts) == 1 else shape


def _round(
    cores: Cores,
    width_mm: float,
    letters: Sequence[Letter],
    keep_open: MultiPolygon,
    slant: float | None,
) -> tuple[list[Polygon], tuple[Bridge, ...]]:
    """What one round adds: strokes made wider within parts, bars between them."""
    ground = ground_of(cores, keep_open, width_mm / 2)
    added = _strengthened(cores, ground, width_mm)
    made: tuple[Bridge, ...] = ()
    if len(cores.parts) > 1:
        bars = candidates(ground, letters, slant)
        made = bridges_of(tree(bars, cores.part), width_mm)
    return added + [bar.shape for bar in made], made


def _strengthened(cores: Cores, ground: Ground, width_mm: float) -> list[Polygon]:
    """Strokes of the least width between cores of one part."""
    added: list[Polygon] = []
    number, counts = np.unique(cores.part, return_counts=True)
    for part in number[counts > 1]:
        lines = links(cores.parts[part], cores.cores[cores.part == part], width_mm)
        if ground.keep_open is not None:
            near_hole = shapely.dwithin(lines, ground.keep_open, ground.half_mm + HOLE_MARGIN_MM)
            lines = [line for line, near in zip(lines, near_hole, strict=True) if not near]
        added += thickened(lines, width_mm)
    return added
