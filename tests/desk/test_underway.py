"""The place of a make in a docket's folder, and clearing what killed ones left."""

import errno
import os
from pathlib import Path

import pytest

from namebatch.desk.underway import clear_left, making_in, next_job
from namebatch.errors import OutputError


def put(folder: Path) -> Path:
    """A folder with a file in it."""
    folder.mkdir(parents=True)
    (folder / "cut.svg").write_text("Wren")
    return folder


def test_what_nobody_noted_is_cleared(tmp_path: Path) -> None:
    """Jobs and remakes that are noted stay; those that are not, and unfinished ones, go."""
    kept = put(tmp_path / "jobs/001")
    remake = put(kept / "remakes/001")
    lost = [
        put(kept / "remakes/002"),
        put(kept / "remakes/.002.making-abcdefgh"),
        put(tmp_path / "jobs/002"),
        put(tmp_path / "jobs/.002.making-abcdefgh"),
        put(tmp_path / "making"),
    ]
    assert clear_left(tmp_path, {"jobs/001", "jobs/001/remakes/001"})
    assert (remake / "cut.svg").is_file()
    assert (kept / "cut.svg").is_file()
    assert not [path for path in lost if path.exists()]


def test_nothing_is_cleared_under_a_make_that_goes_on(tmp_path: Path) -> None:
    """As long as a process holds the place, another server leaves everything there alone."""
    with making_in(tmp_path) as place:
        coming = put(tmp_path / "jobs/.001.making-abcdefgh")
        assert not clear_left(tmp_path, ())
        assert coming.is_dir()
        with pytest.raises(OutputError, match="Another job of this docket"), making_in(tmp_path):
            pass
    assert not place.exists()


def test_without_a_killed_make_nothing_is_touched(tmp_path: Path) -> None:
    """A docket's folder in which no make was broken off is not even looked through."""
    there = put(tmp_path / "jobs/007")
    assert clear_left(tmp_path, ())
    assert there.is_dir()


def test_the_list_of_a_killed_make_is_gone_when_the_next_begins(tmp_path: Path) -> None:
    """What an earlier process kept in its place is removed by the next one that takes it."""
    left = put(tmp_path / "making/namebatch-xyz")
    with making_in(tmp_path):
        assert not left.exists()


def test_numbers_of_jobs_are_never_used_twice(tmp_path: Path) -> None:
    """The next job's folder is none that is noted or there, even if one between is gone."""
    assert next_job(tmp_path, ()) == "jobs/001"
    put(tmp_path / "jobs/004")
    assert next_job(tmp_path, {"jobs/001", "jobs/002/remakes/009"}) == "jobs/005"
    assert next_job(tmp_path, {"jobs/011"}) == "jobs/012"


@pytest.mark.parametrize(
    ("number", "told"),
    [
        (errno.EACCES, "has to be allowed to write"),
        (errno.EROFS, "can be read only"),
        (errno.ENOSPC, "Make room on the disk"),
        (errno.EIO, "See to the disk"),
    ],
)
def test_what_to_do_follows_what_is_wrong(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: int, told: str
) -> None:
    """A folder that may not be written is no full disk; making room would not help."""

    def refused(self: Path, **_: object) -> None:
        raise OSError(number, os.strerror(number), str(self))

    monkeypatch.setattr(Path, "mkdir", refused)
    with pytest.raises(OutputError, match=told) as error, making_in(tmp_path):
        pass
    assert os.strerror(number) in error.value.what
    assert ("Make room" in error.value.what) == (number == errno.ENOSPC)
