"""What has to be said where the work is done: short, with its source, never instead of a manual."""

from dataclasses import dataclass
from itertools import pairwise

from shapely import oriented_envelope

from namebatch.job import Job
from namebatch.piece import Piece

# The test cylinder is 31.7 mm wide and 25.4 to 57.1 mm deep: 16 CFR 1501.4, EN 71-1 §8.2.
SMALL_MIDDLE_MM, SMALL_LONGEST_MM = 31.75, 57.15


@dataclass(frozen=True, slots=True)
class Caution:
    """One caution.

    Attributes:
        title: a few words.
        text: what to do.
        source: where the rule comes from, empty for our own.
        urgent: stands out.
    """

    title: str
    text: str
    source: str = ""
    urgent: bool = False


def cautions(job: Job) -> tuple[Caution, ...]:
    """All cautions for a job, the most urgent first; no verdict on pieces where there are none."""
    first = (_example_values(),) if job.workshop.built_in else ()
    return (
        *first,
        Caution(
            "Stay with the machine",
            "Never cut unattended. Extraction on, ducted outdoors, before the first cut. Keep "
            "the lid shut after cutting acrylic until the fumes are gone.",
            "University laser safety pages; CLEAPSS; IEC 60825-1",
        ),
        Caution(
            "Know what you cut",
            "Unknown material is not cut. Never PVC, vinyl or faux leather (chlorine, hydrogen "
            "chloride), ABS, polycarbonate, polystyrene, PTFE, epoxy or carbon fibre. Find out "
            "what a laminate or an adhesive is made of first.",
            "University lists of prohibited laser materials",
        ),
        *((_small_parts(job),) if job.pieces else ()),
        Caution(
            "A child's name",
            "On what a child wears, the name should not be readable from outside. Offer "
            "initials, or an inner face.",
            "Police and child-safety advice",
        ),
        Caution(
            "Names are personal data",
            "Keep the list, this card and the proof in the workshop, and delete them when the "
            "job is done.",
            "GDPR, Recital 38",
        ),
        Caution(
            "What comes first",
            "The machine's manual, local rules and licensed practice stand above this card.",
        ),
    )


def _example_values() -> Caution:
    """Nobody has told the program about this workshop yet."""
    return Caution(
        "Example values",
        "Nobody has entered this workshop's values yet. Kerf, speeds and times on this card are "
        "examples. Cut a test piece, write your own values into a workshop file, and name that "
        "file when the job is made: --workshop FILE",
        urgent=True,
    )


def thickness_mm(job: Job) -> float:
    """Thickness of a finished piece: print and board together, glue left out."""
    materials = job.workshop.materials
    face = materials.get(job.template.material)
    board = materials.get(job.template.board or "")
    sheets = len(job.template.faces) if job.template.build == "faced" else 1
    return (sheets * face.thickness_mm if face else 0.0) + (board.thickness_mm if board else 0.0)


def dimensions_mm(piece: Piece, thickness: float) -> tuple[float, float, float]:
    """Least, middle and longest dimension of the tightest box round a piece, however turned."""
    corners = list(oriented_envelope(piece.outline).exterior.coords)
    sides = [
        ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5 for (x0, y0), (x1, y1) in pairwise(corners[:3])
    ]
    least, middle, longest = sorted((*sides, thickness))
    return least, middle, longest


def small_parts(job: Job) -> tuple[Piece, ...]:
    """The pieces that may fit the small-parts test cylinder."""
    thickness = thickness_mm(job)
    found = []
    for piece in job.pieces:
        _, middle, longest = dimensions_mm(piece, thickness)
        if middle < SMALL_MIDDLE_MM and longest < SMALL_LONGEST_MM:
            found.append(piece)
    return tuple(found)


def _small_parts(job: Job) -> Caution:
    """The result of the test, with its figures."""
    source = "16 CFR 1501.4; EN 71-1 §8.2"
    limits = f"{SMALL_MIDDLE_MM:g} × {SMALL_LONGEST_MM:g} mm"
    small = small_parts(job)
    if not small:
        return Caution(
            "Small parts",
            f"Every piece is larger than the test cylinder's limits ({limits}). A piece that "
            "breaks, and rings or cords, are to be judged apart.",
            source,
        )
    lines = ", ".join(str(piece.line) for piece in small[:12]) + (" …" if len(small) > 12 else "")
    which = "The piece of line" if len(small) == 1 else f"{len(small):,} pieces, of lines"
    return Caution(
        "Small parts: not for children under 3",
        f"{which} {lines} may fit the test cylinder ({limits}): a choking hazard. Make it "
        "larger, or keep it away from small children and say so with the goods.",
        source,
        urgent=True,
    )
