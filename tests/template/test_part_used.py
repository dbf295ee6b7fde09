"""The file of part-used boards: what it may say, and everything that is wrong with it at once."""

from pathlib import Path

import pytest

from namebatch.errors import WorkshopError
from namebatch.template.part_used import load_part_used


def _file(folder: Path, text: str) -> Path:
    path = folder / "left.toml"
    path.write_text(text, encoding="utf-8")
    return path


def test_boards_as_told(tmp_path: Path) -> None:
    """Rectangles or an earlier job; a board without a name gets one that says which it is."""
    boards = load_part_used(
        _file(
            tmp_path,
            """
            [[board]]
            name = "behind the door"
            material = "plywood-3"
            size_mm = [600, 300]
            used_mm = [[0, 0, 310, 300]]
            [[board]]
            material = "plywood-3"
            used_mm = [[0, 0, 10, 10], [20, 0, 10, 10]]
            [[board]]
            job = "winders"
            sheet = "board-002"
            """,
        )
    )
    assert [board.name for board in boards] == [
        "behind the door",
        "part-used board 2",
        "board-002 of winders",
    ]
    assert boards[0].size_mm == (600.0, 300.0)
    assert boards[1].size_mm is None
    assert len(boards[1].used_mm) == 2
    assert boards[2].job == tmp_path / "winders"


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", r"\[\[board\]\]: is missing"),
        ("[board]\nmaterial = 'a'", r"\[\[board\]\]: is missing"),
        ("[[bord]]", "bord: there is no such key here; did you mean"),
        ("[[board]]\nused_mm = [[0, 0, 1, 1]]", "board 1: needs a material"),
        ("[[board]]\nmaterial = 'a'", "board 1: needs used_mm"),
        ("[[board]]\njob = 'a'", "job and sheet belong together"),
        ("[[board]]\njob = 'a'\nsheet = 'b'\nmaterial = 'c'", "leave both out"),
        ("[[board]]\nmaterial = 'a'\nused_mm = [[0, 0, 1]]", "holds rectangles"),
        ("[[board]]\nmaterial = 'a'\nused_mm = [[0, 0, 0, 9]]", "holds rectangles"),
        ("[[board]]\nmaterial = 'a'\nused_mm = [[nan, 0, 1, 9]]", "board 1"),
        ("[[board]]\nmaterial = 'a'\nsize_mm = [1, 2]\nused_mm = [[0, 0, 1, 9]]", "size_mm"),
        ("[[board]]\nmaterial = 3", "board 1.material"),
        ("[[board]\n", "stops making sense"),
    ],
)
def test_what_is_wrong_is_told(tmp_path: Path, text: str, told: str) -> None:
    """Each problem is told with the number of its board and what to do."""
    with pytest.raises(WorkshopError, match=told):
        load_part_used(_file(tmp_path, text))


def test_all_at_once(tmp_path: Path) -> None:
    """Two bad boards are two problems of one error."""
    text = "[[board]]\nmaterial = 'a'\n[[board]]\njob = 'a'\n"
    with pytest.raises(WorkshopError) as caught:
        load_part_used(_file(tmp_path, text))
    assert len(caught.value.problems) == 2


def test_no_file(tmp_path: Path) -> None:
    """A file that is not there is named."""
    with pytest.raises(WorkshopError, match=r"left\.toml: cannot be read"):
        load_part_used(tmp_path / "left.toml")
