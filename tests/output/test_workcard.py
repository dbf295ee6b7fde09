"""The work card: the steps of the build, every piece on a map and in the list, the cautions."""

from dataclasses import replace
from pathlib import Path

import pytest
from shapely import affinity

from namebatch.job import Job
from namebatch.output.cautions import cautions
from namebatch.output.docpage import minutes
from namebatch.output.materials import material_lines, settings_table
from namebatch.output.workcard import write
from namebatch.output.worksteps import steps
from namebatch.sheet import jig_of, printed_page
from namebatch.template.model import Finish
from tests.output import doc_jobs, jobs
from tests.output.pages import Pages, nothing, read


def _card(job: Job, folder: Path) -> Pages:
    """Written and read back."""
    write(job, folder, nothing)
    return read(folder / "workcard.pdf")


TITLES = {
    "faced": [
        "Print",
        "Measure",
        "Make the jig",
        "Lay the print",
        "Tape it down",
        "Cut the faces",
        "Lay the board",
        "Cut the boards",
        "Mount",
        "Pack",
    ],
    "bare": ["Lay the board", "Cut", "Clean", "Pack"],
    "printed": [
        "Print",
        "Measure",
        "Make the jig",
        "Lay the print",
        "Tape it down",
        "Cut the faces",
        "Pack",
    ],
}


@pytest.mark.parametrize(
    ("kind", "build"), [("tag", "faced"), ("winder", "bare"), ("medal", "printed")]
)
def test_steps_follow_the_build(kind: str, build: str, tmp_path: Path) -> None:
    """Each build has its own steps, in the order of the work, all of them on the card."""
    job = doc_jobs.kite_job(kind)
    assert job.template.build == build
    assert [step.title for step in steps(job)] == TITLES[build]
    text = _card(job, tmp_path).text
    at = 0
    for title in TITLES[build]:
        at = text.index(title, at) + 1


def test_files_stand_with_their_steps(tmp_path: Path) -> None:
    """The card names the files of the job folder, as many kinds as the cutter takes."""
    text = _card(doc_jobs.kite_job("tag"), tmp_path).text
    for name in ("print.pdf", "jig.svg or .dxf", "cut/face-001.svg … face-003.svg or .dxf"):
        assert name in text
    only = steps(jobs.faced_job(files=("dxf",)))
    assert [name for step in only for name in step.files] == [
        "print.pdf",
        "jig.dxf",
        "cut/face-001.dxf",
        "cut/board-001.dxf",
    ]


def test_print_is_told_to_be_measured(tmp_path: Path) -> None:
    """Actual size and the scale bars: what goes wrong most often comes first."""
    text = _card(jobs.faced_job(), tmp_path).text
    assert "100 % or “actual size”" in text
    assert "the scale bars of every page: 100 mm across and up." in text


def test_bars_of_two_lengths_are_both_told(tmp_path: Path) -> None:
    """A low page has room for a shorter bar upright; nobody is told to find 100 mm there."""
    job = jobs.faced_job()
    across, up = job.scale_bars
    job = replace(job, scale_bars=(across, replace(up, length_mm=50.0)))
    assert "every page: 100 mm across and 50 mm up." in _card(job, tmp_path).text


@pytest.mark.parametrize("kind", ["tag", "winder", "medal"])
def test_every_piece_is_on_a_map_and_in_the_list(kind: str, tmp_path: Path) -> None:
    """Every id stands on the map of each sheet that it is on, and once in the assembly list."""
    job = doc_jobs.kite_job(kind)
    pages = _card(job, tmp_path)
    listed = next(text for text in pages.texts if "Assembly list" in text)
    maps = "\n".join(text for text in pages.texts if "Assembly list" not in text)
    for piece in job.pieces:
        for name in piece.ids:
            placed = sum(p.piece == name for sheet in job.sheets for p in sheet.placements)
            assert placed >= 1
            assert maps.count(name) - maps.count(f"{name}0") >= placed
            assert f"{name} " in " ".join(listed.split())
    for sheet in job.sheets:
        assert sheet.id in maps
        assert sheet.id in listed


def test_assembly_list_is_in_list_order(tmp_path: Path) -> None:
    """Copies follow each other, rows as in the list, with all sheets of a piece on one line."""
    pages = _card(jobs.faced_job(), tmp_path)
    listed = " ".join(next(text for text in pages.texts if "Assembly list" in text).split())
    for line in (
        "L2-1 Fenna face-001 face-001 board-001",
        "L2-2 Fenna face-001 face-001 board-001",
        "L5-1 Dúnlaith face-001 face-001 board-001",
    ):
        assert line in listed
    assert listed.index("L2-1") < listed.index("L2-2") < listed.index("L5-1")


def test_long_lists_go_on_with_their_head(tmp_path: Path) -> None:
    """An assembly list over several pages shows the names of its columns on each."""
    names = tuple(f"Name {i}" for i in range(90))
    pages = _card(doc_jobs.kite_job("medal", names), tmp_path)
    rows = [text for text in pages.texts if "Name 6" in text or "Name 8" in text]
    assert len(rows) >= 2
    assert all("Piece" in text and "Text" in text for text in rows)


