"""The command line as a user runs it: exit status, messages, files."""

import json
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from namebatch.resources import bundled
from tests.commanded import run

ListFile = Callable[..., Path]
GOOD = "name,table\nWren Teasel,1\nTeal,2\n"
MIXED = GOOD + "Zoë 𓅯,3\n"


def test_every_row_made_is_zero(list_file: ListFile, tmp_path: Path) -> None:
    """A good list gives exit 0, a summary that adds up, and the files."""
    out = tmp_path / "job"
    done = run("make", list_file(GOOD), "--template", "place-card", "--out", out)
    assert done.returncode == 0, done.stderr
    assert "2 in = 2 made + 0 held" in done.stdout
    assert "pieces: 2 of 2" in done.stdout
    assert "never leave the cutter unattended" in done.stdout
    assert (out / "job.json").is_file()


def test_some_held_is_one(list_file: ListFile, tmp_path: Path) -> None:
    """A held row gives exit 1 and its reason, and the others are made."""
    out = tmp_path / "job"
    done = run("make", list_file(MIXED), "--template", "place-card", "--out", out)
    assert done.returncode == 1
    assert "3 in = 2 made + 1 held" in done.stdout
    assert 'Held: Line 4: "Zoë 𓅯" has a sign (U+1316F egyptian hieroglyph g041)' in done.stdout
    assert "U+1316F" in (out / "held.csv").read_text(encoding="utf-8-sig")


def test_strict_is_two_and_writes_nothing(list_file: ListFile, tmp_path: Path) -> None:
    """With --strict a held row makes the job impossible."""
    out = tmp_path / "job"
    done = run("make", list_file(MIXED), "--template", "place-card", "--out", out, "--strict")
    assert done.returncode == 2
    assert "nothing was written" in done.stderr
    assert "Line 4" in done.stderr
    assert not out.exists()


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (["--template", "plaice-card"], "place-card"),
        (["--template", "place-card", "--sheet", "a99"], "a99"),
        (["--template", "place-card", "--column", "name"], "FIELD=HEADER"),
        (["--template", "place-card", "--column", "name=Nom"], "Nom"),
        (["--template", "place-card", "--workshop", "gone.toml"], "gone.toml"),
    ],
)
def test_impossible_is_two(
    list_file: ListFile, tmp_path: Path, arguments: list[str], message: str
) -> None:
    """What cannot be done is one paragraph on standard error; nothing is written."""
    out = tmp_path / "job"
    done = run("make", list_file(GOOD), "--out", out, *arguments)
    assert done.returncode == 2
    assert message in done.stderr
    assert "Traceback" not in done.stderr
    assert not out.exists()


def test_missing_list_is_two(tmp_path: Path) -> None:
    """A list that is not there is said by name."""
    done = run("make", tmp_path / "gone.csv", "--template", "medal", "--out", tmp_path / "o")
    assert done.returncode == 2
    assert "gone.csv" in done.stderr


def test_another_job_is_refused_unless_replaced(list_file: ListFile, tmp_path: Path) -> None:
    """A folder with another job stays untouched without --replace; the same job may run again."""
    out = tmp_path / "job"
    first = list_file(GOOD)
    assert run("make", first, "--template", "place-card", "--out", out).returncode == 0
    before = (out / "job.json").read_bytes()
    assert run("make", first, "--template", "place-card", "--out", out).returncode == 0
    assert (out / "job.json").read_bytes() == before
    other = list_file("name,award\nWren,Best tail\n", "other.csv")
    refused = run("make", other, "--template", "medal", "--out", out)
    assert refused.returncode == 2
    assert "--replace" in refused.stderr
    assert (out / "job.json").read_bytes() == before
    assert run("make", other, "--template", "medal", "--out", out, "--replace").returncode == 0
    assert json.loads((out / "job.json").read_bytes())["template"] == "medal"


def test_check_writes_nothing(list_file: ListFile, tmp_path: Path) -> None:
    """`check` tells the findings and gives the manifest's rows as JSON."""
    path = list_file(MIXED)
    before = sorted(tmp_path.iterdir())
    plain = run("check", path, "--template", "place-card")
    told = run("check", path, "--template", "place-card", "--json")
    assert plain.returncode == told.returncode == 1
    assert "3 in = 2 made + 1 held" in plain.stdout
    rows = json.loads(told.stdout)
    assert [row["status"] for row in rows] == ["made", "made", "held"]
    assert rows[2]["findings"][-1]["severity"] == "hold"
    assert rows[0]["pieces"] == ["L2-1"]
    assert sorted(tmp_path.iterdir()) == before


def test_templates_and_fonts_as_json() -> None:
    """The lists have the keys of the contract."""
    templates = json.loads(run("templates", "--json").stdout)
    assert {"bag-tag", "line-winder", "place-card", "medal", "stencil-plate"} <= {
        template["name"] for template in templates
    }
    assert set(templates[0]) == {
        "name", "title", "build", "rule", "faces", "fields", "size_mm"
    }  # fmt: skip
    fonts = json.loads(run("fonts", "--json").stdout)
    assert {"name", "family", "style", "package", "licence", "scripts"} <= set(fonts[0])


