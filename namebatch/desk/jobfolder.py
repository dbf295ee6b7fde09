"""A job in its folder, read from the manifest that was noted when it was made. mm."""

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from hashlib import sha256
from pathlib import Path
from typing import Any

from namebatch.desk.made_model import CautionView, HeldLine
from namebatch.desk.plainly import plainly
from namebatch.errors import OutputError
from namebatch.finding import Severity
from namebatch.output.difference import REMAKE
from namebatch.output.manifest import FILE as MANIFEST
from namebatch.output.target import digest_of, listed_files

KEPT_READ = 16
"""Jobs of which what was read is kept."""


@dataclass(frozen=True, slots=True)
class PlacedLine:
    """A face of a piece on a sheet."""

    piece: str
    face: str


@dataclass(frozen=True, slots=True)
class JobSheetLine:
    """A sheet as the manifest has it; rectangles are x, y, width, height."""

    id: str
    kind: str
    size_mm: tuple[float, float]
    usable_mm: tuple[float, float, float, float]
    frame_mm: tuple[float, float, float, float]
    fill: float
    seconds: float
    cut_scale: tuple[float, float]
    part_used: str | None
    used_mm: Sequence[Sequence[Sequence[tuple[float, float]]]]
    placements: tuple[PlacedLine, ...]


@dataclass(frozen=True, slots=True)
class JobFolder:
    """What is needed of a job's manifest.

    Attributes:
        folder: where the job lies.
        template: its name.
        identity: template, its digest and the settings, as `output.manifest.identity` has them.
        totals: counts.
        sheets: pages first, then boards.
        files: path → digest, of all files but the manifest.
        held: rows that were not made.
        notes, cautions: as the work card has them.
        pieces: id → line and what the piece says, in one line.
        again: ids of what a remake makes again; empty for a job from a list.
        bed_mm: of the cutter.
        orders: names of the list's orders, in the order in which their files are numbered.
    """

    folder: Path
    template: str
    identity: Mapping[str, object]
    totals: Mapping[str, int | float | None]
    sheets: tuple[JobSheetLine, ...]
    files: Mapping[str, str]
    held: tuple[HeldLine, ...]
    notes: tuple[str, ...]
    cautions: tuple[CautionView, ...]
    pieces: Mapping[str, tuple[int, str]]
    again: tuple[str, ...]
    bed_mm: tuple[float, float]
    orders: tuple[str, ...]

    @property
    def faces(self) -> tuple[str, ...]:
        """What of the pieces there is, of front, back and board."""
        there = {placed.face for sheet in self.sheets for placed in sheet.placements}
        return tuple(face for face in ("front", "back", "board") if face in there)

    def missing(self) -> tuple[str, ...]:
        """Listed files that are not there, or are no plain files."""
        there = listed_files(self.folder, {"files": dict(self.files)})
        return tuple(path for path in sorted(self.files) if path not in there)

    def verified(self, path: str, digest: str) -> Path:
        """A file of the job, if it is the one that was made.

        Args:
            path: as the manifest lists it.
            digest: that it must have.

        Raises:
            OutputError: it is gone, or is another one.
        """
        there = listed_files(self.folder, {"files": {path: digest}})
        if path not in there:
            raise OutputError(f"{path} is gone from the job's folder. Make the job again.")
        if digest_of(self.folder / path) != digest:
            raise OutputError(
                f"{path} is not the file that the job was made with; someone changed it. Make the "
                "job again."
            )
        return self.folder / path


def read_job(folder: Path, digest: str) -> JobFolder | None:
    """A job as it was noted.

    Args:
        folder: where it was written.
        digest: of its manifest, as noted.

    Returns:
        None if it is gone, or its manifest is another one.
    """
    path = folder / MANIFEST
    try:
        if path.is_symlink() or not path.is_file():
            return None
        changed = path.stat().st_mtime_ns
    except OSError:
        return None
    return _read(folder, digest, changed)


@lru_cache(maxsize=KEPT_READ)
def _read(folder: Path, digest: str, changed: int) -> JobFolder | None:
    """Reading takes some time with a thousand pieces; `changed` says when the file was."""
    try:
        data = (folder / MANIFEST).read_bytes()
    except OSError:
        return None
    if sha256(data).hexdigest() != digest:
        return None
    content: dict[str, Any] = json.loads(data)  # its digest says that we wrote it
    identity: dict[str, object] = {
        key: content[key]
        for key in ("template", "template_digest", "settings", REMAKE)
        if key in content
    }
    return JobFolder(
        folder=folder,
        template=content["template"],
        identity=identity,
        totals=content["totals"],
        sheets=tuple(_sheet(entry) for entry in content["sheets"]),
        files=content["files"],
        held=tuple(_held(row) for row in content["rows"] if row["status"] == "held"),
        notes=tuple(map(plainly, content["notes"])),
        cautions=tuple(_caution(entry) for entry in content.get("cautions", ())),
        pieces={
            piece["id"]: (piece["line"], one_line(piece["text"])) for piece in content["pieces"]
        },
        again=tuple(content.get(REMAKE, {}).get("pieces", ())),
        bed_mm=(content["cutter"]["bed_mm"][0], content["cutter"]["bed_mm"][1]),
        orders=_orders(content["rows"]),
    )


def _orders(rows: Sequence[Mapping[str, Any]]) -> tuple[str, ...]:
    """As `output.orders.orders_of` has them: as the list begins them, rows without one last."""
    names = dict.fromkeys(row["order"] for row in sorted(rows, key=lambda row: int(row["line"])))
    return tuple(sorted(names, key=lambda name: not name))


def _sheet(entry: Mapping[str, Any]) -> JobSheetLine:
    width, height = entry["size_mm"]
    used_x, used_y, used_w, used_h = entry["usable_mm"]
    x, y, w, h = entry["frame_mm"]
    return JobSheetLine(
        id=entry["id"],
        kind=entry["kind"],
        size_mm=(width, height),
        usable_mm=(used_x, used_y, used_w, used_h),
        frame_mm=(x, y, w, h),
        fill=entry["fill"],
        seconds=entry["seconds"],
        cut_scale=(entry["cut_scale"][0], entry["cut_scale"][1]),
        part_used=entry["part_used"],
        used_mm=entry["used_mm"],
        placements=tuple(PlacedLine(one["piece"], one["face"]) for one in entry["placements"]),
    )


def _caution(entry: Mapping[str, Any]) -> CautionView:
    text = plainly(entry["text"])
    return CautionView(entry["title"], text, entry["source"], entry["urgent"])


def _held(row: Mapping[str, Any]) -> HeldLine:
    told = [one["message"] for one in row["findings"] if one["severity"] == Severity.HOLD.value]
    return HeldLine(row["line"], plainly(" ".join(told)))


def one_line(texts: Mapping[str, str]) -> str:
    """All that a piece says in one line, each text once."""
    words = (" ".join(str(text).split()) for text in texts.values())
    return " · ".join(word for word in dict.fromkeys(words) if word)
