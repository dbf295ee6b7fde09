"""A long list that is killed at any moment goes on from what was whole; disks that are full."""

import json
import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from namebatch.errors import OutputError
from tests.sections import batches


@pytest.mark.skipif(sys.platform == "win32", reason="processes are not killed alike there")
def test_killed_at_random_moments(tmp_path: Path) -> None:
    """The next run takes the whole sections, makes the others, and gives the same bytes."""
    command = [sys.executable, "-m", "tests.sections.killing", str(tmp_path), "6"]
    told = subprocess.run(command, check=True, capture_output=True, text=True, timeout=900)
    found = json.loads(told.stdout)
    assert found["wrong"] == []
    assert found["killed"] >= 1
    assert found["taken"] >= 1


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A disk that the sections do not fit on."""
    place = tmp_path / "disk"
    place.mkdir()
    mounted = subprocess.run(
        ["mount", "-t", "tmpfs", "-o", "size=300k", "tmpfs", str(place)],
        check=False,
        capture_output=True,
    )
    if mounted.returncode:
        pytest.skip("only root can make a small disk")
    yield place
    subprocess.run(["umount", str(place)], check=True)


@pytest.mark.skipif(sys.platform != "linux", reason="mounts as Linux does")
def test_a_full_disk_is_told(small_disk: Path, tmp_path: Path) -> None:
    """The disk's end is told in plain words, and what was begun does not fill it any longer."""
    path = batches.plain_list(tmp_path / "list")
    with pytest.raises(OutputError, match=r"the disk is full\. Make room"):
        batches.made(path, small_disk / "job")
    assert list(small_disk.iterdir()) == []


@pytest.mark.skipif(os.name != "posix", reason="rights of folders")
def test_a_folder_that_cannot_be_written(tmp_path: Path) -> None:
    """What cannot be written is refused before the first piece is made."""
    path = batches.plain_list(tmp_path / "list")
    file = tmp_path / "a-file"
    file.write_text("", encoding="utf-8")
    with pytest.raises(OutputError, match=r"a-file is a file, so .* cannot be made"):
        batches.made(path, file / "job")
