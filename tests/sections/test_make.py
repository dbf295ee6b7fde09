"""A long list made in sections is one job like any other."""

import csv
import json
from pathlib import Path

import pypdfium2
import pytest

from namebatch.crew import Processes
from namebatch.errors import SheetError
from namebatch.output.target import digest_of
from namebatch.pipeline import Settings, make_job, plan_job
from tests.conftest import silent
from tests.sections import batches

CARDS = "bag-tag"
"""A template that prints faces and cuts boards of another material."""


@pytest.fixture(scope="module")
def plain(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A bare job of 20 rows in three sections; line 6 is held."""
    place = tmp_path_factory.mktemp("plain")
    batches.made(batches.plain_list(place), place / "job")
    return place / "job"


@pytest.fixture(scope="module")
def faced(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A job with prints and boards in three sections; line 6 is held."""
    place = tmp_path_factory.mktemp("faced")
    batches.made(batches.plain_list(place), place / "job", CARDS)
    return place / "job"


def test_manifest_is_written_as_ever(plain: Path, faced: Path) -> None:
    """`job.json` is, to the byte, what Python's json writes of its own content."""
    for folder in (plain, faced):
        raw = (folder / "job.json").read_text(encoding="utf-8")
        again = json.dumps(json.loads(raw), ensure_ascii=False, sort_keys=True, indent=1)
        assert raw == again + "\n"


def test_same_keys_and_pieces_as_in_one(plain: Path) -> None:
    """All but what depends on where pieces lie stands in the manifest as for a job made at once."""
    path = plain.parent / "list.csv"
    batches.made(path, plain.parent / "one", size=1000)
    whole, one = batches.manifest(plain), batches.manifest(plain.parent / "one")
    assert whole.keys() == one.keys()
    assert whole["totals"].keys() == one["totals"].keys()
    assert whole["sheets"][0].keys() == one["sheets"][0].keys()
    # lines are as long wherever they lie, but for the last digit of a figure
    long = [[piece.pop("cut_length_mm") for piece in job["pieces"]] for job in (whole, one)]
    assert long[0] == pytest.approx(long[1], abs=0.0002, rel=0.0)
    lying = ("sheets", "files", "totals")
    assert {k: v for k, v in whole.items() if k not in lying} == {
        k: v for k, v in one.items() if k not in lying
    }
    same = ("rows", "made", "held", "pieces", "spares", "cut_parts", "boards_area_bound")
    assert [whole["totals"][key] for key in same] == [one["totals"][key] for key in same]


def test_up_to_a_section_nothing_is_different(plain: Path) -> None:
    """A list that is no longer than a section gives the bytes that it gave without sections."""
    from namebatch.output.atomic import write_job

    path = plain.parent / "list.csv"
    batches.made(path, plain.parent / "short", size=20)
    job = make_job(plan_job(path, Settings("key-fob")), silent)
    write_job(job, plain.parent / "as-ever", False, silent)
    short = batches.files_of(plain.parent / "short")
    assert short == batches.files_of(plain.parent / "as-ever")


@pytest.mark.parametrize("which", ["plain", "faced"])
def test_nothing_is_lost(which: str, request: pytest.FixtureRequest) -> None:
    """Rows in are rows made and held; every piece lies as often as it was ordered; ids run on."""
    folder: Path = request.getfixturevalue(which)
    content = batches.manifest(folder)
    assert batches.lines(content["rows"]) == list(range(2, 22))
    held = [row["line"] for row in content["rows"] if row["status"] == "held"]
    assert held == [6]
    assert (content["totals"]["made"], content["totals"]["held"]) == (19, 1)
    ids = [piece["id"] for piece in content["pieces"]]
    assert ids == [f"L{line}-1" for line in range(2, 22) if line != 6]
    kinds = [sheet["kind"] for sheet in content["sheets"]]
    assert kinds == sorted(kinds, reverse=True)
    for kind, faces in (("face", ("front", "back")), ("board", ("board",))):
        own = [sheet["id"] for sheet in content["sheets"] if sheet["kind"] == kind]
        assert own == [f"{kind}-{n:03d}" for n in range(1, len(own) + 1)]
        if own:
            assert batches.placed(content, kind) == sorted(f"{i}.{f}" for i in ids for f in faces)


def test_every_file_is_listed(faced: Path) -> None:
    """The manifest lists every file of the folder with its digest, and nothing else lies there."""
    files = batches.manifest(faced)["files"]
    there = {path.relative_to(faced).as_posix() for path in faced.rglob("*") if path.is_file()}
    assert there == {*files, "job.json"}
    assert all(digest_of(faced / path) == digest for path, digest in files.items())
    assert {f"previews/L{line}-1.svg" for line in range(2, 22) if line != 6} <= there
    assert not [path for path in faced.parent.iterdir() if path.name.startswith(".")]


def test_pages_are_sheets(faced: Path) -> None:
    """`print.pdf` has the pages that the manifest names, each with its sheet's id and size."""
    content = batches.manifest(faced)
    sheets = [sheet for sheet in content["sheets"] if sheet["kind"] == "face"]
    with pypdfium2.PdfDocument(faced / "print.pdf") as document:
        assert [page for sheet in sheets for page in sheet["pages"]] == list(
            range(1, len(document) + 1)
        )
        for sheet in sheets:
            page = document[sheet["pages"][0] - 1]
            size = [side * 25.4 / 72 for side in page.get_size()]
            assert size == pytest.approx(sheet["size_mm"], abs=0.01)
            assert sheet["id"] in page.get_textpage().get_text_range()


def test_papers_say_which_part(faced: Path) -> None:
    """The proof begins each part with its number; the card begins with the job as a whole."""
    with pypdfium2.PdfDocument(faced / "proof.pdf") as document:
        text = "".join(page.get_textpage().get_text_range() for page in document)
    assert [f"Proof, part {n} of 3" in text for n in (1, 2, 3, 4)] == [True, True, True, False]
    with pypdfium2.PdfDocument(faced / "workcard.pdf") as document:
        first = document[0].get_textpage().get_text_range()
        text = "".join(page.get_textpage().get_text_range() for page in document)
    assert "Work card, part" not in first
    assert "19 made" in " ".join(first.split())
    assert "Part 2 of 3: 8 lines, 10 to 17" in text
    assert "Work card, part 3 of 3" in text


def test_held_rows_are_in_one_table(faced: Path) -> None:
    """`held.csv` has the held rows of all sections."""
    with (faced / "held.csv").open(encoding="utf-8-sig", newline="") as stream:
        rows = list(csv.reader(stream))
    assert [row[0] for row in rows] == ["line", "6"]


def test_bounds_hold(plain: Path, faced: Path) -> None:
    """No lower bound is above what a job made at once needs, nor below the one of area alone."""
    for folder, template in ((plain, "key-fob"), (faced, CARDS)):
        path = folder.parent / "list.csv"
        one = make_job(plan_job(path, Settings(template)), silent).totals
        whole = batches.manifest(folder)["totals"]
        assert whole["sheets_area_bound"] <= whole["sheets_lower_bound"] <= one.sheets
        assert whole["boards_area_bound"] <= whole["boards_lower_bound"] <= one.boards
        assert whole["boards_lower_bound"] >= 1


@pytest.mark.parametrize("workers", [2, 3])
def test_same_bytes_whoever_makes_it(faced: Path, tmp_path: Path, workers: int) -> None:
    """One process, two and three give the same files."""
    batches.made(faced.parent / "list.csv", tmp_path / "job", CARDS, crew=Processes(workers))
    assert batches.files_of(tmp_path / "job") == batches.files_of(faced)


def test_no_row_has_room(tmp_path: Path) -> None:
    """Where no piece has room on a sheet the job is impossible, and nothing is written."""
    path = batches.plain_list(tmp_path)
    path.write_text(path.read_text(encoding="utf-8").replace("Zoë 𓅯", "Zoë"), encoding="utf-8")
    with pytest.raises(SheetError, match=r"no sheet of .* has room"):
        batches.made(path, tmp_path / "job", CARDS, sheet="70x60")
    assert [one.name for one in tmp_path.iterdir()] == ["list.csv"]
