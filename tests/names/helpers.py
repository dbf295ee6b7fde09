"""What the tests of the list room share."""

from collections.abc import Collection, Mapping, Sequence
from pathlib import Path

from namebatch.finding import Finding
from namebatch.names import NameList, Row, read_list
from namebatch.names.wanted import Wanted, wanted

NAME_ONLY: Wanted = wanted(["name"], None, ())


def read(
    folder: Path,
    content: str | bytes,
    fields: Sequence[str] = ("name",),
    *,
    file: str = "list.csv",
    columns: Mapping[str, str] | None = None,
    optional: Collection[str] = (),
) -> NameList:
    """Write a list into a folder and read it."""
    path = folder / file
    path.write_bytes(content.encode() if isinstance(content, str) else content)
    return read_list(path, fields, columns, optional)


def only_row(names: NameList) -> Row:
    """The one row of a list of one."""
    (row,) = names.rows
    return row


def codes(findings: Sequence[Finding]) -> list[str]:
    """Codes of findings, in order."""
    return [finding.code for finding in findings]


def finding(findings: Sequence[Finding], code: str) -> Finding:
    """The one finding with a code."""
    (found,) = [found for found in findings if found.code == code]
    return found
