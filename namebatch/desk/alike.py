"""Rows that have something in common, and parts of a change that are applied to all of them."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Any, Final

from namebatch.desk.incommon import ALL, Key, keys_of
from namebatch.desk.opened import Opened
from namebatch.desk.row_model import Alike
from namebatch.desk.shown import Shown
from namebatch.errors import DeskError, NotThereError
from namebatch.finding import Severity
from namebatch.names.characters import shown as quoted
from namebatch.names.mend import Mend, TextMend
from namebatch.names.mended import BY_HAND
from namebatch.names.row import Row

_TEXT_KEYS: Final = ("font", "height_mm", "most_mm", "one_line", "shift_mm")
"""What of a text can be the same on other pieces; where a name is broken cannot."""
_ROW_KEYS: Final = ("font", "bridge_mm", "quantity", "held")


def alike_of(opened: Opened, row: Row, made: Shown | None) -> tuple[Alike, ...]:
    """Groups of rows that have something in common with one; only groups with others in them."""
    groups = tuple(_groups(row, made))
    counts = opened.others_with([key for _, _, key in groups], row.line)
    return tuple(
        Alike(name, label, count)
        for (name, label, _), count in zip(groups, counts, strict=True)
        if count
    )


def lines_alike(opened: Opened, row: Row, made: Shown | None, key: str) -> tuple[int, ...]:
    """Lines of the other rows of a group.

    Raises:
        NotThereError: the row belongs to no such group.
    """
    for name, _, wanted in _groups(row, made):
        if name == key:
            return tuple(
                other.line
                for other, shown in opened.all()
                if other.line != row.line and wanted in keys_of(other, shown)
            )
    raise NotThereError(f"{row.where} has nothing in common with others that is called so.")


def _groups(row: Row, made: Shown | None) -> Iterator[tuple[str, str, Key]]:
    """Every group that a row belongs to: its name, its label, and what its rows have in common."""
    yield ALL[0], "all the others", ALL
    for name, text in row.fields.items():
        if text:
            label = f'all with "{quoted(text, 40)}" as {quoted(name, 40)}'
            yield f"field:{name}", label, ("field", name, text)
    if row.order:
        label = f'all of the order "{quoted(row.order, 40)}"'
        yield "order", label, ("order", row.order)
    for code, message in _remarks(row):
        yield f"code:{code}", f"all with a remark like this: {message}", ("code", code)
    for one in made.texts if made else ():
        label = f'all whose "{quoted(one.box, 40)}" is set in {one.font}'
        yield f"font:{one.box}", label, ("font", one.box, one.font)
        if len(one.lines) > 1:
            label = f'all whose "{quoted(one.box, 40)}" stands on two lines'
            yield f"lines:{one.box}", label, ("lines", one.box)


def _remarks(row: Row) -> Iterator[tuple[str, str]]:
    """Codes of what is to be looked at, each once, with the beginning of what it says."""
    told: dict[str, str] = {}
    for finding in row.findings:
        if finding.severity is not Severity.NOTE and finding.code != BY_HAND:
            message = finding.message.removeprefix(f"{row.where}: ")
            told.setdefault(finding.code, quoted(message, 60))
    yield from told.items()


def with_parts(target: Mend, source: Mend, keys: Sequence[str]) -> Mend:
    """A change with parts of another one in place of its own.

    Args:
        target: what is changed in the row so far.
        source: where the parts come from.
        keys: ``font``, ``bridge_mm``, ``quantity``, ``held``, ``fields.NAME``, ``text.BOX`` or
            ``text.BOX.KEY``.

    Raises:
        DeskError: there is no such part, or it belongs to one name alone.
    """
    for key in keys:
        kind, _, rest = key.partition(".")
        if key in _ROW_KEYS:
            target = replace(target, **{key: getattr(source, key)})
        elif kind == "fields" and rest:
            fields = {name: said for name, said in target.fields.items() if name != rest}
            if rest in source.fields:
                fields[rest] = source.fields[rest]
            target = replace(target, fields=fields)
        elif kind == "text" and rest:
            target = _with_text(target, source, rest)
        else:
            raise _no_part(key)
    return target


def _with_text(target: Mend, source: Mend, rest: str) -> Mend:
    """Text boxes may have a dot in their name, so the end is looked at first."""
    box, _, key = rest.rpartition(".")
    if box and key == "lines":
        raise DeskError(
            "Where one name is broken into two lines says nothing about others. Leave that out."
        )
    box, keys = (box, (key,)) if box and key in _TEXT_KEYS else (rest, _TEXT_KEYS)
    given = source.texts.get(box, TextMend())
    own = target.texts.get(box, TextMend())
    parts: dict[str, Any] = {one: getattr(given, one) for one in keys}
    own = replace(own, **parts)
    if own.one_line and own.lines is not None:
        own = replace(own, lines=None)
    if own.height_mm is not None and own.most_mm is not None:
        exact = given.height_mm is not None
        own = replace(own, most_mm=None) if exact else replace(own, height_mm=None)
    texts = {name: text for name, text in target.texts.items() if name != box}
    if own != TextMend():
        texts[box] = own
    return replace(target, texts=texts)


def _no_part(key: str) -> DeskError:
    return DeskError(f'There is no part of a change that is called "{quoted(key, 60)}".')
