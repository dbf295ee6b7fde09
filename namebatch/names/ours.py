"""The columns that a table of held rows puts before those of the list.

Mended and given back, such a table is read as a list, and its own columns are nobody's: neither
the one left over that must hold the names, nor a number, nor a remark.
"""

from collections.abc import Sequence
from typing import Final

from namebatch.names.words import header_key

REASON: Final = "reason"
TO_DO: Final = "what to do"
_OURS: Final = (("line", "row"), (REASON,), (TO_DO,))
_KEYS: Final = tuple(tuple(header_key(word) for word in words) for words in _OURS)


def our_columns(headers: Sequence[str]) -> int:
    """How many columns, from the first, were put there; more than once if given back twice.

    Args:
        headers: of the list, tidied, in order.
    """
    count = 0
    while _begins(headers[count:]):
        count += len(_KEYS)
    return count


def _begins(headers: Sequence[str]) -> bool:
    """Each heading is one of ours, perhaps with more words behind it to tell it from another."""
    keys = [header_key(header) for header in headers[: len(_KEYS)]]
    return len(keys) == len(_KEYS) and all(
        key.startswith(words) for key, words in zip(keys, _KEYS, strict=True)
    )
