"""One sheet of a job that was made, read from its folder and checked against its manifest."""

from collections.abc import Mapping
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from typing import Final

from namebatch.curves import Affine, Point, apply
from namebatch.errors import MeasureError
from namebatch.measured.cutreader import Drawing, read_cut_dxf, read_cut_svg
from namebatch.names.characters import shown
from namebatch.ordinary import open_ordinary
from namebatch.output.manifest import FILE as MANIFEST
from namebatch.output.target import listed_files, read_manifest
from namebatch.output.truescale import about_middle

CORNERS: Final = ("bottom-left", "bottom-right", "top-right", "top-left")
REMAKES: Final = "remakes"
"""Folder below a job's own for what is made of it again."""
_MOST_MM: Final = 10_000.0
_MOST_REMAKES: Final = 200
_LARGEST_BYTES: Final = 256 * 1024 * 1024
"""No cut file of a sheet comes near."""


@dataclass(frozen=True, slots=True)
class JobSheet:
    """A sheet as it is cut.

    Attributes:
        id: ``face-001`` …
        size_mm: width and height.
        marks: the frame's corners, in the cut file's coordinates.
        bed_mm: of the cutter; None in jobs that did not note it.
        path: of the cut file that was read, below the job folder.
        sha256: of that file.
        formats: endings of the cut files that the job has of this sheet.
        drawing: the cut lines.
        kind: ``face`` or ``board``.
    """

    id: str
    size_mm: tuple[float, float]
    marks: Mapping[str, Point]
    bed_mm: tuple[float, float] | None
    path: str
    sha256: str
    formats: tuple[str, ...]
    drawing: Drawing
    kind: str = "face"

    @property
    def what(self) -> str:
        """What people call it in a sentence."""
        return "board" if self.kind == "board" else "print"


def read_job_sheet(job: Path, sheet_id: str) -> JobSheet:
    """A sheet of a job folder.

    Raises:
        MeasureError: the folder holds no finished job or no such sheet, or the cut file is not
            the one that was made.
    """
    manifest = read_manifest(job)
    if not manifest:
        raise MeasureError(
            f"{shown(str(job), 200)} holds no finished job: there is no {MANIFEST} that can be "
            "read. Name the folder that was given to --out."
        )
    entry = _entry(job, manifest, sheet_id)
    size = _numbers(entry.get("size_mm"), 2)
    frame = _numbers(entry.get("frame_mm"), 4)
    scale = _numbers(entry.get("cut_scale", [1.0, 1.0]), 2)
    if min(*size, *frame[2:], *scale) <= 0:
        raise _no_sizes()
    cutter = manifest.get("cutter")
    bed = cutter.get("bed_mm") if isinstance(cutter, dict) else None
    sides = None if bed is None else _numbers(bed, 2)
    paths = _cut_files(job, manifest, sheet_id)
    path, data = _verified(job, paths)
    if path.endswith(".svg"):
        drawing = read_cut_svg(data, path, size[1])
    else:
        drawing = read_cut_dxf(data, path)
    stretch = about_middle((size[0], size[1]), (scale[0], scale[1]))
    return JobSheet(
        id=sheet_id,
        size_mm=(size[0], size[1]),
        marks=_corners(frame, stretch),
        bed_mm=None if sides is None else (sides[0], sides[1]),
        path=path,
        sha256=sha256(data).hexdigest(),
        formats=tuple(name.rpartition(".")[2] for name in paths),
        drawing=drawing,
        kind="board" if entry.get("kind") == "board" else "face",
    )


def _entry(job: Path, manifest: Mapping[str, object], sheet_id: str) -> Mapping[str, object]:
    """The manifest's entry of a sheet."""
    entries = _entries(manifest)
    for entry in entries:
        if entry.get("id") == sheet_id:
            return entry
    known = [shown(str(entry.get("id")), 40) for entry in entries]
    some = ", ".join(known[:12]) + (" …" if len(known) > 12 else "")
    raise MeasureError(
        f'This job has no sheet "{shown(sheet_id)}". It has: {some or "none"}. '
        f"{_in_remake(job, sheet_id) or 'The id is printed on the sheet.'}"
    )


def _in_remake(job: Path, sheet_id: str) -> str:
    """Where a remake of the job has the sheet; empty if none has."""
    for folder in sorted((job / REMAKES).glob("*"))[:_MOST_REMAKES]:
        if any(entry.get("id") == sheet_id for entry in _entries(read_manifest(folder))):
            return f"{folder} has it: name that folder."
    return ""


def _entries(manifest: Mapping[str, object]) -> list[Mapping[str, object]]:
    sheets = manifest.get("sheets")
    return [one for one in sheets if isinstance(one, dict)] if isinstance(sheets, list) else []


def _cut_files(job: Path, manifest: Mapping[str, object], sheet_id: str) -> dict[str, str]:
    """Path → digest of the cut files of a sheet that the manifest lists, SVG first."""
    listed = listed_files(job, manifest)
    wanted = [f"cut/{sheet_id}.svg", f"cut/{sheet_id}.dxf"]
    found = {path: listed[path] for path in wanted if path in listed}
    if not found:
        raise MeasureError(f"{wanted[0]} is missing from the job folder. Make the job again.")
    return found


def _verified(job: Path, paths: Mapping[str, str]) -> tuple[str, bytes]:
    """The first cut file and what is in it, if it is the one that was made."""
    path, digest = next(iter(paths.items()))
    try:
        with open_ordinary(job / path) as file:
            data = file.read(_LARGEST_BYTES)
    except OSError as error:
        raise MeasureError(f"{path} cannot be read: {error.strerror}.") from error
    if sha256(data).hexdigest() != digest:
        raise MeasureError(
            f"{path} is not the file that the job was made with; someone changed it. Make the job "
            "again."
        )
    return path, data


def _corners(frame: tuple[float, ...], affine: Affine) -> dict[str, Point]:
    """The frame's corners by name."""
    x, y, width, height = frame
    places = ((x, y), (x + width, y), (x + width, y + height), (x, y + height))
    return {name: apply(affine, place) for name, place in zip(CORNERS, places, strict=True)}


def _numbers(value: object, count: int) -> tuple[float, ...]:
    """So many numbers of a manifest, which may come from anywhere."""
    if isinstance(value, list) and len(value) == count:
        numbers = [one for one in value if isinstance(one, int | float)]
        if len(numbers) == count and all(abs(number) <= _MOST_MM for number in numbers):
            return tuple(map(float, numbers))
    raise _no_sizes()


def _no_sizes() -> MeasureError:
    return MeasureError(f"{MANIFEST} does not tell the sheet's sizes. Make the job again.")
