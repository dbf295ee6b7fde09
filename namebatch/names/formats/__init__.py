"""The registry of list formats: a new one is a file here and a line in `FORMATS`."""

from typing import Final

from namebatch.errors import ListError
from namebatch.names.binary import seems
from namebatch.names.formats import delimited, ods, xlsx
from namebatch.names.formats.model import ListFormat, Source
from namebatch.names.formats.package import part_names
from namebatch.names.table import Table

FORMATS: Final[tuple[ListFormat, ...]] = (
    xlsx.FORMAT,
    ods.FORMAT,
    delimited.FORMAT,
)
"""Asked in this order; the first that claims the bytes reads them."""

_PACKAGES: Final = (
    ("word/document.xml", "a text document (DOCX)"),
    ("ppt/presentation.xml", "a presentation (PPTX)"),
    ("xl/workbook.bin", "a workbook in the binary form (XLSB)"),
    ("content.xml", "an OpenDocument text or drawing"),
)


def read_table(source: Source) -> Table:
    """Read a list by its content.

    Raises:
        ListError: if no format claims it, or the one that does cannot read it.
    """
    for form in FORMATS:
        if form.claims(source.data):
            return form.read(source)
    kind = _packed(part_names(source.data)) or seems(source.data) or "something else"
    raise ListError(
        f'"{source.name}" seems to be {kind}, not a list. '
        "Save the list as CSV, TSV, TXT, XLSX or ODS and give that file."
    )


def _packed(parts: frozenset[str]) -> str | None:
    """What a package of parts is, if it is one that people take for a list."""
    for part, kind in _PACKAGES:
        if part in parts:
            return kind
    return None
