"""Where the command begins: short answers at once, everything else through `cli`."""

import os
import sys
import warnings

from namebatch.overview import overview
from namebatch.streams import Listened, lost_words, with_streams

_IMPOSSIBLE = 2


def main() -> None:
    """Entry point of the `namebatch` command."""
    if not sys.warnoptions:
        # what libraries warn of concerns who writes programs
        warnings.simplefilter("ignore")
    heard = with_streams()
    try:
        _answer()
    except SystemExit as end:
        _end(heard, end.code)
        raise
    _end(heard, 0)


def _answer() -> None:
    if sys.argv[1:] in (["--help"], ["-h"]):
        sys.stdout.reconfigure(errors="replace")  # type: ignore[union-attr]
        print(overview(), flush=True)
        return
    try:
        os.getcwd()  # noqa: PTH109 - pathlib takes longer to load than the page of help
    except OSError:
        message = "namebatch: The folder that you are in is gone. Go to one that is there."
        print(message, file=sys.stderr)
        raise SystemExit(_IMPOSSIBLE) from None
    from namebatch.cli import main as whole

    whole()


def _end(heard: Listened | None, code: object) -> None:
    """Tell of words that could not be written; without them a job that was made is still made."""
    told = lost_words(heard)
    if not told:
        return
    print(f"namebatch: {told}", file=sys.stderr)
    if not code and not _makes_files():
        raise SystemExit(_IMPOSSIBLE)


def _makes_files() -> bool:
    """True if what a command is for stands in a folder, and not in its words."""
    words = [word for word in sys.argv[1:] if not word.startswith("-")]
    asks = {"--help", "-h", "--version"}.intersection(sys.argv[1:])
    return not asks and words[:1] not in ([], ["check"], ["templates"], ["fonts"])
