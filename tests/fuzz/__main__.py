"""Fuzz one door: ``python -m tests.fuzz drawings --seconds 300``.

The fuzzer is atheris, which follows the branches of the program; it is not among what the tests
need: ``pip install atheris``. A find is printed with its traceback, and its bytes are kept beside
the corpus; without one the exit status is 0.
"""

import argparse
import sys
import tempfile
from pathlib import Path

SLOW_S = 30
"""One file that takes longer is a find."""
MOST_MIB = 4_096
LONGEST = 20_000
"""Bytes of a file."""


def main() -> None:
    """Fuzz until the time is up or something is found."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("door", help="what a stranger sends")
    parser.add_argument("--seconds", type=int, default=60)
    parser.add_argument("--corpus", type=Path, help="folder of files to begin with and to keep")
    asked = parser.parse_args()
    try:
        import atheris
    except ImportError:
        sys.exit("The fuzzer is not installed: pip install atheris")
    # what is loaded after this line is followed branch by branch
    with atheris.instrument_imports(include=["namebatch"]):
        from tests.fuzz.doors import DOORS
    if asked.door not in DOORS:
        sys.exit(f"Choose one of {', '.join(DOORS)}.")
    door = DOORS[asked.door]
    corpus = asked.corpus or Path(tempfile.mkdtemp(prefix="namebatch-corpus-"))
    corpus.mkdir(parents=True, exist_ok=True)
    for number, seed in enumerate(door.seeds()):
        (corpus / f"seed-{number}").write_bytes(seed)
    limits = [
        f"-max_total_time={asked.seconds}",
        f"-timeout={SLOW_S}",
        f"-rss_limit_mb={MOST_MIB}",
        f"-max_len={LONGEST}",
        f"-artifact_prefix={corpus}/found-",
        "-print_final_stats=1",
    ]

    def try_one(data: bytes) -> None:
        door.feed(data)

    atheris.Setup([sys.argv[0], *limits, str(corpus)], try_one)
    atheris.Fuzz()


if __name__ == "__main__":
    main()
