"""Job folders that somebody changed by hand: told, whatever stands in them."""

import json
from hashlib import sha256
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from namebatch.errors import MeasureError
from namebatch.measured.cutreader import read_cut_dxf, read_cut_svg
from namebatch.measured.jobsheet import read_job_sheet

HEAD = '<svg xmlns="http://www.w3.org/2000/svg"><g id="op-outer"><g id="L2-1.front">'
GOOD = "M 0 0 L 9 0 L 9 9 Z"


def _cut(data: str) -> bytes:
    return f'{HEAD}<path d="{data}" fill="none" stroke="#000000"/></g></g></svg>'.encode()


@pytest.mark.parametrize(
    "data",
    [
        "Z",
        "M 1 1 Z",
        "M 0 0 L 9 0 Z",
        "M nan 0 L 9 0 L 9 9 Z",
        "M 0 0 L inf 0 L 9 9 Z",
        "M 0 0 L 1e308 0 L 9 9 Z",
        "M 0 0 A 0 0 0 0 1 0 0 L 9 9 Z",
        "M 0 0 A 1e308 1e308 0 1 1 5 5 Z",
        "M 0 0 L 9 0 L 9 9",
        "A 1 1 0 0 1 5 5 Z",
        "M 0 0 L 9",
    ],
)
def test_rings_that_are_none_are_refused(data: str) -> None:
    """Lines without area, without end, or of figures that are no numbers of a sheet."""
    with pytest.raises(MeasureError, match="is not a cut file of this program any more"):
        read_cut_svg(_cut(data), "cut/face-001.svg", 100.0)


@settings(max_examples=200, deadline=None)
@given(text=st.text("MLAZ 0123456789.-eE,nif", max_size=40))
def test_any_path_data_is_read_or_told(text: str) -> None:
    """Random path data gives rings that enclose something, or one message."""
    try:
        drawing = read_cut_svg(_cut(text), "cut/face-001.svg", 100.0)
    except MeasureError:
        return
    assert all(abs(v) <= 1e5 for cut in drawing.cuts for point in cut.points for v in point)


@settings(max_examples=60, deadline=None)
@given(data=st.binary(max_size=60) | st.text(max_size=60).map(str.encode))
def test_any_bytes_are_no_dxf(data: bytes) -> None:
    """Whatever the library makes of them, it is told in our words."""
    with pytest.raises(MeasureError, match="is not a cut file of this program any more"):
        read_cut_dxf(b"0\nSECTION\n2\nENTITIES\n" + data, "cut/face-001.dxf")


def _folder(place: Path, **entry: object) -> Path:
    cut = _cut(GOOD)
    (place / "cut").mkdir(parents=True, exist_ok=True)
    (place / "cut" / "face-001.svg").write_bytes(cut)
    sheet = {"id": "face-001", "size_mm": [210, 297], "frame_mm": [10, 10, 190, 277], **entry}
    content = {
        "sheets": [sheet],
        "cutter": {"bed_mm": entry.get("bed_mm", [600, 400])},
        "files": {"cut/face-001.svg": sha256(cut).hexdigest()},
    }
    (place / "job.json").write_text(json.dumps(content), encoding="utf-8")
    return place


def test_a_sound_sheet_is_read(tmp_path: Path) -> None:
    """What the next tests change is right to begin with."""
    assert read_job_sheet(_folder(tmp_path), "face-001").size_mm == (210, 297)


@pytest.mark.parametrize("key", ["size_mm", "frame_mm", "cut_scale", "bed_mm"])
@pytest.mark.parametrize(
    "figure", [10**400, -(10**400), float("nan"), float("inf"), None, "9", [], {}, 1e9]
)
def test_sizes_that_are_none_are_told(key: str, figure: object, tmp_path: Path) -> None:
    """Numbers without end, of hundreds of digits, or no numbers at all."""
    figures = [figure] * (4 if key == "frame_mm" else 2)
    with pytest.raises(MeasureError, match="does not tell the sheet's sizes"):
        read_job_sheet(_folder(tmp_path, **{key: figures}), "face-001")


@pytest.mark.parametrize("key", ["size_mm", "frame_mm", "cut_scale"])
def test_a_sheet_without_area_is_told(key: str, tmp_path: Path) -> None:
    """Nothing is divided by a frame of no width."""
    figures = [0] * (4 if key == "frame_mm" else 2)
    with pytest.raises(MeasureError, match="does not tell the sheet's sizes"):
        read_job_sheet(_folder(tmp_path, **{key: figures}), "face-001")


@settings(max_examples=100, deadline=None, suppress_health_check=list(HealthCheck))
@given(
    key=st.sampled_from(["size_mm", "frame_mm", "cut_scale", "id", "kind"]),
    value=st.none() | st.text(max_size=5) | st.lists(st.floats() | st.integers(), max_size=4),
)
def test_any_entry_is_taken_or_told(key: str, value: object, tmp_path: Path) -> None:
    """Any value of any key of a sheet's entry."""
    folder = _folder(tmp_path, **{key: value})
    told = ""
    try:
        read_job_sheet(folder, "face-001")
    except MeasureError as error:
        told = str(error)
    assert len(told) < 2_000
