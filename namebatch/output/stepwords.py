"""What the steps of a job are told with: sheets, materials and files by their names."""

from dataclasses import dataclass

from namebatch.job import Job
from namebatch.output.rings import ring_widths_mm
from namebatch.output.truescale import cut_scale
from namebatch.sheet.model import Sheet
from namebatch.template.workshop import Material


@dataclass(frozen=True, slots=True)
class Step:
    """One step of the work.

    Attributes:
        title: a few words.
        text: what to do, and how.
        files: of the job folder, that are used.
        seconds: expected time of the cutter; None where it does nothing, or it is not known.
    """

    title: str
    text: str
    files: tuple[str, ...] = ()
    seconds: float | None = None


def sheets_of(job: Job, kind: str) -> tuple[Sheet, ...]:
    """The printed sheets (`face`) or the boards (`board`)."""
    return tuple(sheet for sheet in job.sheets if sheet.kind == kind)


def material_title(job: Job, name: str | None) -> str:
    """A material as people call it."""
    material: Material | None = job.workshop.materials.get(name or "")
    return material.title if material else (name or "material")


def size_words(size_mm: tuple[float, float]) -> str:
    """`210 × 297 mm`."""
    return f"{size_mm[0]:g} × {size_mm[1]:g} mm"


def bar_lengths(job: Job) -> str:
    """How long the scale bars of every printed page are, across and up, as they will be measured.

    A printer that is known to be off prints them so, and the cut follows; to 0.1 mm.
    """
    scale = cut_scale(job.workshop.printer, "face")
    true = [
        round(bar.length_mm * scale[0 if bar.start[1] == bar.end[1] else 1], 1)
        for bar in job.scale_bars
    ]
    lengths = [f"{length:g} mm" for length in true]
    if len(set(lengths)) <= 1:
        return f"{lengths[0]} across and up" if lengths else "none"
    return f"{lengths[0]} across and {lengths[1]} up"


def named(job: Job, names: str) -> str:
    """File names with the endings that the cutter takes: `jig.svg or .dxf`."""
    first, *others = job.workshop.cutter.files or ("svg",)
    also = "".join(f" or .{suffix}" for suffix in others)
    return names.replace("*", first) + also


def files_of(job: Job, sheets: tuple[Sheet, ...]) -> tuple[str, ...]:
    """Names of the cut files as a range."""
    if not sheets:
        return ()
    first, last = sheets[0].id, sheets[-1].id
    names = f"cut/{first}.*" if first == last else f"cut/{first}.* … {last}.*"
    return (named(job, names),)


def cutting(sheets: tuple[Sheet, ...]) -> float:
    """Expected time at the cutter, seconds."""
    return sum(sheet.seconds for sheet in sheets)


def uses_laser(job: Job) -> bool:
    """True unless the workshop file says that the cutter has a blade."""
    return job.workshop.cutter.kind == "laser"


def has_holes(job: Job) -> bool:
    """True if something is to go through a hole of every piece."""
    return bool(ring_widths_mm(job.template))
