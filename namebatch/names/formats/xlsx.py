"""XLSX: Office Open XML workbooks (ECMA-376)."""

from typing import Final

from namebatch.finding import warn
from namebatch.names.formats.extent import check_xlsx_part
from namebatch.names.formats.model import ListFormat, Source
from namebatch.names.formats.package import part_names, unpack
from namebatch.names.formats.shared import check_shared
from namebatch.names.formats.workbook import read_workbook
from namebatch.names.table import Table

_BLANK: Final = (
    b'<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">'
    b"<sheetData/></worksheet>"
)
"""Stands for a sheet without a filled cell."""


def claims(data: bytes) -> bool:
    """A package with a workbook part; the binary kind (XLSB) has another one."""
    return "xl/workbook.xml" in part_names(data)


def read(source: Source) -> Table:
    """Read the first sheet that is not empty.

    Raises:
        ListError: for damage, a password, or more than the limits allow.
    """
    parts = unpack(source.data, source.name)
    contents = {part: content for part, content in parts.items() if part.endswith(".xml")}
    counts = {part: check_xlsx_part(content, source.name) for part, content in contents.items()}
    errors = [cell for count in counts.values() for cell in count.errors]
    cells = sum(count.shared for count in counts.values())
    check_shared(contents.values(), cells, source.name)
    # hundreds of sheets may be one part, and each would be gone through anew
    blank = {part: _BLANK for part, count in counts.items() if count.is_blank}
    table = read_workbook({**parts, **blank}, source.name, "XLSX")
    if not errors:
        return table
    which = ", ".join(errors[:10])
    doubt = warn(
        "cell-errors",
        f'"{source.name}" has formulas that ended in an error (cells {which}); they are read as '
        "empty. Mend them in the spreadsheet.",
    )
    return Table(
        table.records,
        table.reading,
        table.place,
        table.grid,
        table.blank_before,
        (*table.findings, doubt),
    )


FORMAT: Final = ListFormat("XLSX", claims, read)
