"""`namebatch remake` as a user runs it: exit status, messages, files."""

import json
import shutil
from pathlib import Path

import pytest

from tests.commanded import run
from tests.remake import jobs
from tests.remake.jobs import First


@pytest.fixture(scope="module")
def kept(tmp_path_factory: pytest.TempPathFactory) -> First:
    """Place cards with a held row."""
    return jobs.first_job(tmp_path_factory.mktemp("cards"), jobs.HELD, "place-card")


@pytest.fixture
def first(kept: First, tmp_path: Path) -> First:
    """A copy that a test may write remakes into."""
    shutil.copytree(kept.folder, tmp_path / "cards")
    return First(kept.job, tmp_path / "cards")


def test_pieces_by_id_go_below_the_job(first: First) -> None:
    """Every piece made again is exit 0, a summary, and a job folder of its own below the first."""
    done = run("remake", first.folder, "--piece", "L2-2", "--piece", "L3,L5-1")
    assert done.returncode == 0, done.stderr
    assert "Remake of L2-2, L3-1, L5-1: Place card from list.csv" in done.stdout
    assert "3 in = 3 made + 0 held" in done.stdout
    made = jobs.manifest(first.folder / "remakes" / "001")
    assert made["remake_of"]["pieces"] == ["L2-2", "L3-1", "L5-1"]
    assert run("remake", first.folder, "--piece", "L2-2").returncode == 0
    assert (first.folder / "remakes" / "002" / "job.json").is_file()


def test_pieces_by_file_go_where_said(first: First, tmp_path: Path) -> None:
    """A file of ids and --piece add up; --out names the folder."""
    path = tmp_path / "spoiled.csv"
    path.write_text("piece,why\nL5-2,scorched\n", encoding="utf-8")
    out = tmp_path / "again"
    done = run("remake", first.folder, "--file", path, "--piece", "L2-1", "--out", out)
    assert done.returncode == 0, done.stderr
    assert jobs.manifest(out)["remake_of"]["pieces"] == ["L2-1", "L5-2"]
    assert not (first.folder / "remakes").exists()


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        ([], "No piece is named"),
        (["--piece", "L9-1"], '"L9-1": there is no such piece'),
        (["--piece", "L4"], "was never made"),
        (["--file", "gone.csv"], "gone.csv"),
        (["--piece", "L2", "--face", "side"], "--face takes front, back, board"),
        (["--piece", "L2", "--face", "board"], "no board of their own"),
        (["--piece", "L2", "--onto", "board-001"], "has no boards"),
        (["--piece", "L2", "--template", "plaice-card"], "place-card"),
        (["--piece", "L2", "--template", "medal"], "the template medal is another one"),
        (["--piece", "L2", "--workshop", "gone.toml"], "gone.toml"),
        (["--piece", "L2", "--sheet", "40x30"], "no sheet of Card 300 g/m² has room"),
        (["--piece", "L2", "--out", ""], "--out is empty"),
    ],
)
def test_impossible_is_two(first: First, arguments: list[str], message: str) -> None:
    """What cannot be done is one paragraph on standard error; nothing is written."""
    before = sorted(path for path in first.folder.parent.rglob("*"))
    done = run("remake", first.folder, *arguments)
    assert done.returncode == 2
    assert message in done.stderr
    assert "Traceback" not in done.stderr
    assert sorted(path for path in first.folder.parent.rglob("*")) == before


def test_no_job_is_two(tmp_path: Path) -> None:
    """A folder without a finished job is told by name."""
    done = run("remake", tmp_path / "nowhere", "--piece", "L2")
    assert done.returncode == 2
    assert "nowhere holds no finished job" in done.stderr


def test_the_first_job_is_never_written_over(first: First) -> None:
    """Not even --replace lets a remake into the first job's own folder."""
    data = (first.folder / "job.json").read_bytes()
    done = run("remake", first.folder, "--piece", "L2", "--out", first.folder, "--replace")
    assert done.returncode == 2
    assert "whose files stay as they are" in done.stderr
    assert (first.folder / "job.json").read_bytes() == data


def test_another_remake_in_the_folder_is_refused(first: First, tmp_path: Path) -> None:
    """Other pieces into the same folder need --replace; the same pieces may be made anew."""
    out = tmp_path / "again"
    assert run("remake", first.folder, "--piece", "L2", "--out", out).returncode == 0
    assert run("remake", first.folder, "--piece", "L2", "--out", out).returncode == 0
    refused = run("remake", first.folder, "--piece", "L3", "--out", out)
    assert refused.returncode == 2
    assert "other pieces are made again" in refused.stderr
    assert "--replace" in refused.stderr
    assert run("remake", first.folder, "--piece", "L3", "--out", out, "--replace").returncode == 0


def test_some_held_is_one(tmp_path: Path) -> None:
    """With a changed template that is accepted, a row may be held: exit 1, or 2 with --strict."""
    template = jobs.own_template(tmp_path, "place-card", "[samples]", "[samples]")
    text = "name,table\nAnastasia Bartholomew,\nTeal,\n"
    first = jobs.first_job(tmp_path, text, template)
    toml = template / "template.toml"
    smaller = toml.read_text(encoding="utf-8").replace("[9, 21.8, 64, 13.6]", "[9, 21.8, 8, 13.6]")
    toml.write_text(smaller, encoding="utf-8")
    arguments = ("remake", first.folder, "--piece", "L2,L3")
    assert run(*arguments).returncode == 2
    assert run(*arguments, "--as-now", "--strict").returncode == 2
    assert not (first.folder / "remakes").exists()
    done = run(*arguments, "--as-now")
    assert done.returncode == 1
    assert "2 in = 1 made + 1 held" in done.stdout
    assert "Not as at first: it cannot be made now. Line 2:" in done.stdout
    made = json.loads((first.folder / "remakes" / "001" / "job.json").read_bytes())
    assert [piece["id"] for piece in made["pieces"]] == ["L3-1"]
