"""What a job wants from a list: its fields, and what the user said about the columns."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

from namebatch.names.words import FAMILY, GIVEN, NAME, QUANTITY, header_key, synonyms


@dataclass(frozen=True, slots=True)
class Wanted:
    """What a job wants from a list.

    Attributes:
        fields: of the template, in order.
        columns: field → header, as the user said.
        optional: fields whose cell may be empty.
        keys: keys of all headers that tell a header line.
    """

    fields: tuple[str, ...]
    columns: Mapping[str, str]
    optional: frozenset[str]
    keys: frozenset[str]

    def known(self, header: str) -> bool:
        """True if a tidied cell is a header that this job can use."""
        return bool(header) and header_key(header) in self.keys


def wanted(
    fields: Sequence[str], columns: Mapping[str, str] | None, optional: Collection[str]
) -> Wanted:
    """Gather what a job wants; the words for name and quantity always tell a header line."""
    said = dict(columns or {})
    keys = {header_key(word) for word in (*fields, *said.values())}
    for field in fields:
        keys.update(synonyms(field))
    keys.update(NAME, GIVEN, FAMILY, QUANTITY)
    return Wanted(tuple(fields), said, frozenset(optional), frozenset(keys))
