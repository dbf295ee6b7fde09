"""What a user chose for a job."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

from namebatch.names.mend import Mend


@dataclass(frozen=True, slots=True)
class Settings:
    """What a user chose.

    Attributes:
        template: name of a bundled template or a folder.
        workshop: workshop file; None for the built-in example values.
        sheet: ``a4`` … or ``WxH`` in mm; None for the printer's or the material's own.
        gap_mm: least distance of cut lines of two pieces; None for the default.
        columns: template field → header of the list; ``quantity`` and ``order`` can be said,
            too. An empty header: the list has none, whatever would be guessed.
        font: typeface tried first in every box that takes a column.
        fill: way to fill sheets.
        seconds: that filling may take in all, for a way that has a budget; None for the default.
        keep_order: keep list order along the sheets.
        by_order: all pieces of an order on one sheet, or on as few as it takes.
        spare: more pieces than the list orders, see `spares.read_spare`.
        part_used: file of part-used boards that are filled first.
        workers: processes that make pieces; the files do not depend on it. 0: as many as the
            machine offers, for more than a few.
        mends: what was changed by hand, by line of the list.
        material: of the workshop file, in place of the template's; None for that.
        board: the same for the boards that prints are stuck on.
    """

    template: str
    workshop: Path | None = None
    sheet: str | None = None
    gap_mm: float | None = None
    columns: Mapping[str, str] = field(default_factory=dict)
    font: str | None = None
    fill: str = "fast"
    keep_order: bool = False
    workers: int = 1
    by_order: bool = False
    spare: str | None = None
    part_used: Path | None = None
    seconds: float | None = None
    mends: Mapping[int, Mend] = field(default_factory=dict)
    material: str | None = None
    board: str | None = None
