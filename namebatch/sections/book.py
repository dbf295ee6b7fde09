"""`job.json` of a job made in sections, written as it is read from them, never held whole."""

import json
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import BinaryIO, Final

from namebatch.output import manifest
from namebatch.sections.section import BOARDS, ENTRIES, FACES, PIECES, ROWS
from namebatch.sections.whole import Gathered

_END: Final = b"  }\n"


def write_manifest(
    path: Path,
    whole: Gathered,
    folders: Sequence[Path],
    owners: Sequence[int],
    files: Mapping[str, str],
) -> None:
    """Write the manifest: exactly what `output.manifest` would write of all in one.

    Args:
        path: of the file.
        whole: the job.
        folders: of its sections, in their order.
        owners: of each row of the list, in its order, the place of its section.
        files: path below the job folder → SHA-256.
    """
    head = manifest.head(whole.job, whole.small)
    copies = {piece.line: piece.copies * max(1, len(piece.parts)) for piece in whole.job.pieces}
    each_row = [1] * len(owners)
    cut = [copies.get(row.line, 0) for row in whole.job.rows]
    long: dict[str, Iterator[bytes]] = {
        "rows": _dealt(folders, ROWS, owners, each_row),
        "pieces": _dealt(folders, PIECES, owners, cut),
        "sheets": (
            entry for kind in (FACES, BOARDS) for f in folders for entry in _entries(f, kind)
        ),
    }
    with path.open("wb") as stream:
        for number, key in enumerate(sorted([*head, *long, "files"])):
            stream.write(b"{\n " if number == 0 else b",\n ")
            stream.write(manifest.encoded(f"{json.dumps(key)}: "))
            if key == "files":
                _write_files(stream, files)
            elif key in long:
                _write_list(stream, long[key])
            else:
                text = manifest.json_text(head[key]).replace("\n", "\n ")
                stream.write(manifest.encoded(text))
        stream.write(b"\n}\n")


def _write_files(stream: BinaryIO, files: Mapping[str, str]) -> None:
    for number, name in enumerate(sorted(files)):
        begin = "{\n  " if number == 0 else ",\n  "
        entry = f"{begin}{json.dumps(name, ensure_ascii=False)}: {json.dumps(files[name])}"
        stream.write(manifest.encoded(entry))
    stream.write(b"\n }" if files else b"{}")


def _write_list(stream: BinaryIO, entries: Iterator[bytes]) -> None:
    empty = True
    for entry in entries:
        stream.write(b"[\n" if empty else b",\n")
        stream.write(entry.removesuffix(b"\n"))
        empty = False
    stream.write(b"[]" if empty else b"\n ]")


def _dealt(
    folders: Sequence[Path], kind: str, owners: Sequence[int], counts: Sequence[int]
) -> Iterator[bytes]:
    """Entries in the order of the list, of each row as many as there are, from its section."""
    each = [_entries(folder, kind) for folder in folders]
    for owner, count in zip(owners, counts, strict=True):
        for _ in range(count):
            yield next(each[owner])


def _entries(folder: Path, kind: str) -> Iterator[bytes]:
    """The entries of a section, one after the other, as `section` wrote them."""
    lines: list[bytes] = []
    with (folder / ENTRIES / kind).open("rb") as stream:
        for line in stream:
            lines.append(line)
            if line == _END:
                yield b"".join(lines)
                lines.clear()
