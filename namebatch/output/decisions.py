"""What only whoever sent the list can settle: one entry a row, numbered, and what concerns all."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from namebatch.finding import Severity
from namebatch.job import Job
from namebatch.names.mended import is_left_out
from namebatch.names.row import Row
from namebatch.output.lettering import apart
from namebatch.output.plainwords import told
from namebatch.piece import Piece
from namebatch.template.model import Template

_TWICE = "duplicate"
_MOST_LINES = 8


@dataclass(frozen=True, slots=True)
class Decision:
    """A row to look at, or rows that say the same.

    Attributes:
        number: counted from 1; it stands beside the piece too.
        lines: of the list; more than one where they say the same.
        text: what the list says, fields of the template only.
        held: it is not made as it stands.
        words: what is to be looked at, a sentence or two each.
    """

    number: int
    lines: tuple[int, ...]
    text: str
    held: bool
    words: tuple[str, ...]


def decisions(job: Job) -> tuple[Decision, ...]:
    """Held rows, names that were shortened, and what is doubtful in the list, in list order.

    Rows that say exactly the same are one point. Capitals and small letters that the template
    changes are no reason to look: they stand beside the piece, as `typed_otherwise`.
    """
    alike: dict[tuple[str, ...], list[int]] = {}
    for row in job.rows:
        if is_left_out(row):
            continue
        alike.setdefault(tuple(row.fields.values()), []).append(row.line)
    found: list[Decision] = []
    for row in job.rows:
        words = _words(row)
        if words:
            found.append(Decision(len(found) + 1, (row.line,), _said(row), row.held, words))
        if any(finding.code == _TWICE for finding in row.findings):
            lines = tuple(alike.pop(tuple(row.fields.values()), ()))
            if len(lines) > 1:
                twice = (_stands_on(lines, row.place.lower()),)
                found.append(Decision(len(found) + 1, lines, _said(row), False, twice))
    return tuple(found)


def numbers_by_line(found: Iterable[Decision]) -> dict[int, tuple[int, ...]]:
    """Line of the list → numbers of the points about it."""
    numbers: dict[int, tuple[int, ...]] = {}
    for one in found:
        for line in one.lines:
            numbers[line] = (*numbers.get(line, ()), one.number)
    return numbers


def of_the_whole(job: Job) -> tuple[str, ...]:
    """What is to be looked at in the list as a whole."""
    return tuple(words for f in job.names.findings if (words := told(f, job.names.place)))


def typed_otherwise(template: Template, piece: Piece, fields: Mapping[str, str]) -> tuple[str, ...]:
    """Texts as typed that are set in other letters: in other letter case, as initials."""
    texts: dict[str, None] = {}
    for box in template.boxes:
        set_as = piece.text.get(box.name)
        if set_as is not None and (typed := box.wording.fill(fields)) and not same(typed, set_as):
            texts[typed] = None
    return tuple(texts)


def same(one: str, other: str) -> bool:
    """True if two texts differ in nothing but where they break and how wide spaces are."""
    return "".join(one.split()) == "".join(other.split())


def _said(row: Row) -> str:
    """What the list says; of a held row an empty cell is told, it may be why."""
    texts = [apart(text) if text.strip() else "(empty)" * row.held for text in row.fields.values()]
    return ", ".join(text for text in texts if text)


def _words(row: Row) -> tuple[str, ...]:
    """What holds the row, then what else is doubtful, each once."""
    ordered = sorted(row.findings, key=lambda finding: finding.severity is not Severity.HOLD)
    words = (told(finding, row.place) for finding in ordered if finding.code != _TWICE)
    kept = tuple(dict.fromkeys(text for text in words if text))
    for text in row.fields.values():
        if text.strip() and text != apart(text):
            kept = tuple(one.replace(text, apart(text)) for one in kept)
    return kept


def _stands_on(lines: tuple[int, ...], place: str) -> str:
    """How often a text is in the list, and where."""
    some = ", ".join(map(str, lines[:_MOST_LINES]))
    more = f" and {len(lines) - _MOST_LINES} more" if len(lines) > _MOST_LINES else ""
    return (
        f"It stands in the list {len(lines)} times, on {place}s {some}{more}. Right if they are "
        f"meant; else say which {place} to leave out."
    )
