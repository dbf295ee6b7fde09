"""Where the command begins: short answers at once, everything else through `cli`."""

import sys

from namebatch.overview import overview


def main() -> None:
    """Entry point of the `namebatch` command."""
    if sys.argv[1:] in (["--help"], ["-h"]):
        sys.stdout.reconfigure(errors="replace")  # type: ignore[union-attr]
        print(overview())
        return
    from namebatch.cli import main as whole

    whole()
