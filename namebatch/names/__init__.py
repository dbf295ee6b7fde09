"""Lists of names: from a file or pasted text to rows, kept or held, line numbers kept.

Front doors: `read_list` and `read_pasted`.
"""

import hashlib
from collections.abc import Collection, Mapping, Sequence
from pathlib import Path

from namebatch.errors import ListError
from namebatch.names import limits
from namebatch.names.characters import shown
from namebatch.names.delimiter import NAMES, delimiter_under_headers
from namebatch.names.formats import read_table
from namebatch.names.formats.delimited import counted
from namebatch.names.formats.model import Source
from namebatch.names.records import split_records
from namebatch.names.row import NameList, Row
from namebatch.names.rows import assemble
from namebatch.names.table import Table
from namebatch.names.wanted import wanted
from namebatch.ordinary import open_ordinary

__all__ = ["NameList", "Row", "read_list", "read_pasted"]


def read_list(
    path: Path,
    fields: Sequence[str],
    columns: Mapping[str, str] | None = None,
    optional: Collection[str] = (),
    instead: Mapping[str, str] | None = None,
) -> NameList:
    """Read a list file: CSV, TSV, TXT, XLSX or ODS, told apart by content.

    Args:
        path: the file.
        fields: the template's fields, in order.
        columns: field → header where the user said so; the key ``quantity`` names the column
            that says how many.
        optional: fields whose cell may be empty, and which need no column.
        instead: optional field → what is so on every piece where there is no column for it, for
            the note on that; it stays empty where nothing is said.

    Returns:
        Every line that is not blank as a row, made or held.

    Raises:
        ListError: if the file cannot be read as a list, or its columns do not fit.
    """
    name = shown(path.name, 200)
    data = _load(path, name)
    if not data.strip(b"\x00\t\n\r \xef\xbb\xbf\xff\xfe"):
        raise ListError(f'"{name}" is empty. Put one name on each line, under a header.')
    want = wanted(fields, columns, optional, instead)
    try:
        table = read_table(Source(name, path.suffix.lower(), data, want.known))
        return assemble(table, want, source=name, sha256=hashlib.sha256(data).hexdigest())
    except MemoryError:
        raise ListError(
            f'"{name}" needs more memory than there is. Delete columns and sheets that are not '
            "needed, or split the list into several ones."
        ) from None


def read_pasted(
    text: str,
    fields: Sequence[str],
    columns: Mapping[str, str] | None = None,
    optional: Collection[str] = (),
    instead: Mapping[str, str] | None = None,
) -> NameList:
    """Read pasted text: one name a line, or cells of a spreadsheet with tabs between them.

    The first line is taken as headers only if its first cell is one that the job knows.
    Without headers, columns are the fields in order, then the quantity. Lines with commas,
    semicolons or bars are cells only under such headers: names have commas too.

    Args:
        text: what was pasted.
        fields: the template's fields, in order.
        columns: field → header, as in `read_list`.
        optional: fields whose cell may be empty, as in `read_list`.
        instead: what stands on pieces for want of a column, as in `read_list`.

    Raises:
        ListError: if there is nothing in it, too much, or its columns do not fit.
    """
    data = text.encode("utf-8", "surrogatepass")
    _refuse_large(len(data), "The pasted text")
    plain = text.removeprefix("\ufeff")
    want = wanted(fields, columns, optional, instead)
    delimiter = "\t" if "\t" in plain else delimiter_under_headers(plain, want.known)
    # Spreadsheets quote cells when they put them on the clipboard; people who type one name a
    # line mean a quotation mark as it stands.
    records = split_records(plain, delimiter or "\t", quotes=bool(delimiter))
    table = Table(
        records=counted(records, "The pasted text"),
        reading=f"pasted text, {NAMES[delimiter] if delimiter else 'one name a line'}",
        place="Line",
        grid=False,
    )
    sha256 = hashlib.sha256(data).hexdigest()
    bare = delimiter in ("", "\t")
    return assemble(table, want, source="pasted text", sha256=sha256, pasted=bare)


def _load(path: Path, name: str) -> bytes:
    try:
        with open_ordinary(path) as file:
            data = file.read(limits.FILE_BYTES + 1)
    except FileNotFoundError:
        raise ListError(f'There is no file "{shown(str(path), 200)}". Check the name.') from None
    except IsADirectoryError:
        raise ListError(f'"{name}" is a folder. Give the list file in it.') from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "its name cannot be used"
        raise ListError(
            f'"{name}" cannot be opened: {reason}. Save the list as a file that can be read.'
        ) from error
    _refuse_large(len(data), f'"{name}"')
    return data


def _refuse_large(size: int, name: str) -> None:
    if size > limits.FILE_BYTES:
        raise ListError(
            f"{name} is larger than {limits.FILE_BYTES // 2**20} MiB, more than any list of names "
            "needs. Save the list alone, without pictures, or split it."
        )
