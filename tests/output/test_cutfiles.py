"""Cut files and jig in the formats that the cutter takes."""

from pathlib import Path

import pytest

from namebatch.output import cutfiles, jig
from tests.output import jobs
from tests.output.readers import svg_bounds


@pytest.mark.parametrize(
    ("files", "endings"),
    [(("svg", "dxf"), {".svg", ".dxf"}), (("dxf",), {".dxf"}), (("svg",), {".svg"})],
)
def test_only_the_cutters_formats_are_written(
    tmp_path: Path, files: tuple[str, ...], endings: set[str]
) -> None:
    """A file for every sheet and board in each format of the workshop file, and no other."""
    seen: list[tuple[int, int]] = []
    cutfiles.write(jobs.faced_job(files), tmp_path, lambda done, total: seen.append((done, total)))
    names = {path.name for path in (tmp_path / "cut").iterdir()}
    assert names == {
        f"{sheet}{ending}" for sheet in ("face-001", "board-001") for ending in endings
    }
    assert seen == [(1, 2), (2, 2)]


def test_the_jig_has_the_frame_and_two_windows(tmp_path: Path) -> None:
    """The frame's mark and the corner windows lie where the sheet room put them."""
    jig.write(jobs.faced_job(), tmp_path, lambda done, total: None)
    bounds = svg_bounds((tmp_path / "jig.svg").read_bytes(), jobs.SHEET_MM[1])
    assert bounds == {
        ("op-mark", "frame"): (6.0, 6.0, 142.0, 204.0),
        ("op-window", "corner-1"): (1.0, 1.0, 11.0, 11.0),
        ("op-window", "corner-2"): (137.0, 199.0, 147.0, 209.0),
    }
    assert (tmp_path / "jig.dxf").is_file()


def test_no_jig_without_print(tmp_path: Path) -> None:
    """Bare pieces need nothing laid to a line."""
    jig.write(jobs.bare_job(), tmp_path, lambda done, total: None)
    assert list(tmp_path.iterdir()) == []
