"""A ZIP that is written while it is sent."""

import zipfile
from io import BytesIO
from pathlib import Path

import pytest

from namebatch.desk.work import Work
from namebatch.desk.zipped import BLOCK, zipped
from namebatch.errors import OutputError
from namebatch.output.target import digest_of
from tests.desk.owner import Owner


def test_all_files_of_a_job_are_in_it(bench: tuple[Owner, Work]) -> None:
    """Every file of the manifest and the manifest itself, as they are, below one folder."""
    owner, work = bench
    folder = owner.store.docket_folder(1) / "jobs/001"
    data = b"".join(work.all_files(1, 1))
    with zipfile.ZipFile(BytesIO(data)) as archive:
        assert archive.testzip() is None
        found = {name: archive.read(name) for name in archive.namelist()}
    there = {
        f"docket-0001-job-1/{path.relative_to(folder).as_posix()}": path.read_bytes()
        for path in folder.rglob("*")
        if path.is_file()
    }
    assert found == there
    assert data == b"".join(work.all_files(1, 1))  # the same each time


def test_large_files_come_in_pieces(tmp_path: Path) -> None:
    """No more than a block or two is held at a time, and what is unpacked is what was there."""
    large = tmp_path / "large.pdf"
    large.write_bytes(bytes(range(256)) * 4 * (BLOCK // 256))
    parts = list(zipped({"a/large.pdf": large}))
    assert max(map(len, parts)) <= 2 * BLOCK
    (tmp_path / "all.zip").write_bytes(b"".join(parts))
    with zipfile.ZipFile(tmp_path / "all.zip") as archive:
        archive.extractall(tmp_path / "out")
    assert digest_of(tmp_path / "out/a/large.pdf") == digest_of(large)


def test_a_file_that_went_meanwhile_breaks_it_off(tmp_path: Path) -> None:
    """Half a ZIP is never ended as if it were whole."""
    with pytest.raises(OutputError, match="cannot be read"):
        list(zipped({"gone.pdf": tmp_path / "gone.pdf"}))
