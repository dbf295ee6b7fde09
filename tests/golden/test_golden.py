"""Whole small jobs against what is kept of them: a change that nobody meant shows here first."""

import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from PIL import Image

from tests.golden.jobs import KEPT, LISTS, apart, boiled_down, make, picture

FEW = 0.004
"""Share of a coarse page's dots that may be of another grey, where edges fall otherwise."""
GREY = 40


@pytest.fixture(scope="module", params=LISTS)
def job(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of one job."""
    return make(request.param, tmp_path_factory.mktemp("golden"))


def _kept(name: str) -> Mapping[str, Any]:
    found: Mapping[str, Any] = json.loads((KEPT / f"{name}.json").read_text(encoding="utf-8"))
    return found


def test_files_are_as_they_were(job: Path) -> None:
    """Rows, words, sheets, every ring of every cut file, every page: figures within 0.02 mm."""
    told = list(apart(_kept(job.name), boiled_down(job)))
    assert not told, "\n".join(told[:40])


def test_printed_page_is_as_it_was(job: Path) -> None:
    """The first printed page has the same picture, or there is none as before."""
    kept, page = KEPT / f"{job.name}.png", picture(job)
    assert (page is not None) == kept.exists()
    if page is None:
        return
    before, now = np.asarray(Image.open(kept), float), np.asarray(page, float)
    assert before.shape == now.shape
    assert float((np.abs(before - now) > GREY).mean()) < FEW


def test_another_place_or_word_is_told() -> None:
    """What differs is named with its place; what rounding does is not."""
    one = {"a": [1.0, {"b": "x"}], "c": True}
    assert not list(apart(one, {"a": [1.001, {"b": "x"}], "c": True}))
    assert list(apart(one, {"a": [1.1, {"b": "y"}, 3], "d": True})) == [
        "/a: 2 became 3",
        "/a/0: 1.0 became 1.1",
        "/a/1/b: 'x' became 'y'",
        "/c: gone",
        "/d: new",
    ]
