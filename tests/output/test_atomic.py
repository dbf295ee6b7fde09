"""A job is written whole or not at all."""

import errno
import json
import stat
from collections.abc import Callable
from dataclasses import replace
from hashlib import sha256
from pathlib import Path

import pytest

from namebatch.errors import OutputError
from namebatch.job import Job
from namebatch.output import atomic
from namebatch.output.atomic import write_job
from namebatch.output.registry import WRITERS, Writer
from tests.output import jobs

JOB = jobs.faced_job()
OTHER = replace(jobs.bare_job(), settings={"list": "another"})
EXPECTED = {
    "cut/board-001.dxf",
    "cut/board-001.svg",
    "cut/face-001.dxf",
    "cut/face-001.svg",
    "held.csv",
    "jig.dxf",
    "jig.svg",
    "print.pdf",
    "job.json",
}


def quiet(label: str, done: int, total: int) -> None:
    """Progress that nobody looks at."""


@pytest.fixture(autouse=True)
def few_writers(monkeypatch: pytest.MonkeyPatch) -> None:
    """Only the writers that this file is about; the documents have tests of their own."""
    names = {"cutfiles", "jig", "printpdf", "held"}
    kept = tuple(writer for writer in WRITERS if writer.name in names)
    assert len(kept) == len(names)
    monkeypatch.setattr(atomic, "WRITERS", kept)


def contents(folder: Path) -> dict[str, bytes]:
    """Every file below a folder, hidden ones too."""
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in folder.rglob("*")
        if path.is_file()
    }


def failing(error: BaseException) -> Writer:
    """A writer that leaves a file half done and fails."""

    class Failing(Writer):
        def write(self, job: Job, folder: Path, progress: Callable[[int, int], None]) -> None:
            (folder / "half.pdf").write_text("half")
            raise error

    return Failing("failing", "Failing")


def test_a_new_folder_gets_every_file_and_its_digest(tmp_path: Path) -> None:
    """All files of the contract, all listed with their SHA-256, folders above made."""
    out = tmp_path / "deep" / "job"
    stages: list[str] = []
    paths = write_job(JOB, out, False, lambda label, done, total: stages.append(label))
    assert set(contents(out)) == EXPECTED
    assert [path.relative_to(out).as_posix() for path in paths] == [
        *sorted(EXPECTED - {"job.json"}),
        "job.json",
    ]
    files = json.loads((out / "job.json").read_bytes())["files"]
    assert files == {
        name: sha256(data).hexdigest() for name, data in contents(out).items() if name != "job.json"
    }
    assert [path.name for path in out.parent.iterdir()] == ["job"]
    assert stages == ["Cut files", "Cut files", "Jig", "Print", "Held rows"]


def test_a_new_folder_has_the_usual_rights(tmp_path: Path) -> None:
    """Whoever may read the folder above may read the job; it is not locked to one user."""
    (tmp_path / "usual").mkdir()
    write_job(JOB, tmp_path / "job", False, quiet)
    modes = {stat.S_IMODE((tmp_path / name).stat().st_mode) for name in ("usual", "job")}
    assert len(modes) == 1


def test_made_again_it_is_the_same_to_the_byte(tmp_path: Path) -> None:
    """In another folder and in place."""
    write_job(JOB, tmp_path / "one", False, quiet)
    write_job(JOB, tmp_path / "two", False, quiet)
    first = contents(tmp_path / "one")
    assert contents(tmp_path / "two") == first
    write_job(JOB, tmp_path / "one", False, quiet)
    assert contents(tmp_path / "one") == first


def test_files_of_others_stay(tmp_path: Path) -> None:
    """A folder with other things in it keeps them, first time and every time."""
    out = tmp_path / "job"
    (out / "cut").mkdir(parents=True)
    (out / "cut" / "notes.txt").write_text("mine")
    (out / "letter.odt").write_text("mine")
    for replaced in (False, False, True):
        write_job(JOB, out, replaced, quiet)
        assert set(contents(out)) == {*EXPECTED, "cut/notes.txt", "letter.odt"}


@pytest.mark.parametrize("there", [True, False])
def test_what_a_killed_run_left_is_removed(tmp_path: Path, there: bool) -> None:
    """Names in a half-made folder beside the job go when the job is made again."""
    if there:
        write_job(JOB, tmp_path / "job", False, quiet)
    left = tmp_path / ".job.making-ab12cd_3"
    (left / "new").mkdir(parents=True)
    (left / "new" / "held.csv").write_text("names")
    (left / "lock").write_text("job")
    write_job(JOB, tmp_path / "job", False, quiet)
    assert [path.name for path in tmp_path.iterdir()] == ["job"]


def test_another_job_is_refused_before_anything_is_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The folder is untouched and no writer runs."""
    write_job(JOB, tmp_path / "job", False, quiet)
    before = contents(tmp_path)
    monkeypatch.setattr(atomic, "WRITERS", (failing(AssertionError("a writer ran")),))
    with pytest.raises(OutputError, match=r'holds another job.*"test-tag"'):
        write_job(OTHER, tmp_path / "job", False, quiet)
    assert contents(tmp_path) == before


def test_replacing_takes_the_old_jobs_files_and_no_others(tmp_path: Path) -> None:
    """The old sheets and jig go, what is not ours and what was edited stays."""
    out = tmp_path / "job"
    write_job(JOB, out, False, quiet)
    (out / "letter.odt").write_text("mine")
    (out / "jig.svg").write_text("edited by hand")
    write_job(OTHER, out, True, quiet)
    assert set(contents(out)) == {
        "cut/board-001.dxf",
        "cut/board-001.svg",
        "held.csv",
        "job.json",
        "jig.svg",
        "letter.odt",
    }
    assert (out / "jig.svg").read_text() == "edited by hand"


def test_folders_that_became_empty_go(tmp_path: Path) -> None:
    """No empty cut/ is left where the cutter's formats were turned off."""
    out = tmp_path / "job"
    write_job(JOB, out, False, quiet)
    write_job(replace(jobs.faced_job(()), settings=JOB.settings), out, False, quiet)
    assert not (out / "cut").exists()
    assert set(contents(out)) == {"held.csv", "job.json", "print.pdf"}


