"""How far the filled cells of a sheet reach, found before the spreadsheet reader runs.

That reader lays out the whole rectangle around the filled cells in memory, so two cells in
opposite corners of a sheet would ask for more than any machine has. Here the XML is read as a
stream and only counted.
"""

import re
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Final

from namebatch.errors import ListError
from namebatch.names import limits
from namebatch.names.formats.markup import local_name, walk
from namebatch.names.formats.package import damaged

_REFERENCE: Final = re.compile(r"([A-Za-z]{1,3})(\d{1,7})")
_ERRORS_KEPT: Final = 20
_LAST_ROW: Final = 10_000_000
"""Far below the last row that there can be in a sheet (1,048,576; ECMA-376)."""


@dataclass(slots=True)
class _Extent:
    """Rectangle of filled cells seen so far; `bottom` is below 0 while there are none."""

    name: str
    top: int = 0
    left: int = 0
    bottom: int = -1
    right: int = -1
    filled: int = 0
    before: int = 0

    def add(self, row: int, column: int, rows: int = 1, columns: int = 1) -> None:
        """Take in a block of filled cells and check the limits."""
        if self.bottom < 0:
            self.top, self.left = row, column
        self.top, self.left = min(self.top, row), min(self.left, column)
        self.bottom = max(self.bottom, row + rows - 1)
        self.right = max(self.right, column + columns - 1)
        self.filled += 1
        self._check()

    def add_cell(self, row: int, column: int) -> None:
        """Take in one filled cell; most lie inside what was seen, and are only counted."""
        if self.top <= row <= self.bottom and self.left <= column <= self.right:
            self.filled += 1
            if self.filled > limits.GRID_CELLS:
                self._check()
        else:
            self.add(row, column)

    def _check(self) -> None:
        height, width = self.bottom - self.top + 1, self.right - self.left + 1
        if self.before + height * width > limits.GRID_CELLS or self.filled > limits.GRID_CELLS:
            raise ListError(
                f'"{self.name}": the filled cells of a sheet span {height:,} rows by {width:,} '
                f"columns, more than {limits.GRID_CELLS:,} cells. Delete stray cells far from "
                "the list, or save the list alone as CSV."
            )

    def next_sheet(self) -> None:
        """Begin with another sheet of the same file; their rectangles add up."""
        if self.bottom >= 0:
            self.before += (self.bottom - self.top + 1) * (self.right - self.left + 1)
        self.bottom = self.right = -1


@dataclass(slots=True)
class _XlsxCounter:
    """Counts filled cells (`c` elements with anything in them) of one XLSX part."""

    extent: _Extent
    row: int = -1
    column: int = -1
    inside: bool = False
    is_error: bool = False
    errors: list[str] = field(default_factory=list)
    shared: int = 0
    root: str = ""

    def start(self, tag: str, attributes: dict[str, str]) -> None:
        local = local_name(tag) if ":" in tag else tag
        if not self.root:
            self.root = local
        if local == "row":
            said = attributes.get("r", "")
            self.row = int(said) - 1 if said.isdecimal() else self.row + 1
            if self.row >= _LAST_ROW:
                raise damaged(self.extent.name)
            self.column = -1
        elif local == "c":
            self._place(attributes.get("r"))
            self.inside = True
            kind = attributes.get("t")
            self.is_error = kind == "e"
            self.shared += kind == "s"
        elif self.inside:
            self.inside = False
            self.extent.add_cell(max(self.row, 0), self.column)
            if self.is_error and len(self.errors) < _ERRORS_KEPT:
                self.errors.append(f"{_letters(self.column)}{max(self.row, 0) + 1}")

    def end(self, tag: str) -> None:
        if tag == "c" or local_name(tag) == "c":
            self.inside = False

    def _place(self, reference: str | None) -> None:
        if reference is None:
            self.column += 1
            return
        found = _REFERENCE.fullmatch(reference)
        if found is None:
            raise damaged(self.extent.name)
        self.column = _number(found[1])
        self.row = int(found[2]) - 1


@dataclass(slots=True)
class _OdsCounter:
    """Counts filled cells of an ODS content part, repeats included."""

    extent: _Extent
    row: int = 0
    rows: int = 1
    column: int = 0
    columns: int = 1
    in_cell: bool = False
    filled: bool = False
    text: int = 0
    characters: int = 0

    def start(self, tag: str, attributes: dict[str, str]) -> None:
        local = local_name(tag)
        if local == "table":
            self.row = 0
            self.extent.next_sheet()
        elif local == "table-row":
            self.rows = _repeat(attributes, "number-rows-repeated")
            self.column = 0
        elif local in ("table-cell", "covered-table-cell"):
            self.columns = _repeat(attributes, "number-columns-repeated")
            self.in_cell = True
            self.text = 0
            self.filled = any(key.endswith(("value-type", ":value")) for key in attributes)
        elif self.in_cell:
            self.filled = True
            if local == "s":
                self.text += _repeat(attributes, ":c")

    def data(self, text: str) -> None:
        """Count what stands in a cell."""
        self.text += len(text)

    def end(self, tag: str) -> None:
        local = local_name(tag)
        if local in ("table-cell", "covered-table-cell"):
            if self.filled:
                self.extent.add(self.row, self.column, self.rows, self.columns)
                self.characters += self.text * self.rows * self.columns
                refuse_long(self.characters, self.extent.name)
            self.column += self.columns
            self.in_cell = False
        elif local == "table-row":
            self.row += self.rows


@dataclass(frozen=True, slots=True)
class PartCount:
    """What was counted in one part of an XLSX file.

    Attributes:
        errors: cells with a formula error (``B4``), the first few.
        shared: how many cells have a shared text.
        is_blank: it is a sheet, and no cell in it is filled.
    """

    errors: tuple[str, ...]
    shared: int
    is_blank: bool


def check_xlsx_part(part: bytes, name: str) -> PartCount:
    """Check and count one part of an XLSX file.

    Raises:
        ListError: if filled cells reach too far, or the part is not well-formed.
    """
    counter = _XlsxCounter(_Extent(name))
    walk(part, name, counter.start, counter.end)
    is_blank = counter.root == "worksheet" and not counter.extent.filled
    return PartCount(tuple(counter.errors), counter.shared, is_blank)


def check_ods_content(part: bytes, name: str) -> None:
    """Check the content part of an ODS file; errors as for XLSX."""
    counter = _OdsCounter(_Extent(name))
    walk(part, name, counter.start, counter.end, counter.data)


def refuse_long(characters: int, name: str) -> None:
    """Refuse cells whose texts, as often as they stand there, would fill the memory.

    Raises:
        ListError: there are more than `limits.SHEET_CHARACTERS`.
    """
    if characters > limits.SHEET_CHARACTERS:
        raise ListError(
            f'"{name}": the cells hold more than {limits.SHEET_CHARACTERS // 10**6} million '
            "characters. Delete columns and sheets that are not needed, or save the list alone as "
            "CSV."
        )


def _repeat(attributes: dict[str, str], key: str) -> int:
    said = next((value for name, value in attributes.items() if name.endswith(key)), "1")
    return max(1, int(said)) if said.isdecimal() and len(said) < 19 else 1


@lru_cache(maxsize=1024)
def _number(letters: str) -> int:
    number = 0
    for letter in letters.upper():
        number = number * 26 + ord(letter) - 64
    return number - 1


def _letters(column: int) -> str:
    letters = ""
    column += 1
    while column > 0:
        column, rest = divmod(column - 1, 26)
        letters = chr(65 + rest) + letters
    return letters
