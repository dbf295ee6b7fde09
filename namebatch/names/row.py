"""A line of the list, as every later room sees it."""

from collections.abc import Mapping
from dataclasses import dataclass

from namebatch.finding import Finding, is_held
from namebatch.names.mend import Mend


@dataclass(frozen=True, slots=True)
class Row:
    """One line of the list, kept whole whether it can be made or not.

    Attributes:
        line: the line (text files) or row (spreadsheets) a person sees, header = 1.
            For a quoted cell with line breaks, the line on which the row starts.
        values: header → cell after tidying, every column of the list, in list order.
        fields: template field → text, through the column mapping.
        quantity: how many to make; 0 when the quantity itself is what is wrong.
        order: the order or the customer that it belongs to; empty if the list does not say.
        place: ``Line``; ``Row`` in what was recorded of spreadsheets before.
        findings: what was tidied (notes), doubtful (warnings) or wrong (holds).
        mend: what was changed in it by hand, None for nothing; texts and quantity are those that
            were given then, `values` stay as they were read.
    """

    line: int
    values: Mapping[str, str]
    fields: Mapping[str, str]
    quantity: int
    findings: tuple[Finding, ...] = ()
    order: str = ""
    place: str = "Line"
    mend: Mend | None = None

    @property
    def where(self) -> str:
        """The beginning of a message about it: ``Row 12``."""
        return f"{self.place} {self.line}"

    @property
    def held(self) -> bool:
        """True if this row cannot be made."""
        return is_held(self.findings)


@dataclass(frozen=True, slots=True)
class NameList:
    """A whole list.

    Attributes:
        source: file name without its folder, or ``pasted text``.
        sha256: of the bytes that were read, hexadecimal.
        headers: column headers in list order (``name`` for a list without any).
        columns: template field → header that feeds it.
        rows: every line that is not blank, in list order.
        blank_lines: how many lines were empty and skipped.
        reading: how it was read, for people: ``CSV, semicolons, Windows-1252``.
        findings: about the list as a whole; never holds.
        place: what people call the place of one of its rows: ``Line`` or ``Row``.
    """

    source: str
    sha256: str
    headers: tuple[str, ...]
    columns: Mapping[str, str]
    rows: tuple[Row, ...]
    blank_lines: int
    reading: str
    findings: tuple[Finding, ...] = ()
    place: str = "Line"
