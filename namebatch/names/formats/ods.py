"""ODS: OpenDocument spreadsheets (ISO/IEC 26300)."""

from typing import Final

from namebatch.names.formats.extent import check_ods_content
from namebatch.names.formats.model import ListFormat, Source
from namebatch.names.formats.package import damaged, part_start, unpack
from namebatch.names.formats.workbook import read_workbook
from namebatch.names.table import Table

_TYPE: Final = b"application/vnd.oasis.opendocument.spreadsheet"


def claims(data: bytes) -> bool:
    """A package that states the type in a part of its own, as the standard asks."""
    return part_start(data, "mimetype").startswith(_TYPE)


def read(source: Source) -> Table:
    """Read the first sheet that is not empty.

    Raises:
        ListError: for damage, a password, or more than the limits allow.
    """
    parts = unpack(source.data, source.name)
    content = parts.get("content.xml")
    if content is None:
        raise damaged(source.name)
    check_ods_content(content, source.name)
    return read_workbook(parts, source.name, "ODS")


FORMAT: Final = ListFormat("ODS", claims, read)
