"""Cut DXF, read back by ezdxf and, independently of it, by GDAL."""

from collections.abc import Iterator
from io import StringIO
from pathlib import Path

import ezdxf
import numpy as np
import pyogrio
import pytest
from ezdxf.document import Drawing
from ezdxf.entities.lwpolyline import LWPolyline

from namebatch.job import Job
from namebatch.output.cutdxf import APPLICATION, cut_dxf
from namebatch.output.cutsvg import cut_svg
from namebatch.sheet.model import CutPath, Sheet
from tests.output import jobs
from tests.output.readers import svg_bounds

SHEETS = (*jobs.faced_job().sheets, *jobs.bare_job().sheets)


def read(sheet: Sheet) -> Drawing:
    """A sheet's cut DXF, read again."""
    text = cut_dxf(sheet.cuts, sheet.size_mm, jobs.COLOURS).decode("utf-8")
    return ezdxf.read(StringIO(text))  # type: ignore[attr-defined]


def lines(document: Drawing) -> Iterator[tuple[str, str, LWPolyline]]:
    """Layer, owner and polyline of everything drawn."""
    for entity in document.modelspace():
        assert isinstance(entity, LWPolyline)
        (tag,) = entity.get_xdata(APPLICATION)
        yield entity.dxf.layer, tag.value, entity


@pytest.mark.parametrize("sheet", SHEETS, ids=lambda sheet: sheet.id)
def test_the_audit_finds_nothing(sheet: Sheet) -> None:
    """Version R2010 in millimetres, and a file without a single complaint."""
    document = read(sheet)
    assert document.dxfversion == "AC1024"
    assert document.header["$INSUNITS"] == 4  # millimetres, DXF reference
    audit = document.audit()
    assert not audit.errors
    assert not audit.fixes


@pytest.mark.parametrize("sheet", SHEETS, ids=lambda sheet: sheet.id)
def test_every_line_is_closed_and_as_given(sheet: Sheet) -> None:
    """Layer, owner and points of each polyline are those of the cut line."""
    expected = {(f"op-{cut.operation}", cut.owner, cut.points) for cut in sheet.cuts}
    found = set()
    for layer, owner, line in lines(read(sheet)):
        assert line.closed
        found.add((layer, owner, tuple((x, y) for x, y, *_ in line)))
    assert found == expected


def test_bulges_are_as_given() -> None:
    """Arcs keep their bulge to the last digit; lines have none."""
    ends, bulges = ((6.0, 1.0), (1.0, 6.0), (1.0, 1.0)), (0.123456789, 0.0, -1.0)
    data = cut_dxf([CutPath("outer", "a", ends, bulges=bulges)], (50.0, 50.0), {}).decode()
    document = ezdxf.read(StringIO(data))  # type: ignore[attr-defined]
    ((_, _, line),) = lines(document)
    assert tuple(bulge for *_, bulge in line) == bulges
    assert tuple((x, y) for x, y, *_ in line) == ends


def test_layers_are_the_used_operations_in_their_colours() -> None:
    """Layers carry the workshop's colours; operations that are not used have none."""
    document = read(jobs.bare_job().sheets[0])
    layers = {layer.dxf.name: layer.rgb for layer in document.layers if "op-" in layer.dxf.name}
    assert layers == {
        "op-mark": (0, 0x72, 0xB2),
        "op-engrave": (0, 0, 0),
        "op-inner": (0, 0x9E, 0x73),
        "op-outer": (0xD5, 0x5E, 0),
    }


@pytest.mark.parametrize("sheet", SHEETS, ids=lambda sheet: sheet.id)
def test_gdal_reads_the_same_bounds_as_the_svg(sheet: Sheet, tmp_path: Path) -> None:
    """SVG and DXF agree to 0.001 mm on every operation, by a reader of neither library."""
    path = tmp_path / "sheet.dxf"
    path.write_bytes(cut_dxf(sheet.cuts, sheet.size_mm, jobs.COLOURS))
    meta, _, _, fields = pyogrio.raw.read(path, columns=["Layer"])
    _, bounds = pyogrio.read_bounds(path)
    assert list(meta["fields"]) == ["Layer"]
    from_svg = svg_bounds(cut_svg(sheet.cuts, sheet.size_mm, jobs.COLOURS), sheet.size_mm[1])
    for layer in set(fields[0]):
        here = bounds[:, fields[0] == layer]
        there = np.array([box for (group, _), box in from_svg.items() if group == layer]).T
        dxf_box = [here[0].min(), here[1].min(), here[2].max(), here[3].max()]
        svg_box = [there[0].min(), there[1].min(), there[2].max(), there[3].max()]
        assert dxf_box == pytest.approx(svg_box, abs=0.001)
        assert here.shape[1] == sum(f"op-{cut.operation}" == layer for cut in sheet.cuts)


@pytest.mark.parametrize("job", [jobs.faced_job(), jobs.bare_job()])
def test_bytes_are_the_same_when_made_again(job: Job) -> None:
    """No clock and no random ids in the header."""
    for sheet in job.sheets:
        once, again = (cut_dxf(sheet.cuts, sheet.size_mm, jobs.COLOURS) for _ in range(2))
        assert once == again
        assert b"2000-01-01" in once  # the fixed stamp instead of today's
