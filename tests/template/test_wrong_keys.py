"""Bundled templates with one key wrong: a sentence, or every row made or held.

All changes are tried by ``python -m tests.template.wrong_keys``, or here with
``NAMEBATCH_WRONG_KEYS=1``; otherwise a few of each template, always the same.
"""

import os
from pathlib import Path

import pytest

from namebatch.template import bundled_templates
from tests.template.wrong_keys import Bench, Change, changes, tables_of

SHARE = int(os.environ.get("NAMEBATCH_WRONG_KEYS", "997"))
"""Each so many-th change; a prime, so that all kinds of them come up."""


@pytest.mark.parametrize("template", bundled_templates())
def test_one_wrong_key(template: str, tmp_path: Path) -> None:
    """Nothing but our own errors, in words; and no row is lost."""
    bench = Bench(template, tmp_path)
    some = changes(bench.tables)[::SHARE]
    wrong = {str(one): came for one in some if (came := bench.outcome(one)) not in ("told", "rows")}
    assert wrong == {}


def test_the_changes_are_changes(tmp_path: Path) -> None:
    """A sound template gives rows, a wrong number or a missing key is told."""
    bench = Bench("place-card", tmp_path)
    assert bench.outcome(Change(("format",), "one")) == "rows"
    assert bench.outcome(Change(("format",), "missing")) == "told"
    assert bench.outcome(Change(("base", "width_mm"), "nan")) == "told"


def test_every_key_is_among_the_changes() -> None:
    """Keys that stand in a file, those that could, and those of no meaning."""
    places = {change.place for change in changes(tables_of("medal"))}
    assert {("text", 1, "arc", "room_mm", 0), ("text", 2, "tightest"), ("unknown",)} <= places
