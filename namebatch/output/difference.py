"""What tells one job from another, in plain words: for whoever is told that a folder is taken."""

from collections.abc import Iterator, Mapping
from typing import Final

from namebatch.names.characters import shown

REMAKE: Final = "remake_of"
"""Key of a manifest for what the job makes again of an earlier one."""
_LONGEST: Final = 60
_MEASURES: Final = {"sheet_mm": "the sheet", "gap_mm": "the gap"}
_CHOICES: Final = {
    "font": "the typeface",
    "fill": "the way to fill sheets",
}
_OTHERS: Final = {
    "columns": "other columns of the list are used",
    "other_columns": "quantity or order come from other columns",
    "keep_order": "the order along the sheets is another one",
}


def difference(old: Mapping[str, object], new: Mapping[str, object]) -> str:
    """How the job in a folder differs from the one to come, the weightiest first.

    Args:
        old: a manifest; it may come from anywhere and hold anything.
        new: `manifest.identity` of the job to come.

    Returns:
        Part of a sentence: ``the same template, but the list has changed since``; empty when
        `old` says nothing of a job.
    """
    before, after = old.get("settings"), new.get("settings")
    if not isinstance(before, dict) or not isinstance(after, dict):
        return ""
    again = ["other pieces are made again"] if old.get(REMAKE) != new.get(REMAKE) else []
    others = "; ".join([*again, *_list(before, after), *_rest(before, after)])
    if old.get("template") != new.get("template"):
        name = _words(new.get("template"))
        return f"this one has the template {name}{'; ' if others else ''}{others}"
    changed = old.get("template_digest") != new.get("template_digest")
    if changed or before.get("template_sha256") != after.get("template_sha256"):
        change = "the template's files have changed since"
        return f"the same name of template, but {'; '.join(filter(None, (change, others)))}"
    return f"the same template, but {others}" if others else ""


def _list(before: Mapping[str, object], after: Mapping[str, object]) -> Iterator[str]:
    """Another list, or the same one changed."""
    was, now = before.get("list"), after.get("list")
    if was == now:
        return
    if isinstance(was, dict) and isinstance(now, dict):
        if was.get("file") == now.get("file"):
            yield "the list has changed since"
        elif was.get("sha256") == now.get("sha256"):
            yield f"the list was called {_words(was.get('file'))}"
        else:
            yield f"the list was {_words(was.get('file'))} and is now {_words(now.get('file'))}"
        return
    yield "the list is another one"


def _rest(before: Mapping[str, object], after: Mapping[str, object]) -> Iterator[str]:
    """The other settings; those without words of their own by their names."""
    if before.get("workshop") != after.get("workshop"):
        yield "the workshop file is another one or has changed since"
    for key in sorted({*before, *after} - {"list", "workshop", "template_sha256"}):
        was, now = before.get(key), after.get(key)
        if was == now:
            continue
        if key in _MEASURES:
            yield f"{_MEASURES[key]} was {_mm(was)} and is now {_mm(now)}"
        elif key in _CHOICES:
            yield f"{_CHOICES[key]} was {_words(was)} and is now {_words(now)}"
        else:
            yield _OTHERS.get(key, f'the setting "{shown(key, _LONGEST)}" is another one')


def _words(value: object) -> str:
    """A name in quotation marks; what a template has of its own is not named in settings."""
    if value is None:
        return "the usual one"
    return f'"{shown(value, _LONGEST)}"' if isinstance(value, str) else "something else"


def _mm(value: object) -> str:
    """A measure, or width and height."""
    values = value if isinstance(value, list) else [value]
    if 0 < len(values) <= 2 and all(isinstance(one, int | float) for one in values):
        return " × ".join(f"{one:g}" for one in values) + " mm"
    return "something else"