def test_fonts_check_names_the_faces() -> None:
    """Only faces that can set the whole text are listed; none is exit 1."""
    thai = json.loads(run("fonts", "--check", "อรุณี", "--json").stdout)
    assert {face["name"] for face in thai} == {"Noto Sans Thai", "Noto Sans Thai SemiBold"}
    none = run("fonts", "--check", "𓀀")
    assert none.returncode == 1
    assert "No typeface here can set" in none.stdout


def test_demo_makes_every_template(tmp_path: Path) -> None:
    """One run makes all bundled templates from the example lists, no row held."""
    done = run("demo", "--out", tmp_path / "demo")
    assert done.returncode == 0, done.stdout + done.stderr
    made = {path.parent.name for path in (tmp_path / "demo").glob("*/job.json")}
    assert made == {path.name for path in bundled("templates").iterdir() if path.is_dir()}


def test_two_hundred_names_with_twelve_bad_rows(tmp_path: Path) -> None:
    """188 made, 12 held, each with its reason, in the manifest and in held.csv."""
    out = tmp_path / "job"
    path = bundled("examples") / "two-hundred.csv"
    done = run("make", path, "--template", "bag-tag", "--out", out)
    assert done.returncode == 1
    assert "200 in = 188 made + 12 held" in done.stdout
    rows = json.loads((out / "job.json").read_text(encoding="utf-8"))["rows"]
    held = [row for row in rows if row["status"] == "held"]
    assert len(rows) == 200
    assert len(held) == 12
    assert all(any(f["severity"] == "hold" for f in row["findings"]) for row in held)
    assert len((out / "held.csv").read_text(encoding="utf-8-sig").splitlines()) >= 13


def test_help_imports_neither_geometry_nor_documents() -> None:
    """`--help` stays quick: no heavy library is read for it."""
    script = (
        "import sys\nfrom namebatch.cli import app\n"
        "try:\n    app(['--help'])\nexcept SystemExit:\n    pass\n"
        "heavy = {'shapely', 'numpy', 'reportlab', 'ezdxf', 'uharfbuzz', 'fastapi', 'PIL',"
        " 'pydantic'}\n"
        "print('HEAVY', sorted(heavy & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True)
    assert "HEAVY []" in done.stdout, done.stdout + done.stderr


def test_empty_out_is_refused(list_file: ListFile, tmp_path: Path) -> None:
    """An empty folder name does not fill the current folder."""
    done = run("make", list_file(GOOD), "--template", "place-card", "--out", "", cwd=tmp_path)
    assert done.returncode == 2
    assert "--out is empty" in done.stderr
    assert [path.name for path in tmp_path.iterdir()] == ["list.csv"]


def test_demo_refuses_before_it_writes(tmp_path: Path) -> None:
    """Someone's own file in the way of one template stops the demo before the first."""
    (tmp_path / "demo" / "medal").mkdir(parents=True)
    (tmp_path / "demo" / "medal" / "print.pdf").write_text("mine", encoding="utf-8")
    done = run("demo", "--out", tmp_path / "demo")
    assert done.returncode == 2
    assert [path.name for path in (tmp_path / "demo").iterdir()] == ["medal"]


def test_a_broken_font_is_left_out_and_said(tmp_path: Path) -> None:
    """One broken file among a workshop's own typefaces does not hide the others."""
    (tmp_path / "fonts").mkdir()
    (tmp_path / "fonts" / "Broken.ttf").write_text("broken", encoding="utf-8")
    done = run("fonts", "--check", "Å", "--json", cwd=tmp_path)
    assert done.returncode == 0
    assert len(json.loads(done.stdout)) > 20
    assert "Broken" in done.stderr


def test_names_are_never_cut_in_tables(tmp_path: Path) -> None:
    """What must be typed stands whole, however narrow the terminal."""
    done = run("templates", columns=40)
    assert all(name.name in done.stdout for name in bundled("templates").iterdir())


def test_terminated_make_leaves_nothing(list_file: ListFile, tmp_path: Path) -> None:
    """A polite end in the middle takes the half-made files away."""
    rows = "".join(f"Wren {i},1\n" for i in range(400))
    path = list_file("name,table\n" + rows)
    arguments = ["make", str(path), "--template", "place-card", "--out", str(tmp_path / "o")]
    process = subprocess.Popen(
        [sys.executable, "-m", "namebatch", *arguments], stdout=subprocess.PIPE, text=True
    )
    assert process.stdout is not None
    while "Cut files" not in process.stdout.readline():
        assert process.poll() is None
    process.terminate()
    process.stdout.close()
    assert process.wait(60) == 130
    assert [p.name for p in tmp_path.iterdir()] == ["list.csv"]


def test_the_templates_folder_is_no_place_for_a_job(list_file: ListFile, tmp_path: Path) -> None:
    """A job in the template's own folder would become part of the template."""
    folder = tmp_path / "mine"
    shutil.copytree(bundled("templates") / "place-card", folder)
    before = sorted(path.name for path in folder.iterdir())
    done = run("make", list_file(GOOD), "--template", folder, "--out", folder)
    assert done.returncode == 2
    assert sorted(path.name for path in folder.iterdir()) == before
