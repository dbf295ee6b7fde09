"""The first job, read from its folder: its rows as they were, and what was measured."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path

from namebatch.errors import RemakeError
from namebatch.mends import mend_from
from namebatch.names.characters import shown
from namebatch.names.mend import Mend
from namebatch.names.row import NameList, Row
from namebatch.output.manifest import FILE
from namebatch.output.target import is_plain, read_manifest, unchanged_files
from namebatch.remake.record import Record, RowRecord, read_record
from namebatch.template.problems import Problems


@dataclass(frozen=True, slots=True)
class FirstJob:
    """A finished job.

    Attributes:
        folder: where it lies.
        name: what messages call it.
        sha256: of its manifest, hexadecimal.
        record: of its manifest.
        altered: files that are gone or are not as they were written, sorted.
    """

    folder: Path
    name: str
    sha256: str
    record: Record
    altered: tuple[str, ...]

    def names(self, fields: Sequence[str]) -> NameList:
        """The list as it was read, without remarks on it as a whole.

        Args:
            fields: of the template.
        """
        told = self.record.list
        columns = {field: str(told.columns[field]) for field in fields if field in told.columns}
        headers = tuple(map(str, told.headers))
        rows = tuple(_row(row, headers, columns, fields, told.place) for row in self.record.rows)
        return NameList(
            source=told.source,
            sha256=told.sha256,
            headers=headers,
            columns=columns,
            rows=rows,
            blank_lines=0,
            reading=told.reading,
            place=told.place,
        )

    def mends(self) -> dict[int, Mend]:
        """What was changed by hand, by line.

        Raises:
            RemakeError: it is not as this version writes it.
        """
        problems = Problems()
        found = {
            row.line: mend_from(row.mend.table, f"{row.line}", problems)
            for row in self.record.rows
            if row.mend is not None
        }
        if problems:
            raise RemakeError(
                f"In {FILE} of {self.name} what was changed by hand is not as this version writes "
                "it. Make the job again from its list.",
                [f"{self.record.list.place} {told}" for told in problems.told()],
            )
        return {line: mend for line, mend in found.items() if mend is not None}


def read_first(folder: Path) -> FirstJob:
    """A job that was finished.

    Raises:
        RemakeError: the folder holds none, or one that cannot be made again.
    """
    name = shown(str(folder), 200)
    manifest = read_manifest(folder)
    if not manifest:
        problem = f"there is no {FILE} that can be read"
        if (folder / "cut").is_dir() or (folder / "previews").is_dir():
            problem += ", so the job was never finished or its manifest is damaged"
        raise RemakeError(
            f"{name} holds no finished job: {problem}. Name the folder that was given to "
            "--out, or make the job again."
        )
    record = read_record(manifest, name)
    try:
        digest = sha256((folder / FILE).read_bytes()).hexdigest()
        altered = _altered(folder, manifest)
    except OSError as error:
        raise RemakeError(f"{name} cannot be read: {error.strerror}.") from error
    return FirstJob(folder, name, digest, record, altered)


def _altered(folder: Path, manifest: Mapping[str, object]) -> tuple[str, ...]:
    """Listed files that are not there as they were written."""
    files = manifest.get("files")
    listed = files if isinstance(files, dict) else {}
    same: Collection[str] = frozenset(unchanged_files(folder, manifest))
    return tuple(path for path in sorted(listed) if is_plain(path) and path not in same)


def _row(
    row: RowRecord,
    headers: Sequence[str],
    columns: Mapping[str, str],
    fields: Sequence[str],
    place: str,
) -> Row:
    """A row as it was read; what was found in making it is found anew."""
    order = {header: number for number, header in enumerate(headers)}
    read = row if row.mend is None else row.mend.read
    values = {
        header: str(row.values[header])
        for header in sorted(row.values, key=lambda header: (order.get(header, len(order)), header))
    }
    return Row(
        line=row.line,
        values=values,
        fields={field: values.get(columns.get(field, ""), "") for field in fields},
        quantity=read.quantity,
        findings=tuple(told.finding for told in read.findings if told.found == "list"),
        order=str(row.order),
        place=place,
    )
