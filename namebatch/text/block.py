"""One or two set lines that are fitted as one."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import MultiPolygon

from namebatch.text.centring import middle_of
from namebatch.text.glyphs import as_multipolygon
from namebatch.text.leading import Standing, leading
from namebatch.text.setting import Bounds, Letter, Line, ink_and_letters, ink_of, letters_of


@dataclass(frozen=True, slots=True)
class Row:
    """A line in its block.

    Attributes:
        line: what is set.
        scale: block units to one unit of the line's leading face.
        x, y: its origin in the block.
        start: index of its first character in the whole text.
    """

    line: Line
    scale: float
    x: float
    y: float
    start: int


@dataclass(frozen=True, slots=True)
class Block:
    """Lines under each other, their capitals alike in height; the unit is that height.

    The first baseline is y = 0.

    Attributes:
        text: all of it, as it was to be set.
        rows: from the top.
        bounds: ink from x0, y0 to x1, y1.
        middle: x of what the eye takes for its middle.
    """

    text: str
    rows: tuple[Row, ...]
    bounds: Bounds
    middle: float

    @property
    def font(self) -> str:
        """Names of the faces that set it."""
        return " + ".join(dict.fromkeys(n for r in self.rows for n in r.line.font.split(" + ")))

    @property
    def lines(self) -> tuple[str, ...]:
        """What stands on each line, from the top."""
        starts = [row.start for row in self.rows]
        ends = [*starts[1:], len(self.text)]
        return tuple(self.text[a:b].strip() for a, b in zip(starts, ends, strict=True))

    def ink(self, height_mm: float, x: float, y: float) -> MultiPolygon:
        """The ink in mm with capitals of that height, first baseline at y, origin at x."""
        parts = [
            ink_of(r.line, height_mm * r.scale, x + r.x * height_mm, y + r.y * height_mm)
            for r in self.rows
        ]
        return parts[0] if len(parts) == 1 else as_multipolygon(shapely.union_all(parts))

    def letters(self, height_mm: float, x: float, y: float) -> tuple[Letter, ...]:
        """The ink cluster by cluster in text order; placed as by `ink`."""
        found: list[Letter] = []
        for row in self.rows:
            at = x + row.x * height_mm, y + row.y * height_mm
            found += _counted(letters_of(row.line, height_mm * row.scale, *at), row.start)
        return tuple(found)

    def ink_and_letters(
        self, height_mm: float, x: float, y: float
    ) -> tuple[MultiPolygon, tuple[Letter, ...]]:
        """What `ink` and `letters` give, placed once."""
        inks: list[MultiPolygon] = []
        found: list[Letter] = []
        for row in self.rows:
            at = x + row.x * height_mm, y + row.y * height_mm
            ink, letters = ink_and_letters(row.line, height_mm * row.scale, *at)
            inks.append(ink)
            found += _counted(letters, row.start)
        whole = inks[0] if len(inks) == 1 else as_multipolygon(shapely.union_all(inks))
        return whole, tuple(found)


def _counted(letters: Sequence[Letter], start: int) -> list[Letter]:
    """Letters of a line that begins at a character of the whole text."""
    return [Letter(letter.index + start, letter.text, letter.shape) for letter in letters]


def block_of(
    text: str, lines: Sequence[tuple[int, Line]], align: str, gap: float, optical: bool
) -> Block | None:
    """Lay lines under each other, so far apart that their ink keeps clear.

    Args:
        text: all of it.
        lines: index of the first character, and the line, from the top.
        align: ``left``, ``centre`` or ``right``.
        gap: from baseline to baseline, in capitals' heights; more where the ink would meet
            (`leading`).
        optical: the middle is that of the eye, not of the ink's extent.

    Returns:
        None if a line leaves no ink.
    """
    rows: list[Row] = []
    extents: list[Bounds] = []
    above: Standing | None = None
    y = 0.0
    for start, line in lines:
        if line.bounds is None:
            return None
        scale = 1.0 / line.face.cap_height
        x0, y0, x1, y1 = (value * scale for value in line.bounds)
        anchor = {"left": x0, "right": x1}.get(align)
        anchor = middle_of(line, optical) * scale if anchor is None else anchor
        here = Standing(line, scale, -anchor)
        y -= leading(above, here, gap) if above else 0.0
        above = here
        rows.append(Row(line, scale, -anchor, y, start))
        extents.append((x0 - anchor, y0 + y, x1 - anchor, y1 + y))
    low = np.min(extents, axis=0)
    high = np.max(extents, axis=0)
    bounds = (float(low[0]), float(low[1]), float(high[2]), float(high[3]))
    middle = 0.0 if align == "centre" else (bounds[0] + bounds[2]) / 2
    return Block(text, tuple(rows), bounds, middle)
