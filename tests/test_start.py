"""The beginning of the command: help without loading what reads options."""

import os
import subprocess
import sys

import typer

from namebatch.cli import app
from namebatch.overview import COMMANDS, WHAT, overview


def test_help_knows_every_command_and_its_words() -> None:
    """The page of help says of each command what the command says of itself."""
    group = typer.main.get_command(app)
    commands = getattr(group, "commands")  # noqa: B009 (a group has them, its base type not)
    told = {name: " ".join(str(command.help).split()) for name, command in commands.items()}
    assert told == COMMANDS
    assert group.help == WHAT
    assert all(f"{name} " in overview() and what in overview() for name, what in COMMANDS.items())


def test_help_loads_neither_options_nor_geometry() -> None:
    """`namebatch --help` prints the page and has loaded nothing but the page."""
    script = (
        "import sys; from namebatch.start import main; sys.argv = ['namebatch', '--help']; main(); "
        "print(sorted({'typer', 'rich', 'shapely', 'numpy', 'fastapi'} & set(sys.modules)))"
    )
    done = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, check=True, text=True
    )
    assert done.stdout == f"{overview()}\n[]\n"


def test_help_ends_quietly_where_nobody_reads_on() -> None:
    """A reader that has closed the pipe, as `head` does, gets no traceback."""
    reading, writing = os.pipe()
    os.close(reading)
    with os.fdopen(writing, "wb") as pipe:
        done = subprocess.run(
            [sys.executable, "-m", "namebatch", "--help"],
            stdout=pipe, stderr=subprocess.PIPE, check=False, text=True,
        )  # fmt: skip
    assert done.stderr == ""
    assert done.returncode == 0
