"""Names whose alphabet is not that of the names beside them, and that only look as if it were.

``Сора`` typed on a Cyrillic keyboard cannot be told from Latin ``Copa`` by eye. Among Latin names
it is likely a slip, and nobody finds it in a list again. A name with a letter that shows where it
belongs (Тамара) is nobody's slip.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from typing import Final

from namebatch.finding import Finding, note, warn
from namebatch.names.characters import shown
from namebatch.names.lookalikes import alphabet, alphabet_name, looks_like
from namebatch.names.row import Row

_FEWEST_LETTERS: Final = 2
_FEWEST_NAMES: Final = 3
_KNOWN: Final = "look-alike-letter"


def strangers(rows: Sequence[Row], fields: Sequence[str]) -> dict[int, tuple[Finding, ...]]:
    """Findings on the names of a list, by the place of their row.

    Args:
        rows: in list order; held ones are passed over.
        fields: those that hold names.

    Returns:
        Warnings where a field only looks like the other names of its person, or of its list when
        no other name there is of its alphabet; notes where a person's names are in two alphabets
        without a likeness.
    """
    found = {
        at: tuple(told)
        for at, row in enumerate(rows)
        if not row.held and len(fields) > 1 and (told := list(_beside(row, fields)))
    }
    whole = [(at, _whole(row, fields)) for at, row in enumerate(rows) if not row.held]
    kinds = [(at, text, alphabet(text)) for at, text in whole]
    sure = Counter(kind for _, text, kind in kinds if kind and not _may_be_another(text, kind))
    if sum(sure.values()) < _FEWEST_NAMES or len(sure) != 1:
        return found
    (main,) = sure
    for at, text, kind in kinds:
        if at not in found and kind not in ("", main) and _counts(text) and looks_like(text, main):
            found[at] = (_told(rows[at], text, text, kind, main, "the other names of the list"),)
    return found


def _whole(row: Row, fields: Sequence[str]) -> str:
    return " ".join(filter(None, (row.fields[field] for field in fields)))


def _counts(text: str) -> bool:
    return sum(map(str.isalpha, text)) >= _FEWEST_LETTERS


def _may_be_another(text: str, kind: str) -> bool:
    """True for a text that any of the other alphabets could have."""
    others = {"Latn", "Cyrl", "Grek"} - {kind}
    return any(looks_like(text, other) for other in others)


def _beside(row: Row, fields: Sequence[str]) -> Iterator[Finding]:
    """A field in another alphabet than the person's longer name."""
    if any(found.code == _KNOWN for found in row.findings):
        return
    texts = [(row.fields[field], alphabet(row.fields[field])) for field in fields]
    texts = [(text, kind) for text, kind in texts if kind and _counts(text)]
    kinds = dict.fromkeys(kind for _, kind in texts)
    if len(kinds) < 2:
        return
    for text, kind in texts:
        for beside, main in texts:
            sure = main != kind and not looks_like(beside, kind)
            if sure and looks_like(text, main) and kind != "Latn":
                yield _told(row, text, beside, kind, main, f'"{shown(beside)}"')
                return
    both = " and ".join(f'"{shown(text)}" {alphabet_name(kind)}' for text, kind in texts)
    yield note(
        "two-alphabets",
        f"{row.where}: {both} letters; the piece is made with both. Retype one of them if it is "
        "a slip.",
    )


def _told(row: Row, text: str, beside: str, kind: str, main: str, others: str) -> Finding:
    own, usual = alphabet_name(kind), alphabet_name(main)
    return warn(
        _KNOWN,
        f'{row.where}: every letter of "{shown(text)}" is {own} and looks {usual}, as '
        f"{others} {'are' if beside == text else 'is'}. Retype it if it is a slip.",
    )
