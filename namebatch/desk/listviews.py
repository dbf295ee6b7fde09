"""The list of a docket as the page shows it, even where it cannot be used yet."""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from pathlib import PurePath
from typing import Final, Literal

from namebatch.desk.lying import Lying
from namebatch.desk.model import Correction, FieldView, FirstRow, ListView, Told
from namebatch.desk.opened import Opened
from namebatch.desk.plainly import plainly
from namebatch.desk.recipe import Recipe, file_name, pasted_text
from namebatch.desk.rowviews import approval, state_of, told
from namebatch.errors import ListError
from namebatch.finding import Finding, Severity, is_held
from namebatch.names import read_pasted
from namebatch.names.columns import Columns, match_columns
from namebatch.names.formats import read_table
from namebatch.names.formats.model import Source
from namebatch.names.mended import is_left_out
from namebatch.names.row import NameList, Row
from namebatch.names.rows import assemble
from namebatch.names.tidy import tidy_start
from namebatch.names.wanted import Wanted, wanted
from namebatch.names.words import header_key, is_order, is_quantity
from namebatch.template.model import Template
from namebatch.template.optional import optional_fields

FIRST: Final = 8
QUANTITY: Final = "quantity"
ORDER: Final = "order"
NOTHING: Final = ListView("", "", 0, 0, (), (), (), None, (), ())
"""No list yet."""


def list_view(lying: Lying, template: Template | None) -> ListView:
    """The list of a docket.

    Args:
        lying: the docket.
        template: the one that was chosen; None if there is none.
    """
    recipe, opened = lying.now.recipe, lying.opened
    if recipe is None:
        return NOTHING
    names = opened.plan.names if opened else read_anyhow(recipe, template)
    if names is None:
        return replace(NOTHING, source=recipe.names.name, problem=lying.problem)
    said = _said(recipe)
    return ListView(
        source=names.source,
        reading=names.reading,
        lines=len(names.rows),
        blank_lines=names.blank_lines,
        headers=names.headers,
        fields=tuple(_fields(names.headers, said, template)) if template else (),
        first=tuple(FirstRow(row.line, row.values) for row in names.rows[:FIRST]),
        problem=lying.problem,
        findings=_told(names.findings),
        corrections=tuple(_corrections(opened, lying.approvals)) if opened else (),
    )


def read_anyhow(recipe: Recipe, template: Template | None) -> NameList | None:
    """A list with its headers and rows, whether or not they fit the template.

    Returns:
        None where it cannot be read at all.
    """
    fields = template.fields if template else ()
    try:
        if recipe.names.pasted:
            return read_pasted(pasted_text(recipe.names), fields, {}, fields)
        want = wanted(fields, {}, fields)
        name = file_name(recipe.names.name)
        table = read_table(
            Source(name, PurePath(name).suffix.lower(), recipe.names.data, want.known)
        )
        cells = next((r.cells for r in table.records if any(map(tidy_start, r.cells))), ())
        keys = want.keys | {header_key(tidy_start(cell)) for cell in cells if tidy_start(cell)}
        want = Wanted(want.fields, {}, want.optional, keys)
        return assemble(table, want, source=name, sha256="")
    except ListError:
        return None


def _said(recipe: Recipe) -> Mapping[str, str]:
    said = recipe.settings.get("columns")
    return {str(k): str(v) for k, v in said.items()} if isinstance(said, dict) else {}


def _fields(
    headers: Sequence[str], said: Mapping[str, str], template: Template
) -> Iterator[FieldView]:
    """What needs a column and which it has, said or guessed."""
    optional = optional_fields(template)
    columns = _matched(headers, said, template, optional)
    for name in template.fields:
        at = columns.fields.get(name)
        yield FieldView(
            name, name not in optional, None if at is None else headers[at], name not in said
        )
    for name, at, is_word in (
        (QUANTITY, columns.quantity, is_quantity),
        (ORDER, columns.order, is_order),
    ):
        guessed = not any(map(is_word, said))
        yield FieldView(name, False, None if at is None else headers[at], guessed)


def _matched(
    headers: Sequence[str],
    said: Mapping[str, str],
    template: Template,
    optional: Collection[str],
) -> Columns:
    """How columns are used; what was said counts as far as it can be followed."""
    own = {header_key(header) for header in headers}
    usable = {
        name: header
        for name, header in said.items()
        if (header_key(header) in own or not header)
        and (name in template.fields or is_quantity(name) or is_order(name))
        and (header or name not in template.fields or name in optional)
    }
    return match_columns(headers, wanted(template.fields, usable, template.fields))


def _corrections(opened: Opened, approvals: Mapping[int, str]) -> Iterator[Correction]:
    """Rows that are held, or in which the list has something to look at, as they are now."""
    for line, read in opened.read.items():
        row, made = opened.row(line), opened.shown(line)
        if not row.held and not _doubtful(read.findings):
            continue
        settled: Literal["", "left out", "held by hand", "approved"] = ""
        if is_left_out(row):
            settled = "left out"
        elif row.mend is not None and row.mend.held:
            settled = "held by hand"
        elif approval(made, approvals.get(line)) == "yes" and not row.held:
            settled = "approved"
        left = told(() if settled else _left(row, opened.mended(line)))
        state = state_of(made)
        yield Correction(line, row.place, state, row.fields, row.quantity, left, settled)


def _left(row: Row, mended: Row) -> Iterable[Finding]:
    """What holds a row, and what there is still to look at in the list.

    What making found, and does not hold it, is for the wall.
    """
    return [f for f in _doubtful(row.findings) if is_held([f]) or f in mended.findings]


def _doubtful(findings: Iterable[Finding]) -> list[Finding]:
    return [f for f in findings if f.severity is not Severity.NOTE]


def _told(findings: Iterable[Finding]) -> tuple[Told, ...]:
    return tuple(Told(f.code, f.severity, plainly(f.message)) for f in findings)
