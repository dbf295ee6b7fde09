"""Cut files read back: what was written is what is read."""

import pytest

from namebatch.errors import MeasureError
from namebatch.measured.cutreader import Drawing, read_cut_dxf, read_cut_svg
from namebatch.outline.arc_shape import along_ring
from namebatch.output.cutdxf import cut_dxf
from namebatch.output.cutsvg import cut_svg
from namebatch.sheet.model import RUN_ORDER, CutPath
from tests.measured.jobfolder import CIRCLE, SLANT
from tests.output import jobs

FACED, BARE = jobs.faced_job().sheets[0], jobs.bare_job().sheets[0]
CASES = [(FACED.cuts, FACED.size_mm), (BARE.cuts, BARE.size_mm), ((CIRCLE, SLANT), (100.0, 80.0))]


def back(cuts: tuple[CutPath, ...], size: tuple[float, float], kind: str) -> Drawing:
    """Written and read again."""
    if kind == "svg":
        return read_cut_svg(cut_svg(cuts, size, jobs.COLOURS), "x.svg", size[1])
    return read_cut_dxf(cut_dxf(cuts, size, jobs.COLOURS), "x.dxf")


def place_of(cut: CutPath) -> tuple[str, str, float, float]:
    """What tells a line from all others: what and whose it is, and its leftmost point."""
    x, y = min((round(x, 2), round(y, 2)) for x, y in cut.points)
    return cut.operation, cut.owner, x, y


@pytest.mark.parametrize("kind", ["svg", "dxf"])
@pytest.mark.parametrize(("cuts", "size"), CASES)
def test_a_cut_file_is_read_as_it_was_drawn(
    cuts: tuple[CutPath, ...], size: tuple[float, float], kind: str
) -> None:
    """Operations, owners, colours; every line within 0.0002 mm. Engraved rings may be turned."""
    found = back(cuts, size, kind)
    assert [(c.operation, c.owner, c.filled) for c in found.cuts] == [
        (c.operation, c.owner, c.filled)
        for c in sorted(cuts, key=lambda c: RUN_ORDER.index(c.operation))
    ]
    by_place = {place_of(cut): cut for cut in cuts}
    assert len(by_place) == len(cuts)
    for cut in found.cuts:
        true = by_place[place_of(cut)]
        one = along_ring(cut.points, cut.bulges)
        other = along_ring(true.points, true.bulges)
        assert (*one.min(axis=0), *one.max(axis=0)) == pytest.approx(
            (*other.min(axis=0), *other.max(axis=0)), abs=2e-4
        )
        if not cut.filled:
            assert len(cut.points) == len(true.points)
            assert cut.bulges == pytest.approx(true.bulges, abs=1e-4)
    assert found.colours == {c.operation: jobs.COLOURS[c.operation] for c in cuts}


@pytest.mark.parametrize("kind", ["svg", "dxf"])
@pytest.mark.parametrize(("cuts", "size"), CASES)
def test_written_again_it_is_the_same_file(
    cuts: tuple[CutPath, ...], size: tuple[float, float], kind: str
) -> None:
    """Reading and writing changes nothing, so that an aligned file differs by its map alone."""
    writer = cut_svg if kind == "svg" else cut_dxf
    once = writer(cuts, size, jobs.COLOURS)
    found = back(cuts, size, kind)
    assert writer(found.cuts, size, found.colours) == once


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"<svg",
        b'<svg xmlns="http://www.w3.org/2000/svg"><g id="elsewhere"/></svg>',
        b'<!DOCTYPE x [<!ENTITY a "b">]><svg xmlns="http://www.w3.org/2000/svg"/>',
        *(
            b'<svg xmlns="http://www.w3.org/2000/svg"><g id="op-outer"><g id="a"><path d="'
            + d
            + b'"/></g></g></svg>'
            for d in (b"M0,0L1,1", b"M0,0C1,1 2,2 3,3Z", b"M0,0L1Z", b"m0,0L1,1Z", b"M0,0LxZ")
        ),
    ],
)
def test_another_drawing_is_refused(data: bytes) -> None:
    """Broken XML, declared entities, other groups, other path commands."""
    with pytest.raises(MeasureError, match=r"cut/a\.svg is not a cut file of this program"):
        read_cut_svg(data, "cut/a.svg", 100.0)


@pytest.mark.parametrize("data", [b"", b"\xff\xfe", b"0\nSECTION\n"])
def test_another_dxf_is_refused(data: bytes) -> None:
    """An empty file, no text, a torn file."""
    with pytest.raises(MeasureError, match=r"cut/a\.dxf is not a cut file of this program"):
        read_cut_dxf(data, "cut/a.dxf")
