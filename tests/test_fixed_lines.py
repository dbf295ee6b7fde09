"""What is the matter with a fixed line is told once, with the template, and not on every row."""

from collections.abc import Callable
from pathlib import Path

import pytest

from namebatch.job import Job
from namebatch.pipeline import Settings, check_rows, plan_job
from namebatch.resources import bundled
from namebatch.summary import check_and_tell
from namebatch.template import bundled_templates
from tests.conftest import silent
from tests.template.folders import BASE, HEAD, TEXT, written

JobOf = Callable[..., Job]
PLATE = HEAD.replace('["front", "back"]', '["front"]') + BASE
LINE = """
[[text]]
name = "festival"
line = "Saltmarsh Kite Day"
box_mm = [10, 35, 60, 14]
fonts = ["Noto Sans SemiBold"]
min_height_mm = 2
max_height_mm = 6
colour = "#17324d"
"""
SHADOW = '[text.shadow]\ncolour = "#a13420"\nshift_mm = [0, 14]\n'
NAMES = "name\n" + "".join(f"Marlo {letter}\n" for letter in "ABCDEFGHIJ")


def _codes(job: Job) -> list[str]:
    return [finding.code for row in job.rows for finding in row.findings]


def test_a_shadow_over_the_edge(job_of: JobOf, tmp_path: Path) -> None:
    """On a base that all share, the fixed line's shadow is one finding of the template."""
    job = job_of(NAMES, str(written(tmp_path / "t", PLATE + TEXT + LINE + SHADOW)))
    [told] = job.template.warnings
    assert told.code == "paint-leaves-piece"
    assert 'The shadow of "Saltmarsh Kite Day" reaches over the edge' in told.message
    assert _codes(job) == []


def test_a_shadow_over_the_edge_of_a_weld(job_of: JobOf, tmp_path: Path) -> None:
    """Where names are welded on, the base alone decides, once for all pieces."""
    name = TEXT.replace("[10, 10, 60, 20]", "[10, 49, 60, 24]") + 'made = "outline"\n'
    head = PLATE.replace('"faced"', '"faced"\nrule = "weld"')
    line = LINE.replace("[10, 35", "[10, 4") + SHADOW.replace("14]", "-12]")
    job = job_of(NAMES, str(written(tmp_path / "t", head + name + line)))
    assert [f.code for f in job.template.warnings] == ["paint-leaves-piece"]
    assert "paint-leaves-piece" not in _codes(job)


def test_a_row_s_own_shadow_stays_with_the_row(job_of: JobOf, tmp_path: Path) -> None:
    """Whether a name's shadow is cut off depends on the name."""
    name = TEXT + SHADOW.replace("[0, 14]", "[0, 40]")
    job = job_of("name\nMarlo\n", str(written(tmp_path / "t", PLATE + name + LINE)))
    assert job.template.warnings == ()
    assert _codes(job) == ["paint-leaves-piece"]


def test_workers_tell_it_once_too(list_file: Callable[[str], Path], tmp_path: Path) -> None:
    """A template that already carries the finding is not given it again."""
    template = str(written(tmp_path / "t", PLATE + TEXT + LINE + SHADOW))
    path = list_file("name\n" + "Marlo\n" * 60)
    rows, _ = check_rows(plan_job(path, Settings(template, workers=2)), silent)
    assert {f.code for row in rows for f in row.findings} == {"duplicate"}


def test_two_fixed_lines_over_each_other(job_of: JobOf, tmp_path: Path) -> None:
    """Their places overlap and so does their ink: both are told of the template alone."""
    second = LINE.replace('"festival"', '"village"').replace("[10, 35", "[10, 37")
    job = job_of(NAMES, str(written(tmp_path / "t", PLATE + TEXT + LINE + second)))
    assert [f.code for f in job.template.warnings] == ["boxes-overlap", "texts-overlap"]
    assert _codes(job) == []


def test_a_name_over_a_fixed_line(
    list_file: Callable[[str], Path], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Only the pieces on which the letters really meet are told."""
    line = LINE.replace("[10, 35, 60, 14]", "[50, 10, 25, 20]")
    template = str(written(tmp_path / "t", PLATE + TEXT.replace("[10", "[8") + line))
    path = list_file("name\nBo\nBartholomew\n")
    rows, _ = check_rows(plan_job(path, Settings(template)), silent)
    assert [[f.code for f in row.findings] for row in rows] == [[], ["texts-overlap"]]
    check_and_tell(path, Settings(template), as_json=False)
    told = capsys.readouterr().out
    assert 'Line 3: "Bartholomew" and "Saltmarsh Kite Day" run into each other on the' in told


@pytest.mark.parametrize("name", bundled_templates())
def test_no_example_runs_into_itself(name: str) -> None:
    """In the bundled templates with their example lists no two texts meet."""
    plan = plan_job(bundled("examples") / f"{name}.csv", Settings(name))
    rows, _ = check_rows(plan, silent)
    told = {f.code for row in rows for f in row.findings}
    told |= {f.code for f in plan.template.warnings}
    assert not told & {"texts-overlap", "boxes-overlap"}
