"""What shows only when a list is seen as a whole: habits, and the rows that break them."""

import re
import unicodedata
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

from namebatch.finding import Finding, note, warn
from namebatch.names.characters import shown
from namebatch.names.row import Row
from namebatch.names.strangers import strangers
from namebatch.names.words import FAMILY, GIVEN, header_key

_FEWEST_ROWS: Final = 5
_MOST: Final = 0.75
_FEWEST_LETTERS: Final = 3
_FEW: Final = 0.25
_LINES_SHOWN: Final = 8
# Rows with one of these have more to tell than their capitals.
_NO_NAME: Final = frozenset({"placeholder-perhaps", "not-a-name"})
_APOSTROPHE: Final = re.compile(r"[^\W\d_](['’])(?=[^\W\d_])")
# Georgian is written without capitals, though Unicode calls its letters small ones.
_GEORGIAN: Final = re.compile("[\u10d0-\u10ff\u1c90-\u1cbf]")
_TITLES: Final = re.compile(
    r"(?:mr|mrs|ms|miss|mx|dr|prof|sir|rev|herr|frau|fräulein|m|mme|mlle|monsieur|madame|sr|sra|"
    r"srta|señor|señora|sig|sig\.ra|dott|dhr|mevr|pan|pani|ing|mgr|bc|hr|fru|г-н|г-жа|κ|κα|dipl\.-ing)"
    r"\.?(?= \S)",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class _Name:
    """The names of a row in one text, and where the row is in the list."""

    at: int
    line: int
    text: str


def with_habits(
    rows: Sequence[Row], fields: Sequence[str], place: str
) -> tuple[tuple[Row, ...], tuple[Finding, ...]]:
    """Look at the names of a list together.

    Args:
        rows: in list order.
        fields: those that hold names; others are not looked at.
        place: ``Line`` or ``Row``.

    Returns:
        The rows, some of those that are not held with a note on their capitals or a warning on
        swapped columns or a foreign alphabet, and findings about the list: capitals or small
        letters throughout, apostrophes of two kinds, titles before some names only.
    """
    names = [
        _Name(at, row.line, " ".join(filter(None, (row.fields[field] for field in fields))))
        for at, row in enumerate(rows)
        if not row.held and all(found.code not in _NO_NAME for found in row.findings)
    ]
    names = [name for name in names if name.text]
    whole, single = _case(names, place)
    swapped = _swapped(rows, fields, place)
    strange = strangers(rows, fields)
    found = {
        at: (*single.get(at, ()), *swapped.get(at, ()), *strange.get(at, ()))
        for at in {**single, **swapped, **strange}
    }
    told = tuple(
        replace(row, findings=(*row.findings, *found[at])) if at in found else row
        for at, row in enumerate(rows)
    )
    return told, (*whole, *_apostrophes(names, place), *_titles(names, place))


def _case(
    names: Sequence[_Name], place: str
) -> tuple[list[Finding], dict[int, tuple[Finding, ...]]]:
    """One finding for a list in capitals or small letters, else one for each such name."""
    cased = [name for name in names if _letters_with_case(name.text) >= _FEWEST_LETTERS]
    whole: list[Finding] = []
    single: dict[int, tuple[Finding, ...]] = {}
    for code, words, fits in (
        ("capitals", "in capitals", str.isupper),
        ("small-letters", "in small letters", str.islower),
    ):
        if len(cased) < _FEWEST_ROWS:
            break
        those = [name for name in cased if fits(name.text)]
        if len(those) > _MOST * len(cased):
            text = (
                f"{len(those):,} of {len(cased):,} names are written {words}, as on "
                f'{place.lower()} {those[0].line}, "{shown(those[0].text, 30)}"; they are made as '
                "they stand. Have the template set the letter case, or retype the list, if that "
                "is not wanted."
            )
            whole.append(warn(f"list-in-{code}", text))
            continue
        for name in those:
            text = (
                f'{place} {name.line}: "{shown(name.text)}" is written {words}, unlike the others; '
                "it is made as it stands. Retype it if that is not wanted."
            )
            single[name.at] = (note(f"name-in-{code}", text),)
    return whole, single


def _letters_with_case(text: str) -> int:
    """How many letters of a text say something about capitals."""
    if _GEORGIAN.search(text):
        return 0
    return sum(sign.isupper() or sign.islower() for sign in text)


def _apostrophes(names: Sequence[_Name], place: str) -> Iterator[Finding]:
    """Straight and curly apostrophes in one list look like two hands on the pieces."""
    kinds: Mapping[str, list[_Name]] = {"'": [], "’": []}
    for name in names:
        for sign in dict.fromkeys(_APOSTROPHE.findall(name.text)):
            kinds[sign].append(name)
    straight, curly = kinds["'"], kinds["’"]
    if straight and curly:
        yield warn(
            "apostrophes-mixed",
            f"Names have apostrophes of two kinds: straight (') on {_lines(straight, place)}, "
            f"curly (’) on {_lines(curly, place)}. They are made as they stand; write all alike.",
        )


def _titles(names: Sequence[_Name], place: str) -> Iterator[Finding]:
    """Mr or Dr. before a few names of many is likely left over from another list."""
    titled = [name for name in names if _TITLES.match(name.text)]
    if titled and len(names) >= _FEWEST_ROWS and len(titled) <= _FEW * len(names):
        yield note(
            "titles-on-some",
            f"{len(titled)} of {len(names):,} names begin with a title, on "
            f"{_lines(titled, place)}, and are made with it. Take it out if it is not meant.",
        )


def _lines(names: Sequence[_Name], place: str) -> str:
    lines = [f"{name.line}" for name in names]
    some = ", ".join(lines[:_LINES_SHOWN]) + (" …" if len(lines) > _LINES_SHOWN else "")
    return f"{place.lower()}{'s' if len(lines) > 1 else ''} {some}"


def _swapped(
    rows: Sequence[Row], fields: Sequence[str], place: str
) -> dict[int, tuple[Finding, ...]]:
    """Rows whose first name is a last name in other rows, and the other way round."""
    given = next((field for field in fields if header_key(field) in GIVEN), None)
    family = next((field for field in fields if header_key(field) in FAMILY), None)
    if given is None or family is None or given == family:
        return {}
    pairs = [(_key(row.fields[given]), _key(row.fields[family])) for row in rows]
    firsts, lasts = _counted(first for first, _ in pairs), _counted(last for _, last in pairs)
    shared = firsts.keys() & lasts.keys()
    explained: set[str] = set()
    found: dict[int, tuple[Finding, ...]] = {}
    for at, (first, last) in enumerate(pairs):
        alone = firsts.get(first, 0) == 1 and lasts.get(last, 0) == 1
        if alone and first != last and {first, last} <= shared:
            explained |= {first, last}
            row = rows[at]
            text = (
                f'{place} {row.line}: "{shown(row.fields[given])}" is a last name elsewhere in the '
                f'list and "{shown(row.fields[family])}" a first name. If the two were '
                "swapped here, change them over in the list."
            )
            found[at] = (warn("columns-swapped", text),)
    # Where other words stand in both columns too, first and last names are of one stock.
    return found if explained == shared else {}


def _key(text: str) -> str:
    return unicodedata.normalize("NFC", text.casefold())


def _counted(texts: Iterator[str]) -> dict[str, int]:
    counts: dict[str, int] = {}
    for text in texts:
        if text:
            counts[text] = counts.get(text, 0) + 1
    return counts
