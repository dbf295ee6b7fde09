"""The rows of a list as they are to be made, and what is recorded of the changes."""

from collections.abc import Mapping
from hashlib import sha256

from namebatch.mends.file import written
from namebatch.names.mend import Mend
from namebatch.names.mended import mended_row
from namebatch.names.row import NameList, Row
from namebatch.template.model import Template
from namebatch.template.optional import optional_fields


def as_mended(row: Row, mend: Mend | None, template: Template, columns: Mapping[str, str]) -> Row:
    """One row with its changes.

    Args:
        row: as it was read.
        mend: what was changed in it; None for nothing.
        template: which fields may be empty.
        columns: template field → header.
    """
    if mend is None:
        return row
    return mended_row(row, mend, columns, optional_fields(template))


def mended_rows(names: NameList, mends: Mapping[int, Mend], template: Template) -> tuple[Row, ...]:
    """All rows of a list, those with changes as they are to be made."""
    return tuple(as_mended(row, mends.get(row.line), template, names.columns) for row in names.rows)


def recorded_mends(mends: Mapping[int, Mend]) -> dict[str, object]:
    """What the settings of a job keep of the changes; nothing where there are none."""
    kept = {line: mend for line, mend in mends.items() if not mend.is_empty}
    return {"mends_sha256": sha256(written(kept)).hexdigest()} if kept else {}
