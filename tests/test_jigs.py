"""The jig of a job: from template and workshop file to its sheet, and what is told of it."""

import shutil
from dataclasses import replace
from pathlib import Path

import pytest

from namebatch.errors import SheetError
from namebatch.jigs import jig_notes, job_jig, mounted_on
from namebatch.output import jig
from namebatch.pipeline import Settings, make_job, plan_job
from namebatch.resources import bundled
from namebatch.sheet import Stock, board_page, printed_page
from namebatch.template.builtin_workshop import BUILTIN_TOML
from namebatch.template.model import Finish, Template
from namebatch.template.workshop import Workshop
from tests.output import jobs

MARGINS = (5.0, 5.0, 7.0, 5.0)
JOB = jobs.faced_job()
MOUNTED = replace(
    JOB.template, build="printed", board=None, faces=("front",), finish=Finish(mounted=True)
)


def _stocks(
    workshop: Workshop, margins: tuple[float, float, float, float] = MARGINS
) -> tuple[Stock, ...]:
    card, board = workshop.materials["card-160"], workshop.materials["plywood-3"]
    page = printed_page((210.0, 297.0), margins, 1.5)
    wood = board_page((600.0, 300.0), board)
    return (
        Stock("face", page, card, ("front",), (0.0,), 3.0),
        Stock("board", wood, board, ("board",), (0.0,), 3.0),
    )


def _shop(**card: object) -> Workshop:
    """The workshop with another card."""
    materials = dict(JOB.workshop.materials)
    materials["card-160"] = replace(materials["card-160"], **card)  # type: ignore[arg-type]
    return replace(JOB.workshop, materials=materials)


def _told(template: Template, workshop: Workshop, margins: object = MARGINS) -> tuple[str, ...]:
    made = job_jig(template, workshop, _stocks(workshop, margins))  # type: ignore[arg-type]
    return jig_notes(made, template, workshop)


def test_pages_have_a_jig_of_their_size_and_boards_none() -> None:
    """Where nothing is printed, nothing is laid to a line."""
    face, board = _stocks(JOB.workshop)
    made = job_jig(JOB.template, JOB.workshop, (face, board))
    assert made is not None
    assert made.size_mm == (210, 297)
    assert job_jig(JOB.template, JOB.workshop, (board,)) is None
    assert jig_notes(None, JOB.template, JOB.workshop) == ()


def test_the_sheet_size_of_a_paper_alone_mounts_nothing() -> None:
    """A size in the workshop file counts only where the template says that pages are mounted."""
    shop = _shop(sheet_mm=(500.0, 350.0))
    assert mounted_on(JOB.template, shop) is None
    assert mounted_on(MOUNTED, shop) == (500, 350)
    assert mounted_on(MOUNTED, JOB.workshop) is None  # as large as the page


def test_a_mounted_print_has_a_jig_that_reaches_past_its_board() -> None:
    """By 30 mm where the bed has room."""
    shop = _shop(sheet_mm=(400.0, 300.0))
    made = job_jig(MOUNTED, shop, _stocks(shop))
    assert made is not None
    bed = shop.cutter.bed_mm
    assert made.size_mm == (min(bed[0], 430), min(bed[1], 330))
    assert made.page_mm == (210, 297)
    assert _told(MOUNTED, shop) == ()


def test_the_workshops_own_jig_sheet_is_taken() -> None:
    """Also for pages as they are."""
    shop = replace(JOB.workshop, cutter=replace(JOB.workshop.cutter, jig_mm=(300.0, 300.0)))
    made = job_jig(JOB.template, shop, _stocks(shop))
    assert made is not None
    assert made.size_mm == (300, 300)


def test_thin_edges_are_told() -> None:
    """A borderless printer leaves a quarter of a millimetre beside the windows."""
    (told,) = _told(JOB.template, JOB.workshop, (0.0, 0.0, 0.0, 0.0))
    assert told.startswith("Beside its windows the jig is only 0.25 mm wide")
    assert "wider margins" in told
    assert _told(JOB.template, JOB.workshop, (1.8, 4.0, 6.7, 4.0)) == ()
    fragile = _shop(minimum_width_mm=2.0)
    (told,) = _told(JOB.template, fragile, (1.8, 4.0, 6.7, 4.0))
    assert "only 1.5 mm wide" in told


def test_a_board_as_large_as_the_bed_leaves_nothing_to_fix_a_jig_by() -> None:
    """What to do stands with it."""
    shop = _shop(sheet_mm=JOB.workshop.cutter.bed_mm)
    (told,) = _told(MOUNTED, shop)
    assert "no edge to fix it to the bed by. Cut the sheets smaller" in told


def test_a_page_larger_than_its_board_is_refused() -> None:
    """The job is impossible, whatever the list."""
    shop = _shop(sheet_mm=(200.0, 200.0))
    with pytest.raises(SheetError, match="to be mounted on a sheet of 200 × 200 mm, which is"):
        job_jig(MOUNTED, shop, _stocks(shop))


def test_a_mounted_job_from_list_to_files(tmp_path: Path) -> None:
    """Place cards on plywood of 300 × 340 mm: pages, cut files and the larger jig agree.

    The frame that the jig marks is the sheet's; the cut lines lie on the page.
    """
    folder = tmp_path / "card"
    shutil.copytree(bundled("templates") / "place-card", folder)
    path = folder / "template.toml"
    toml = path.read_text(encoding="utf-8").replace("card-300", "plywood-3")
    path.write_text(f"{toml}\n[finish]\nmounted = true\n", encoding="utf-8")
    shop = tmp_path / "shop.toml"
    shop.write_text(BUILTIN_TOML.replace("[600, 300]", "[300, 340]", 1), encoding="utf-8")
    names = tmp_path / "names.csv"
    names.write_text("name,table\nMarlo,3\nFenna,4\n", encoding="utf-8")
    plan = plan_job(names, Settings(template=str(folder), workshop=shop))
    job = make_job(plan, lambda stage, done, total: None)
    assert job.jig is not None
    assert job.jig.size_mm == (330, 370)
    (sheet,) = job.sheets
    assert job.jig.frame_mm == sheet.frame_mm
    assert sheet.size_mm == job.jig.page_mm == (210, 297)
    jig.write(job, tmp_path, lambda done, total: None)
    assert b'viewBox="0 0 330 370"' in (tmp_path / "jig.svg").read_bytes()