def test_a_hostile_manifest_removes_nothing_outside(tmp_path: Path) -> None:
    """Paths with .., absolute ones and links in a planted job.json are ignored."""
    out = tmp_path / "job"
    out.mkdir()
    private = tmp_path / "private.txt"
    private.write_text("mine")
    (out / "mine.txt").write_text("mine")
    (out / "link.txt").symlink_to(private)
    digest = sha256(b"mine").hexdigest()
    files = {"../private.txt": digest, str(private): digest, "link.txt": digest, "mine.txt": "00"}
    (out / "job.json").write_text(json.dumps({"files": files}))
    write_job(JOB, out, True, quiet)
    assert private.read_text() == "mine"
    assert (out / "mine.txt").read_text() == "mine"
    assert (out / "link.txt").is_symlink()


@pytest.mark.parametrize("replaced", [True, False])
def test_a_linked_folder_is_never_followed(tmp_path: Path, replaced: bool) -> None:
    """A cut/ that leads elsewhere would take our files there."""
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    out = tmp_path / "job"
    out.mkdir()
    (out / "cut").symlink_to(elsewhere)
    with pytest.raises(OutputError, match="cut is a link or a file where the job needs a folder"):
        write_job(JOB, out, replaced, quiet)
    assert list(elsewhere.iterdir()) == []
    assert [path.name for path in out.iterdir()] == ["cut"]


def test_a_linked_file_is_replaced_and_its_target_kept(tmp_path: Path) -> None:
    """Writing print.pdf never writes through a link."""
    out = tmp_path / "job"
    out.mkdir()
    target = tmp_path / "target.pdf"
    target.write_text("mine")
    (out / "print.pdf").symlink_to(target)
    with pytest.raises(OutputError, match=r"already has print\.pdf"):
        write_job(JOB, out, False, quiet)
    write_job(JOB, out, True, quiet)
    assert target.read_text() == "mine"
    assert not (out / "print.pdf").is_symlink()


def test_a_folder_in_a_files_place_is_never_removed(tmp_path: Path) -> None:
    """Whatever lies in a folder named print.pdf is not ours to move."""
    out = tmp_path / "job"
    (out / "print.pdf").mkdir(parents=True)
    (out / "print.pdf" / "mine.txt").write_text("mine")
    with pytest.raises(OutputError, match="is a folder where the job needs a file"):
        write_job(JOB, out, True, quiet)
    assert set(contents(out)) == {"print.pdf/mine.txt"}


def test_an_unlisted_cut_file_is_refused(tmp_path: Path) -> None:
    """The early look knows no sheet names; the late one, before anything moves, does."""
    out = tmp_path / "job"
    (out / "cut").mkdir(parents=True)
    (out / "cut" / "face-001.svg").write_text("mine")
    with pytest.raises(OutputError, match=r"already has cut/face-001\.svg"):
        write_job(JOB, out, False, quiet)
    assert set(contents(out)) == {"cut/face-001.svg"}


@pytest.mark.parametrize("there", [True, False])
def test_a_failing_writer_leaves_everything_as_it_was(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, there: bool
) -> None:
    """A full disk ends in a message; the old job stands, no half-made folder is left."""
    if there:
        write_job(JOB, tmp_path / "job", False, quiet)
    before = contents(tmp_path)
    monkeypatch.setattr(atomic, "WRITERS", (failing(OSError(errno.ENOSPC, "full")),))
    with pytest.raises(OutputError, match="disk is full"):
        write_job(JOB, tmp_path / "job", True, quiet)
    assert contents(tmp_path) == before
    assert [path.name for path in tmp_path.iterdir()] == (["job"] if there else [])


@pytest.mark.parametrize("fails_at", [1, 6, 12, 18])
def test_a_move_that_fails_is_taken_back(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, fails_at: int
) -> None:
    """Whichever move is refused, the old job stands again, whole."""
    out = tmp_path / "job"
    write_job(JOB, out, False, quiet)
    (out / "letter.odt").write_text("mine")
    before = contents(tmp_path)
    move = Path.replace
    calls = 0

    def refusing(self: Path, target: Path) -> Path:
        nonlocal calls
        calls += 1
        if calls == fails_at:
            raise PermissionError(errno.EACCES, "no", str(target))
        return move(self, target)

    monkeypatch.setattr(Path, "replace", refusing)
    with pytest.raises(OutputError, match="may not be written"):
        write_job(replace(JOB, settings=OTHER.settings), out, True, quiet)
    monkeypatch.undo()
    assert calls >= fails_at
    assert contents(tmp_path) == before
    assert [path.name for path in tmp_path.iterdir()] == ["job"]


def test_while_files_move_there_is_no_manifest(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A folder that is being changed says that it is unfinished."""
    out = tmp_path / "job"
    write_job(JOB, out, False, quiet)
    move = Path.replace
    there: list[bool] = []

    def watching(self: Path, target: Path) -> Path:
        result = move(self, target)
        there.append((out / "job.json").exists())
        return result

    monkeypatch.setattr(Path, "replace", watching)
    write_job(JOB, out, False, quiet)
    assert there == [*[False] * (2 * len(EXPECTED) - 1), True]
