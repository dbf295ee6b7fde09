"""Puts a few small files in place of others, and is killed before every single step of it.

Whatever the system is asked to do counts as a step, the tidying up too; texts are also left half
written. Then another job comes, which must be refused or find the folder as it was or as it was
to be, is killed as well, and comes again. Run as a program of its own, so that forking meets no
threads: it prints what it saw as JSON.
"""

import itertools
import json
import os
import random
import shutil
import signal
import sys
from collections.abc import Callable, Sequence
from functools import partial
from hashlib import sha256
from pathlib import Path
from typing import Any

from namebatch.errors import OutputError
from namebatch.output.atomic import write_folder
from namebatch.output.target import check_target
from tests.forked import exit_of

BEFORE = {"print.pdf": "one", "cut/face-001.svg": "one", "cut/face-002.svg": "one"}
AFTER = {"proof.pdf": "two", "cut/face-001.svg": "two", "labels/001.pdf": "two"}
MINE = {"mine.txt": "mine", "cut/mine.txt": "mine"}
STEPS = ("mkdir", "open", "write", "unlink", "rmdir", "rename", "replace")


def fill(files: dict[str, str], name: str, folder: Path) -> Sequence[str]:
    """Write a small job, the manifest last."""
    for path, text in files.items():
        (folder / path).parent.mkdir(parents=True, exist_ok=True)
        (folder / path).write_text(text, encoding="utf-8")
    digests = {path: sha256(text.encode()).hexdigest() for path, text in files.items()}
    manifest = json.dumps({"template": name, "files": digests})
    (folder / "job.json").write_text(manifest, encoding="utf-8")
    return (*files, "job.json")


def make(files: dict[str, str], name: str, replace: bool, out: Path) -> None:
    """Make one of the jobs."""
    write_folder(out, replace, {"template": name}, partial(fill, files, name))


def look(out: Path) -> None:
    """A third job that may not replace what is there: refused, if only after looking."""
    try:
        check_target(out, False, {"template": "third"})
    except OutputError:
        return
    raise RuntimeError("the third job was not refused")


def in_child(call: Callable[[], object], last: int | None = None) -> bool:
    """Call something in a process of its own, which kills itself after so many steps.

    Returns:
        True if it came to its end.

    Raises:
        RuntimeError: it ended by itself before.
    """

    def counted() -> None:
        if last is not None:
            _kill_before(last)
        call()

    code = exit_of(counted)
    if code not in (0, -signal.SIGKILL):
        raise RuntimeError(f"a run ended by itself with {code}")
    return code == 0


def _kill_before(last: int) -> None:
    """Let this process end before a step of those that follow."""
    left = itertools.count(last, -1)

    def counted(done: Callable[..., Any], *args: Any, **options: Any) -> Any:
        if not next(left):
            os.kill(os.getpid(), signal.SIGKILL)
        return done(*args, **options)

    for name in STEPS:
        setattr(os, name, partial(counted, getattr(os, name)))
    whole = Path.write_text

    def by_halves(path: Path, text: str, **options: Any) -> int:
        whole(path, text[: len(text) // 2], **options)
        return int(counted(whole, path, text, **options))

    setattr(Path, "write_text", by_halves)  # noqa: B010  a method may not be assigned to


def files_of(folder: Path) -> dict[str, str]:
    """Every file below a folder, hidden ones too."""
    return {
        path.relative_to(folder).as_posix(): path.read_text(encoding="utf-8")
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def run(folder: Path, again: int) -> dict[str, object]:
    """Kill before every step, each time so many later runs as well.

    Returns:
        How many steps there are, in how many rounds the new job stood once somebody had looked,
        and what was wrong.
    """
    chance, wrong, stood = random.Random(3), list[str](), 0
    make_before, make_after = partial(make, BEFORE, "one", True), partial(make, AFTER, "two", True)
    for step in itertools.count():
        killed = False
        for round_ in range(again + 1):
            place = folder / f"run-{step}-{round_}"
            out = place / "job"
            for path, text in MINE.items():
                (out / path).parent.mkdir(parents=True, exist_ok=True)
                (out / path).write_text(text, encoding="utf-8")
            make_before(out)
            before = files_of(out)
            killed = not in_child(partial(make_after, out), step)
            then = [chance.randrange(40) for _ in range(round_)]
            for number in then:
                in_child(partial(chance.choice((look, make_after, make_before)), out), number)
            in_child(partial(look, out))
            found, told = files_of(out), f"step {step}, then {then}"
            stood += found.get("proof.pdf") == "two"
            in_child(partial(make_after, out))
            whole = files_of(out)
            if found not in (before, whole):
                wrong.append(f"{told}: neither as before nor as it was to be: {sorted(found)}")
            texts = {path: text for path, text in whole.items() if path != "job.json"}
            if texts != {**MINE, **AFTER} or '"two"' not in whole.get("job.json", ""):
                wrong.append(f"{told}: in the end {sorted(whole)}")
            if [path.name for path in place.iterdir()] != ["job"]:
                wrong.append(f"{told}: left beside it {sorted(files_of(place))}")
            if any(path.is_dir() and not any(path.iterdir()) for path in out.rglob("*")):
                wrong.append(f"{told}: an empty folder")
            shutil.rmtree(place)
        if not killed:
            return {"steps": step, "stood": stood, "wrong": wrong}
    raise RuntimeError("not reached")


if __name__ == "__main__":
    print(json.dumps(run(Path(sys.argv[1]), int(sys.argv[2]))))
