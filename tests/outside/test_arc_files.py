"""Arcs in cut files: resvg, ezdxf and GDAL find the same shape, length and place."""

import io
from io import StringIO
from math import hypot, pi
from pathlib import Path

import numpy as np
import pyogrio
import pytest
import resvg_py
import shapely
from ezdxf import filemanagement
from ezdxf.entities.lwpolyline import LWPolyline
from ezdxf.math import bulge_to_arc
from ezdxf.path import make_path
from numpy.typing import NDArray
from PIL import Image
from shapely import Polygon

from namebatch.outline.arc_shape import along_ring
from namebatch.output.cutdxf import cut_dxf
from namebatch.output.cutsvg import cut_svg
from namebatch.sheet.lines import cut_lines
from namebatch.sheet.model import CutPath
from namebatch.sheet.motion import path_length
from tests.outline.arc_names import names
from tests.output.readers import svg_rings

SIZE = (160.0, 70.0)


def cuts_of_names() -> list[CutPath]:
    """One name of each of eight faces, each its own drawing; a half circle, a wide arc."""
    cuts = []
    for number, (_, _, parts) in enumerate(names(1)):
        for part in parts:
            for order, line in enumerate(cut_lines(part, False, 0.0, (0.0, 0.0))):
                points, bulges = line.moved(0.00003, 1.0)
                name = "inner" if order else "outer"
                cuts.append(CutPath(name, f"L{number}", points, bulges=bulges))  # type: ignore[arg-type]
    ends = ((100.0, 10.0), (117.0, 10.0))
    cuts.append(CutPath("outer", "half", ends, bulges=(1.0, 0.0)))
    cuts.append(CutPath("outer", "wide", ends, bulges=(1.7, -0.3)))
    cuts.append(CutPath("outer", "back", ends, bulges=(-0.99, -0.4)))
    return cuts


CUTS = cuts_of_names()


def polylines() -> list[LWPolyline]:
    """The DXF's lines, in the order of the cuts of each operation."""
    text = cut_dxf(CUTS, SIZE, {}).decode("utf-8")
    document = filemanagement.read(StringIO(text))
    assert not document.audit().has_errors
    return [entity for entity in document.modelspace() if isinstance(entity, LWPolyline)]


def in_file_order() -> list[CutPath]:
    """The cuts as files give them: inner before outer, owner by owner."""
    owners = list(dict.fromkeys(cut.owner for cut in CUTS))
    return [
        cut
        for operation in ("inner", "outer")
        for owner in owners
        for cut in CUTS
        if (cut.operation, cut.owner) == (operation, owner)
    ]


def chords(cut: CutPath) -> tuple[tuple[float, float], ...]:
    """The line as fine chords."""
    return tuple((float(x), float(y)) for x, y in along_ring(cut.points, cut.bulges, 2e-4))


def apart(a: Polygon, b: Polygon) -> float:
    """The largest distance between two outlines, either way, at all vertices."""
    one, other = a.exterior, b.exterior
    return max(
        float(shapely.distance(shapely.points(shapely.get_coordinates(here)), there).max())
        for here, there in ((one, other), (other, one))
    )


def test_arcs_are_in_use() -> None:
    """What follows would say nothing about straight lines."""
    assert sum(np.count_nonzero(cut.bulges) for cut in CUTS) > 500


def test_ezdxf_and_svg_have_the_same_shape() -> None:
    """Ezdxf's flattening of bulges and the SVG's arcs by the standard agree to 0.005 mm."""
    rings = svg_rings(cut_svg(CUTS, SIZE, {}))
    svg = [ring for key in rings for ring in rings[key]]
    for line, ring, cut in zip(polylines(), svg, in_file_order(), strict=True):
        dxf = Polygon([(p.x, p.y) for p in make_path(line).flattening(2e-4)])
        drawn = Polygon([(x, SIZE[1] - y) for x, y in ring])
        ours = Polygon(along_ring(cut.points, cut.bulges, 2e-4))
        assert apart(dxf, drawn) <= 0.005, cut.owner
        assert apart(dxf, ours) <= 0.005, cut.owner


def test_length_is_that_of_ezdxf() -> None:
    """Our closed formula is the sum of ezdxf's own arcs, and near the length of its path.

    ezdxf makes cubic Béziers of arcs in a path, which lengthens a quarter circle by 1.4 parts
    in ten thousand.
    """
    for line, cut in zip(polylines(), in_file_order(), strict=True):
        flat = [(p.x, p.y) for p in make_path(line).flattening(1e-5)]
        length = float(np.hypot(*np.diff(np.array(flat), axis=0).T).sum())
        assert path_length(cut) == pytest.approx(length, rel=2e-4), cut.owner
        points = list(line.get_points("xyb"))
        exact = 0.0
        for (x0, y0, bulge), (x1, y1, _) in zip(points, [*points[1:], points[0]], strict=True):
            if bulge:
                _, start, end, radius = bulge_to_arc((x0, y0), (x1, y1), bulge)
                exact += radius * ((end - start) % (2 * pi))
            else:
                exact += hypot(x1 - x0, y1 - y0)
        assert path_length(cut) == pytest.approx(exact, rel=1e-7), cut.owner


def test_gdal_has_the_same_shape(tmp_path: Path) -> None:
    """GDAL's own arcs of the DXF lie within 0.005 mm of ours.

    Arcs above half a circle are left out: GDAL reads them as the other part of their circle,
    and none is ever fitted.
    """
    path = tmp_path / "arcs.dxf"
    path.write_bytes(cut_dxf(CUTS, SIZE, {}))
    pyogrio.set_gdal_config_options({"OGR_ARC_STEPSIZE": "0.2"})
    _, _, geometry, _ = pyogrio.raw.read(path, columns=["Layer"])
    for line, cut in zip(shapely.from_wkb(geometry), in_file_order(), strict=True):
        if max(map(abs, cut.bulges), default=0.0) > 1:
            continue
        gdal = Polygon(shapely.get_coordinates(line))
        assert apart(gdal, Polygon(along_ring(cut.points, cut.bulges, 2e-4))) <= 0.005, cut.owner


@pytest.mark.parametrize("owner", ["L0", "L4", "half", "wide", "back"])
def test_resvg_paints_the_same_shape(owner: str) -> None:
    """Ink painted from arcs equals ink painted from fine chords, within an edge of 0.005 mm.

    The anti-aliased difference of two pictures, summed, is the area between the two lines.
    """
    cuts = [cut for cut in CUTS if cut.owner == owner and cut.operation == "outer"]
    straight = [CutPath(cut.operation, cut.owner, chords(cut)) for cut in cuts]

    def ink(lines: list[CutPath]) -> NDArray[np.float64]:
        svg = cut_svg(lines, SIZE, {}).decode().replace('fill="none"', 'fill="#000000"')
        svg = svg.replace('stroke="#000000"', 'stroke="none"')
        png = bytes(resvg_py.svg_to_bytes(svg_string=svg, zoom=5, dpi=96))
        return np.asarray(Image.open(io.BytesIO(png)))[:, :, 3].astype(float) / 255

    one, other = ink(cuts), ink(straight)
    scale = one.shape[1] / SIZE[0]
    area = float(np.abs(one - other).sum()) / scale**2
    assert one.sum() / scale**2 > 5
    assert area <= 0.005 * sum(path_length(cut) for cut in cuts)
