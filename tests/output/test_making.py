"""The hidden folder in which a job is made, and what killed runs leave of it."""

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from namebatch.output.making import COMING, NEW, OLD, making_place, put_back

RUN = """
import sys, time
from pathlib import Path
from namebatch.output.making import making_place
with making_place(Path(sys.argv[1])) as place:
    (place / "new" / "proof.pdf").write_text("names")
    if sys.argv[2] == "moved":
        (place / "old").mkdir()
        (place / "old" / "print.pdf").write_text("the job before")
    print(place, flush=True)
    time.sleep(60)
"""


def run(out: Path, state: str = "filling") -> tuple[subprocess.Popen[str], Path]:
    """Another run, in the midst of its work, and its folder."""
    command = [sys.executable, "-c", RUN, str(out), state]
    process = subprocess.Popen(command, stdout=subprocess.PIPE, text=True)
    assert process.stdout is not None
    return process, Path(process.stdout.readline().strip())


def killed(out: Path, how: signal.Signals, state: str = "filling") -> Path:
    """The folder that a killed run leaves."""
    process, place = run(out, state)
    process.send_signal(how)
    process.communicate(timeout=10)
    assert (place / NEW / "proof.pdf").read_text() == "names"
    return place


@pytest.mark.parametrize("how", [signal.SIGTERM, signal.SIGKILL])
def test_what_a_killed_run_left_goes_with_the_next_one(tmp_path: Path, how: signal.Signals) -> None:
    """However the run was ended, its names do not lie about; gone before the new work begins."""
    left = killed(tmp_path / "job", how)
    assert left.exists()
    with making_place(tmp_path / "job") as place:
        assert list(tmp_path.iterdir()) == [place]
    assert list(tmp_path.iterdir()) == []


def test_a_run_at_work_is_left_alone(tmp_path: Path) -> None:
    """Two runs for one folder do not take each other's files."""
    process, busy = run(tmp_path / "job")
    try:
        with making_place(tmp_path / "job"):
            pass
        assert (busy / NEW / "proof.pdf").exists()
    finally:
        process.kill()
        process.communicate(timeout=10)


def test_files_of_the_job_before_stay_until_the_new_one_stands(tmp_path: Path) -> None:
    """A run killed while it moved files may hold the only copy of the job before it."""
    left = killed(tmp_path / "job", signal.SIGKILL, "moved")
    with pytest.raises(OSError, match="disk full"), making_place(tmp_path / "job"):
        raise OSError("disk full")
    assert (left / OLD / "print.pdf").read_text() == "the job before"
    with making_place(tmp_path / "job"):
        assert left.exists()
    assert not left.exists()


def test_only_what_is_surely_ours_goes(tmp_path: Path) -> None:
    """Folders of other jobs, without our lock, with another name, or behind links stay."""
    other = killed(tmp_path / "job.making-b", signal.SIGKILL)
    long = killed(tmp_path / ("x" * 60 + "-one"), signal.SIGKILL)
    unlocked = tmp_path / ".job.making-abcdefgh"
    unlocked.mkdir()
    (unlocked / "mine.txt").write_text("mine")
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    (elsewhere / "lock").write_text("job")
    link = tmp_path / ".job.making-linked00"
    link.symlink_to(elsewhere)
    for name in ("job", "x" * 60 + "-two"):
        with making_place(tmp_path / name):
            pass
    assert other.exists()
    assert long.exists()
    assert (unlocked / "mine.txt").exists()
    assert link.is_symlink()
    assert (elsewhere / "lock").exists()


def test_in_the_folder_itself_where_beside_will_not_do(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A job folder whose parent cannot be written is tidied inside."""
    out = tmp_path / "job"
    out.mkdir()
    monkeypatch.setattr(os, "access", lambda *_: False)
    with making_place(out) as place:
        assert place.parent == out
        left = out / ".job.making-12345678"
        left.mkdir()
        (left / "lock").write_text("job")
    assert list(out.iterdir()) == []


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
