"""Files that nobody vouches for: whoever reads one asks for an ordinary file."""

import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from namebatch.errors import NamebatchError
from namebatch.mends import read_mends
from namebatch.ordinary import NOT_A_FILE, open_ordinary
from namebatch.remake.spoiled import ids_of_file
from namebatch.template import load_workshop
from namebatch.template.part_used import load_part_used

READERS = {
    "mends": "from namebatch.mends.file import read_mends as read",
    "readings": "from functools import partial\n"
    "from namebatch.measured.readings import _records\n"
    "read = partial(_records, wanted=['mark'])",
    "spoiled": "from namebatch.remake.spoiled import ids_of_file as read",
    "toml": "from namebatch.template.toml_file import read_toml as read",
}
"""What reads a file that somebody names → how it is called."""

pipes = pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no named pipes")


def test_a_file_is_opened_a_folder_is_not(tmp_path: Path) -> None:
    """Bytes of a file, also behind a link; a folder is told as one."""
    (tmp_path / "names.csv").write_bytes(b"name\n")
    (tmp_path / "link.csv").symlink_to(tmp_path / "names.csv")
    with open_ordinary(tmp_path / "link.csv") as file:
        assert file.read() == b"name\n"
    with pytest.raises(IsADirectoryError, match="it is a folder"):
        open_ordinary(tmp_path)


@pytest.mark.parametrize("reader", [read_mends, load_part_used, load_workshop, ids_of_file])
@pytest.mark.parametrize("content", [None, b"", b"a = 1\n", b"{}\n", b"a = \xff\n"])
def test_a_name_is_told_without_control_characters(
    tmp_path: Path, reader: Callable[[Path], object], content: bytes | None
) -> None:
    """A file's name cannot colour a terminal or begin a line of its own, whatever is wrong."""
    path = tmp_path / "a\x1b[31m\nb\udc80.toml"
    if content is not None:
        path.write_bytes(content)
    with pytest.raises(NamebatchError, match="a") as caught:
        reader(path)
    told = str(caught.value)
    assert "b" in told
    assert all(sign.isprintable() for line in told.split("\n  - ") for sign in line)


@pipes
@pytest.mark.parametrize("reader", READERS)
def test_nobody_waits_at_a_pipe(tmp_path: Path, reader: str) -> None:
    """Every reader refuses a pipe with words instead of waiting for what never comes."""
    os.mkfifo(tmp_path / "pipe")
    program = (
        "import sys\nfrom pathlib import Path\nfrom namebatch.errors import NamebatchError\n"
        f"{READERS[reader]}\n"
        "try:\n    read(Path(sys.argv[1]))\n"
        "except NamebatchError as error:\n    print(error)\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", program, str(tmp_path / "pipe")],
        capture_output=True,
        text=True,
        timeout=60,
        check=True,
    )
    assert NOT_A_FILE in done.stdout
