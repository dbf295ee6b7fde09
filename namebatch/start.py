"""Where the command begins: short answers at once, everything else through `cli`."""

import os
import sys

from namebatch.overview import overview


def main() -> None:
    """Entry point of the `namebatch` command."""
    if sys.argv[1:] in (["--help"], ["-h"]):
        sys.stdout.reconfigure(errors="replace")  # type: ignore[union-attr]
        try:
            print(overview(), flush=True)
        except BrokenPipeError:  # whoever reads has seen enough, as `head` has
            os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return
    from namebatch.cli import main as whole

    whole()
