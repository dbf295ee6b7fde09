"""What a job says of speeds that nobody entered."""

from collections.abc import Callable
from pathlib import Path

from namebatch.job import Job
from namebatch.pipeline import Settings, make_job, plan_job
from namebatch.template.builtin_workshop import BUILTIN_TOML
from tests.conftest import silent

ListFile = Callable[..., Path]
ALL = "speeds_mm_s = { outer = 15, inner = 15, window = 15, mark = 60, engrave = 200 }"
CARD = "speeds_mm_s = { outer = 45, inner = 45, window = 45, mark = 120, engrave = 250 }"


def _told(job: Job) -> list[str]:
    return [note for note in job.notes if "has no speed" in note]


def _job(list_file: ListFile, tmp_path: Path, template: str, *changes: tuple[str, str]) -> Job:
    toml = BUILTIN_TOML
    for old, new in changes:
        assert old in toml
        toml = toml.replace(old, new)
    path = tmp_path / "shop.toml"
    path.write_text(toml, encoding="utf-8")
    names = list_file("name,table,village\nWren,1,Holm\n")
    return make_job(plan_job(names, Settings(template, workshop=path)), silent)


def test_what_the_times_assume_is_told(list_file: ListFile, tmp_path: Path) -> None:
    """Operation and material, the figure and where it is from; only what this job does."""
    only_outer = (ALL, "speeds_mm_s = { outer = 15 }")
    job = _job(list_file, tmp_path, "key-fob", only_outer)
    operations = {cut.operation for sheet in job.sheets for cut in sheet.cuts}
    assert operations == {"engrave", "inner", "outer"}
    [told] = _told(job)
    assert "no speed for engraving and cuts inside in Birch plywood 3 mm" in told
    assert "The times reckon them at 15 mm/s, the speed of the outlines" in told
    assert "cost" not in told


def test_a_cost_that_rests_on_an_assumed_speed_is_told(list_file: ListFile, tmp_path: Path) -> None:
    """Where the cutter's time has a price."""
    priced = ("corner_mm = 0.05", "corner_mm = 0.05\nprice_per_hour = 24")
    most = (ALL, "speeds_mm_s = { outer = 15, engrave = 200 }\nprice = 4.2")
    [told] = _told(_job(list_file, tmp_path, "key-fob", priced, most))
    assert "no speed for cuts inside in Birch plywood 3 mm" in told
    assert "The times, and with them the cost, reckon them at 15 mm/s" in told


def test_the_jigs_lines_count(list_file: ListFile, tmp_path: Path) -> None:
    """It is cut of the page's own material."""
    job = _job(list_file, tmp_path, "place-card", (CARD, "speeds_mm_s = { outer = 45 }"))
    [told] = _told(job)
    assert "no speed for marked lines and jig windows in Card 300 g/m²" in told


def test_nothing_is_told_where_all_is_known(list_file: ListFile, tmp_path: Path) -> None:
    """Also not of operations that this job does not need."""
    most = (ALL, "speeds_mm_s = { outer = 15, inner = 15, engrave = 200 }")
    assert _told(_job(list_file, tmp_path, "key-fob", most)) == []
