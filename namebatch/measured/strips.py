"""The cutter's test: strips to lay together and slots, in both directions, without kerf. mm."""

from dataclasses import dataclass
from typing import Final

from namebatch.curves import Point
from namebatch.errors import MeasureError
from namebatch.sheet.model import CutPath, Operation

FORM: Final = "kerf-test.csv"
STEM: Final = "kerf-test"
LINES: Final = 3
_EDGE_MM: Final = 5.0
_APART_MM: Final = 3.0
"""Between parts, so that every part has a cut of its own round it."""
_CLIPPED: Final = 0.4
"""Of a strip's width: the corner that tells strips for y."""
_SIZES: Final = ((10, 10.0, 40.0, 3), (10, 6.0, 30.0, 3), (6, 6.0, 22.0, 1))
"""Strips, their width and length, slots in each direction."""


@dataclass(frozen=True, slots=True)
class KerfTest:
    """A test piece.

    Attributes:
        strips: how many in each direction.
        width_mm: of a strip and of a slot.
        size_mm: of the drawing.
        cuts: slots before what they are in.
    """

    strips: int
    width_mm: float
    size_mm: tuple[float, float]
    cuts: tuple[CutPath, ...]


def kerf_test(room_mm: tuple[float, float]) -> KerfTest:
    """The largest test that has room.

    Args:
        room_mm: width and height of what can be cut from.

    Raises:
        MeasureError: there is no room for the smallest.
    """
    for strips, width, length, slots in _SIZES:
        test = _drawn(strips, width, length, slots)
        if test.size_mm[0] <= room_mm[0] and test.size_mm[1] <= room_mm[1]:
            return test
    raise MeasureError(
        f"The kerf test needs {test.size_mm[0]:g} × {test.size_mm[1]:g} mm; the material and the "
        f"cutter's bed leave {room_mm[0]:g} × {room_mm[1]:g} mm."
    )


def kerf_form(test: KerfTest) -> bytes:
    """The table to fill in, as CSV."""
    lines = ["place,count,nominal_mm,mm"]
    for axis in "xy":
        lines += [f"{axis}-strips,{test.strips},{test.width_mm:g},"] * LINES
    for axis in "xy":
        lines += [f"{axis}-slot,1,{test.width_mm:g},"] * LINES
    return ("\r\n".join(lines) + "\r\n").encode()


def _drawn(strips: int, width: float, length: float, slots: int) -> KerfTest:
    """Strips for x below, those for y at the right with a corner off, the plate above."""
    pitch = width + _APART_MM
    row = strips * pitch - _APART_MM
    x0 = y0 = _EDGE_MM
    right = x0 + row + _APART_MM
    cuts: list[CutPath] = []
    for index in range(strips):
        level = (x0 + index * pitch, y0, width, length)
        cuts.append(_line("outer", f"x-strip-{index + 1}", _box(level)))
    for index in range(strips):
        upright = (right, y0 + index * pitch, length, width)
        cuts.append(_line("outer", f"y-strip-{index + 1}", _clipped(upright, _CLIPPED * width)))
    plate = _plate((x0, y0 + length + _APART_MM), width, slots)
    size = (right + length + _EDGE_MM, y0 + row + _EDGE_MM)
    return KerfTest(strips, width, size, (*plate, *cuts))


def _plate(corner: Point, width: float, slots: int) -> list[CutPath]:
    """A plate with upright slots for x and level ones for y; its bottom left corner is off.

    Walls are as wide as the slots, which are twice as long.
    """
    wall, slot = width, 2.0 * width
    wide = slots * (width + wall) + wall + slot + wall
    high = max(slots * (width + wall) + wall, slot + 2 * wall)
    x, y = corner
    cuts = []
    for index in range(slots):
        upright = (x + wall + index * (width + wall), y + (high - slot) / 2, width, slot)
        cuts.append(_line("inner", f"x-slot-{index + 1}", _box(upright)))
    right = x + wall + slots * (width + wall)
    low = y + (high - slots * (width + wall) + wall) / 2
    for index in range(slots):
        level = (right, low + index * (width + wall), slot, width)
        cuts.append(_line("inner", f"y-slot-{index + 1}", _box(level)))
    cuts.append(_line("outer", "plate", _clipped((x, y, wide, high), _CLIPPED * width)))
    return cuts


def _line(operation: Operation, owner: str, points: tuple[Point, ...]) -> CutPath:
    return CutPath(operation, owner, tuple((round(x, 4), round(y, 4)) for x, y in points))


def _box(rect: tuple[float, float, float, float]) -> tuple[Point, ...]:
    x, y, width, height = rect
    return ((x, y), (x + width, y), (x + width, y + height), (x, y + height))


def _clipped(rect: tuple[float, float, float, float], off: float) -> tuple[Point, ...]:
    """A rectangle without its bottom left corner."""
    x, y = rect[:2]
    return ((x + off, y), *_box(rect)[1:], (x, y + off))