def test_big_figures(tmp_path: Path) -> None:
    """Pieces, sheets, boards, minutes and the sum of the lines stand on the first page."""
    first = " ".join(_card(doc_jobs.kite_job("tag"), tmp_path).texts[0].split())
    for words in ("14", "pieces", "sheets", "boards", "8 min", "15 lines in = 12 made + 3 held"):
        assert words in first


@pytest.mark.parametrize(
    "words",
    [
        "Never cut unattended",
        "Extraction on",
        "PVC, vinyl or faux leather",
        "16 CFR 1501.4",
        "EN 71-1",
        "should not be readable from outside",
        "initials",
        "personal data",
        "machine's manual, local rules and licensed practice",
    ],
)
def test_cautions_stand_on_the_first_page(words: str, tmp_path: Path) -> None:
    """What must not be overlooked is beside the steps, with its source."""
    first = " ".join(_card(jobs.bare_job(), tmp_path).texts[0].split())
    assert words in first


def test_example_values_are_called_examples(tmp_path: Path) -> None:
    """Built-in values are said to be examples; a workshop's own file is not doubted."""
    job = jobs.bare_job()
    assert "Nobody has entered this workshop's values yet" in _card(job, tmp_path).text
    own = replace(job, workshop=replace(job.workshop, built_in=False, name="shed.toml"))
    text = _card(own, tmp_path).text
    assert "example values" not in text.replace("holds example values", "")
    assert "shed.toml" in text


def test_settings_are_never_made_up() -> None:
    """Speeds are those of the workshop file; what it does not have is said to be missing."""
    job = jobs.faced_job()
    table = {row[0].partition("\t")[0]: row[1:] for row in settings_table(job)}
    assert table["Cut outline"] == ("60 mm/s", "12 mm/s")
    assert table["Cut jig window"] == ("not in the file", "–")
    assert table["Kerf, across and up"] == ("0.1 and 0.1 mm", "0.1 and 0.1 mm")


def test_power_is_left_to_the_workshop(tmp_path: Path) -> None:
    """The program knows no power and says so."""
    text = _card(jobs.bare_job(), tmp_path).text
    assert "Power is not in the workshop file" in text
    assert " W " not in text


def test_material_is_counted() -> None:
    """Sheets, boards, faces to mount and rings are as many as the job has."""
    amounts = {line.name: line.amount for line in material_lines(doc_jobs.kite_job("tag"))}
    assert amounts["Card 160 g/m²"] == "3"
    assert amounts["Birch plywood 3 mm"] == "2"
    assert amounts["faces to mount"] == "28"
    assert amounts["rings, cords, ribbons or screws"] == "14"
    winder = doc_jobs.without_slot(doc_jobs.kite_job("winder"))
    assert "rings, cords, ribbons or screws" not in {m.name for m in material_lines(winder)}


def test_notes_are_shown(tmp_path: Path) -> None:
    """What concerns the whole job is on the card."""
    job = replace(jobs.faced_job(), notes=("Sheet 2 is half empty.",))
    assert "Sheet 2 is half empty." in _card(job, tmp_path).text


def test_hostile_names_do_no_harm(tmp_path: Path) -> None:
    """Markup, operators, long names, other scripts: words in the list, nothing else."""
    pages = _card(doc_jobs.kite_job("tag", doc_jobs.HOSTILE), tmp_path)
    assert "<script>alert(1)</script>" in pages.text
    assert "…" in pages.text
    assert all(0.005 < ink < 0.5 for ink in pages.ink)


def test_long_cautions_move_below_the_steps(tmp_path: Path) -> None:
    """A title of two lines and long steps still give whole pages, nothing run off the paper."""
    job = doc_jobs.kite_job("tag")
    title = "The very long title of a template that somebody has filled to the last letter " * 2
    material = replace(job.workshop.materials["plywood-3"], title="Plywood " * 60)
    workshop = replace(job.workshop, materials={**job.workshop.materials, "plywood-3": material})
    job = replace(job, template=replace(job.template, title=title), workshop=workshop)
    text = _card(job, tmp_path).text
    for words in (*TITLES["faced"], "Take care", "licensed practice"):
        assert words in text


def _empty(job: Job, held: int) -> Job:
    """The job as it is when all of its rows are held; the jig and bars are still there."""
    totals = replace(job.totals, rows=held, made=0, held=held, pieces=0, sheets=0, boards=0)
    return replace(job, pieces=(), sheets=(), totals=totals)


@pytest.mark.parametrize("kind", ["tag", "winder", "medal"])
def test_nothing_made_is_a_calm_card(kind: str, tmp_path: Path) -> None:
    """A job without a piece gives no orders: counts, and where the reasons are, on one page."""
    pages = _card(_empty(doc_jobs.kite_job(kind), 3), tmp_path)
    assert len(pages.texts) == 1
    for words in (
        "3 lines in = 0 made + 3 held",
        "Nothing to make",
        "All 3 lines of the list are held",
        "proof.pdf",
        "held.csv",
    ):
        assert words in pages.text
    for words in (
        *(title for title in TITLES["faced"] if title != "Print"),
        "0 pages",
        "0 × 0 mm",
        "test cylinder",
        "Steps",
        "Take care",
        "Material",
        "Settings",
        "Sheet maps",
        "Assembly list",
        "at the cutter",
    ):
        assert words not in pages.text
    single = _card(_empty(doc_jobs.kite_job(kind), 1), tmp_path).text
    assert "1 line in = 0 made + 1 held" in single
    assert "The one line of the list is held" in single


