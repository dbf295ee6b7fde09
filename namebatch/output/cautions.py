"""What has to be said where the work is done: short, with its source, never instead of a manual."""

from collections.abc import Iterator
from dataclasses import dataclass

from namebatch.job import Job
from namebatch.output.customers import has_several_orders
from namebatch.output.smallparts import LIMITS, SmallParts, small_parts
from namebatch.output.stepwords import material_title, uses_laser
from namebatch.template.dangerous import danger
from namebatch.template.examples import example_parts, listed_parts


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


def cautions(job: Job, small: SmallParts | None = None) -> tuple[Caution, ...]:
    """All cautions for a job, the most urgent first; no verdict on pieces where there are none.

    Args:
        job: the batch.
        small: the result of the small-parts test, where it is known already.
    """
    return (
        *_example_values(job),
        Caution(
            "What comes first",
            "The machine's manual, local rules and licensed practice stand above this card.",
        ),
        _machine(job),
        *_materials(job),
        *_laid_on(job),
        *((_small_parts(small or small_parts(job)),) if job.pieces else ()),
        Caution(
            "A child's name",
            "On what a child wears, the name should not be readable from outside. Offer "
            "initials, or an inner face.",
            "Police and child-safety advice",
        ),
        Caution(
            "Names are personal data",
            f"Keep the list, this card and the proof in the workshop{_sent_out(job)}, and delete "
            "them when the job is done.",
            "GDPR, Recital 38",
        ),
    )


def _sent_out(job: Job) -> str:
    """That no customer is sent the names of another."""
    if job.again or not has_several_orders(job):
        return ""
    return "; send each customer the proof of their own order only, from customer-proof/"


def _machine(job: Job) -> Caution:
    """How not to be harmed by the cutter."""
    if not uses_laser(job):
        return Caution(
            "Mind the blade",
            "Hands, hair and sleeves away from blade and rollers while it runs. Switch off before "
            "a blade is changed; used ones go into a closed box. Stay with it while it cuts.",
        )
    return Caution(
        "Stay with the machine",
        "Never cut unattended. Extraction on, ducted outdoors, before the first cut. Keep "
        "the lid shut after cutting acrylic until the fumes are gone.",
        "University laser safety pages; CLEAPSS; IEC 60825-1",
    )


def _materials(job: Job) -> tuple[Caution, ...]:
    """What must not be cut; of a blade's materials, what must never go into a laser."""
    source = "University lists of prohibited laser materials"
    if uses_laser(job):
        return (
            Caution(
                "Know what you cut",
                "Unknown material is not cut. Never PVC, vinyl or faux leather (chlorine, hydrogen "
                "chloride), ABS, polycarbonate, polystyrene, PTFE, epoxy or carbon fibre. Find out "
                "what a laminate or an adhesive is made of first.",
                source,
            ),
        )
    used = dict.fromkeys(name for name in (job.template.material, job.template.board) if name)
    found = {
        material_title(job, name): what
        for name in used
        if (what := danger(name, material_title(job, name))) is not None
    }
    return tuple(
        Caution(
            f"Never into a laser: {title}",
            f"{what.what[0].upper()}{what.what[1:]} is for the blade only: with a laser, "
            f"{what.reason}. Mark sheets and offcuts, so that nobody takes them there.",
            source,
            urgent=True,
        )
        for title, what in found.items()
    )


def _laid_on(job: Job) -> tuple[Caution, ...]:
    """Laminate and tape that are cut with the print or the board."""
    finish = job.template.finish
    laid = {"pouch": ["pouch"], "film": ["film"], "none": []}[finish.laminate]
    laid = laid + (["tape"] if finish.tape != "none" else [])
    if not laid or not uses_laser(job):
        return ()
    what = " and ".join(laid)
    return (
        Caution(
            f"{what[0].upper()}{what[1:]} under the laser",
            f"Have the maker say in writing what {what} and their adhesive are made of, and that a "
            "laser may cut them; without that they are not cut. Never PVC. Test one piece: laid-on "
            "layers catch fire more easily, and change what it takes to cut through."
            if len(laid) > 1
            else f"Have the maker say in writing what the {what} and its adhesive are made of, and "
            "that a laser may cut it; without that it is not cut. Never PVC. Test one piece: "
            "laid-on layers catch fire more easily, and change what it takes to cut through.",
            "University lists of prohibited laser materials",
            urgent=True,
        ),
    )


def _example_values(job: Job) -> Iterator[Caution]:
    """Nobody has told the program about this workshop yet, or not about all that is used."""
    parts = example_parts(job.template, job.workshop)
    if parts:
        yield Caution(
            "Example values",
            f"Nobody has entered this workshop's values for {listed_parts(parts)} yet; those in "
            f"the workshop file {job.workshop.name} came with the program. Cut a test piece, and "
            "put your own in their place.",
            urgent=True,
        )
    if not job.workshop.built_in:
        return
    yield Caution(
        "Example values",
        "Nobody has entered this workshop's values yet. Kerf, speeds and times on this card are "
        "examples. Cut a test piece, then enter your own on the page under Workshop, or write "
        "them into a workshop file and name it when the job is made: --workshop FILE",
        urgent=True,
    )


def _small_parts(found: SmallParts) -> Caution:
    """The result of the test, with its figures."""
    source = "16 CFR 1501.4; EN 71-1 §8.2"
    if not found.told:
        return Caution(
            "Small parts",
            f"Every piece is larger than the test cylinder's limits ({LIMITS}); the smallest, "
            f"{found.smallest}. A piece that breaks, and rings or cords, are to be judged apart.",
            source,
        )
    return Caution(
        "Small parts: not for children under 3",
        f"{found.told} may fit the test cylinder ({LIMITS}): a choking hazard; the smallest, "
        f"{found.smallest}. Make it larger, or keep it away from small children and say so with "
        "the goods.",
        source,
        urgent=True,
    )
