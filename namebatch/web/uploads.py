"""A list as it was uploaded or pasted."""

from namebatch.desk.recipe import file_name
from namebatch.errors import ListError
from namebatch.names.binary import seems
from namebatch.names.characters import shown
from namebatch.names.formats.package import unpack
from namebatch.store import KeptList
from namebatch.web.limits import Upload

PASTED = "pasted text"
UNNAMED = "list"
SPREADSHEET = "a ZIP archive"
"""What XLSX and ODS files begin like; the reader looks into them."""
LONGEST_SHOWN = 80


def list_of(upload: Upload) -> KeptList | None:
    """The list of a form: its file, or else its text; None if it has neither.

    Raises:
        ListError: there are both, or the file is clearly no list, or a damaged one.
    """
    text = upload.fields.get("text", "")
    if upload.data is None:
        return KeptList(PASTED, text.encode(), pasted=True) if text.strip() else None
    if text.strip():
        raise ListError("A file was sent and text, too. Send one of them.")
    name = file_name(upload.file_name or UNNAMED)
    kind = seems(upload.data)
    if kind is not None and kind != SPREADSHEET:
        raise ListError(
            f'"{shown(name, LONGEST_SHOWN)}" is {kind}, and no list. Choose a CSV, TSV, TXT, XLSX '
            "or ODS file, or paste the names."
        )
    if kind is not None:
        unpack(upload.data, shown(name, LONGEST_SHOWN))  # one that is damaged is told at once
    return KeptList(name, upload.data)
