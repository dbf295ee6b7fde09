"""Remaking everything gives the first job's geometry; remaking some gives that of those."""

from pathlib import Path

import pytest
import shapely
from shapely import Polygon, affinity

from namebatch.measured.cutreader import read_cut_svg
from namebatch.outline.arc_shape import along_ring
from namebatch.piece import Piece
from namebatch.sheet.model import Placement
from tests.remake import jobs
from tests.remake.jobs import First

SAME_MM = 0.0005
"""Half a unit of the third decimal; cut files have four."""
KINDS = {
    "base": ("bag-tag", 4),
    "weld": ("line-winder", 4),
    "contour of a trace, found hole": ("ornament", 4),
    "open": ("stencil-plate", 4),
    "engraved, along a line": ("kite-tag", 4),
    "on arcs": ("medal", 4),
    "printed, colours by row": ("place-card", 4),
}


@pytest.fixture(scope="module", params=KINDS)
def first(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> First:
    """A job of each kind."""
    name, rows = KINDS[request.param]
    return jobs.first_job(tmp_path_factory.mktemp(name), jobs.example(name, rows), name)


def _same(one: Piece, other: Piece) -> bool:
    return (
        bytes(shapely.to_wkb(one.outline)) == bytes(shapely.to_wkb(other.outline))
        and one.letterings == other.letterings
        and one.proof == other.proof
        and one.findings == other.findings
        and one.bridges == other.bridges
    )


def test_everything_again_is_everything_as_it_was(first: First, tmp_path: Path) -> None:
    """Outlines, letterings and measures are equal to the bit, and so are the cut files."""
    job = jobs.written(first, 901, *first.ids)
    assert [piece.ids for piece in job.pieces] == [piece.ids for piece in first.job.pieces]
    assert all(map(_same, job.pieces, first.job.pieces))
    assert [sheet.placements for sheet in job.sheets] == [
        sheet.placements for sheet in first.job.sheets
    ]
    for now, was in zip(job.sheets, first.job.sheets, strict=True):
        assert now.id != was.id
        for suffix in ("svg", "dxf"):
            made = first.folder / "remakes" / "901" / "cut" / f"{now.id}.{suffix}"
            assert made.read_bytes() == (first.folder / "cut" / f"{was.id}.{suffix}").read_bytes()


def test_some_again_are_cut_along_the_same_lines(first: First) -> None:
    """Rows made again have the first job's outlines, and its cut lines once both lie back."""
    lines = [piece.line for piece in first.job.pieces]
    job = jobs.written(first, 902, *(f"L{line}" for line in lines[1:]))
    for piece in job.pieces:
        assert _same(piece, next(p for p in first.job.pieces if p.line == piece.line))
    was, now = _lines(first.folder), _lines(first.folder / "remakes" / "902")
    compared = 0
    for key, rings in now.items():
        if key not in was:  # lies at another turn, where kerf and arcs are fitted anew
            continue
        assert len(rings) == len(was[key])
        for ring, other in zip(rings, was[key], strict=True):
            assert shapely.hausdorff_distance(ring, other) <= SAME_MM
            compared += 1
    assert compared >= 2


Key = tuple[str, str, float]


def _lines(folder: Path) -> dict[Key, list[Polygon]]:
    """Piece, face and turn → its inner and outer cut lines in its own coordinates, sorted."""
    found: dict[Key, list[Polygon]] = {}
    for entry in jobs.manifest(folder)["sheets"]:
        data = (folder / "cut" / f"{entry['id']}.svg").read_bytes()
        drawing = read_cut_svg(data, entry["id"], entry["size_mm"][1])
        places = {
            f"{p['piece']}.{p['face']}": Placement(
                p["piece"], p["face"], p["x_mm"], p["y_mm"], p["rotation_deg"], p["mirrored"]
            )
            for p in entry["placements"]
        }
        for cut in drawing.cuts:
            if cut.operation in ("inner", "outer"):
                place = places[cut.owner]
                ring = Polygon(along_ring(cut.points, cut.bulges, 0.0001))
                key = (place.piece, place.face, place.rotation_deg)
                found.setdefault(key, []).append(_back(ring, place))
    return {key: sorted(rings, key=_about) for key, rings in found.items()}


def _back(ring: Polygon, place: Placement) -> Polygon:
    """A ring of a sheet in the coordinates of its piece."""
    a, b, c, d, e, f = place.outline_affine
    det = a * d - b * c
    ia, ib, ic, id_ = d / det, -b / det, -c / det, a / det
    return affinity.affine_transform(
        ring, (ia, ic, ib, id_, -(ia * e + ic * f), -(ib * e + id_ * f))
    )


def _about(ring: Polygon) -> tuple[float, ...]:
    return tuple(round(value, 2) for value in ring.bounds)
