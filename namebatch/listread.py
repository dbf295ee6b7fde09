"""A list read for a template, wherever the list comes from."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace
from typing import Final, Protocol

from namebatch.errors import SettingsError
from namebatch.names.row import NameList
from namebatch.names.words import is_order, is_quantity
from namebatch.template.model import Template
from namebatch.template.optional import optional_fields
from namebatch.template.painting import without_column

CASE_REMARKS: Final = frozenset(
    {"list-in-capitals", "list-in-small-letters", "name-in-capitals", "name-in-small-letters"}
)


class Reader(Protocol):
    """Reads a list, from a file (`names.read_list`) or as it was pasted (`names.read_pasted`)."""

    def __call__(
        self,
        fields: Sequence[str],
        columns: Mapping[str, str] | None,
        optional: Collection[str],
        instead: Mapping[str, str] | None,
    ) -> NameList:
        """The list; for arguments and errors see there."""


def read_for(template: Template, read: Reader, columns: Mapping[str, str]) -> NameList:
    """Read a list as a template needs it.

    Args:
        template: its fields, and which of them may be empty.
        read: reads the list.
        columns: as in `settings.Settings`.

    Raises:
        SettingsError: a column is said for a field that there is not.
        ListError: the list cannot be used.
    """
    optional = optional_fields(template)
    unknown = sorted(
        name
        for name in set(columns) - set(template.fields)
        if not is_quantity(name) and not is_order(name)
    )
    if unknown:
        raise SettingsError(
            f'The template "{template.name}" has no field called {", ".join(unknown)}. '
            f"Its fields: {', '.join(template.fields)}; quantity and order can be said, too."
        )
    instead = without_column(template.boxes)
    names = read(template.fields, columns, optional, instead)
    unfed = _unfed(template, names)
    if unfed:  # refused with the headers that there are, as for a field that stands alone
        names = read(template.fields, columns, optional - unfed, instead)
    if all(box.case != "as-typed" for box in template.boxes if not box.is_fixed):
        names = _without_case(names)
    return names


def _unfed(template: Template, names: NameList) -> frozenset[str]:
    """Fields of formulas that no column of the list feeds at all."""
    return frozenset(
        field
        for box in template.boxes
        if not box.optional and not set(box.fields) & set(names.columns)
        for field in box.fields
    )


def _without_case(names: NameList) -> NameList:
    """The list without remarks on capital and small letters, which this template sets itself."""
    rows = tuple(
        replace(row, findings=tuple(f for f in row.findings if f.code not in CASE_REMARKS))
        for row in names.rows
    )
    told = tuple(f for f in names.findings if f.code not in CASE_REMARKS)
    return replace(names, rows=rows, findings=told)
