"""From records to rows: tidying, checking, counting; no line that is not blank is lost."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from namebatch.errors import ListError
from namebatch.finding import Finding, hold, note
from namebatch.names import limits
from namebatch.names.characters import shown
from namebatch.names.columns import Columns, match_columns
from namebatch.names.fieldcheck import check_field, check_letters
from namebatch.names.habits import with_habits
from namebatch.names.headers import Heading, find_heading, unused
from namebatch.names.quantity import read_quantity
from namebatch.names.remarks import check_whole_name
from namebatch.names.repeats import with_repeats
from namebatch.names.row import NameList, Row
from namebatch.names.same_orders import with_same_orders
from namebatch.names.table import Record, Table
from namebatch.names.tidy import bare, is_shielded, tidy, unshielded
from namebatch.names.wanted import Wanted
from namebatch.names.words import name_fields


@dataclass(frozen=True, slots=True)
class _Layout:
    """What every row is read by."""

    place: str
    headers: tuple[str, ...]
    shown: tuple[str, ...]
    columns: Columns
    wanted: Wanted
    names: tuple[str, ...]


def assemble(
    table: Table, wanted: Wanted, *, source: str, sha256: str, pasted: bool = False
) -> NameList:
    """Make the list of rows from a table.

    Args:
        table: as a reader returned it.
        wanted: what the job wants.
        source: what the list is called.
        sha256: of its bytes.
        pasted: True for pasted text, where headers may be left out.

    Raises:
        ListError: if there is no usable header, a field has no column, or there is no row.
    """
    heading = find_heading(table, wanted, pasted=pasted)
    columns = match_columns(heading.headers, wanted)
    headers, names = heading.headers, name_fields(wanted.fields)
    safe = tuple(map(shown, headers))
    layout = _Layout(table.place, headers, safe, columns, wanted, names)
    records = table.records[heading.first :]
    read = tuple(_row(record, layout) for record in records)
    filled = with_same_orders([row for row in read if row is not None], table.place)
    filled = with_repeats(filled, table.place)
    rows, habits = with_habits(filled, layout.names, table.place)
    blank = sum(record.lines for record, row in zip(records, read, strict=True) if row is None)
    if not rows:
        called = table.place.lower()
        raise ListError(f"The list has a header {called} and nothing under it. Add the names.")
    return NameList(
        source=source,
        sha256=sha256,
        headers=heading.headers,
        columns=_used(heading, columns),
        rows=rows,
        blank_lines=table.blank_before + heading.blank + blank,
        reading=table.reading,
        findings=(*table.findings, *heading.findings, *columns.findings, *habits),
        place=table.place,
    )


def _used(heading: Heading, columns: Columns) -> Mapping[str, str]:
    return {name: heading.headers[index] for name, index in columns.fields.items()}


def _row(record: Record, layout: _Layout) -> Row | None:
    """One record as a row; None if it is blank."""
    if not record.findings and not any(map(bare, record.cells)):
        return None
    values, findings = _tidied_cells(record, layout)
    if not any(values.values()) and not record.findings:
        return None
    where = f"{layout.place} {record.line}"
    fields = dict.fromkeys(layout.wanted.fields, "")
    alone = len(layout.headers) == 1
    for name, index in layout.columns.fields.items():
        header = layout.headers[index]
        fields[name] = values[header]
        optional = name in layout.wanted.optional
        place = f'{where}, "{layout.shown[index]}"'
        is_name = name in layout.names
        findings.extend(
            check_field(fields[name], place, optional=optional, name=is_name, alone=alone)
        )
        findings.extend(check_letters(fields[name], place, record.guess))
    whole = " ".join(filter(None, (fields[name] for name in layout.names)))
    findings.extend(check_whole_name(whole, where))
    quantity = 1
    if layout.columns.quantity is not None:
        header = layout.headers[layout.columns.quantity]
        ordered = read_quantity(values[header], f'{where}, "{shown(header)}"')
        quantity = ordered.number
        findings.extend([ordered.finding] if ordered.finding else [])
    at = layout.columns.order
    order = "" if at is None else values[layout.headers[at]]
    told = (*record.findings, *findings)
    return Row(record.line, values, fields, quantity, told, order, layout.place)


def _tidied_cells(record: Record, layout: _Layout) -> tuple[dict[str, str], list[Finding]]:
    """All cells by header, and what was done to them; extra cells are kept too."""
    values = dict.fromkeys(layout.headers, "")
    findings: list[Finding] = []
    extra: list[str] = []
    for index, cell in enumerate(record.cells):
        if not cell:
            continue
        header, seen = _header(index, layout, values)
        text, told = _tidied_cell(cell, layout.place, record.line, seen)
        findings.extend(told)
        if index < len(layout.headers):
            values[header] = text
        elif text:
            extra.append(text)
            values[header] = text
    if extra and not record.findings:
        findings.append(_too_many(record, layout, extra))
    return values, findings


def _header(index: int, layout: _Layout, values: Mapping[str, str]) -> tuple[str, str]:
    """The header of a column, and how it is shown."""
    if index < len(layout.headers):
        return layout.headers[index], layout.shown[index]
    name = unused(f"column {index + 1}", values)
    return name, shown(name)


def _tidied_cell(cell: str, place: str, line: int, seen: str) -> tuple[str, list[Finding]]:
    """The text of one cell, and what was done to it; words are made only where something was."""
    if len(cell) > limits.CELL_CHARACTERS and len(bare(cell)) > limits.CELL_CHARACTERS:
        visible, where = bare(cell), f'{place} {line}, "{seen}"'
        text = (
            f"{where}: the cell has {len(visible):,} characters; at most "
            f"{limits.CELL_CHARACTERS:,} are kept. Shorten it, or is a quotation "
            "mark missing? Held."
        )
        return tidy(visible[: limits.CELL_CHARACTERS]).text, [hold("cell-too-long", text)]
    tidied = tidy(cell)
    text, changes = tidied.text, list(tidied.changes)
    if text[:1] == "'" and is_shielded(text):
        sign = text.lstrip("'")[0]
        changes.append(
            f'the apostrophe before "{sign}", there so that no spreadsheet takes it for a formula, '
            "removed"
        )
        text = unshielded(text)
    if not changes:
        return text, []
    outcome = f' Now "{shown(text)}".' if text else ""
    where = f'{place} {line}, "{seen}"'
    return text, [note("tidied", f"{where}: {'; '.join(changes)}.{outcome}")]


def _too_many(record: Record, layout: _Layout, extra: Sequence[str]) -> Finding:
    return hold(
        "too-many-cells",
        f"{layout.place} {record.line}: more cells than the {len(layout.headers)} headers; "
        f'"{shown(extra[0])}" stands past the last one. Is there a comma, semicolon or tab too '
        'many? If it belongs to the name, put the name in quotation marks ("…"). Held.',
    )
