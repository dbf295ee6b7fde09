"""Output that nobody listens to, that has no room or is closed; where the command is started."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

FULL = Path("/dev/full")
LIST = "name\nZoë\nAda\n"
needs_full = pytest.mark.skipif(not FULL.exists(), reason="this system has no such device")


def _run(words: str, folder: Path, redirect: str = "") -> "subprocess.CompletedProcess[str]":
    """Run the command in a shell, standard output as the shell can send it."""
    line = f'"{sys.executable}" -m namebatch {words} {redirect}'
    return subprocess.run(
        ["bash", "-c", f"set -o pipefail; {line}"],
        cwd=folder, capture_output=True, check=False, text=True, stdin=subprocess.DEVNULL,
    )  # fmt: skip


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder with a list in it."""
    (tmp_path / "names.csv").write_text(LIST, encoding="utf-8")
    return tmp_path


@needs_full
@pytest.mark.parametrize("words", ["--help", "--version", "fonts --check Ada"])
def test_words_that_are_lost_are_told(words: str, folder: Path) -> None:
    """A command that is for its words fails where they go nowhere, and says why."""
    done = _run(words, folder, "> /dev/full")
    assert done.returncode == 2
    assert "could not be written to where it is sent: the disk is full." in done.stderr
    assert "Traceback" not in done.stderr


@needs_full
def test_a_job_is_made_though_its_words_are_lost(folder: Path) -> None:
    """The files are what was asked for: they stand, and the status is theirs."""
    done = _run("make names.csv --template place-card --out job", folder, "> /dev/full")
    assert done.returncode == 0
    assert (folder / "job" / "job.json").exists()
    assert "the disk is full" in done.stderr


@pytest.mark.parametrize("redirect", ["| head -1", ">&-", ">&- 2>&-", "<&-"])
def test_a_job_is_made_though_nobody_listens(redirect: str, folder: Path) -> None:
    """A reader that goes away, or streams that are closed, take no job along."""
    done = _run("make names.csv --template place-card --out job", folder, redirect)
    assert (done.returncode, done.stderr) == (0, "")
    assert (folder / "job" / "job.json").exists()


@pytest.mark.skipif(not hasattr(os, "symlink"), reason="this system has no links")
@pytest.mark.parametrize(
    "words", ["make names.csv --template place-card --out one", "demo --out one"]
)
def test_a_link_that_leads_back_to_itself(words: str, folder: Path) -> None:
    """A folder that is nowhere is told in a sentence."""
    (folder / "one").symlink_to("other")
    (folder / "other").symlink_to("one")
    done = _run(words, folder)
    assert done.returncode == 2
    assert done.stderr.startswith("namebatch: ")
    assert "Traceback" not in done.stderr


@pytest.mark.skipif(sys.platform == "win32", reason="a folder in use cannot be taken away there")
def test_a_folder_that_is_gone(tmp_path: Path) -> None:
    """Whoever is in a folder that was deleted is told so."""
    gone = tmp_path / "gone"
    gone.mkdir()
    done = subprocess.run(
        ["bash", "-c", f'rmdir "{gone}"; "{sys.executable}" -P -m namebatch templates'],
        cwd=gone, capture_output=True, check=False, text=True,
    )  # fmt: skip
    assert done.returncode == 2
    assert done.stderr == (
        "namebatch: The folder that you are in is gone. Go to one that is there.\n"
    )
