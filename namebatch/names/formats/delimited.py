"""CSV, TSV and TXT: delimited text in whatever encoding it came."""

import re
import unicodedata
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from typing import Final

from namebatch.errors import ListError
from namebatch.finding import Finding, warn
from namebatch.names import limits
from namebatch.names.binary import seems
from namebatch.names.characters import shown
from namebatch.names.decode import Decoded, decode
from namebatch.names.delimiter import NAMES, announced, find_delimiter
from namebatch.names.formats.model import ListFormat, Source
from namebatch.names.records import split_records
from namebatch.names.table import Record, Table, few_enough

_SAMPLE: Final = 65_536
_SHARE_OF_CONTROLS: Final = 0.1
_EXAMPLES: Final = 3
_LINES_SHOWN: Final = 12
_TELLING: Final = re.compile(r"[^\x00-\x7f]")


def claims(data: bytes) -> bool:
    """Anything that does not begin like another kind of file may be text."""
    return seems(data) is None


def read(source: Source) -> Table:
    """Read delimited text.

    Raises:
        ListError: for bytes that are no text, or more lines than a list may have.
    """
    decoded = decode(source.data, source.known)
    _refuse_junk(decoded.text, source.name)
    said = announced(decoded.text)
    start = said[1] if said else 0
    preferred = "\t" if source.suffix in (".tsv", ".tab") else ","
    delimiter = said[0] if said else find_delimiter(decoded.text, source.known, preferred)
    split = split_records(decoded.text, delimiter, line=2 if said else 1, start=start)
    records = counted(split, source.name)
    if decoded.page:
        records = tuple(_marked(records, decoded))
    single = all(len(record.cells) == 1 for record in records)
    columns = "one column" if single else _delimiters(delimiter)
    return Table(
        records=records,
        reading=f"{_kind(source, delimiter)}, {columns}, {decoded.label}",
        place="Line",
        grid=False,
        findings=tuple(_doubts(decoded, source)),
    )


def counted(records: Iterator[Record], name: str) -> tuple[Record, ...]:
    """All records, or `ListError` if there are more than a list may have."""
    return tuple(few_enough(_few_lines(records, name), name))


def _few_lines(records: Iterable[Record], name: str) -> Iterator[Record]:
    lines = 0
    for record in records:
        lines += record.lines
        if lines > limits.ROWS:
            raise ListError(
                f'"{name}" has more than {limits.ROWS:,} lines. Delete empty ones at its end, or '
                "split it into several lists."
            )
        yield record


def _marked(records: Sequence[Record], decoded: Decoded) -> Iterator[Record]:
    """Records again, those with a guess in them marked; a quoted cell may go over lines."""
    for at, record in enumerate(records):
        plain = all(map(str.isascii, record.cells))
        last = records[at + 1].line - 1 if at + 1 < len(records) else record.line
        if decoded.lines is not None and at + 1 == len(records):
            last = max(record.line, *decoded.lines)
        guess = "" if plain else decoded.doubtful(record.line, last)
        yield replace(record, guess=guess) if guess else record


def _refuse_junk(text: str, name: str) -> None:
    """Text has few control characters; what has many is some binary file."""
    sample = text[:_SAMPLE]
    odd = sum(
        character == "\ufffd"
        or (character not in "\t\n\r" and unicodedata.category(character) == "Cc")
        for character in sample
    )
    if odd > 2 and odd > _SHARE_OF_CONTROLS * len(sample):
        raise ListError(
            f'"{name}" does not seem to be text: {odd:,} of its first {len(sample):,} characters '
            "are control characters. Save the list as CSV, TSV, TXT, XLSX or ODS."
        )


def _kind(source: Source, delimiter: str) -> str:
    if source.suffix == ".txt":
        return "TXT"
    return "TSV" if delimiter == "\t" else "CSV"


def _delimiters(delimiter: str) -> str:
    return NAMES.get(delimiter, f'delimiter "{shown(delimiter)}"')


def _doubts(decoded: Decoded, source: Source) -> Iterator[Finding]:
    if decoded.lines is not None:
        lines = sorted(decoded.lines)
        some = ", ".join(map(str, lines[:_LINES_SHOWN])) + (" …" * (len(lines) > _LINES_SHOWN))
        which = f"line {some} is" if len(lines) == 1 else f"lines {some} are"
        yield warn(
            "encoding-mixed",
            f'"{source.name}" was put together from lists stored in two ways: {which} not UTF-8 '
            f"like the rest and read as {decoded.page}. If letters look wrong there, retype "
            'them and save the list as "CSV UTF-8".',
        )
    elif decoded.guessed:
        yield warn(
            "encoding-guessed",
            f'"{source.name}" does not say how its letters are stored; it was read as '
            f"{decoded.label}.{_examples(decoded.text)} If letters look wrong, save the list as "
            '"CSV UTF-8".',
        )
    if decoded.damaged:
        yield warn(
            "encoding-damaged",
            f'"{source.name}" has {decoded.damaged:,} places that are not {decoded.label}; rows '
            'with one in a used column are held. Save the list again as "CSV UTF-8".',
        )
    if source.suffix in (".xlsx", ".ods", ".xls"):
        yield warn(
            "suffix-differs",
            f'"{source.name}" is named like a spreadsheet and holds plain text; it was read as '
            "text.",
        )


def _examples(text: str) -> str:
    """A few words with other than ASCII letters and their lines, to be looked at."""
    found: list[str] = []
    end = 0
    line = 1
    while len(found) < _EXAMPLES and (hit := _TELLING.search(text, end)):
        line += len(re.findall(r"\r\n|\r|\n", text[end : hit.start()]))
        stop = re.compile(r"[\r\n]|$").search(text, hit.start())
        word = re.search(r"[^\s,;\"]*\Z", text[max(0, hit.start() - 40) : hit.start()])
        rest = re.compile(r"[^\s,;\"]*").match(text, hit.start())
        shown_word = (word[0] if word else "") + (rest[0] if rest else "")
        found.append(f'"{shown(shown_word, 30)}" on line {line}')
        end = stop.start() if stop else len(text)
    return f" Look at {', '.join(found)}." if found else ""


FORMAT: Final = ListFormat("delimited text", claims, read)
