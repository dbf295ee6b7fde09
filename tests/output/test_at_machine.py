"""The workshop's own words for the machine, on the work card."""

from dataclasses import replace
from pathlib import Path

from namebatch.job import Job
from namebatch.output.at_machine import machine_lines
from namebatch.output.workcard import write
from tests.output import jobs
from tests.output.pages import nothing, read


def _with(job: Job, material: str, words: dict[str, str]) -> Job:
    """The job with a workshop file that has words for a material."""
    materials = dict(job.workshop.materials)
    materials[material] = replace(materials[material], at_the_machine=words)
    return replace(job, workshop=replace(job.workshop, materials=materials))


def test_only_what_this_job_does_is_told() -> None:
    """Operation and material stand before the words; without words there is no line."""
    job = jobs.faced_job()
    assert machine_lines(job) == ()
    words = {"window": "10 %", "engrave": "20 %", "outer": "65 % power, 2 passes"}
    told = machine_lines(_with(_with(job, "plywood-3", words), "card-160", words))
    assert told == (
        "Cut outline, Card 160 g/m²: 65 % power, 2 passes",
        "Cut outline, Birch plywood 3 mm: 65 % power, 2 passes",
        "Cut jig window, Card 160 g/m²: 10 %",
    )


def test_the_words_stand_on_the_card_as_they_are(tmp_path: Path) -> None:
    """Whole, and the card no longer says that power is not in the file."""
    long = "65 % power, 2 passes, air on, honeycomb bed, focus on the sheet's face; wipe the lens"
    job = _with(jobs.faced_job(), "plywood-3", {"outer": long})
    write(job, tmp_path, nothing)
    text = " ".join(read(tmp_path / "workcard.pdf").text.split())
    assert f"Cut outline, Birch plywood 3 mm: {long}" in text
    assert "Power is not in the workshop file" not in text
    assert "in the workshop's own words" in text
    assert "the machine's manual comes first" in text
