"""Files that nobody vouches for: whoever reads one asks for an ordinary file."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from namebatch.ordinary import NOT_A_FILE, open_ordinary

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
