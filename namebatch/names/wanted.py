"""What a job wants from a list: its fields, and what the user said about the columns."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field

from namebatch.names.words import FAMILY, GIVEN, NAME, ORDER, QUANTITY, header_key, synonyms


@dataclass(frozen=True, slots=True)
class Wanted:
    """What a job wants from a list.

    Attributes:
        fields: of the template, in order.
        columns: field → header, as the user said; an empty header: there is none in this list.
        optional: fields whose cell may be empty.
        keys: keys of all headers that tell a header line.
        instead: optional field → what is so on every piece where the list has no column for it.
    """

    fields: tuple[str, ...]
    columns: Mapping[str, str]
    optional: frozenset[str]
    keys: frozenset[str]
    instead: Mapping[str, str] = field(default_factory=dict)

    def known(self, header: str) -> bool:
        """True if a tidied cell is a header that this job can use."""
        return bool(header) and header_key(header) in self.keys


def wanted(
    fields: Sequence[str],
    columns: Mapping[str, str] | None,
    optional: Collection[str],
    instead: Mapping[str, str] | None = None,
) -> Wanted:
    """Gather what a job wants; the words for name, quantity and order always tell a header line."""
    said = dict(columns or {})
    keys = {header_key(word) for word in (*fields, *filter(None, said.values()))}
    for name in fields:
        keys.update(synonyms(name))
    keys.update(NAME, GIVEN, FAMILY, QUANTITY, ORDER)
    return Wanted(tuple(fields), said, frozenset(optional), frozenset(keys), dict(instead or {}))
