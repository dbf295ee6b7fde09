"""What should be known about a job as a whole, in sentences for proof, work card and terminal."""

from collections.abc import Mapping, Sequence

from namebatch.names.columns import listed
from namebatch.piece import Piece
from namebatch.sheet import Stock
from namebatch.sheet.cost import cost_of, unpriced
from namebatch.sheet.model import RUN_ORDER, Jig, Operation, Sheet
from namebatch.sheet.motion import speed_of
from namebatch.sheet.operations import operations_on
from namebatch.template.examples import example_parts, listed_parts
from namebatch.template.model import Template
from namebatch.template.workshop import Printer, Workshop
from namebatch.text.reading import reading_note

_OTHER_WAY = (
    "This job's pages lie the other way round than the printer's sheet in the workshop file, so x "
    "and y of its scale have changed places. Check the scale bars."
)


def text_heights(pieces: Sequence[Piece]) -> tuple[float, float] | None:
    """Heights of the lowest and the highest text that the list gave, mm; None without one."""
    heights = [
        part.height_mm for piece in pieces for part in piece.letterings if part.box in piece.text
    ]
    return (min(heights), max(heights)) if heights else None


def height_notes(heights: tuple[float, float] | None) -> tuple[str, ...]:
    """From how far the words of the rows can be read, by `text_heights`."""
    return (reading_note(*heights),) if heights else ()


def part_notes(pieces: Sequence[Piece]) -> tuple[str, ...]:
    """How many pieces are put together from parts."""
    split = [piece for piece in pieces if piece.parts]
    if not split:
        return ()
    count = sum(piece.copies for piece in split)
    parts = sum(piece.copies * len(piece.parts) for piece in split)
    what = "piece is" if count == 1 else "pieces are"
    return (
        f"{count:,} {what} put together from {parts:,} parts in all; the assembly pictures on the "
        "work card show how.",
    )


def plan_notes(
    template: Template, workshop: Workshop, stocks: Sequence[Stock], bleed: float
) -> tuple[str, ...]:
    """What should be known about the job as a whole."""
    notes: list[str] = []
    if bleed < template.bleed_mm:
        notes.append(
            f"The bleed is {bleed:g} mm instead of {template.bleed_mm:g} mm, half the gap, so "
            "that no print runs into its neighbour."
        )
    if workshop.built_in:
        notes.append(
            "Kerf, speeds and sheet sizes are example values. Measure your own and put them "
            "into a workshop file (--workshop)."
        )
    examples = example_parts(template, workshop)
    if examples:
        notes.append(
            f"The workshop file still has the program's example values for "
            f"{listed_parts(examples)}. Measure your own and put them in their place."
        )
    lacking = unpriced([stock.material for stock in stocks], workshop)
    if lacking:
        notes.append(
            f"The cost is left out: the workshop file has no price for {' and '.join(lacking)}."
        )
    for stock in stocks:
        kerf = max(stock.material.kerf_mm)
        if stock.gap_mm < kerf:
            notes.append(
                f"The gap of {stock.gap_mm:g} mm between pieces is narrower than the kerf of "
                f"{kerf:g} mm in {stock.material.title}, so that neighbouring cuts run into each "
                f"other. Take a gap of {kerf:g} mm or more (--gap)."
            )
    notes += finish_notes(template, workshop)
    notes += blade_notes(template, workshop)
    if template.build != "bare":
        notes += scale_notes(template, workshop.printer)
    return tuple(notes)


_DOINGS: Mapping[Operation, str] = {
    "mark": "marked lines",
    "engrave": "engraving",
    "inner": "cuts inside",
    "outer": "outlines",
    "window": "jig windows",
}


def speed_notes(
    template: Template, workshop: Workshop, sheets: Sequence[Sheet], jig: Jig | None
) -> tuple[str, ...]:
    """What the times assume where the workshop file has no speed."""
    cost = cost_of(sheets, workshop)
    priced = cost is not None and cost.cutting is not None
    times = "The times, and with them the cost," if priced else "The times"
    notes: list[str] = []
    for name, done in operations_on(sheets, jig, template).items():
        material = workshop.materials[name]
        lacking = [one for one in RUN_ORDER if one in done and one not in material.speeds_mm_s]
        if lacking:
            notes.append(
                f"The workshop file has no speed for {_and([_DOINGS[one] for one in lacking])} "
                f"in {material.title}. {times} reckon them at {speed_of(material, lacking[0]):g} "
                "mm/s, the speed of the outlines: enter their own (speeds_mm_s)."
            )
    return tuple(notes)


def _and(words: Sequence[str]) -> str:
    """Words as a sentence has them."""
    *first, last = words
    return f"{', '.join(first)} and {last}" if first else last


def finish_notes(template: Template, workshop: Workshop) -> tuple[str, ...]:
    """What is laid on the material changes how it cuts."""
    finish = template.finish
    taped = finish.tape == "face" or (finish.mounted and finish.tape == "board")
    on_print = [finish.laminate] * (finish.laminate != "none") + ["tape"] * taped
    laid = {template.material: on_print}
    if template.board and finish.tape == "board":
        laid[template.board] = ["tape"]
    return tuple(
        f"Kerf and speeds are those that the workshop file has for {workshop.materials[name].title}"
        f" alone. With {' and '.join(what)} on it, it cuts otherwise: cut a test piece, and enter "
        "it as a material of its own."
        for name, what in laid.items()
        if what
    )


def blade_notes(template: Template, workshop: Workshop) -> tuple[str, ...]:
    """What a blade cannot do."""
    engraved = [box.name for box in template.boxes if box.made == "engrave"]
    if workshop.cutter.kind == "laser" or not engraved:
        return ()
    return (
        f"The template engraves {listed(engraved)}, and a blade cannot sweep an area. Have it "
        'marked with a pen instead (made = "mark" in the template).',
    )


def scale_notes(template: Template, printer: Printer) -> tuple[str, ...]:
    """What a printer that is off means for the pieces."""
    if printer.scale == (1.0, 1.0):
        return ()
    if printer.is_turned and printer.scale[0] != printer.scale[1]:
        return (_effect(template, printer), _OTHER_WAY)
    return (_effect(template, printer),)


def _effect(template: Template, printer: Printer) -> str:
    """Which file gives way, and what that does to the pieces."""
    x, y = (f"{100 * (scale - 1):+.2f} %" for scale in printer.scale)
    if printer.correct == "print":
        return (
            f"The printer's lengths are off by {x} in x and {y} in y (workshop file): print.pdf is "
            "drawn so much the other way that the prints come out true."
        )
    boards = (
        " The boards are not, so that prints and boards differ by as much; with correct = "
        '"print" in the workshop file both come out true.'
        if template.build == "faced"
        else ""
    )
    return (
        f"The printer's lengths are off by {x} in x and {y} in y (workshop file): the cut lines of "
        f"printed sheets and the jig follow, and the pieces are off as much.{boards}"
    )
