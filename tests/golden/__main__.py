"""Keeps what the small jobs are now: ``python -m tests.golden``. Look at what changed, then commit.

Every difference is one that somebody's cut files or papers show.
"""

import json
import tempfile
from pathlib import Path

from tests.golden.jobs import KEPT, LISTS, boiled_down, make, picture


def main() -> None:
    """Write them anew."""
    for template in LISTS:
        with tempfile.TemporaryDirectory() as folder:
            job = make(template, Path(folder))
            told = json.dumps(boiled_down(job), ensure_ascii=False, indent=1, sort_keys=True)
            (KEPT / f"{template}.json").write_text(told + "\n", encoding="utf-8")
            page = picture(job)
            if page is not None:
                page.save(KEPT / f"{template}.png", optimize=True)


if __name__ == "__main__":
    main()
