"""The whole job as its papers and its manifest need it, from what is known of its sections.

Its pieces and sheets are stand-ins: they have lines, orders, counts and times, and no geometry.
What can only be said by geometry was found out section by section (`facts`).
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from math import ceil
from typing import Final, cast

from shapely import Polygon, box

from namebatch.job import Job
from namebatch.names.row import Row
from namebatch.output.smallparts import SmallParts, of_all
from namebatch.piece import Part, Piece, Proof
from namebatch.pipeline import Plan, check_total, refuse_without_room, whole_job
from namebatch.sections.facts import Facts, Made, Need, SheetFacts, grown_room_mm2, largest_mm
from namebatch.sheet import Stock
from namebatch.sheet.bounds import SURE, Bounds
from namebatch.sheet.model import CutPath, Operation, PlacedFace, Placement, Sheet

_PROOF: Final = Proof(1, 0.0, None, 0.0, 0, None)
_ONE: Final = Polygon()
_OTHER: Final = box(0.0, 0.0, 1.0, 1.0)
"""Two outlines that differ: papers ask no more than whether all are alike."""


@dataclass(frozen=True, slots=True)
class Gathered:
    """The whole job with stand-ins, and the small-parts test of its pieces (None without any)."""

    job: Job
    small: SmallParts | None


def gathered(plan: Plan, facts: Iterable[Facts]) -> Gathered:
    """Put together what is known of the sections.

    Args:
        plan: of the whole job.
        facts: of all sections, in their order.

    Raises:
        SheetError: every row lacks room on a sheet.
        SettingsError: with their spares there are too many pieces.
    """
    parts = tuple(facts)
    found = {line: told for part in parts for line, told in part.found.items()}
    rows = tuple(
        replace(row, findings=found[row.line]) if row.line in found else row for row in plan.rows
    )
    refuse_without_room([why for part in parts for why in part.lacking], len(rows))
    alike = len({part.alike for part in parts if part.made}) <= 1
    alike = alike and all(part.alike for part in parts if part.made)
    pieces = _pieces(rows, {one.line: one for part in parts for one in part.made}, alike)
    check_total(sum(piece.copies for piece in pieces))
    sheets = [sheet for part in parts for sheet in part.sheets]
    heights = [height for part in parts for height in part.heights or ()]
    job = whole_job(
        plan,
        rows,
        pieces,
        tuple(_sheet(s) for kind in ("face", "board") for s in sheets if s.kind == kind),
        bounds_of(plan.filled, [part.needs for part in parts]),
        (min(heights), max(heights)) if heights else None,
    )
    small = [part.small for part in parts if part.small is not None]
    return Gathered(job, of_all(small) if small else None)


def bounds_of(stocks: Sequence[Stock], needs: Sequence[Sequence[Need]]) -> tuple[Bounds, ...]:
    """How few sheets of each stock the whole job could need, however it is arranged.

    Areas add up, and so do pieces that are too large for two on a sheet; what one section needs
    the whole needs. A sum of the sections' bounds would be too much: two last sheets that are
    half empty may be one.

    Args:
        stocks: that are filled.
        needs: of each section, by the stocks.
    """
    found: list[Bounds] = []
    for place, stock in enumerate(stocks):
        own = [some[place] for some in needs]
        width, height = largest_mm(stock)
        area = ceil(sum(one.area for one in own) / (width * height) - SURE)
        grown = ceil(sum(one.grown for one in own) / grown_room_mm2(stock) - SURE)
        # with part-used boards a later section was not offered all boards that the whole has
        most = 0 if stock.leftovers else max((one.sheets for one in own), default=0)
        found.append(Bounds(area, max(area, grown, most, sum(one.large for one in own))))
    return tuple(found)


def _pieces(rows: Sequence[Row], made: Mapping[int, Made], alike: bool) -> tuple[Piece, ...]:
    """Stand-ins in list order; unless all are alike, the last one's outline is another."""
    pieces = [_piece(row, made[row.line], _ONE) for row in rows if row.line in made]
    if pieces and not alike:
        last = next(row for row in reversed(rows) if row.line in made)
        pieces[-1] = _piece(last, made[last.line], _OTHER)
        first = rows[[row.line in made for row in rows].index(True)]
        if len(pieces) == 1 and made[first.line].parts:
            pieces[-1] = replace(pieces[-1], parts=(Part(_ONE, _PROOF), *pieces[-1].parts[1:]))
    return tuple(pieces)


def _piece(row: Row, made: Made, outline: Polygon) -> Piece:
    return Piece(
        line=row.line,
        copies=made.copies,
        text=row.fields,
        outline=outline,
        letterings=(),
        proof=_PROOF,
        findings=row.findings,
        order=row.order,
        spares=made.spares,
        parts=(Part(outline, _PROOF),) * made.parts,
    )


def _sheet(facts: SheetFacts) -> Sheet:
    """A stand-in: as many placements as there are, one line for each operation."""
    places = tuple(
        place
        for face, count in facts.faces.items()
        for place in (Placement("", cast(PlacedFace, face), 0.0, 0.0, 0.0, False),) * count
    )
    return Sheet(
        id=facts.id,
        kind="face" if facts.kind == "face" else "board",
        material=facts.material,
        size_mm=facts.size_mm,
        usable_mm=facts.usable_mm,
        frame_mm=facts.frame_mm,
        gap_mm=facts.gap_mm,
        fill=facts.fill,
        placements=places,
        cuts=tuple(CutPath(cast(Operation, one), "", ()) for one in facts.operations),
        cut_length_mm=facts.cut_length_mm,
        travel_mm=facts.travel_mm,
        seconds=facts.seconds,
        part_used=facts.part_used,
        backs=facts.backs,
    )
