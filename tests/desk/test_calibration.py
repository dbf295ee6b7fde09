"""Test sheets, and what was measured on them in the workshop file."""

from io import BytesIO
from pathlib import Path
from zipfile import ZipFile

import pytest

from namebatch.desk.calibration import (
    KerfMeasured,
    calibration_view,
    kerf_test_zip,
    print_test_zip,
    store_kerf,
    store_print,
)
from namebatch.errors import MeasureError
from namebatch.measured.calibrating import kerf_test_files, print_test_files
from namebatch.template import load_workshop
from namebatch.template.builtin_workshop import BUILTIN_TOML


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """Where the workshop file would lie."""
    return tmp_path / "workshop.toml"


def test_the_archives_hold_the_files_of_the_command_line(path: Path) -> None:
    """The same names and bytes; the same archive every time."""
    shop = load_workshop(None)
    for data, files in (
        (print_test_zip(path), print_test_files(shop.printer)),
        (kerf_test_zip(path, "plywood-3"), kerf_test_files(shop, "plywood-3")),
    ):
        with ZipFile(BytesIO(data)) as archive:
            assert {name: archive.read(name) for name in archive.namelist()} == files
    assert print_test_zip(path) == print_test_zip(path)


def test_what_can_be_measured_is_told(path: Path) -> None:
    """Lengths of the bars as drawn, strips of each material; nothing is written by looking."""
    view = calibration_view(path)
    assert view.print.lengths_mm == (170.0, 250.0)
    assert [(one.name, one.strips, one.width_mm) for one in view.kerf][:1] == [("card-160", 10, 10)]
    assert not path.exists()


def test_a_test_without_room_says_why(path: Path) -> None:
    """A page and a bed that are too small for any test."""
    small = BUILTIN_TOML.replace('sheet = "a4"', 'sheet = "60x60"').replace(
        "[600, 400]", "[60, 60]"
    )
    path.write_text(small, encoding="utf-8")
    view = calibration_view(path)
    assert view.print.lengths_mm is None
    assert "too small to measure" in view.print.problem
    assert view.kerf[0].strips == 0
    assert "needs" in view.kerf[0].problem


def test_the_printer_s_scale_is_stored(path: Path) -> None:
    """Measured over drawn length, the mean of several; told with its uncertainty."""
    path.write_text(BUILTIN_TOML, encoding="utf-8")
    told = store_print(path, [170.34, 170.34], [249.25])
    assert load_workshop(path).printer.scale == (1.002, 0.997)
    assert told[0].startswith("Printed lengths across are 100.20 % ± ")
    assert any("Cut files and jig will follow the print" in line for line in told)
    came = [line for line in path.read_text(encoding="utf-8").splitlines() if "scale" in line]
    assert came == ["scale = [1.002, 0.997]"]


def test_the_kerf_of_a_material_is_stored(path: Path) -> None:
    """Ten strips 10 mm wide that are 98 mm together lost 0.2 mm each: k = (n·w − total)/n."""
    path.write_text(BUILTIN_TOML, encoding="utf-8")
    told = store_kerf(path, "plywood-3", KerfMeasured([98.0, 98.0], [98.4], [10.2], []))
    assert load_workshop(path).materials["plywood-3"].kerf_mm == (0.2, 0.16)
    assert told[0].startswith("Kerf in x: 0.200 mm ± ")
    assert told[-1] == "Stored with Birch plywood 3 mm: 0.2 mm in x, 0.16 mm in y."


def test_slots_that_say_otherwise_are_told(path: Path) -> None:
    """Strips not pressed together, or edges that are not upright."""
    path.write_text(BUILTIN_TOML, encoding="utf-8")
    told = store_kerf(path, "plywood-3", KerfMeasured([98.0], [98.0], [10.5], []))
    assert any(line.startswith("Look: In x the strips say 0.200 mm") for line in told)


def test_the_file_is_begun_where_there_is_none(path: Path) -> None:
    """With the example values, and that is told: all others are still examples."""
    told = store_print(path, [170.0], [250.0])
    assert "still examples" in told[-1]
    assert "scale = [1, 1]" in path.read_text(encoding="utf-8").replace("1.0", "1")


@pytest.mark.parametrize(
    ("x", "y", "told"),
    [
        ([], [250.0], "no length of the bar across"),
        ([150.0], [250.0], "Reading 1 of the bar across: the bar across of 170 mm"),
        ([170.0, 172.0], [250.0], "more than 1.5 mm apart"),
        ([170.0, -3.0], [250.0], "is no length"),
        ([float("nan")], [250.0], "is no length"),
        ([170.0] * 21, [250.0], "More than 20 readings"),
    ],
)
def test_lengths_that_cannot_be_right_change_nothing(
    path: Path, x: list[float], y: list[float], told: str
) -> None:
    """Each is told with its reading, and no file is begun for it."""
    with pytest.raises(MeasureError, match=told):
        store_print(path, x, y)
    assert not path.exists()


def test_a_kerf_that_cannot_be_right_changes_nothing(path: Path) -> None:
    """One width instead of the total, a material that is not there, a direction left out."""
    with pytest.raises(MeasureError, match="Were all the strips measured"):
        store_kerf(path, "plywood-3", KerfMeasured([9.8], [98.0]))
    with pytest.raises(MeasureError, match='no material "oak"'):
        store_kerf(path, "oak", KerfMeasured([98.0], [98.0]))
    with pytest.raises(MeasureError, match="nothing measured in y"):
        store_kerf(path, "plywood-3", KerfMeasured([98.0]))
    assert not path.exists()
