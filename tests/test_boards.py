"""Boards with a rim, through the whole order: limits, sheets, manifest, held rows, templates."""

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from namebatch.errors import TemplateError
from namebatch.job import Job
from namebatch.output.atomic import write_job
from namebatch.output.preview import preview_svg
from namebatch.output.worksteps import steps
from namebatch.template import load_template
from tests.conftest import silent
from tests.template.folders import HEAD, WHOLE, problems_of, written

JobOf = Callable[..., Job]
NAMES = "name\nMarlo\nInka\n"
RIM = WHOLE.replace("build =", "rim_mm = {rim}\nbuild =")


def rimmed(job_of: JobOf, folder: Path, rim_mm: float, toml: str = RIM) -> Job:
    """A job of the bag tags with a rim."""
    return job_of(NAMES, str(written(folder / "t", toml.format(rim=rim_mm))))


def test_boards_are_larger_than_prints_by_the_rim(job_of: JobOf, tmp_path: Path) -> None:
    """The manifest gives the board's own size, 2 × 1.5 mm more than the print's."""
    job = rimmed(job_of, tmp_path, 1.5)
    write_job(job, tmp_path / "job", replace=False, progress=silent)
    manifest = json.loads((tmp_path / "job" / "job.json").read_text(encoding="utf-8"))
    for piece in manifest["pieces"]:
        assert piece["size_mm"] == [85.6, 53.98]
        assert piece["board"]["size_mm"] == pytest.approx([88.6, 56.98], abs=0.001)
        assert piece["board"]["required_mm"] == 1.5
        assert piece["required_mm"] == 0.8


def test_without_a_rim_boards_are_not_told_apart(job_of: JobOf) -> None:
    """A piece whose board is its print has no board of its own, and both must suit both."""
    job = job_of("name,village\nMarlo,Holm\n", "bag-tag")
    assert job.pieces[0].board is None
    assert job.pieces[0].proof.required_mm == 1.5


def test_boards_are_placed_by_their_own_outline(job_of: JobOf, tmp_path: Path) -> None:
    """A board fills more of its sheet than the prints would."""
    job = rimmed(job_of, tmp_path, 1.5)
    [board] = [sheet for sheet in job.sheets if sheet.kind == "board"]
    _, _, width, height = board.usable_mm
    areas = [piece.board.outline.area for piece in job.pieces if piece.board]
    assert len(areas) == 2
    assert board.fill == pytest.approx(sum(areas) / (width * height))


def test_a_base_whose_board_loses_too_much_is_refused(job_of: JobOf, tmp_path: Path) -> None:
    """The hole's wall of 4.5 mm less 4 mm of rim is too thin for plywood: no row could be made."""
    hole = '\n[[hole]]\nshape = "round"\nat_mm = [8, 27]\ndiameter_mm = 7\n'
    with pytest.raises(TemplateError, match=r"rim of -4 mm as it stands") as caught:
        rimmed(job_of, tmp_path, -4.0, RIM + hole)
    [problem] = caught.value.problems
    assert "is only 0.50 mm wide" in problem
    assert "needs 1.5 mm" in problem


@pytest.mark.parametrize(
    ("rim_mm", "said"),
    [(1.5, "the board standing out 1.5 mm all round"), (-1.0, "the print standing 1 mm over")],
)
def test_the_mount_step_says_where_the_edge_is(
    job_of: JobOf, tmp_path: Path, rim_mm: float, said: str
) -> None:
    """Whoever mounts is told how far the board's edge is from the print's."""
    mount = next(step for step in steps(rimmed(job_of, tmp_path, rim_mm)) if step.title == "Mount")
    assert said in mount.text


def test_pictures_show_what_stands_out(job_of: JobOf, tmp_path: Path) -> None:
    """A board that stands out is drawn behind both faces, a smaller one is not seen."""
    larger = rimmed(job_of, tmp_path, 1.5)
    assert preview_svg(larger, larger.pieces[0]).count('class="board"') == 2
    smaller = rimmed(job_of, tmp_path, -1.0)
    assert 'class="board"' not in preview_svg(smaller, smaller.pieces[0])


def test_a_rim_of_nothing_is_no_rim(tmp_path: Path) -> None:
    """`rim_mm = 0` is the same as none."""
    assert load_template(written(tmp_path / "t", RIM.format(rim=0))).rim_mm == 0.0


@pytest.mark.parametrize(
    ("toml", "problem"),
    [
        (RIM.format(rim=60), "rim_mm"),
        (
            'rim_mm = 1\nformat = 1\ntitle = "t"\nbuild = "printed"\nmaterial = "card-300"\n'
            + WHOLE.removeprefix(HEAD),
            'goes only with build = "faced", not "printed"',
        ),
    ],
)
def test_rims_that_cannot_be(tmp_path: Path, toml: str, problem: str) -> None:
    """A rim out of bounds or without a board is refused."""
    assert any(problem in told for told in problems_of(written(tmp_path / "t", toml)))


def test_a_back_needs_a_print(tmp_path: Path) -> None:
    """A back goes with prints on boards and with prints alone, not with bare material."""
    toml = 'format = 1\ntitle = "t"\nbuild = "{build}"\nfaces = ["front", "back"]\n' + (
        'material = "card-300"\n' + WHOLE.removeprefix(HEAD)
    )
    assert load_template(written(tmp_path / "t", toml.format(build="printed"))).has_backs
    told = problems_of(written(tmp_path / "b", toml.format(build="bare").replace("Pacifico", "x")))
    assert any('not "bare"' in problem for problem in told)
