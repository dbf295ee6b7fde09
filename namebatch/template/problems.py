"""Problems of a file, gathered so that all of them can be told at once, each with its place."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from difflib import get_close_matches
from itertools import islice
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError

from namebatch.errors import NamebatchError

M = TypeVar("M", bound=BaseModel)

MOST_COMPARED = 2_000
"""Words that one is compared with to find what was meant; each takes some microseconds."""
MOST_TOLD = 200
"""Beyond this many problems the list helps nobody; the rest is counted."""


class FileProblem(NamebatchError):
    """One thing that ends the reading of one file; the loader adds it to its list.

    Args:
        place: where, for example ``base.svg line 12``.
        message: what, and what to do.
    """

    def __init__(self, place: str, message: str) -> None:
        place = printable(place)
        super().__init__(f"{place}: {message}")
        self.place = place
        self.message = message


@dataclass(slots=True)
class Problems:
    """A growing list of problems, in the order in which they were found."""

    lines: list[str] = field(default_factory=list)

    def add(self, place: str, message: str) -> None:
        """Note one problem at a place; the same line is noted once."""
        line = f"{place}: {message}" if place else message
        if line not in self.lines[-20:]:
            self.lines.append(line)

    def told(self) -> tuple[str, ...]:
        """All problems, cut off where more would not help."""
        if len(self.lines) <= MOST_TOLD:
            return tuple(self.lines)
        rest = len(self.lines) - MOST_TOLD
        return (*self.lines[:MOST_TOLD], f"… and {rest} more of the kind")

    def __len__(self) -> int:
        """How many there are."""
        return len(self.lines)


def printable(text: str) -> str:
    """A text without signs that a terminal would obey; a file may be named after them."""
    return "".join(c if c.isprintable() else "\N{REPLACEMENT CHARACTER}" for c in text)


def shown(value: object) -> str:
    """A value as a person would write it in the file, shortened, on one line."""
    match value:
        case bool():
            return "true" if value else "false"
        case str():
            text = printable(value)
            return f'"{text[:40]}…"' if len(text) > 40 else f'"{text}"'
        case Mapping():
            return "a table"
        case list() | tuple():
            return f"a list of {len(value)}"
        case int() if abs(value) > 10**15:
            return "a number of more than 15 digits"
        case _:
            return str(value)[:40]


def nearest(word: object, known: Iterable[str]) -> str | None:
    """The known word that was most likely meant."""
    if not isinstance(word, str):
        return None
    by_lower = {name.lower(): name for name in islice(known, MOST_COMPARED)}
    found = get_close_matches(word.lower()[:80], by_lower, n=1, cutoff=0.6)
    return by_lower[found[0]] if found else None


def did_you_mean(word: object, known: Iterable[str]) -> str:
    """A hint for a wrong word: the nearest right one, or all that are right."""
    names = list(known)
    guess = nearest(word, names)
    if guess is not None:
        return f'did you mean "{guess}"?'
    return f"right would be {', '.join(names[:12])}." if names else "leave it out."


def joined(place: str, loc: Iterable[int | str]) -> str:
    """A place with pydantic's path behind it; list positions count from 1, as people do."""
    for step in loc:
        if isinstance(step, int):
            place = f"{place}[{step + 1}]"
        else:
            step = printable(step)
            place = f"{place}.{step[:60]}" if place else step[:60]
    return place


def validated(model: type[M], data: object, place: str, problems: Problems) -> M | None:
    """Data as a model, or None with every problem noted.

    Args:
        model: the pydantic model; it forbids unknown keys.
        data: what the TOML file holds there.
        place: where that is, ``text[2]``; empty at the top of the file.
        problems: gets one line a problem.
    """
    if not isinstance(data, dict):
        problems.add(place, f"needs a table of keys and values, not {shown(data)}.")
        return None
    try:
        return model.model_validate(data)
    except ValidationError as error:
        for entry in error.errors(include_url=False):
            problems.add(joined(place, entry["loc"]), sentence(entry, model))
    return None


def sentence(entry: Mapping[str, Any], model: type[BaseModel]) -> str:
    """One pydantic error in plain words.

    Args:
        entry: the error as pydantic lists it.
        model: that was looked for, to name its keys where there is no such key.
    """
    context: Mapping[str, Any] = entry.get("ctx") or {}
    value = shown(entry.get("input"))
    kind = str(entry["type"])
    if kind == "missing":
        return "is missing; this entry is needed."
    if kind == "extra_forbidden":
        return f"there is no such key here; {_right_keys(entry['loc'], model)}"
    if kind == "literal_error":
        words = str(context.get("expected", "")).replace("'", "").replace(" or ", ", ").split(", ")
        guess = nearest(entry.get("input"), words)
        hint = f' Did you mean "{guess}"?' if guess else ""
        return f"must be one of {', '.join(words)}, not {value}.{hint}"
    if kind == "value_error":
        return str(context.get("error", entry["msg"]))
    if kind == "too_long" and isinstance(entry.get("input"), Mapping):
        return f"must be a table of at most {context['max_length']} entries; take some out."
    bound = _bound(kind, context)
    if bound:
        return f"must be {bound}, not {value}."
    return f"needs {_needs(kind)}, not {value}."


def _right_keys(loc: tuple[int | str, ...], model: type[BaseModel]) -> str:
    """The hint for an unknown key of a model or of a table inside it."""
    names = [info.alias or name for name, info in model.model_fields.items()]
    return did_you_mean(loc[-1] if loc else "", names if len(loc) < 2 else ())


def _bound(kind: str, context: Mapping[str, Any]) -> str:
    """The limit that a number, text or list passed, or nothing."""
    words = {
        "greater_than": ("above", "gt"),
        "greater_than_equal": ("at least", "ge"),
        "less_than": ("below", "lt"),
        "less_than_equal": ("at most", "le"),
    }
    if kind in words:
        word, key = words[kind]
        return f"{word} {context[key]:g}"
    if kind == "string_too_long":
        return f"at most {context['max_length']} characters long"
    if kind == "string_too_short":
        return "at least one character long"
    if kind == "too_long":
        return f"a list of at most {context['max_length']}"
    if kind == "too_short":
        return f"a list of at least {context['min_length']}"
    return ""


def _needs(kind: str) -> str:
    """What kind of value a key takes."""
    if kind.startswith("string"):
        return "text in quotes"
    if kind.startswith("bool"):
        return "true or false"
    if kind.startswith("int"):
        return "a whole number"
    if kind.startswith("float"):
        return "a number without quotes"
    if kind == "finite_number":
        return "a finite number"
    if kind.startswith(("list", "tuple")):
        return "a list in square brackets"
    if kind.startswith(("dict", "model", "mapping")):
        return "a table of keys and values"
    return "a different value"
