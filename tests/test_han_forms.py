"""How Han characters are drawn in a list: as most of its names ask for."""

from collections.abc import Callable
from pathlib import Path

import pytest

from namebatch.job import Job
from tests.plates import PLATE

JobOf = Callable[..., Job]
TEXT = """
[[text]]
name = "who"
column = "name"
box_mm = [5, 5, 50, 20]
fonts = ["Noto Sans CJK SemiBold"]
min_height_mm = 3
max_height_mm = 12
"""


@pytest.fixture
def area_of(job_of: JobOf, tmp_path: Path) -> Callable[..., float]:
    """The ink of the last name of a list, in mm²."""

    def area(*names: str, more: str = "", workers: int = 1) -> float:
        folder = tmp_path / f"t{len(list(tmp_path.iterdir()))}"
        folder.mkdir()
        (folder / "template.toml").write_text(PLATE + TEXT + more, encoding="utf-8")
        job = job_of("name\n" + "\n".join(names) + "\n", str(folder), workers=workers)
        return float(job.pieces[-1].letterings[-1].shape.area)

    return area


def test_a_list_in_simplified_characters_has_chinese_forms(area_of: Callable[..., float]) -> None:
    """直 alone tells nothing; beside 谢璐 in the list it is drawn as in China."""
    chinese = area_of("直", more='language = "zh-Hans"\n')
    japanese = area_of("直", more='language = "ja"\n')
    assert abs(chinese - japanese) > 0.1
    assert area_of("谢璐", "直") == chinese
    assert area_of("木村めぐみ", "直") == japanese
    assert area_of("直") == japanese
    assert area_of("谢璐", "直", more='language = "ja"\n') == japanese


def test_workers_draw_the_same(area_of: Callable[..., float]) -> None:
    """What the whole list tells is known to every process."""
    names = ("谢璐", *(f"王{number}" for number in range(60)), "直")
    assert area_of(*names, workers=2) == area_of(*names)


def test_a_name_that_tells_its_own_language_keeps_it(area_of: Callable[..., float]) -> None:
    """A Japanese guest on a Chinese list is not written in Chinese forms."""
    guest = "直みなと"
    alone = area_of(guest)
    assert area_of(*("谢璐", "陈华", "刘伟") * 4, guest) == alone
