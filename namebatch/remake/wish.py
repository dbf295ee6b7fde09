"""What is asked of a remake."""

from dataclasses import dataclass
from pathlib import Path

from namebatch.sheet.model import PlacedFace


@dataclass(frozen=True, slots=True)
class Wish:
    """What a user chose.

    Attributes:
        job: folder of the first job.
        out: folder for the remake.
        pieces: ids as they were said, see `spoiled.wanted_copies`.
        template: name or folder of the template as it was; None to look for it.
        workshop: the workshop file as it was; None to look for it.
        sheet: other sheets than the first job's.
        part_used: file of part-used boards that are filled first.
        onto: boards of the first job that are filled before those.
        faces: what of the pieces is made again; all of it if empty.
        as_now: whether template, typefaces and workshop file may have changed since.
        workers: processes that make pieces.
    """

    job: Path
    out: Path
    pieces: tuple[str, ...]
    template: str | None = None
    workshop: Path | None = None
    sheet: str | None = None
    part_used: Path | None = None
    onto: tuple[str, ...] = ()
    faces: tuple[PlacedFace, ...] = ()
    as_now: bool = False
    workers: int = 1
