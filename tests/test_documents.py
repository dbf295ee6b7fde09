"""What README and DEVELOPERS say is so: commands run, examples load, pictures are there."""

import re
import shlex
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from namebatch.mends import read_mends
from namebatch.resources import bundled
from namebatch.template import load_template, load_workshop
from namebatch.template.builtin_workshop import BUILTIN_TOML
from namebatch.template.part_used import load_part_used
from namebatch.template.schema import BASES
from tests.commanded import run
from tests.template.drawing import svg

TOP = Path(__file__).parents[1]
README = (TOP / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (TOP / "DEVELOPERS.md").read_text(encoding="utf-8")

COMMANDS = [
    command
    for command in re.findall(r"^(namebatch .*?)(?:\s{3,}.*)?$", README, re.MULTILINE)
    if command != "namebatch serve"  # runs until it is ended: tests/test_cli_serve.py
]


def write_measurements(folder: Path) -> None:
    """What the README's commands find measured: marks, bars, strips; and a workshop file."""
    (folder / "tests").mkdir()
    for name, text in {
        "shop.toml": BUILTIN_TOML,
        "spoiled.csv": "piece,why\nL4-1,scorched\n",
        "marks.csv": "mark,x_mm,y_mm\nbottom-left,45.5,57.5\ntop-right,244.5,341.5\n",
        "tests/print-test.csv": "bar,nominal_mm,mm\nx,170,170.2\ny,250,249.4\n",
        "tests/kerf-test.csv": "place,count,nominal_mm,mm\n"
        "x-strips,10,10,98.2\ny-strips,10,10,98.3\n",
    }.items():
        (folder / name).write_text(text, encoding="utf-8")


@pytest.fixture(scope="module")
def tags(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The job that the README's first command makes, for the commands that go on from it."""
    folder = tmp_path_factory.mktemp("made")
    shutil.copy(bundled("examples") / "bag-tag.csv", folder / "names.csv")
    done = run("make", "names.csv", "--template", "bag-tag", "--out", "tags", cwd=folder)
    assert done.returncode == 0, done.stderr
    return folder / "tags"


@pytest.mark.parametrize("command", COMMANDS)
def test_readme_command_runs(command: str, tmp_path: Path, request: pytest.FixtureRequest) -> None:
    """Each command of the README does what it says, word for word."""
    shutil.copy(bundled("examples") / "bag-tag.csv", tmp_path / "names.csv")
    words = shlex.split(command)
    assert words[0] == "namebatch"
    if words[1] in ("align", "remake"):
        shutil.copytree(request.getfixturevalue("tags"), tmp_path / "tags")
    if "--out" not in words:
        write_measurements(tmp_path)
    done = subprocess.run(
        [sys.executable, "-m", *words], cwd=tmp_path, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr


def test_there_are_commands() -> None:
    """The pattern above finds the README's commands."""
    assert len(COMMANDS) >= 4


def test_pictures_are_there() -> None:
    """Every picture of the README is a file of the repository."""
    pictures = re.findall(r"!\[[^]]*\]\(([^)]+)\)", README)
    assert len(pictures) >= 3
    assert all((TOP / picture).is_file() for picture in pictures)


def test_ci_runs_the_readme_test_command() -> None:
    """`.ci/run` calls the very command that the README gives for the tests."""
    command = next(line for line in README.splitlines() if line.endswith("pytest -n auto"))
    assert command in (TOP / ".ci" / "run").read_text(encoding="utf-8")


def test_the_sizes_of_all_shapes_are_told() -> None:
    """The table of base shapes in DEVELOPERS.md names each shape and every size that it has."""
    rows = re.findall(r"^\| `([a-z-]+)` \|([^|]*)\|([^|]*)\|", DEVELOPERS, re.MULTILINE)
    told = {shape: (_keys(needed), _keys(more)) for shape, needed, more in rows if shape in BASES}
    fields = {
        shape: {key: field.is_required() for key, field in model.model_fields.items()}
        for shape, model in BASES.items()
    }
    assert told == {
        shape: (
            {key for key, needed in keys.items() if needed and key != "shape"},
            {key for key, needed in keys.items() if not needed},
        )
        for shape, keys in fields.items()
    }


def _keys(cell: str) -> set[str]:
    """The keys in a cell of a table."""
    return set(re.findall(r"`([a-z_]+)`", cell))


def test_toml_examples_load(tmp_path: Path) -> None:
    """The files in DEVELOPERS.md are accepted as they stand."""
    blocks = re.findall(r"```toml\n(.*?)```", DEVELOPERS, re.DOTALL)
    template, places, contour, workshop, boards, mends = blocks
    folder = tmp_path / "example"
    folder.mkdir()
    (folder / "template.toml").write_text(template, encoding="utf-8")
    shutil.copy(bundled("templates") / "bag-tag" / "front.svg", folder)
    (tmp_path / "workshop.toml").write_text(workshop, encoding="utf-8")
    assert load_template(folder).fields == ("name", "team")
    drawing = '<rect width="90" height="50"/><path id="hem" d="M20 30 H80" display="none"/>'
    (folder / "base.svg").write_text(svg(drawing, 'width="90mm" height="50mm" viewBox="0 0 90 50"'))
    # arcs and lines take one line of text
    bare = re.sub(r"^(box_mm|two_lines).*\n( +#.*\n)*", "", template, flags=re.MULTILINE)
    drawn = re.sub(
        r"\[base\].*?\[\[hole", '[base]\ndrawing = "base.svg"\n[[hole', bare, flags=re.DOTALL
    )
    for place in re.split(r"\n(?=\[)", places):
        text = drawn.replace("[text.stroke]", f"{place}\n[text.stroke]")
        (folder / "template.toml").write_text(text, encoding="utf-8")
        assert load_template(folder).boxes[0].place is not None
    text = template.replace('rule = "base"', 'rule = "contour"') + contour
    (folder / "template.toml").write_text(text, encoding="utf-8")
    assert load_template(folder).contour is not None
    assert set(load_workshop(tmp_path / "workshop.toml").materials) == {"plywood-3"}
    (tmp_path / "boards.toml").write_text(boards, encoding="utf-8")
    by_hand, of_a_job = load_part_used(tmp_path / "boards.toml")
    assert (by_hand.material, of_a_job.sheet) == ("plywood-3", "board-002")
    (tmp_path / "mends.toml").write_text(mends, encoding="utf-8")
    assert 14 in read_mends(tmp_path / "mends.toml")
