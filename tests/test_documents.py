"""What README and DEVELOPERS say is so: commands run, examples load, pictures are there."""

import re
import shlex
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from namebatch.resources import bundled
from namebatch.template import load_template, load_workshop
from tests.template.drawing import svg

TOP = Path(__file__).parents[1]
README = (TOP / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (TOP / "DEVELOPERS.md").read_text(encoding="utf-8")

COMMANDS = re.findall(r"^(namebatch .*?)(?:\s{3,}.*)?$", README, re.MULTILINE)


@pytest.mark.parametrize("command", COMMANDS)
def test_readme_command_runs(command: str, tmp_path: Path) -> None:
    """Each command of the README does what it says, word for word."""
    shutil.copy(bundled("examples") / "bag-tag.csv", tmp_path / "names.csv")
    words = shlex.split(command)
    assert words[0] == "namebatch"
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


def test_toml_examples_load(tmp_path: Path) -> None:
    """The template and the workshop file in DEVELOPERS.md are accepted as they stand."""
    template, places, contour, workshop = re.findall(r"```toml\n(.*?)```", DEVELOPERS, re.DOTALL)
    folder = tmp_path / "example"
    folder.mkdir()
    (folder / "template.toml").write_text(template, encoding="utf-8")
    shutil.copy(bundled("templates") / "bag-tag" / "front.svg", folder)
    (tmp_path / "workshop.toml").write_text(workshop, encoding="utf-8")
    assert load_template(folder).fields == ("name", "team")
    drawing = '<rect width="90" height="50"/><path id="hem" d="M20 30 H80" display="none"/>'
    (folder / "base.svg").write_text(svg(drawing, 'width="90mm" height="50mm" viewBox="0 0 90 50"'))
    bare = re.sub(r"^box_mm.*\n", "", template, flags=re.MULTILINE)
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
