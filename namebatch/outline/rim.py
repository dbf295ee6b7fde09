"""The outline of a board that stands out of its print all round, or is smaller than it. mm.

Only the outer line moves. Holes and windows are the same in print and board, so that a cord, a
ring or a pin goes through both.
"""

from dataclasses import dataclass
from functools import lru_cache

import shapely
from shapely import MultiPolygon, Polygon

from namebatch.finding import Finding, hold, is_held, warn
from namebatch.outline.contour import quarter_chords
from namebatch.outline.finish import finish
from namebatch.outline.gaps import close_gaps
from namebatch.outline.model import Limits, Order
from namebatch.outline.necks import Neck

MITRE_LIMIT = 1.5
"""A pointed corner moves at most so many rims: right angles stay, sharper ones are cut off."""
SIMPLER_MM = 0.001


@dataclass(frozen=True, slots=True)
class Board:
    """A board's outline with what was measured on it.

    Attributes:
        shape: valid and one part unless a finding holds it.
        neck: its narrowest place.
        findings: holds when the board must not be cut.
        required_mm: least width that its material asks for.
    """

    shape: Polygon
    neck: Neck
    findings: tuple[Finding, ...]
    required_mm: float = 0.0


@dataclass(frozen=True, slots=True)
class Rim:
    """What is asked of a board.

    Attributes:
        rim_mm: how far it stands out of the print, below 0 if it is smaller.
        pointed: corners stay corners, up to `MITRE_LIMIT`; else they are rounded by the rim, and
            the distance is the same everywhere.
        print_kerf_mm: width of the cut in the print, which keeps what is left at the end of a
            notch that no beam comes to.
    """

    rim_mm: float
    pointed: bool
    print_kerf_mm: float = 0.0


def with_rim(outline: Polygon, rim: Rim) -> Polygon | MultiPolygon:
    """An outline with its outer line moved and its holes left as they are.

    Args:
        outline: valid, one part.
        rim: how far and how.

    Returns:
        Several parts, or nothing, where too much was taken off.
    """
    whole, by = Polygon(outline.exterior), rim.rim_mm
    if by < 0.0 and rim.print_kerf_mm > 0.0:
        # a smaller board would widen what is left of the print at the end of a notch
        whole = shapely.buffer(whole, rim.print_kerf_mm / 2)
        whole = Polygon(whole.exterior).buffer(-rim.print_kerf_mm / 2)
    if rim.pointed:
        moved = shapely.buffer(whole, by, join_style="mitre", mitre_limit=MITRE_LIMIT)
    else:
        moved = shapely.buffer(whole, by, quad_segs=quarter_chords(abs(by)))
    if by > 0.0 and isinstance(moved, Polygon):
        moved = Polygon(moved.exterior)  # a bay that closed is under the print, or nearly
    moved = shapely.simplify(moved, SIMPLER_MM)
    holes = MultiPolygon([Polygon(ring) for ring in outline.interiors])
    return shapely.normalize(shapely.difference(moved, holes))


def board_for(outline: Polygon, rim: Rim, limits: Limits) -> Board:
    """The outline of the board below a print, proved by itself.

    Args:
        outline: of the print.
        rim: how far the board stands out of it.
        limits: what the board's material and its kerf ask for.
    """
    return _board(shapely.to_wkb(outline), rim, limits)


@lru_cache(maxsize=256)
def _board(wkb: bytes, rim: Rim, limits: Limits) -> Board:
    """Pieces with the same print share one shape, so that its cut lines are found once."""
    outline = shapely.from_wkb(wkb)
    moved, rim_mm = with_rim(outline, rim), rim.rim_mm
    parts = [
        part for part in shapely.get_parts(moved) if isinstance(part, Polygon) and part.area > 0
    ]
    if len(parts) != 1:
        return _refused(_in_parts(len(parts), rim_mm))
    if len(parts[0].interiors) != len(outline.interiors):
        return _refused(_open_hole(rim_mm))
    shape, _ = close_gaps(parts[0], limits.kerf_mm)
    measured = finish(Order("base", shape, limits))
    told = tuple(_of_board(finding, measured.neck, rim_mm, limits) for finding in measured.findings)
    return Board(measured.shape, measured.neck, told, limits.required_mm)


def said(rim_mm: float) -> str:
    """How the board differs from its print, for the middle of a sentence."""
    return f"{abs(rim_mm):g} mm {'larger' if rim_mm > 0 else 'smaller'} all round than the print"


def _refused(finding: Finding) -> Board:
    return Board(Polygon(), Neck(0.0, None), (finding,))


def _in_parts(count: int, rim_mm: float) -> Finding:
    falls = f"falls into {count} parts" if count else "leaves nothing to cut"
    return hold(
        "board-in-parts",
        f"The board, {said(rim_mm)}, {falls}. Bring rim_mm of the template nearer to 0, or choose "
        "a heavier typeface.",
    )


def _open_hole(rim_mm: float) -> Finding:
    return hold(
        "board-hole-open",
        f"The board is {said(rim_mm)}, and a hole comes out at its edge. Bring rim_mm of the "
        "template nearer to 0, or move the hole inwards.",
    )


def _of_board(finding: Finding, neck: Neck, rim_mm: float, limits: Limits) -> Finding:
    """A finding on the board, told as one: the print itself may be sound."""
    if finding.code == "too-narrow":
        x, y = neck.at or (0.0, 0.0)
        where = f" at x {x:.1f}, y {y:.1f} mm" if neck.at else ""
        return hold(
            "board-too-narrow",
            f"The board, {said(rim_mm)}, is only {neck.width_mm:.2f} mm wide{where}; its material "
            f"needs {limits.required_mm:g} mm. Change rim_mm of the template, move the hole, or "
            "choose a heavier typeface.",
        )
    told = hold if is_held([finding]) else warn
    return told(f"board-{finding.code}", f"The board, {said(rim_mm)}: {finding.message}")
