"""The hidden folder in which a job is made, and what killed runs leave of it."""

import os
import signal
import subprocess
import sys
import tempfile
from pathlib import Path

import pytest

from namebatch.output.making import NEW, OLD, making_place

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


@pytest.mark.parametrize("files", [(), ("lock",)], ids=["nothing", "an empty lock"])
def test_a_place_that_was_only_begun_goes(tmp_path: Path, files: tuple[str, ...]) -> None:
    """A run killed before it could say for which folder its place was has made nothing there."""
    left = tmp_path / ".job.making-12345678"
    left.mkdir()
    for name in files:
        (left / name).touch()
    with making_place(tmp_path / "job") as place:
        assert list(tmp_path.iterdir()) == [place]


def test_a_place_taken_from_under_a_run_is_begun_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Another run may tidy up between two steps of this one."""
    begun = tempfile.mkdtemp
    taken: list[str] = []

    def then_taken(**options: str) -> str:
        folder = begun(**options)
        if len(taken) < 2:
            taken.append(folder)
            Path(folder).rmdir()
        return folder

    monkeypatch.setattr(tempfile, "mkdtemp", then_taken)
    with making_place(tmp_path / "job") as place:
        assert (place / NEW).is_dir()
    assert len(taken) == 2
    assert list(tmp_path.iterdir()) == []


def failed_half_way(out: Path) -> None:
    """A run whose disk refuses to take back what had left the job folder."""
    with making_place(out) as place:
        (place / OLD).mkdir()
        (place / OLD / "print.pdf").write_text("the job before")
        raise OSError("worn out")


def test_files_that_could_not_be_taken_back_stay(tmp_path: Path) -> None:
    """What had left the job folder is not thrown away."""
    with pytest.raises(OSError, match="worn out"):
        failed_half_way(tmp_path / "job")
    (kept,) = tmp_path.rglob("print.pdf")
    assert kept.read_text() == "the job before"


def test_without_locks_a_place_still_goes(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A system that cannot lock keeps what killed runs left, and nothing of runs that ended."""
    monkeypatch.setattr("namebatch.output.making.fcntl", None)
    left = tmp_path / ".job.making-12345678"
    (left / NEW).mkdir(parents=True)
    (left / "lock").write_text("job")
    with making_place(tmp_path / "job") as place:
        (place / NEW / "held.csv").write_text("names")
    assert list(tmp_path.iterdir()) == [left]
