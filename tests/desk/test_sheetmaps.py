"""Maps of sheets, and their cut files moved onto a print."""

import re
from math import cos, radians, sin
from xml.etree import ElementTree

import pytest

from namebatch.desk.aligning import Measured
from namebatch.desk.made_model import MarkPlace, SheetMap
from namebatch.desk.work import Work
from namebatch.errors import DeskError, NotThereError
from tests.desk.owner import Owner

PATH = "{http://www.w3.org/2000/svg}path"


def turned(sheet: SheetMap, degrees: float, dx: float, dy: float) -> tuple[MarkPlace, ...]:
    """Where a pointer finds the frame's corners on a print that was turned and moved."""
    c, s = cos(radians(degrees)), sin(radians(degrees))
    return tuple(
        MarkPlace(m.name, c * m.x_mm - s * m.y_mm + dx, s * m.x_mm + c * m.y_mm + dy)
        for m in sheet.marks
    )


def test_outlines_are_the_very_lines_of_the_cut_file(bench: tuple[Owner, Work]) -> None:
    """Each piece has the data of its paths in the cut SVG, outer and inner, in its words."""
    work = bench[1]
    sheet = work.sheet(1, 1, "face-001")
    assert (sheet.kind, sheet.size_mm, sheet.bed_mm) == ("face", (210.0, 297.0), (600.0, 400.0))
    root = ElementTree.parse(work.file(1, 1, "cut/face-001.svg")).getroot()
    written: dict[str, str] = {}
    for owner in (owner for operation in root for owner in operation):
        for path in owner.iter(PATH):
            written[owner.get("id", "")] = written.get(owner.get("id", ""), "") + path.get("d", "")
    assert {f"{p.piece}.{p.face}": p.outline for p in sheet.placements} == written
    assert {(p.line, p.text) for p in sheet.placements} == {
        (2, "Wren Teasel · Gull table"),
        (3, "Teal · Tern table"),
        (5, "Inka · Gull table"),
    }


def test_names_stand_in_the_middle_of_their_pieces(bench: tuple[Owner, Work]) -> None:
    """The room of a piece is that of its outline's points, y down from the sheet's top."""
    for placed in bench[1].sheet(1, 1, "face-001").placements:
        ends = re.findall(r"(-?[\d.]+),(-?[\d.]+)(?=[LAZ])", placed.outline)
        xs, ys = [float(x) for x, _ in ends], [float(y) for _, y in ends]
        assert placed.at_mm == pytest.approx(
            ((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2), abs=0.002
        )
        assert placed.room_mm == pytest.approx((max(xs) - min(xs), max(ys) - min(ys)), abs=0.002)


def test_spoiled_pieces_are_marked_on_the_map(bench: tuple[Owner, Work]) -> None:
    """What was said to be spoiled is so on every map that shows it."""
    work = bench[1]
    work.set_spoiled(1, 1, ["L3-1"])
    sheet = work.sheet(1, 1, "face-001")
    assert [p.piece for p in sheet.placements if p.spoiled] == ["L3-1"]
    assert not [p for p in sheet.placements if p.remade]


def test_a_sheet_that_is_not_there(bench: tuple[Owner, Work]) -> None:
    """Another sheet's name is no address into the folder."""
    with pytest.raises(NotThereError, match="has no sheet"):
        bench[1].sheet(1, 1, "../face-001")


def test_cut_files_are_moved_onto_a_print(bench: tuple[Owner, Work]) -> None:
    """Four corners give files that can be fetched, and what was measured is on the map."""
    work = bench[1]
    marks = turned(work.sheet(1, 1, "face-001"), 1.5, 40.0, 12.0)
    found = work.align(1, 1, "face-001", Measured(marks))
    assert found.worst_mm == pytest.approx(0.0, abs=0.001)
    assert set(found.residual_mm) == {mark.name for mark in marks}
    assert "1.500°" in found.lines[0]
    assert found.files == ("aligned/face-001.svg", "aligned/face-001.dxf")
    assert b"<svg" in work.file(1, 1, "aligned/face-001.svg").read_bytes()
    kept = {mark.name: mark for mark in work.sheet(1, 1, "face-001").measured}
    assert kept == {mark.name: mark for mark in marks}
    (job,) = work.jobs(1)
    assert job.sheets[0].aligned
    assert job.whole  # the job's own files are as they were
    assert [file.path for file in job.files if file.kind == "aligned"] == [
        "aligned/face-001.dxf",
        "aligned/face-001.svg",
    ]


def test_aligned_files_of_another_cut_file_are_not_offered(bench: tuple[Owner, Work]) -> None:
    """Records beside them say which cut file was moved; others are passed over."""
    work = bench[1]
    work.align(1, 1, "face-001", Measured(turned(work.sheet(1, 1, "face-001"), 0.0, 1.0, 1.0)))
    record = work.file(1, 1, "aligned/face-001.svg").with_name("face-001.json")
    record.write_text(record.read_text().replace('"cut_sha256": "', '"cut_sha256": "0'))
    with pytest.raises(NotThereError, match="has no file"):
        work.file(1, 1, "aligned/face-001.svg")


def test_marks_that_cannot_be_are_refused_in_words_of_the_page(bench: tuple[Owner, Work]) -> None:
    """Nothing measured, a print turned by a quarter unasked: no option of the command line."""
    work = bench[1]
    with pytest.raises(DeskError, match="Nothing was measured yet"):
        work.align(1, 1, "face-001", Measured())
    quarter = turned(work.sheet(1, 1, "face-001"), 90.0, 350.0, 20.0)
    with pytest.raises(DeskError, match="tick that it was laid so") as caught:
        work.align(1, 1, "face-001", Measured(quarter))
    assert "--" not in str(caught.value)
    assert work.align(1, 1, "face-001", Measured(quarter, turned=True)).files
