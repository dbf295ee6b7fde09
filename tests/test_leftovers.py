"""Part-used boards of a workshop: rectangles that are gone, and boards that a job cut."""

from pathlib import Path

import pytest
import shapely

from namebatch.errors import WorkshopError
from namebatch.leftovers import leftovers_of
from namebatch.template import load_workshop
from tests.remake import jobs
from tests.test_cutboards import SMALL, cut_lines


def write(place: Path, text: str) -> Path:
    """A file of part-used boards."""
    path = place / "boards.toml"
    path.write_text(text, encoding="utf-8")
    return path


def test_a_board_of_an_earlier_job(tmp_path: Path) -> None:
    """What a job cut and what a person sawed off are gone together; a new job fills the rest."""
    first = jobs.first_job(tmp_path, SMALL, "key-fob")
    path = write(
        tmp_path,
        '[[board]]\njob = "first"\nsheet = "board-001"\nused_mm = [[200, 0, 100, 300]]\n',
    )
    workshop = load_workshop(None)
    [leftover] = leftovers_of(path, workshop.materials[first.job.template.material], workshop)
    assert leftover.name == "board-001 of first"
    assert shapely.area(leftover.used) == pytest.approx(
        cut_lines(first.job.sheets[0]).union(shapely.box(200, 0, 300, 300)).area
        - _beyond(first.job.sheets[0].size_mm),
        abs=0.01,
    )
    second = jobs.first_job(tmp_path / "second", "name\nMarlo\n", "key-fob", part_used=path)
    [sheet] = second.job.sheets
    assert sheet.part_used == "board-001 of first"
    assert shapely.distance(cut_lines(sheet), leftover.used) >= sheet.gap_mm - 0.001


def _beyond(size_mm: tuple[float, float]) -> float:
    """Area of the sawn-off strip that lies past the board's edges."""
    strip = shapely.box(200, 0, 300, 300)
    return float(shapely.area(shapely.difference(strip, shapely.box(0, 0, *size_mm))))


def test_one_board_twice(tmp_path: Path) -> None:
    """An earlier job's board that stands there twice is refused, whatever it is called."""
    entry = '[[board]]\nname = "A"\njob = "winders"\nsheet = "board-001"\n'
    path, workshop = write(tmp_path, entry + entry), load_workshop(None)
    with pytest.raises(WorkshopError) as caught:
        leftovers_of(path, workshop.materials["plywood-3"], workshop)
    assert sum("stands there twice" in problem for problem in caught.value.problems) == 1


def test_boards_of_other_materials_are_passed_over(tmp_path: Path) -> None:
    """A job's board tells its material by itself."""
    jobs.first_job(tmp_path, SMALL, "key-fob")
    path = write(tmp_path, '[[board]]\njob = "first"\nsheet = "board-001"\n')
    workshop = load_workshop(None)
    other = next(m for name, m in workshop.materials.items() if name.startswith("card"))
    assert leftovers_of(path, other, workshop) == ()


def test_all_boards_that_cannot_be_used_are_told(tmp_path: Path) -> None:
    """A job that there is not and a board that there is not are told in one message."""
    jobs.first_job(tmp_path, SMALL, "key-fob")
    path = write(
        tmp_path,
        '[[board]]\njob = "gone"\nsheet = "board-001"\n'
        '[[board]]\nname = "behind the door"\njob = "first"\nsheet = "board-002"\n',
    )
    workshop = load_workshop(None)
    with pytest.raises(WorkshopError, match=r"boards\.toml cannot be used yet") as told:
        leftovers_of(path, workshop.materials["plywood-3"], workshop)
    first, second = told.value.problems
    assert "gone holds no finished job" in first
    assert second == ('behind the door: This job has no board "board-002". It has: board-001.')