@pytest.mark.parametrize("kind", ["tag", "winder", "medal"])
def test_no_piece_no_verdict(kind: str) -> None:
    """Neither steps nor materials nor a word on small parts where there is no piece."""
    job = doc_jobs.kite_job(kind)
    assert any("test cylinder" in caution.text for caution in cautions(job))
    job = _empty(job, 3)
    assert not any("test cylinder" in caution.text for caution in cautions(job))
    assert (steps(job), material_lines(job)) == ((), ())


def test_same_job_same_bytes(tmp_path: Path) -> None:
    """No clock, no chance: the file is the same when it is made again."""
    first, second = tmp_path / "a", tmp_path / "b"
    for folder in (first, second):
        folder.mkdir()
        write(doc_jobs.kite_job("winder", doc_jobs.HOSTILE), folder, nothing)
    assert (first / "workcard.pdf").read_bytes() == (second / "workcard.pdf").read_bytes()


@pytest.mark.parametrize("kind", ["tag", "medal"])
def test_the_jig_is_pictured(kind: str, tmp_path: Path) -> None:
    """Where something is laid to a line, the card shows what lies where."""
    text = " ".join(_card(doc_jobs.kite_job(kind), tmp_path).text.split())
    assert "The jig to scale, as it lies on the bed" in text
    assert "The windows: the printed corners are seen in them" in text
    assert "The jig" not in _card(doc_jobs.kite_job("winder"), tmp_path).text


def test_a_larger_jig_is_pictured_with_its_board(tmp_path: Path) -> None:
    """What the page is mounted on, its lines beyond the page, and where it is fixed."""
    job = doc_jobs.kite_job("medal")
    materials = dict(job.workshop.materials)
    materials["card-160"] = replace(
        materials["card-160"], title="Plywood", sheet_mm=(400.0, 300.0), colour="#00ff00"
    )
    job = replace(
        job,
        template=replace(job.template, finish=Finish(mounted=True)),
        workshop=replace(job.workshop, materials=materials),
        jig=jig_of(printed_page((210.0, 297.0), (5.0, 5.0, 7.0, 5.0), 1.5), (430.0, 330.0)),
    )
    pages = _card(job, tmp_path)
    text = " ".join(pages.text.split())
    assert "The print on its sheet of Plywood, under the jig" in text
    assert "Its lines run on past the page" in text
    assert "on strips of the same sheet" in text


def test_small_parts_are_marked_in_the_list(tmp_path: Path) -> None:
    """Only where some pieces are small and others not; of all pieces the caution says it."""
    job = doc_jobs.kite_job("tag")
    first, *others = job.pieces
    small = replace(first, outline=affinity.scale(first.outline, 0.3, 0.3))
    mixed = replace(job, pieces=(small, *others))
    listed = next(text for text in _card(mixed, tmp_path).texts if "Assembly list" in text)
    assert listed.count("small part") == small.copies
    every = [replace(p, outline=affinity.scale(p.outline, 0.3, 0.3)) for p in job.pieces]
    pages = _card(replace(job, pieces=tuple(every)), tmp_path)
    assert "small part" not in next(text for text in pages.texts if "Assembly list" in text)
    assert "pieces may fit the test cylinder" in " ".join(pages.text.split())


def test_times_are_said_to_be_the_cutters(tmp_path: Path) -> None:
    """Each step of the cutter has its time, and what they leave out is said once."""
    job = doc_jobs.kite_job("tag")
    first = " ".join(_card(job, tmp_path).texts[0].split())
    assert "times are the cutter's alone, laying and taping not counted" in first
    boards = sum(sheet.seconds for sheet in job.sheets if sheet.kind == "board")
    assert f"Cut the boards about {minutes(boards)}" in first


def test_steps_that_have_no_room_go_on_over_the_page(tmp_path: Path) -> None:
    """On letter paper, laminated and taped: cautions stay on the first page, no step is lost."""
    job = doc_jobs.kite_job("tag")
    job = replace(
        job,
        template=replace(job.template, finish=Finish("pouch", 0.08, "face")),
        workshop=replace(job.workshop, printer=replace(job.workshop.printer, sheet="letter")),
    )
    pages = _card(job, tmp_path)
    first, second = (" ".join(text.split()) for text in pages.texts[:2])
    for words in ("Stay with the machine", "Know what you cut", "under the laser", "child's name"):
        assert words in first
    titles = [step.title for step in steps(job)]
    assert titles[0] in first
    assert f"{len(titles)} {titles[-1]}" in second
    assert "Steps, further" in second
    assert "Material" in second
