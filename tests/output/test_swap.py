"""Files that take the place of others, and what becomes of both when a run is killed."""

import json
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from namebatch.output.making import COMING, OLD
from namebatch.output.swap import put_back
from tests.output.test_making import killed, run


@pytest.mark.skipif(sys.platform == "win32", reason="processes are not killed alike there")
def test_killed_before_every_step(tmp_path: Path) -> None:
    """The folder is as it was or as it was to be once somebody looks; nothing is left beside it."""
    command = [sys.executable, "-m", "tests.output.killing", str(tmp_path), "3"]
    told = subprocess.run(command, check=True, capture_output=True, text=True, timeout=600)
    found = json.loads(told.stdout)
    assert found["wrong"] == []
    assert found["steps"] > 30
    assert found["steps"] > found["stood"] / 4 > 10


def interrupted(folder: Path, coming: str, **moved: str) -> Path:
    """A job folder out of which a killed run has moved a file, and what it has put there."""
    out = folder / "job"
    out.mkdir()
    place = killed(out, signal.SIGKILL, "moved")
    (place / COMING).write_text(coming)
    for name, text in moved.items():
        (out / name).write_text(text)
    return place


def test_a_job_that_was_being_replaced_comes_back(tmp_path: Path) -> None:
    """What had left is put back, what had come goes, what others put there stays."""
    place = interrupted(tmp_path, "new.pdf\nproof.pdf\n", **{"new.pdf": "x", "mine.txt": "y"})
    put_back(tmp_path / "job")
    there = {path.name: path.read_text() for path in (tmp_path / "job").iterdir()}
    assert there == {"print.pdf": "the job before", "mine.txt": "y"}
    assert not place.exists()


@pytest.mark.parametrize("coming", ["../mine.txt\n", "/etc/hostname\n", "cut/../../mine.txt\n"])
def test_a_list_of_files_that_leads_elsewhere_is_not_followed(tmp_path: Path, coming: str) -> None:
    """Nothing outside the job folder is touched, whatever stands in the list."""
    place = interrupted(tmp_path, coming)
    (tmp_path / "mine.txt").write_text("keep")
    put_back(tmp_path / "job")
    assert (tmp_path / "mine.txt").read_text() == "keep"
    assert place.exists()


def test_links_in_the_job_folder_are_not_followed(tmp_path: Path) -> None:
    """A folder that became a link elsewhere meanwhile takes no file of ours there."""
    interrupted(tmp_path, "cut/a.svg\n")
    (tmp_path / "else").mkdir()
    (tmp_path / "else" / "a.svg").write_text("keep")
    (tmp_path / "job" / "cut").symlink_to(tmp_path / "else")
    put_back(tmp_path / "job")
    assert (tmp_path / "else" / "a.svg").read_text() == "keep"


def test_nothing_is_put_back_while_a_run_is_at_work(tmp_path: Path) -> None:
    """Its files are its own until it ends."""
    (tmp_path / "job").mkdir()
    process, busy = run(tmp_path / "job", "moved")
    try:
        put_back(tmp_path / "job")
        assert (busy / OLD / "print.pdf").exists()
    finally:
        process.kill()
        process.communicate(timeout=10)
