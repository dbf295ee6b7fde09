"""Any key of a manifest wrong in any way: made again, read, laid onto, or told in our words.

``NAMEBATCH_WRONG_KEYS=1`` tries every change; otherwise a few are, always the same.
"""

import json
import math
import os
from collections.abc import Callable, Iterator
from copy import deepcopy
from pathlib import Path
from typing import Any

import pytest

from namebatch.cutboards import cut_board
from namebatch.errors import NamebatchError
from namebatch.measured.jobsheet import read_job_sheet
from namebatch.remake import Wish, plan_remake
from tests.remake import jobs

SHARE = int(os.environ.get("NAMEBATCH_WRONG_KEYS", "401"))
MISSING = object()
FAR_AWAY = [[[[0, 0], [1e308, 0], [0, 1e308]]]]
VALUES: tuple[object, ...] = (
    *(MISSING, None, True, 0, -1, -7.5, 1e308, math.nan, math.inf, 10**400, 5e-324),
    *("", "x", "L2-2", "face-001", "\ud800", "\u202e\0", " " * 3000, "../../etc"),
    *([], [None], [0, 0], [math.nan] * 2, [math.inf] * 4, FAR_AWAY, [["a"]], [{}], ["x"] * 5),
    *({}, {"a": {"a": []}}, {"": None}, {"name": [1]}, {"name": {"lines": 3}}),
)
Step = str | int


def places(value: object, place: tuple[Step, ...] = ()) -> Iterator[tuple[Step, ...]]:
    """Every key, and the first two entries of every list."""
    if isinstance(value, dict | list):
        steps: list[Any] = list(value) if isinstance(value, dict) else list(range(len(value)))[:2]
        for step in steps:
            yield (*place, step)
            yield from places(value[step], (*place, step))


def changed(whole: dict[str, Any], place: tuple[Step, ...], value: object) -> str:
    """The manifest with one thing wrong."""
    manifest = deepcopy(whole)
    inner: Any = manifest
    for step in place[:-1]:
        inner = inner[step]
    if value is MISSING:
        inner.pop(place[-1])
    else:
        inner[place[-1]] = value
    return json.dumps(manifest)


@pytest.fixture(scope="module")
def first(tmp_path_factory: pytest.TempPathFactory) -> jobs.First:
    """One tag, with a printed page and a board."""
    return jobs.first_job(
        tmp_path_factory.mktemp("first"), "name,village\nWren,Marram\n", "bag-tag"
    )


ASKED: dict[str, Callable[[Path], object]] = {
    "remake": lambda job: plan_remake(Wish(job, job / "remakes" / "001", ("L2-1",))),
    "align": lambda job: read_job_sheet(job, "face-001"),
    "board": lambda job: cut_board(job, "board-001"),
}


@pytest.mark.parametrize("asked", ASKED)
def test_one_wrong_key(first: jobs.First, asked: str) -> None:
    """What is wrong is told in few words that can be written; nothing else breaks."""
    path, whole = first.folder / "job.json", first.manifest
    changes = [(place, value) for place in places(whole) for value in VALUES]
    told: list[str] = []
    try:
        for place, value in changes[:: max(1, SHARE if asked == "remake" else SHARE // 8)]:
            path.write_text(changed(whole, place, value), encoding="utf-8")
            try:
                ASKED[asked](first.folder)
            except NamebatchError as error:
                told.append(str(error))
    finally:
        path.write_text(json.dumps(whole), encoding="utf-8")
    assert 0 < max(len(one.encode()) for one in told) < 20_000
