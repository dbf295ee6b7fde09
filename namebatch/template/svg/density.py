"""How close the lines of a drawing lie: what is too close cannot be cut, nor looked through."""

from collections.abc import Sequence
from math import ceil

import numpy as np
from numpy.typing import NDArray

from namebatch.curves import Point

CELL_MM = 2.0
MOST_IN_CELL_MM = 20.0
"""Lines 0.2 mm apart, all over a cell: what stands between them is thinner than a common kerf."""
MOST_MM = 1_000_000.0
"""Of all lines together: a day of cutting at 12 mm/s."""
_STEP_MM = 1.0


def too_close(rings: Sequence[Sequence[Point]]) -> str:
    """Why lines are too many in too little room; empty if they are not.

    Args:
        rings: closed ones, in mm.
    """
    lines = [np.asarray([*ring, ring[0]], dtype=np.float64) for ring in rings if len(ring) > 1]
    if not lines:
        return ""
    starts = np.concatenate([line[:-1] for line in lines])
    steps = np.concatenate([np.diff(line, axis=0) for line in lines])
    lengths = np.hypot(steps[:, 0], steps[:, 1])
    if lengths.sum() > MOST_MM:
        return f"has {lengths.sum() / 1000:,.0f} m of lines; nobody cuts that, simplify it"
    return _crowded(starts, steps, lengths)


def _crowded(
    starts: NDArray[np.float64], steps: NDArray[np.float64], lengths: NDArray[np.float64]
) -> str:
    """The cell with most of the lines in it, if it holds too much."""
    parts = np.maximum(1, np.ceil(lengths / _STEP_MM)).astype(np.int64)
    which = np.repeat(np.arange(len(parts)), parts)
    place = np.arange(len(which)) - np.repeat(np.cumsum(parts) - parts, parts) + 0.5
    middles = starts[which] + steps[which] * (place / parts[which])[:, None]
    low = middles.min(axis=0)
    cells = ((middles - low) / CELL_MM).astype(np.int64)
    columns = ceil(float(np.ptp(middles[:, 0])) / CELL_MM) + 1
    keys, inverse = np.unique(cells[:, 1] * columns + cells[:, 0], return_inverse=True)
    sums = np.bincount(inverse, weights=(lengths / parts)[which])
    worst = int(sums.argmax())
    if sums[worst] <= MOST_IN_CELL_MM:
        return ""
    row, column = divmod(int(keys[worst]), columns)
    x, y = low[0] + (column + 0.5) * CELL_MM, low[1] + (row + 0.5) * CELL_MM
    return (
        f"has {sums[worst]:.0f} mm of lines within {CELL_MM:g} × {CELL_MM:g} mm about x {x:.1f}, "
        f"y {y:.1f} mm, closer than any cut; simplify it there"
    )
