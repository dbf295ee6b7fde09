"""`align` and `calibrate` as a user runs them: from the list to the aligned file."""

import json
import shutil
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pypdfium2 as pdfium
import pytest

from namebatch.curves import apply
from namebatch.measured.jobsheet import read_job_sheet
from namebatch.template.builtin_workshop import BUILTIN_TOML
from tests.commanded import run
from tests.measured.jobfolder import table
from tests.output.readers import svg_bounds
from tests.registration.sheets import laid

ListFile = Callable[..., Path]
NAMES = "name,table\nWren Teasel,1\nTeal,2\n"
ASKEW = laid(0.7, (0.997, 1.002), 0.0, (60.0, 40.0))


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    """A workshop file of one's own."""
    path = tmp_path / "shop.toml"
    path.write_text(BUILTIN_TOML, encoding="utf-8")
    return path


def page_of(path: Path) -> bytes:
    """The pixels of the first page."""
    pixels = pdfium.PdfDocument(path)[0].render(scale=1).to_numpy()
    return bytes(pixels.tobytes())


@pytest.fixture(scope="module")
def plain_job(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A job of place cards, made once."""
    folder = tmp_path_factory.mktemp("made")
    (folder / "list.csv").write_text(NAMES, encoding="utf-8")
    make = ("make", folder / "list.csv", "--template", "place-card", "--out", folder / "job")
    done = run(*make)
    assert done.returncode == 0, done.stderr
    return folder / "job"


@pytest.fixture
def job(plain_job: Path, tmp_path: Path) -> Path:
    """The job, to be worked on."""
    return Path(shutil.copytree(plain_job, tmp_path / "job"))


def test_cut_files_are_moved_onto_a_measured_print(job: Path, tmp_path: Path) -> None:
    """From a table with decimal commas: how the print lies is told, the lines lie there."""
    (tmp_path / "m.csv").write_text(table(read_job_sheet(job, "face-001").marks, ASKEW), "utf-8")
    done = run("align", job, "--sheet", "face-001", "--measured", tmp_path / "m.csv")
    assert done.returncode == 0, done.stderr
    assert "Turned by 0.700°, scale 99.70 % in x, 100.20 % in y" in done.stdout
    assert "never leave the cutter unattended" in done.stdout
    report = json.loads((job / "aligned/face-001.json").read_bytes())
    assert report["worst_mm"] < 0.001
    before = svg_bounds((job / "cut/face-001.svg").read_bytes(), 297.0)
    after = svg_bounds((job / "aligned/face-001.svg").read_bytes(), 400.0)
    assert list(before) == list(after)
    for key, (x0, y0, x1, y1) in before.items():
        corners = [apply(ASKEW, point) for point in ((x0, y0), (x1, y0), (x1, y1), (x0, y1))]
        box = (*np.min(corners, axis=0), *np.max(corners, axis=0))
        # a piece with round corners, turned, stays inside the turned box and nearly fills it
        assert after[key] == pytest.approx(box, abs=1.2)


def test_marks_may_be_given_one_by_one(job: Path) -> None:
    """Two are enough; more would come closer, and it says so."""
    marks = ("--mark", "bottom-left=45.5,57.5", "--mark", "top-right=244,5;341,5")
    done = run("align", job, "--sheet", "face-001", *marks)
    assert done.returncode == 0, done.stderr
    assert "Turned by 0.000°, scale 100.00 % in x, 100.00 % in y" in done.stdout
    assert "Measure all four corners to come closer" in done.stdout


def test_a_ruler_will_do_for_the_scale(job: Path) -> None:
    """Width and height of the printed frame."""
    done = run("align", job, "--sheet", "face-001", "--frame", "198.4,284.6")
    assert done.returncode == 0, done.stderr
    assert "Scale 99.70 % in x, 100.21 % in y, about the frame's bottom left" in done.stdout


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        ([], "Nothing was measured"),
        (["--mark", "left=1,2"], "has the marks bottom-left, bottom-right, top-right, top-left"),
        (["--mark", "bottom-left=1,2"], "At least two different marks"),
        (["--frame", "1,2"], "more than 3 %"),
        (["--mark", "bottom-left=45,57", "--model", "conformal"], "--model takes auto"),
        (
            ["--mark", "bottom-left=5,7", "--mark", "top-right=-194,-277"],
            "say --turned",
        ),
        (
            ["--mark", "bottom-left=505,7", "--mark", "top-right=704,291"],
            "leave the cutter's bed of 600 × 400 mm",
        ),
    ],
)
def test_what_cannot_be_aligned_writes_nothing(job: Path, arguments: list[str], words: str) -> None:
    """One paragraph on standard error, exit 2."""
    done = run("align", job, "--sheet", "face-001", *arguments)
    assert done.returncode == 2
    assert words in done.stderr
    assert "Traceback" not in done.stderr
    assert not (job / "aligned").exists()


def test_another_bed_can_be_named(job: Path, shop: Path) -> None:
    """The workshop file given now counts more than what the job noted."""
    shop.write_text(BUILTIN_TOML.replace("bed_mm = [600, 400]", "bed_mm = [300, 500]"), "utf-8")
    marks = ("--mark", "bottom-left=45.5,57.5", "--mark", "top-right=244.5,341.5")
    done = run("align", job, "--sheet", "face-001", *marks, "--workshop", shop)
    assert done.returncode == 0, done.stderr
    assert b'height="500mm"' in (job / "aligned/face-001.svg").read_bytes()


def test_the_printer_is_measured_and_the_next_job_follows(
    list_file: ListFile, plain_job: Path, tmp_path: Path, shop: Path
) -> None:
    """Test page, form filled in, workshop file changed, cut file scaled about the middle."""
    done = run("calibrate", "print", "--out", tmp_path / "cal", "--workshop", shop)
    assert done.returncode == 0, done.stderr
    form = tmp_path / "cal" / "print-test.csv"
    filled = (
        form.read_text("utf-8").replace("x,170,", "x,170,170.34").replace("y,250,", "y,250,249.25")
    )
    form.write_text(filled, "utf-8")
    stored = run("calibrate", "print", "--measured", form, "--workshop", shop)
    assert stored.returncode == 0, stored.stderr
    assert "Printed lengths in x are 100.20 %" in stored.stdout
    assert "scale = [1.002, 0.997]" in shop.read_text("utf-8")
    again = run("calibrate", "print", "--out", tmp_path / "cal", "--workshop", shop)
    assert again.returncode == 2
    assert "may hold readings" in again.stderr
    assert form.read_text("utf-8") == filled

    job = tmp_path / "job"
    make = ("make", list_file(NAMES), "--template", "place-card", "--out", job)
    told = run(*make, "--workshop", shop)
    assert told.returncode == 0, told.stderr
    assert "the jig follow" in told.stdout
    sheet = json.loads((job / "job.json").read_bytes())["sheets"][0]
    assert (sheet["cut_scale"], sheet["print_scale"]) == ([1.002, 0.997], [1.0, 1.0])
    before = svg_bounds((plain_job / "cut/face-001.svg").read_bytes(), 297.0)
    after = svg_bounds((job / "cut/face-001.svg").read_bytes(), 297.0)
    for key, (x0, y0, x1, y1) in before.items():
        xs = [105 + 1.002 * (x - 105) for x in (x0, x1)]
        ys = [148.5 + 0.997 * (y - 148.5) for y in (y0, y1)]
        assert after[key] == pytest.approx((xs[0], ys[0], xs[1], ys[1]), abs=0.006)
    # the file says which lengths to look for, so only its pages are the same
    assert page_of(job / "print.pdf") == page_of(plain_job / "print.pdf")


def test_the_cutter_is_measured_and_the_kerf_stored(tmp_path: Path, shop: Path) -> None:
    """Test with its page, in a folder; strips and slots filled in; both kerfs in the file."""
    done = run("calibrate", "kerf", "--material", "plywood-3", "--out", tmp_path / "k")
    assert done.returncode == 0, done.stderr
    assert "never leave the cutter unattended" in done.stdout
    names = sorted(path.name for path in (tmp_path / "k").iterdir())
    assert names == ["kerf-test.csv", "kerf-test.dxf", "kerf-test.pdf", "kerf-test.svg"]
    form = tmp_path / "k" / "kerf-test.csv"
    text = form.read_text("utf-8")
    text = text.replace("x-strips,10,10,", "x-strips,10,10,98.3").replace(
        "y-strips,10,10,", "y-strips,10,10,98.1"
    )
    form.write_text(text, "utf-8")
    kerf = ("calibrate", "kerf", "--material", "plywood-3", "--measured", form)
    stored = run(*kerf, "--workshop", shop)
    assert stored.returncode == 0, stored.stderr
    assert "Kerf in x: 0.170 mm ± 0.006 mm (10 strips laid together)." in stored.stdout
    assert "kerf_mm = [0.17, 0.19]" in shop.read_text("utf-8")
    assert "--workshop FILE" in run(*kerf).stderr


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["print"], "Give --out DIR for the test sheet, or --measured FILE"),
        (["print", "--out", "a", "--measured", "b"], "one of the two"),
        (["print", "--out", " "], "--out is empty"),
        (["kerf", "--material", "oak", "--out", "a"], 'has no material "oak"'),
        (["print", "--measured", "gone.csv", "--workshop", "shop.toml"], "gone.csv"),
    ],
)
def test_what_cannot_be_calibrated_is_told(
    tmp_path: Path, shop: Path, arguments: list[str], words: str
) -> None:
    """Exit 2, and nothing is written."""
    done = run("calibrate", *arguments, cwd=tmp_path)
    assert done.returncode == 2
    assert words in done.stderr
    assert [path.name for path in tmp_path.iterdir()] == [shop.name]
