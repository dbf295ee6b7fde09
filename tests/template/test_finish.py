"""The table [finish]: laminate, tape, prints that are mounted before they are cut."""

import shutil
from pathlib import Path

import pytest

from namebatch.errors import TemplateError
from namebatch.resources import bundled
from namebatch.template import load_template
from namebatch.template.finish import read_finish
from namebatch.template.model import Build, Finish
from namebatch.template.problems import Problems


def _read(data: object, build: Build = "faced", backs: bool = False) -> tuple[Finish, list[str]]:
    problems = Problems()
    return read_finish(data, build, backs, problems), list(problems.told())


def test_nothing_without_the_table() -> None:
    """Neither laminate nor tape, and the print is cut as it comes from the printer."""
    assert _read(None) == (Finish("none", 0.0, "none", None, False), [])


def test_everything_is_read() -> None:
    """Laminate with its thickness a side, tape with its own, which may be unknown."""
    given = {"laminate": "pouch", "laminate_mm": 0.08, "tape": "face", "tape_mm": 0.2}
    assert _read(given) == (Finish("pouch", 0.08, "face", 0.2), [])
    assert _read({"tape": "board"}) == (Finish(tape="board"), [])
    assert _read({"mounted": True, "tape": "board"}, "printed") == (
        Finish(tape="board", mounted=True),
        [],
    )


@pytest.mark.parametrize(
    ("data", "build", "message"),
    [
        ({"laminate": "foil"}, "faced", "finish.laminate: must be one of none, pouch, film"),
        ({"laminate": "film"}, "faced", "finish.laminate_mm: is missing; give the thickness"),
        ({"laminate": "pouch", "laminate_mm": 5}, "faced", "finish.laminate_mm: must be at most"),
        ({"laminate_mm": 0.1}, "faced", "finish.laminate_mm: goes only with laminate"),
        ({"tape_mm": 0.1}, "faced", "finish.tape_mm: goes only with tape"),
        ({"tape": "face"}, "printed", "finish.tape: goes only with prints that are mounted"),
        ({"tape": "board"}, "bare", "finish.tape: goes only with prints that are mounted"),
        ({"mounted": True}, "faced", 'finish.mounted: goes only with build = "printed"'),
        (
            {"laminate": "film", "laminate_mm": 0.1},
            "bare",
            "finish.laminate: nothing is printed",
        ),
        ({"laminat": "film"}, "faced", "finish.laminat: there is no such key here"),
    ],
)
def test_slips_are_told(data: object, build: Build, message: str) -> None:
    """Each slip gives its problem with its place and what to do."""
    told = _read(data, build)[1]
    assert any(line.startswith(message) for line in told), told


def test_a_mounted_print_has_no_back() -> None:
    """Nobody would see it; a faced piece keeps its own."""
    assert _read({"mounted": True}, "printed", True)[1] == [
        "finish.mounted: hides the back; leave it out, or the back."
    ]
    assert _read({"tape": "face"}, "faced", True)[1] == []


def test_the_table_stands_in_a_template(tmp_path: Path) -> None:
    """Read with all the others; a key of the top that slipped into it is told."""
    folder = tmp_path / "card"
    shutil.copytree(bundled("templates") / "place-card", folder)
    path = folder / "template.toml"
    whole = path.read_text(encoding="utf-8")
    path.write_text(f'{whole}\n[finish]\nlaminate = "film"\nlaminate_mm = 0.05\n', "utf-8")
    assert load_template(folder).finish == Finish("film", 0.05)
    path.write_text(f"{whole}\n[finish]\nmounted = true\nbleed_mm = 1\n", "utf-8")
    with pytest.raises(TemplateError, match='Template "card" has one problem') as caught:
        load_template(folder)
    assert any("finish.bleed_mm: belongs at the top" in line for line in caught.value.problems)
