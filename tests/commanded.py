"""The command line in a process of its own, forked from this one, which has all it needs open.

A new Python takes seconds to load geometry and compiled loops. That the command also runs in one
is for tests/test_documents.py and tests/test_cli_serve.py to show.
"""

import os
import signal
import subprocess
import sys
import warnings
from collections.abc import Callable
from functools import partial
from pathlib import Path
from tempfile import TemporaryFile
from typing import IO

from tests.forked import exit_of


def run(
    *arguments: str | Path, cwd: Path | None = None, columns: int = 160
) -> subprocess.CompletedProcess[str]:
    """Run a command as ``namebatch ARGUMENTS`` does.

    Args:
        arguments: what follows the program's name.
        cwd: where.
        columns: width of the terminal.

    Returns:
        Exit status and what was written, with warnings turned to errors.
    """
    words = ["namebatch", *map(str, arguments)]
    with TemporaryFile() as out, TemporaryFile() as err:
        with warnings.catch_warnings():
            # other threads of a test's process hold nothing that the command needs
            warnings.filterwarnings("ignore", ".*fork.*", DeprecationWarning)
            code = exit_of(partial(_be, words, cwd, columns, out, err))
        return subprocess.CompletedProcess(words, code, _said(out), _said(err))


def _be(words: list[str], cwd: Path | None, columns: int, out: IO[bytes], err: IO[bytes]) -> None:
    """The command, from its beginning to its end; nothing of the test goes on here."""
    code = 1
    try:
        _as_alone(words, cwd, columns, out, err)
        code = _status_of(_main)
        sys.stdout.flush()
        sys.stderr.flush()
    finally:
        os._exit(code)


def _as_alone(
    words: list[str], cwd: Path | None, columns: int, out: IO[bytes], err: IO[bytes]
) -> None:
    signal.signal(signal.SIGINT, signal.default_int_handler)
    nothing = os.open(os.devnull, os.O_RDONLY)
    for number, file in enumerate((nothing, out.fileno(), err.fileno())):
        os.dup2(file, number)
    sys.stdin = open(0, encoding="utf-8", closefd=False)  # noqa: SIM115
    sys.stdout = open(1, "w", encoding="utf-8", closefd=False)  # noqa: SIM115
    sys.stderr = open(2, "w", encoding="utf-8", closefd=False)  # noqa: SIM115
    os.environ["COLUMNS"] = str(columns)
    os.environ.setdefault("PYTHONWARNINGS", "error")  # for whatever it starts itself
    warnings.resetwarnings()
    warnings.simplefilter("error")
    sys.argv = words
    if cwd is not None:
        os.chdir(cwd)


def _main() -> None:
    from namebatch.start import main

    main()


def _status_of(call: Callable[[], None]) -> int:
    """What a program that does this would exit with."""
    try:
        call()
    except SystemExit as end:
        if isinstance(end.code, str):
            print(end.code, file=sys.stderr)
            return 1
        return end.code or 0
    except BaseException:
        sys.excepthook(*sys.exc_info())
        return 1
    return 0


def _said(file: IO[bytes]) -> str:
    file.seek(0)
    return file.read().decode("utf-8")
