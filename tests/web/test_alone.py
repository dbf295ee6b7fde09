"""One server for a folder of dockets."""

import errno
import os
from pathlib import Path

import pytest

from namebatch.errors import StoreError
from namebatch.web.alone import alone_in


def test_second_server_is_told_where_the_first_is(tmp_path: Path) -> None:
    """A folder that is served already is refused with the address of the page."""
    with (
        alone_in(tmp_path, "http://127.0.0.1:8417/"),
        pytest.raises(StoreError, match=r"look at http://127.0.0.1:8417/\. Use that one"),
        alone_in(tmp_path, "http://127.0.0.1:9000/"),
    ):
        pass


def test_folder_is_free_again_afterwards(tmp_path: Path) -> None:
    """The next server has it, after an end in disorder as well."""
    with pytest.raises(KeyboardInterrupt), alone_in(tmp_path, "http://127.0.0.1:8417/"):
        raise KeyboardInterrupt
    with alone_in(tmp_path, "http://127.0.0.1:9000/"):
        assert (tmp_path / "serving").read_text() == "http://127.0.0.1:9000/"


def test_folder_that_cannot_be_written_is_told(tmp_path: Path) -> None:
    """Where no file can be made the message names it and what to do."""
    with (
        pytest.raises(StoreError, match=r"cannot be written.*--data DIR"),
        alone_in(tmp_path / "not-there", "http://127.0.0.1:8417/"),
    ):
        pass


def test_full_disk_does_not_keep_anybody_out(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The folder is held even where the address cannot be noted; a second one is refused still."""

    def full(*_: object) -> int:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(os, "write", full)
    with (
        alone_in(tmp_path, "http://127.0.0.1:8417/"),
        pytest.raises(StoreError, match=r"open already.*Use that one"),
        alone_in(tmp_path, "http://127.0.0.1:9000/"),
    ):
        pass
