"""A row of the list with what was changed in it by hand."""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import replace

from namebatch.finding import Finding, hold, note
from namebatch.names.characters import shown
from namebatch.names.fieldcheck import check_field
from namebatch.names.mend import Mend, TextMend, told_shift
from namebatch.names.remarks import check_whole_name
from namebatch.names.row import Row
from namebatch.names.tidy import tidy
from namebatch.names.words import name_fields

BY_HAND = "by-hand"
HELD_BY_HAND = "held-by-hand"
LEFT_OUT = "left-out"
LEFT_OUT_REASON = "left out"
"""The reason for holding a row that says: it is not wanted, and nobody need settle anything."""


def mended_row(
    row: Row, mend: Mend | None, columns: Mapping[str, str], optional: Collection[str] = ()
) -> Row:
    """A row as it is to be made; what the list says stays in its `values`.

    What was found in a text or a quantity that is now another one is forgotten, and the new one
    is tidied and looked through like any other. Everything that was changed is told as a note.
    Of a row that is left out on purpose nothing else is told.

    Args:
        row: as it was read.
        mend: what was changed in it; None for nothing.
        columns: template field → header that feeds it.
        optional: fields that may be empty.

    Returns:
        The row itself where nothing was changed.
    """
    if mend is None or mend.is_empty:
        return row
    texts = _texts(row, mend)
    findings = list(_still_true(row, mend, texts, columns))
    fields = {name: texts.get(name, said) for name, said in row.fields.items()}
    findings += _looked_through(row, fields, texts, columns, optional)
    told = changes_told(row, mend)
    if told:
        findings.append(note(BY_HAND, f"{row.where}: changed by hand: {'; '.join(told)}."))
    if _is_left_out(mend):
        findings = [hold(LEFT_OUT, f"{row.where} is left out on purpose.")]
    elif mend.held:
        findings.append(_held(row, mend.held))
    quantity = row.quantity if mend.quantity is None else mend.quantity
    return replace(row, fields=fields, quantity=quantity, findings=tuple(findings), mend=mend)


def changes_told(row: Row, mend: Mend) -> tuple[str, ...]:
    """What a change by hand changes, each part in words; that the row is held is not among them.

    Args:
        row: as it was read.
        mend: what was changed in it.
    """
    return (*_said(row, _texts(row, mend)), *_set(mend), *_made(row, mend))


def _texts(row: Row, mend: Mend) -> dict[str, str]:
    """Field → tidied text, where it is another one than the list's."""
    texts = {name: tidy(text).text for name, text in mend.fields.items() if name in row.fields}
    return {name: text for name, text in texts.items() if text != row.fields[name]}


def is_left_out(row: Row) -> bool:
    """True if somebody left a row out on purpose: it is held, and there is nothing to do."""
    return any(finding.code == LEFT_OUT for finding in row.findings)


def _is_left_out(mend: Mend) -> bool:
    return mend.held.strip(" .").casefold() == LEFT_OUT_REASON


def _still_true(
    row: Row, mend: Mend, texts: Mapping[str, str], columns: Mapping[str, str]
) -> Iterator[Finding]:
    """Findings of the list that a change has not settled."""
    changed = tuple(_place(row, name, columns) for name in texts)
    others = tuple(_place(row, name, columns) for name in row.fields if name not in texts)
    # whoever gave every text by hand has looked at what stands in which cell
    all_given = set(mend.fields) >= set(row.fields)
    for finding in row.findings:
        if finding.code.startswith("quantity-"):
            if mend.quantity is None:
                yield finding
        elif finding.message.startswith(others):
            yield finding
        elif finding.message.startswith(changed) or all_given:
            continue
        elif not texts or finding.severity == "hold":
            yield finding


def _looked_through(
    row: Row,
    fields: Mapping[str, str],
    texts: Mapping[str, str],
    columns: Mapping[str, str],
    optional: Collection[str],
) -> Iterator[Finding]:
    """What is wrong or doubtful about the new texts."""
    names = name_fields(tuple(fields))
    for name, text in texts.items():
        place = _place(row, name, columns)
        yield from check_field(text, place, optional=name in optional, name=name in names)
    if any(name in names for name in texts):
        whole = " ".join(filter(None, (fields[name] for name in names)))
        yield from check_whole_name(whole, row.where)


def _place(row: Row, name: str, columns: Mapping[str, str]) -> str:
    """The beginning of a finding about a text: ``Line 14, "name"``."""
    return f'{row.where}, "{shown(columns.get(name, name))}"'


def _said(row: Row, texts: Mapping[str, str]) -> Iterator[str]:
    for name, text in texts.items():
        now = f'"{shown(text)}"' if text else "nothing"
        before = f'"{shown(row.fields[name])}"' if row.fields[name] else "nothing"
        yield f'"{shown(name)}" says {now} instead of {before}'


def _set(mend: Mend) -> Iterator[str]:
    if mend.font:
        yield f"set in {shown(mend.font)}"
    for box in sorted(mend.texts):
        told = list(_of_text(mend.texts[box]))
        if told:
            yield f'text "{shown(box)}" {", ".join(told)}'


def _of_text(mend: TextMend) -> Iterator[str]:
    if mend.font:
        yield f"in {shown(mend.font)}"
    if mend.height_mm is not None:
        yield f"{mend.height_mm:g} mm high"
    if mend.most_mm is not None:
        yield f"at most {mend.most_mm:g} mm high"
    if mend.one_line:
        yield "on one line"
    if mend.lines is not None:
        yield f'broken into "{shown(mend.lines[0])}" and "{shown(mend.lines[1])}"'
    if any(mend.shift_mm):
        yield f"moved {told_shift(mend.shift_mm)}"


def _made(row: Row, mend: Mend) -> Iterator[str]:
    if mend.bridge_mm is not None:
        yield f"bridges {mend.bridge_mm:g} mm wide"
    if mend.quantity is not None and mend.quantity != row.quantity:
        yield f"{mend.quantity} to make instead of {row.quantity}"


def _held(row: Row, why: str) -> Finding:
    reason = shown(why, 200).rstrip(" .")
    return hold(
        HELD_BY_HAND,
        f"{row.where} is held by hand: {reason}. Release it once that is settled. Held.",
    )
