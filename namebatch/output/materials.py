"""What a job needs and the settings that the workshop file has for it, as words for a page."""

from dataclasses import dataclass

from namebatch.job import Job
from namebatch.output.cautions import thickness_mm
from namebatch.output.worksteps import material_title, sheets_of
from namebatch.sheet.model import Sheet
from namebatch.template.workshop import Material

_WHAT = {
    "mark": "Mark a line",
    "engrave": "Engrave",
    "inner": "Cut inside",
    "outer": "Cut outline",
    "window": "Cut jig window",
}
_NOT_SET = "not in the file"


@dataclass(frozen=True, slots=True)
class Line:
    """One thing that is needed: how many, what, a remark, and whether it is to be ticked."""

    amount: str
    name: str
    remark: str
    tick: bool = True


def material_lines(job: Job) -> tuple[Line, ...]:
    """Everything that has to lie ready, with counts; nothing where nothing is made."""
    if not job.pieces:
        return ()
    template, pieces = job.template, job.totals.pieces
    lines: list[Line] = []
    faces, boards = sheets_of(job, "face"), sheets_of(job, "board")
    if faces:
        lines.append(_stock(job, template.material, faces, "to print"))
        if job.jig is not None:
            width, height = job.jig.size_mm
            lines.append(Line("1", "Jig sheet", f"{width:g} × {height:g} mm, stiff card or paper"))
    if boards:
        name = template.board if template.build == "faced" else template.material
        lines.append(_stock(job, name, boards, "to cut"))
    if template.build == "faced":
        count = sum(len(sheet.placements) for sheet in faces) or pieces * len(template.faces)
        lines.append(
            Line(f"{count:,}", "faces to mount", "glue or thin double-sided tape for each")
        )
    if template.holes:
        count = pieces * len(template.holes)
        lines.append(Line(f"{count:,}", "rings, cords or ribbons", "one a hole"))
    if job.totals.cost is not None:
        lines.append(Line(f"{job.totals.cost:,.2f}", "cost", _cost_remark(job), False))
    glue = ", glue not counted" if template.build == "faced" else ""
    thick = f"{thickness_mm(job):.2f} mm thick when done{glue}"
    lines.append(Line(f"{pieces:,}", "finished pieces", thick, False))
    return tuple(lines)


def _cost_remark(job: Job) -> str:
    """What the cost counts."""
    total, cutting = job.totals.cost or 0.0, job.totals.cutting_cost
    material = f"material {total - (cutting or 0.0):,.2f}"
    if cutting is None:
        return f"{material}; the workshop file has no price for the cutter's time"
    return f"{material}, cutting {cutting:,.2f}, at the workshop file's prices"


def _stock(job: Job, name: str | None, sheets: tuple[Sheet, ...], use: str) -> Line:
    """A sheet material with the sizes that the job counts on."""
    material = job.workshop.materials.get(name or "")
    sizes = sorted({f"{s.size_mm[0]:g} × {s.size_mm[1]:g} mm" for s in sheets})
    thick = f", {material.thickness_mm:g} mm thick" if material else ""
    old = [sheet.part_used for sheet in sheets if sheet.part_used]
    part_used = f"; part-used: {', '.join(old)}" if old else ""
    remark = f"{', '.join(sizes)}{thick}, {use}{part_used}"
    return Line(f"{len(sheets):,}", material_title(job, name), remark)


def settings_table(job: Job) -> tuple[tuple[str, ...], ...]:
    """Operations and materials with the values of the workshop file; the first row is the head.

    The first cell of an operation's row holds its name, a tab and its line colour. A value
    that the file does not have is said to be missing, never made up.
    """
    used = _used(job)
    materials = [job.workshop.materials[name] for name in used if name in job.workshop.materials]
    rows = [("", *(material.title for material in materials))]
    for operation, words in _WHAT.items():
        if not any(operation in operations for operations in used.values()):
            continue
        colour = job.workshop.cutter.colours.get(operation, "")
        cells = (_speed(one, operation, used[one.name]) for one in materials)
        rows.append((f"{words}\t{colour}", *cells))
    rows.append(("Kerf, across and up", *(_kerf(material) for material in materials)))
    rows.append(("Nothing narrower than", *(f"{one.minimum_width_mm:g} mm" for one in materials)))
    cutter = job.workshop.cutter
    travel = f"{cutter.travel_mm_s:g} mm/s, {cutter.acceleration_mm_s2:g} mm/s²"
    rows.append(("Travel, acceleration", travel, *("" for _ in materials[1:])))
    corner = f"up to {cutter.corner_mm:g} mm off the corner"
    rows.append(("Corners, for the times", corner, *("" for _ in materials[1:])))
    return tuple(rows)


def _used(job: Job) -> dict[str, set[str]]:
    """Material → operations done on it; the jig counts with what is printed on."""
    used: dict[str, set[str]] = {}
    for sheet in job.sheets:
        used.setdefault(sheet.material, set()).update(cut.operation for cut in sheet.cuts)
    if job.jig is not None:
        jig = used.setdefault(job.template.material, set())
        jig.update(cut.operation for cut in job.jig.cuts)
    return used


def _speed(material: Material, operation: str, used: set[str]) -> str:
    """The speed of an operation on a material as the workshop entered it."""
    if operation not in used:
        return "–"
    speed = material.speeds_mm_s.get(operation)
    return f"{speed:g} mm/s" if speed is not None else _NOT_SET


def _kerf(material: Material) -> str:
    """Kerf in x and y."""
    return f"{material.kerf_mm[0]:g} and {material.kerf_mm[1]:g} mm"
