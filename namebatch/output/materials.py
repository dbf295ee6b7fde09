"""What a job needs and the settings that the workshop file has for it, as words for a page."""

from collections.abc import Mapping, Set
from dataclasses import dataclass, replace

from namebatch.job import Job
from namebatch.output.costwords import cost_words
from namebatch.output.rings import ring_widths_mm
from namebatch.output.smallparts import thickness_mm
from namebatch.output.stepwords import has_holes, material_title, sheets_of, size_words
from namebatch.sheet.model import Operation, Sheet
from namebatch.sheet.operations import operations_on
from namebatch.template.workshop import Material

OPERATION_WORDS: Mapping[Operation, str] = {
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
        lines += _print_lines(job, faces)
    if boards:
        name = template.board if template.build == "faced" else template.material
        lines.append(_stock(job, name, boards, "to cut"))
        if template.finish.tape == "board":
            lines.append(_tape(job, boards, len(template.faces), "on the boards"))
    if template.build == "faced":
        count = sum(len(sheet.placements) for sheet in faces) or pieces * len(template.faces)
        how = {
            "face": "the tape is on their backs",
            "board": "the tape is on the boards",
            "none": "glue or thin double-sided tape for each",
        }
        lines.append(_line(count, "face to mount", "faces to mount", how[template.finish.tape]))
    lines += _joints(job)
    if has_holes(job):
        lines.append(_rings(job))
    if job.totals.cost is not None:
        lines.append(Line(f"{job.totals.cost:,.2f}", "cost", cost_words(job), False))
    uncounted = "".join(f", {what} not counted" for what in _uncounted(job))
    thick = f"{thickness_mm(job):.2f} mm thick when done{uncounted}"
    done = _line(pieces, "finished piece", "finished pieces", thick)
    lines.append(replace(done, tick=False))
    return tuple(lines)


def _line(count: int, one: str, many: str, remark: str) -> Line:
    """So many of a thing, in its singular where it is one."""
    return Line(f"{count:,}", one if count == 1 else many, remark)


def _each(size: str, count: int) -> str:
    return f"{size} each" if count > 1 else size


def _rings(job: Job) -> Line:
    """What goes through the holes."""
    widths = ring_widths_mm(job.template)
    wide = " and ".join(f"{width:g}" for width in sorted(set(widths)))
    count = job.totals.pieces * len(widths)
    remark = f"if hung: one a hole; holes {wide} mm wide"
    names = "ring, cord, ribbon or screw", "rings, cords, ribbons or screws"
    return _line(count, *names, remark)


def _joints(job: Job) -> tuple[Line, ...]:
    """What holds the parts of pieces together; nothing where none is in parts."""
    rule = job.template.joint
    joints = sum(piece.copies * (len(piece.parts) - 1) for piece in job.pieces if piece.parts)
    boards = job.template.build != "faced" or sheets_of(job, "board")
    if rule is None or not joints or not boards:
        return ()
    strip = rule.kind != "keyed" and "back" not in job.template.faces
    how = "glue, and a strip behind each" if strip else "glue"
    return (_line(joints, "joint to glue", "joints to glue", how),)


def _print_lines(job: Job, faces: tuple[Sheet, ...]) -> list[Line]:
    """What is printed on, what is laid on it or under it, and what it is laid to."""
    template, finish = job.template, job.template.finish
    sides = 2 if template.has_backs else 1
    size = " or ".join(sorted({size_words(sheet.size_mm) for sheet in faces}))
    lines: list[Line] = []
    if finish.mounted:
        lines.append(_line(len(faces), "page of paper", "pages of paper", f"{size}, to print"))
        lines.append(_under(job, faces))
    else:
        stock = _stock(job, template.material, faces, "to print")
        lines.append(replace(stock, amount=f"{sides * len(faces):,}"))
    if finish.laminate == "pouch":
        remark = f"for pages of {size}, {finish.laminate_mm:g} mm a side"
        lines.append(_line(len(faces), "laminating pouch", "laminating pouches", remark))
    elif finish.laminate == "film":
        count = sides * len(faces)
        remark = f"{_each(size, count)}, {finish.laminate_mm:g} mm thick, on the print"
        names = "piece of laminating film", "pieces of laminating film"
        lines.append(_line(count, *names, remark))
    if finish.tape == "face" or (finish.tape == "board" and finish.mounted):
        where = "on the backs of the pages" if finish.tape == "face" else "on what they go on"
        lines.append(_tape(job, faces, 1, where))
    if finish.mounted and finish.tape == "none":
        told = "glue or double-sided tape, all over"
        lines.append(_line(len(faces), "page to mount", "pages to mount", told))
    if template.has_backs:
        names = "front to glue to its back", "fronts to glue to their backs"
        lines.append(_line(len(faces), *names, "glue, all over"))
    if job.jig is not None:
        own = ", cut at its own settings" if finish.mounted else ""
        remark = f"{size_words(job.jig.size_mm)}, stiff card or paper{own}"
        lines.append(Line("1", "Jig sheet", remark))
    return lines


def _under(job: Job, faces: tuple[Sheet, ...]) -> Line:
    """What printed pages are mounted on before they are cut."""
    material = job.workshop.materials.get(job.template.material)
    size = material.sheet_mm if material else None
    words = size_words(size) if size else "as large as the page"
    thick = f", {material.thickness_mm:g} mm thick" if material else ""
    remark = f"{words}{thick}, one under each page"
    return Line(f"{len(faces):,}", material_title(job, job.template.material), remark)


def _tape(job: Job, sheets: tuple[Sheet, ...], sides: int, where: str) -> Line:
    """Double-sided tape in sheets as large as what it is laid on."""
    thickness = job.template.finish.tape_mm
    thick = f", {thickness:g} mm thick" if thickness else ""
    size = " or ".join(sorted({size_words(sheet.size_mm) for sheet in sheets}))
    count = sides * len(sheets)
    remark = f"{_each(size, count)}{thick}, {where}"
    return _line(count, "sheet of double-sided tape", "sheets of double-sided tape", remark)


def _uncounted(job: Job) -> tuple[str, ...]:
    """What of a finished piece has no known thickness."""
    template, finish = job.template, job.template.finish
    found = ["paper"] if finish.mounted else []
    if template.build == "faced" or finish.mounted or template.has_backs:
        found += ["glue"] if finish.tape == "none" else []
        found += ["tape"] if finish.tape != "none" and finish.tape_mm is None else []
    return tuple(found)


def _stock(job: Job, name: str | None, sheets: tuple[Sheet, ...], use: str) -> Line:
    """A sheet material with the sizes that the job counts on."""
    material = job.workshop.materials.get(name or "")
    sizes = sorted({size_words(sheet.size_mm) for sheet in sheets})
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
    used, jig = operations_on(job.sheets, job.jig, job.template), _of_jig_card(job)
    materials = [job.workshop.materials[name] for name in used if name in job.workshop.materials]
    rows = [("", *(material.title for material in materials))]
    for operation, words in OPERATION_WORDS.items():
        if not any(operation in done for done in (*used.values(), jig)):
            continue
        colour = job.workshop.cutter.colours.get(operation, "")
        cells = (_speed(one, operation, used[one.name], jig) for one in materials)
        rows.append((f"{words}\t{colour}", *cells))
    rows.append(("Kerf, across and up", *(_kerf(material) for material in materials)))
    rows.append(("Nothing narrower than", *(f"{one.minimum_width_mm:g} mm" for one in materials)))
    cutter = job.workshop.cutter
    travel = f"{cutter.travel_mm_s:g} mm/s, {cutter.acceleration_mm_s2:g} mm/s²"
    rows.append(("Travel, acceleration", travel, *("" for _ in materials[1:])))
    corner = f"up to {cutter.corner_mm:g} mm off the corner"
    rows.append(("Corners, for the times", corner, *("" for _ in materials[1:])))
    return tuple(rows)


def _of_jig_card(job: Job) -> set[Operation]:
    """Operations done on a jig that is of another card than what is printed on."""
    if job.jig is None or not job.template.finish.mounted:
        return set()
    return {cut.operation for cut in job.jig.cuts}


def _speed(material: Material, operation: Operation, used: Set[str], jig: Set[str]) -> str:
    """The speed of an operation on a material as the workshop entered it."""
    if operation not in used:
        return "jig: its own" if operation in jig else "–"
    speed = material.speeds_mm_s.get(operation)
    return f"{speed:g} mm/s" if speed is not None else _NOT_SET


def _kerf(material: Material) -> str:
    """Kerf in x and y."""
    return f"{material.kerf_mm[0]:g} and {material.kerf_mm[1]:g} mm"
