"""Every key of a bundled template wrong in every way: ``python -m tests.template.wrong_keys``.

A template is changed at one place, and ``namebatch check`` runs over a list of two names. What may
come of it: a `NamebatchError` in few words, or both rows, made or held. All eleven templates take
hours; ``--only bag-tag`` is a part of it, ``--every 10`` each tenth change, and with ``--begin 3``
another tenth.
"""

import argparse
import json
import math
import shutil
import sys
import tempfile
import time
import tomllib
from collections import Counter
from collections.abc import Iterator, Mapping
from copy import deepcopy
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any, Final

from typer.testing import CliRunner

from namebatch.cli import app
from namebatch.errors import NamebatchError
from namebatch.resources import bundled
from namebatch.template import bundled_templates
from namebatch.template import schema as known

ROWS: Final = 2
MOST_WORDS: Final = 20_000
"""Signs of a message; more nobody reads."""
SLOW_S: Final = 10.0
"""Of one check; told by the program, never a reason for a test to fail."""
MISSING: Final = object()
Step = str | int
Tables = dict[str, Any]

DEEP: Final[dict[str, object]] = {"a": {"a": {"a": {"a": [{"a": [[[[]]]]}]}}}}
WRONG: Final[Mapping[str, object]] = {
    "missing": MISSING,
    "true": True,
    "zero": 0,
    "one": 1,
    "least": -(2**63),
    "most": 2**63 - 1,
    "negative": -7.5,
    "tiny": 5e-324,
    "small": 0.001,
    "large": 900.0,
    "huge": 1e308,
    "nan": math.nan,
    "infinite": math.inf,
    "minus infinite": -math.inf,
    "empty text": "",
    "blank": " \u00a0\u3000",
    "word": "front",
    "long": "kite " * 2_000,
    "signs": "Zoë \u202e\U0001f3aa\u0301 \ufdfd\u0000\u001b[31m{name}{",
    "file": "../../../../dev/zero",
    "own file": "template.toml",
    "formula": "{name}{{}}{" + "{x}" * 30,
    "colour": "#FF00ff",
    "day": date(2026, 8, 1),
    "empty list": [],
    "zeros": [0, 0, 0, 0],
    "two": [3, -4],
    "wild numbers": [math.nan, 1e308, -1e308, math.inf],
    "far box": [2999, 2999, 3000, 3000],
    "whole box": [0, 0, 3000, 3000],
    "many": [1.5] * 3_000,
    "mixed": ["a", 1, None, {"b": []}][:2],
    "words": ["Pacifico", "back", "front", "two-lines", "\u202e"],
    "lists": [[[[[[]]]]]],
    "empty table": {},
    "deep table": DEEP,
    "tables": [{}, {"name": "x"}, DEEP],
}
"""What is put in a key's place, by a name for it."""
OWN_KEYS: Final[Mapping[str, type[known.Table]]] = {
    "": known.Head,
    "contour": known.Contour,
    "text": known.Text,
    "arc": known.ArcTable,
    "path": known.PathTable,
    "safe_area": known.SafeAreaTable,
    "gradient": known.GradientTable,
    "shadow": known.ShadowTable,
    "stroke": known.StrokeTable,
    "base": known.TracedBase,
    "hole": known.FindRound,
}
"""Table → whose keys it may have; those that are not there are put in too."""


@dataclass(frozen=True, slots=True)
class Change:
    """One wrong thing: what stands at a place of the tables."""

    place: tuple[Step, ...]
    name: str

    def __str__(self) -> str:
        """``text.0.box_mm = nan``."""
        return f"{'.'.join(map(str, self.place))} = {self.name}"


def tables_of(template: str) -> Tables:
    """The tables of a bundled template."""
    return tomllib.loads((bundled("templates") / template / "template.toml").read_text("utf-8"))


def changes(tables: Tables) -> list[Change]:
    """Every change to a template, in the order of its file."""
    places = [*_places(tables), ("unknown",), ("base", "unknown"), ("text", 0, "unknown")]
    return [Change(place, name) for place in dict.fromkeys(places) for name in WRONG]


def _places(tables: Tables) -> Iterator[tuple[Step, ...]]:
    """Where something stands, and where something could."""
    yield from _below(tables, ())
    yield from ((key,) for key in ("joint", "finish", "colours", "samples", "contour", "hole"))
    yield from (("finish", key) for key in ("laminate", "laminate_mm", "tape", "tape_mm"))
    yield from (("finish", "mounted"), ("joint", "kind"), ("joint", "fit_mm"))


