"""Which column feeds which field of the template, and which says how many."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from difflib import get_close_matches
from typing import Final

from namebatch.errors import ListError
from namebatch.finding import Finding, note, warn
from namebatch.names.characters import shown
from namebatch.names.ours import our_columns
from namebatch.names.wanted import Wanted
from namebatch.names.words import header_key, is_order, is_quantity, synonyms

# Below this, words are alike by chance ("name" and "Anna": 0.5); a slip of the pen is above.
_NEAR: Final = 0.7


@dataclass(frozen=True, slots=True)
class Columns:
    """The outcome of the matching.

    Attributes:
        fields: field → index of its column; optional fields without a column are left out.
        quantity: index of the quantity column, or None.
        order: index of the column that names the order or the customer, or None.
        findings: what was assumed.
    """

    fields: dict[str, int]
    quantity: int | None
    order: int | None
    findings: tuple[Finding, ...]


@dataclass(slots=True)
class _Matching:
    """Work in progress of `match_columns`."""

    headers: tuple[str, ...]
    keys: tuple[str, ...]
    wanted: Wanted
    fields: dict[str, int] = field(default_factory=dict)
    quantity: int | None = None
    order: int | None = None
    problems: list[str] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)

    def free(self) -> list[int]:
        """Columns of the list's own that nothing uses yet."""
        used = {*self.fields.values(), self.quantity, self.order}
        own = range(our_columns(self.headers), len(self.headers))
        return [index for index in own if index not in used]

    def missing(self) -> list[str]:
        """Fields that have no column yet."""
        return [name for name in self.wanted.fields if name not in self.fields]


def match_columns(headers: Sequence[str], wanted: Wanted) -> Columns:
    """Match headers to fields: as the user said, as written, spelt alike, by synonyms.

    Args:
        headers: distinct, tidied, in list order.
        wanted: the fields and what the user said.

    Raises:
        ListError: naming every field without a column and every wrong ``--column`` at once.
    """
    work = _Matching(tuple(headers), tuple(header_key(header) for header in headers), wanted)
    _as_said(work)
    _as_spelt(work)
    work.quantity = _by_word(work, "quantity", work.quantity, is_quantity)
    _by_synonym(work)
    needed = [name for name in work.missing() if name not in work.wanted.optional]
    if len(work.free()) > len(needed):  # else "Customer" is where the names stand
        work.order = _by_word(work, "order", work.order, is_order)
    _only_one_left(work)
    _check_missing(work)
    if work.problems:
        raise ListError(
            f"The list's columns do not fit the template. The list has {listed(headers)}. Say "
            "which column is which with --column FIELD=HEADER, or change the headers.",
            work.problems,
        )
    return Columns(work.fields, work.quantity, work.order, tuple(work.findings))


def listed(headers: Sequence[str], most: int = 30) -> str:
    """Headers in a message: quoted, in order, not endlessly many."""
    names = ", ".join(f'"{shown(header, 40)}"' for header in headers[:most])
    rest = len(headers) - most
    return f"{names} and {rest} more" if rest > 0 else names


def _as_said(work: _Matching) -> None:
    for name, header in work.wanted.columns.items():
        is_field = name in work.wanted.fields
        if not is_field and not is_quantity(name) and not is_order(name):
            near = _nearest(name, (*work.wanted.fields, "quantity", "order"))
            work.problems.append(
                f'--column {shown(name)}: the template has no field "{shown(name)}"{near}'
            )
            continue
        if not header:
            if is_field and name not in work.wanted.optional:
                work.problems.append(
                    f'--column {shown(name)}: the field "{shown(name)}" is needed, so it cannot '
                    "go without a column"
                )
            continue
        index = _find(work, header)
        if index is None:
            near = _nearest(header, work.headers)
            work.problems.append(
                f'--column {shown(name)}: the list has no column "{shown(header)}"{near}'
            )
        elif is_field:
            work.fields[name] = index
        elif is_quantity(name):
            work.quantity = index
        else:
            work.order = index


def _find(work: _Matching, header: str) -> int | None:
    if header in work.headers:
        return work.headers.index(header)
    key = header_key(header)
    return work.keys.index(key) if key in work.keys else None


def _as_spelt(work: _Matching) -> None:
    for name in work.missing():
        if name in work.wanted.columns:
            continue
        exact = [index for index in work.free() if work.headers[index] == name]
        alike = [index for index in work.free() if work.keys[index] == header_key(name)]
        found = exact or alike
        if found:
            work.fields[name] = found[0]
            _tell_doubt(work, name, found[0], [index for index in alike if index != found[0]])


def _by_word(
    work: _Matching, name: str, said: int | None, is_word: Callable[[str], bool]
) -> int | None:
    """The column that no field uses and whose header is a word for something; as said, if so."""
    if said is not None or any(map(is_word, work.wanted.columns)):
        return said
    found = [index for index in work.free() if is_word(work.headers[index])]
    if not found:
        return None
    exact = [index for index in found if work.keys[index] == name]
    used = (exact or found)[0]
    _tell_doubt(work, name, used, [at for at in found if at != used])
    return used


def _by_synonym(work: _Matching) -> None:
    for name in work.missing():
        if name in work.wanted.columns:
            continue
        free = {work.keys[index]: index for index in reversed(work.free())}
        found = [free[word] for word in synonyms(name) if word in free]
        if not found:
            continue
        work.fields[name] = found[0]
        text = f'The column "{shown(work.headers[found[0]])}" is used for "{name}".'
        work.findings.append(note("column-by-synonym", text))
        _tell_doubt(work, name, found[0], found[1:])


def _tell_doubt(work: _Matching, name: str, used: int, others: Sequence[int]) -> None:
    if others:
        could = listed([work.headers[index] for index in others])
        text = (
            f'"{name}" is taken from the column "{shown(work.headers[used])}"; {could} would fit '
            f"too. If that is wrong, say --column {name}=HEADER."
        )
        work.findings.append(warn("column-in-doubt", text))


def _only_one_left(work: _Matching) -> None:
    fields: Sequence[str] = work.wanted.fields
    if len(work.headers) - our_columns(work.headers) == 1:
        fields = [name for name in fields if name not in work.wanted.optional] or fields
    name = fields[0] if len(fields) == 1 else None
    if name is None or name in work.fields or name in work.wanted.columns:
        return
    free = work.free()
    if len(free) == 1:
        work.fields[name] = free[0]
        header = shown(work.headers[free[0]])
        text = f'No column is called "{name}"; the only one, "{header}", is used.'
        work.findings.append(note("column-only-one", text))


def _check_missing(work: _Matching) -> None:
    for name in work.missing():
        if name in work.wanted.columns:
            continue
        if name in work.wanted.optional:
            instead = work.wanted.instead.get(name, "it stays empty on every piece")
            text = f'The list has no column for "{name}"; {instead}.'
            work.findings.append(note("column-missing", text))
            continue
        near = _nearest(name, [work.headers[index] for index in work.free()])
        work.problems.append(f'no column for the field "{name}"{near}')


def _nearest(word: str, choices: Sequence[str]) -> str:
    by_key = dict(reversed(list(_keyed(choices))))
    found = get_close_matches(header_key(word)[:200], list(by_key), n=1, cutoff=_NEAR)
    return f'; the nearest is "{shown(by_key[found[0]])}"' if found else ""


def _keyed(choices: Sequence[str]) -> Iterator[tuple[str, str]]:
    for choice in choices:
        yield header_key(choice)[:200], choice
