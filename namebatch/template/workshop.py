"""The workshop file: printer, cutter and materials. Lengths in mm, speeds in mm/s."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal, TypeAlias

Corrected: TypeAlias = Literal["cut", "print"]
"""What gives way to a printer that is off: the cut follows the print, or the print is stretched."""

CutterKind: TypeAlias = Literal["laser", "blade"]

ENGRAVE_LINE_MM = 0.1
"""Distance of engraved lines if the workshop file says nothing (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Printer:
    """The printer's page.

    Attributes:
        name: for people.
        sheet: default sheet, ``a4`` or ``WxH``.
        margins_mm: what it cannot print: top, right, bottom, left.
        scale: measured over nominal length, in x and y of the page.
        correct: what the scale corrects.
        is_turned: True if its page lies the other way round than in the workshop file, and all
            of this is turned with it (`turned.printer_for`).
    """

    name: str
    sheet: str
    margins_mm: tuple[float, float, float, float]
    scale: tuple[float, float] = (1.0, 1.0)
    correct: Corrected = "cut"
    is_turned: bool = False


@dataclass(frozen=True, slots=True)
class Cutter:
    """The cutter.

    Attributes:
        name: for people.
        bed_mm: width and depth of the bed.
        travel_mm_s: speed between cuts.
        acceleration_mm_s2: of the motion model.
        colours: operation → ``#rrggbb`` of its lines.
        files: which of ``svg`` and ``dxf`` are written.
        corner_mm: so far off a corner the head may pass it, in the motion model.
        price_per_hour: of the cutter's time, None if unknown.
        kind: what it cuts with; what must never go into a laser may go under a blade.
        jig_mm: size of the sheet that a jig is made of; None for one that just suits the job.
    """

    name: str
    bed_mm: tuple[float, float]
    travel_mm_s: float
    acceleration_mm_s2: float
    colours: Mapping[str, str]
    files: tuple[str, ...]
    corner_mm: float = 0.05
    price_per_hour: float | None = None
    kind: CutterKind = "laser"
    jig_mm: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True)
class Material:
    """A sheet material.

    Attributes:
        name: key in the file, referred to by templates.
        title: for people.
        sheet_mm: size of a full sheet; None for paper, which comes in the printer's size. Of a
            material that is printed on, what the printed page is mounted on before it is cut.
        thickness_mm: of one sheet.
        kerf_mm: width of the cut in x and y.
        minimum_width_mm: nothing in a piece may be narrower.
        edge_mm: unusable strip along the edges of a board.
        speeds_mm_s: operation → speed, as the workshop entered it; what it left out is not there.
        price: of one sheet, None if unknown.
        colour: ``#rrggbb``, a tint for pictures.
        engrave_line_mm: distance of the lines in which filled letters are engraved.
        at_the_machine: operation → the workshop's own words for it (power, passes …).
    """

    name: str
    title: str
    sheet_mm: tuple[float, float] | None
    thickness_mm: float
    kerf_mm: tuple[float, float]
    minimum_width_mm: float
    edge_mm: float
    speeds_mm_s: Mapping[str, float]
    price: float | None
    colour: str
    engrave_line_mm: float = ENGRAVE_LINE_MM
    at_the_machine: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Workshop:
    """Everything that depends on the place and not on the piece.

    Attributes:
        name: file name, or ``built-in`` for the example values that come with the program.
        digest: SHA-256 of its values; comments and layout do not count.
        built_in: True when nobody has entered values for this workshop yet.
    """

    name: str
    digest: str
    built_in: bool
    printer: Printer
    cutter: Cutter
    materials: Mapping[str, Material]
