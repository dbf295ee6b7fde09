"""Manifests whose changes by hand somebody damaged: told, never taken for what they are not."""

import json
from pathlib import Path

import pytest

from namebatch.errors import RemakeError
from namebatch.mends import Mend, TextMend
from namebatch.remake import Wish, plan_remake
from tests.remake import jobs

MEND = Mend(
    fields={"name": "Wrenna"},
    texts={"name": TextMend(height_mm=5.0, shift_mm=(0.2, 0.1))},
    quantity=2,
    was={"name": "Wren Teasel"},
)


@pytest.fixture(scope="module")
def first(tmp_path_factory: pytest.TempPathFactory) -> jobs.First:
    """Two cards, one of them changed by hand."""
    place = tmp_path_factory.mktemp("first")
    return jobs.first_job(place, jobs.CARDS, "place-card", mends={2: MEND})


def wish(first: jobs.First) -> Wish:
    """The changed card again."""
    return Wish(first.folder, first.folder / "remakes" / "001", ("L2-1",))


def test_what_was_changed_is_changed_again(first: jobs.First) -> None:
    """The changes come back from the manifest as they were asked for."""
    assert plan_remake(wish(first)).plan.settings.mends == {2: MEND}


@pytest.mark.parametrize(
    "change",
    [
        {"fields": 5e-324},
        {"fields": {"name": [1.0]}},
        {"fields": {"name": {"lines": 3}}},
        {"was": 0},
        {"was": {"name": None}},
        {"font": 3},
        {"held": ["x"]},
        {"quantity": "2"},
        {"quantity": 0},
        {"bridge_mm": float("nan")},
        {"text": {"name": {"height_mm": "5"}}},
        {"text": {"name": {"height_mm": [5.0]}}},
        {"text": {"name": {"shift_mm": [float("inf"), 0.0]}}},
        {"text": {"name": {"lines": 3}}},
        {"text": {"name": []}},
        {"unknown": 1},
    ],
    ids=str,
)
def test_changes_that_are_none(first: jobs.First, change: dict[str, object]) -> None:
    """Whatever stands where a change by hand should, the answer is a sentence with its place."""
    whole = first.manifest
    row = whole["rows"][0]
    damaged = {**whole, "rows": [{**row, "mend": {**row["mend"], **change}}, *whole["rows"][1:]]}
    path: Path = first.folder / "job.json"
    path.write_text(json.dumps(damaged), encoding="utf-8")
    try:
        with pytest.raises(RemakeError, match="what was changed by hand is not as this version"):
            plan_remake(wish(first))
    finally:
        path.write_text(json.dumps(whole), encoding="utf-8")