def _below(value: object, place: tuple[Step, ...]) -> Iterator[tuple[Step, ...]]:
    if isinstance(value, dict):
        named = [step for step in place if isinstance(step, str)]
        model = OWN_KEYS.get(named[-1] if named else "")
        for key in dict.fromkeys([*value, *(model.model_fields if model else ())]):
            yield (*place, key)
            yield from _below(value.get(key), (*place, key))
    elif isinstance(value, list):
        for at, entry in enumerate(value):
            yield (*place, at)
            yield from _below(entry, (*place, at))


def changed(tables: Tables, change: Change) -> Tables:
    """The tables with one thing wrong; tables on the way to it are added."""
    whole = deepcopy(tables)
    inner: Any = whole
    for step in change.place[:-1]:
        inner = inner.setdefault(step, {}) if isinstance(inner, dict) else inner[step]
    value, last = WRONG[change.name], change.place[-1]
    if value is not MISSING:
        inner[last] = value
    elif not isinstance(inner, dict) or last in inner:
        inner.pop(last)
    return whole


def written(value: object) -> str:
    """A value as TOML on one line."""
    match value:
        case bool():
            return str(value).lower()
        case str():
            return json.dumps(value).replace("\x7f", "\\u007f").encode("utf-8", "replace").decode()
        case list():
            return "[" + ", ".join(map(written, value)) + "]"
        case dict():
            pairs = (f"{json.dumps(key)} = {written(one)}" for key, one in value.items())
            return "{" + ", ".join(pairs) + "}"
        case date():
            return value.isoformat()
        case _:
            return str(value)


class Bench:
    """A copy of a bundled template to be changed, with a list of two names beside it."""

    def __init__(self, template: str, folder: Path) -> None:
        self.tables = tables_of(template)
        self.folder = folder / template
        shutil.copytree(bundled("templates") / template, self.folder)
        self.list = folder / f"{template}.csv"
        lines = (bundled("examples") / f"{template}.csv").read_text("utf-8").splitlines()
        self.list.write_text("\n".join(lines[: ROWS + 1]) + "\n", encoding="utf-8")

    def outcome(self, change: Change) -> str:
        """What came of a change.

        Returns:
            ``told``, ``rows`` or, where it is neither, what is wrong.
        """
        lines = [
            f"{json.dumps(key)} = {written(value)}"
            for key, value in changed(self.tables, change).items()
        ]
        (self.folder / "template.toml").write_text("\n".join(lines) + "\n", encoding="utf-8")
        words = ["check", str(self.list), "--template", str(self.folder), "--workers", "1"]
        done = CliRunner().invoke(app, [*words, "--json"])
        if isinstance(done.exception, NamebatchError):
            return _wording(str(done.exception))
        if done.exception is not None and not isinstance(done.exception, SystemExit):
            return f"broke: {type(done.exception).__name__}: {done.exception}"
        rows = json.loads(done.stdout)
        if len(rows) != ROWS:
            return f"{len(rows)} rows came back of {ROWS}"
        silent = [row for row in rows if row["status"] == "held" and not row["findings"]]
        return "held without a reason" if silent else "rows"


def _wording(told: str) -> str:
    """Whether an error is fit to be read."""
    if not told.strip() or len(told) > MOST_WORDS:
        return f"told in {len(told)} signs"
    if any(ord(sign) < 32 and sign != "\n" for sign in told):
        return f"told with control characters: {told!r:.200}"
    return "told"


def main() -> int:
    """Try all changes; tell those that broke, and the slow ones."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--only", default="", help="templates with this word in their name")
    parser.add_argument("--every", type=int, default=1, help="each so many-th change only")
    parser.add_argument("--begin", type=int, default=0, help="the change to begin with")
    asked = parser.parse_args()
    broken = 0
    for template in (name for name in bundled_templates() if asked.only in name):
        with tempfile.TemporaryDirectory() as folder:
            bench, found = Bench(template, Path(folder)), Counter[str]()
            slowest, begun = 0.0, time.monotonic()
            for change in changes(bench.tables)[asked.begin :: asked.every]:
                start = time.monotonic()
                outcome = bench.outcome(change)
                took = time.monotonic() - start
                slowest = max(slowest, took)
                found[outcome if outcome in ("told", "rows") else "broken"] += 1
                if outcome not in ("told", "rows"):
                    print(f"{template}: {change}: {outcome}", flush=True)
                if took > SLOW_S:
                    print(f"{template}: {change}: {took:.1f} s, {outcome}", flush=True)
            broken += found["broken"]
            counts = ", ".join(f"{count} {word}" for word, count in sorted(found.items()))
            spent = time.monotonic() - begun
            print(f"{template}: {counts}; slowest {slowest:.1f} s of {spent:.0f} s", flush=True)
    return 1 if broken else 0


if __name__ == "__main__":
    sys.exit(main())
