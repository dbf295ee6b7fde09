"""What is wrong with a template, but not too wrong, is told wherever a job is looked at."""

import json
from collections.abc import Callable
from pathlib import Path

import pypdfium2 as pdfium
import pytest

from namebatch.job import Job
from namebatch.output.atomic import write_job
from namebatch.pipeline import Settings
from namebatch.summary import check_and_tell, make_and_tell
from namebatch.template import load_template
from tests.conftest import silent
from tests.template.cutouts import cover, cut_out, disc
from tests.template.folders import problems_of, written
from tests.template.images import png, saved

TOML = """\
format = 1
title = "Kite"
build = "printed"
rule = "base"
material = "card-160"
[base]
BASE
[artwork.front]
file = "kite.png"
[[text]]
column = "name"
box_mm = [10, 10, 12, 8]
fonts = ["Noto Sans SemiBold"]
min_height_mm = 1
max_height_mm = 4
"""
PLATE = 'shape = "rounded-rectangle"\nwidth_mm = 60\nheight_mm = 40\ncorner_mm = 3'
TRACE = 'trace = "front"\nwidth_mm = 60'
LIST = "name\nMarlo\n"


def _plate(folder: Path, pixels: int) -> Path:
    """A plate whose picture, 63 mm wide with its bleed, has so many pixels across."""
    picture = png(pixels, round(pixels * 43 / 63))
    return written(folder, TOML.replace("BASE", PLATE), kite__png=picture)


def _trace(folder: Path, dpi: float) -> Path:
    """A traced disc of 30 mm at a resolution."""
    picture = saved(cut_out(cover(disc(30, 20, 15), (60, 40), dpi)), "PNG")
    return written(folder, TOML.replace("BASE", TRACE), kite__png=picture)


SOFT = "The picture of the front has 101 dpi at its final size and will look soft"
COARSE = "kite.png has only 107 pixels an inch"
CASES = pytest.mark.parametrize(
    ("make", "much", "code", "words"),
    [(_plate, 250, "picture-soft", SOFT), (_trace, 107, "trace-coarse", COARSE)],
    ids=["artwork", "trace"],
)
Make = Callable[[Path, float], Path]


@CASES
def test_a_template_carries_its_findings(
    tmp_path: Path, make: Make, much: float, code: str, words: str
) -> None:
    """Between 75 and 150 dpi there is one warning, with what is lacking."""
    (found,) = load_template(make(tmp_path / "t", much)).warnings
    assert (found.code, found.severity.value) == (code, "warn")
    assert words in found.message


@CASES
def test_make_and_check_tell_them(
    tmp_path: Path,
    list_file: Callable[[str], Path],
    capsys: pytest.CaptureFixture[str],
    make: Make,
    much: float,
    code: str,
    words: str,
) -> None:
    """Both commands print the warning once; the manifest, proof and work card have it too."""
    settings = Settings(str(make(tmp_path / "t", much)))
    check_and_tell(list_file(LIST), settings, as_json=False)
    assert capsys.readouterr().out.count(words) == 1
    out = tmp_path / "out"
    make_and_tell(list_file(LIST), settings, out, replace=False, strict=False)
    assert capsys.readouterr().out.count(words) == 1
    (found,) = json.loads((out / "job.json").read_text())["template_findings"]
    assert (found["code"], found["severity"]) == (code, "warn")
    for name in ("proof.pdf", "workcard.pdf"):
        pages = pdfium.PdfDocument(out / name)
        text = " ".join(page.get_textpage().get_text_range() for page in pages)
        assert words in " ".join(text.split()), name


def test_a_good_template_has_none(job_of: Callable[..., Job], tmp_path: Path) -> None:
    """The list is there and empty, so that programs need not ask."""
    write_job(job_of(LIST, "place-card"), tmp_path / "out", False, silent)
    content = json.loads((tmp_path / "out" / "job.json").read_text())
    assert content["template_findings"] == []


@pytest.mark.parametrize(("make", "much"), [(_plate, 180), (_trace, 74)])
def test_below_75_dpi_a_template_is_refused(tmp_path: Path, make: Make, much: float) -> None:
    """Pixels that anyone sees make the job impossible, whatever the picture is for."""
    lines = problems_of(make(tmp_path / "t", much))
    assert any("pixels an inch" in line and "times as wide and high" in line for line in lines)
