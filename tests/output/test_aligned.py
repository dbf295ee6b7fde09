"""Which aligned files are out of date, whatever the notes beside them claim."""

import json
import os
import subprocess
import sys
from hashlib import sha256
from pathlib import Path

import pytest

from namebatch.output.aligned import outdated


def digest(data: bytes) -> str:
    """SHA-256."""
    return sha256(data).hexdigest()


def job(tmp_path: Path, cut: bytes, note: object) -> tuple[Path, Path]:
    """A job folder with an aligned file and its note, and the job that is to come."""
    out, fresh = tmp_path / "out", tmp_path / "fresh"
    (out / "aligned").mkdir(parents=True)
    (fresh / "cut").mkdir(parents=True)
    (out / "aligned/face-001.svg").write_bytes(b"moved")
    (out / "mine.txt").write_bytes(b"mine")
    (fresh / "cut/face-001.svg").write_bytes(cut)
    (out / "aligned/face-001.json").write_text(json.dumps(note), encoding="utf-8")
    return out, fresh


NOTE = {
    "cut_file": "cut/face-001.svg",
    "cut_sha256": digest(b"cut"),
    "files": {"aligned/face-001.svg": digest(b"moved")},
}


def test_files_of_the_same_cut_stay(tmp_path: Path) -> None:
    """The job made again gives the same cut file."""
    assert outdated(*job(tmp_path, b"cut", NOTE)) == ()


def test_files_of_another_cut_are_out_of_date(tmp_path: Path) -> None:
    """With the note that belongs to them."""
    found = outdated(*job(tmp_path, b"other", NOTE))
    assert found == ("aligned/face-001.json", "aligned/face-001.svg")


def test_files_of_a_sheet_that_is_no_more_are_out_of_date(tmp_path: Path) -> None:
    """The next job may need fewer sheets."""
    out, fresh = job(tmp_path, b"cut", NOTE)
    (fresh / "cut/face-001.svg").unlink()
    assert "aligned/face-001.svg" in outdated(out, fresh)


@pytest.mark.parametrize(
    "note",
    [
        [],
        {},
        {**NOTE, "cut_file": "../cut/face-001.svg"},
        {**NOTE, "cut_file": 7},
    ],
)
def test_notes_that_make_no_sense_name_nothing(tmp_path: Path, note: object) -> None:
    """What is no note of ours is left alone, and so is what stands beside it."""
    assert outdated(*job(tmp_path, b"other", note)) == ()


def test_only_files_with_their_digest_are_named(tmp_path: Path) -> None:
    """A note cannot claim someone's own file, nor one outside of the folder."""
    files = {"mine.txt": digest(b"other"), "../fresh/cut/face-001.svg": digest(b"other")}
    found = outdated(*job(tmp_path, b"other", {**NOTE, "files": files}))
    assert found == ("aligned/face-001.json",)


def test_a_folder_that_is_a_link_is_left_alone(tmp_path: Path) -> None:
    """What it leads to is not the job's."""
    out, fresh = job(tmp_path, b"other", NOTE)
    (out / "aligned").rename(tmp_path / "elsewhere")
    (out / "aligned").symlink_to(tmp_path / "elsewhere")
    assert outdated(out, fresh) == ()


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no named pipes")
def test_a_pipe_is_no_note(tmp_path: Path) -> None:
    """Nobody waits for a pipe among the aligned files to be written to."""
    (tmp_path / "aligned").mkdir()
    os.mkfifo(tmp_path / "aligned" / "face-001.json")
    program = (
        "import sys\nfrom pathlib import Path\nfrom namebatch.output.aligned import outdated\n"
        "print(outdated(Path(sys.argv[1]), Path(sys.argv[1])))\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", program, str(tmp_path)],
        capture_output=True,
        text=True,
        timeout=60,
        check=True,
    )
    assert done.stdout == "()\n"
