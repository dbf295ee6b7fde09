"""What a list format is to the registry."""

from collections.abc import Callable
from dataclasses import dataclass

from namebatch.names.table import Table


@dataclass(frozen=True, slots=True)
class Source:
    """A list as it came.

    Attributes:
        name: file name for messages, safe to print.
        suffix: of the file name, lower case, with its dot.
        data: the bytes.
        known: tells whether a cell is a header that the job can use.
    """

    name: str
    suffix: str
    data: bytes
    known: Callable[[str], bool]


@dataclass(frozen=True, slots=True)
class ListFormat:
    """One format of list.

    Attributes:
        name: for people.
        claims: True if the bytes are of this format.
        read: raises `ListError` if they cannot be read.
    """

    name: str
    claims: Callable[[bytes], bool]
    read: Callable[[Source], Table]
