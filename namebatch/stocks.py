"""What the sheets of a job are: pages to print on, new boards, part-used ones."""

from collections.abc import Sequence
from dataclasses import replace
from hashlib import sha256
from pathlib import Path

from namebatch.errors import SettingsError, SheetError
from namebatch.leftovers import leftovers_of
from namebatch.sheet import Stock, board_page, printed_page
from namebatch.template import sheet_size
from namebatch.template.model import Template
from namebatch.template.workshop import Workshop


def stocks_of(
    template: Template, workshop: Workshop, sheet: str | None, gap: float, bleed: float
) -> tuple[Stock, ...]:
    """What is printed and what is cut, by the build.

    Args:
        template: for build, materials, faces and turns.
        workshop: for materials, printer and bed.
        sheet: ``a4`` … or ``WxH``; None for the printer's or the material's own.
        gap: least distance of cut lines in mm.
        bleed: print outside of the cut lines in mm.

    Raises:
        SheetError: a sheet does not lie on the bed, or leaves no room to cut from.
    """
    material = workshop.materials[template.material]
    turns = template.turns_deg
    if template.build == "bare":
        size = sheet_size(sheet) if sheet else material.sheet_mm
        size = size or sheet_size(workshop.printer.sheet)
        page = board_page(_on_bed(size, workshop), material)
        return (Stock("board", page, material, ("board",), turns, gap),)
    size = _on_bed(sheet_size(sheet or workshop.printer.sheet), workshop)
    backs = template.has_backs  # they lie on a page of their own behind the fronts
    page = printed_page(size, workshop.printer.margins_mm, bleed, turned_over=backs)
    faces = ("front",) if backs else template.faces
    face = Stock("face", page, material, faces, turns, gap, backs=backs)
    if template.build == "printed" or template.board is None:
        return (face,)
    board = workshop.materials[template.board]
    size = _on_bed(board.sheet_mm or sheet_size(workshop.printer.sheet), workshop)
    return (face, Stock("board", board_page(size, board), board, ("board",), turns, gap))


def check_materials(template: Template, workshop: Workshop) -> None:
    """Material and board must be in the workshop file; both are told at once.

    Raises:
        SettingsError: one is not.
    """
    wanted = [name for name in (template.material, template.board) if name]
    lacking = [name for name in wanted if name not in workshop.materials]
    if lacking:
        quoted = " and ".join(f'"{name}"' for name in lacking)
        raise SettingsError(
            f'The template "{template.name}" asks for the material {quoted}, which the workshop '
            f"file {workshop.name} does not have. It has: {', '.join(workshop.materials)}. Add "
            "the material there or name another one in the template."
        )


def with_leftovers(
    stocks: tuple[Stock, ...], part_used: Path | None, keep_order: bool, workshop: Workshop
) -> tuple[Stock, ...]:
    """The stocks, and the part-used boards of the one that is cut without print.

    Args:
        stocks: of a job.
        part_used: file of part-used boards, if any.
        keep_order: whether list order along the sheets is asked for, which does not go with them.
        workshop: for materials and bed.

    Raises:
        SettingsError: there is nothing that they could be used for.
        WorkshopError: the file cannot be used.
    """
    if part_used is None:
        return stocks
    if keep_order:
        raise SettingsError(
            "--keep-order and --part-used cannot go together: what is left of a board is filled "
            "with whatever suits it. Leave one of them out."
        )
    boards = [stock for stock in stocks if stock.kind == "board"]
    if not boards:
        raise SettingsError(
            "This template prints on what it cuts and has no boards, so --part-used has nothing "
            "to fill. Leave it out."
        )
    return tuple(
        replace(stock, leftovers=leftovers_of(part_used, stock.material, workshop))
        if stock.kind == "board"
        else stock
        for stock in stocks
    )


def _on_bed(size: tuple[float, float], workshop: Workshop) -> tuple[float, float]:
    """The size, if the cutter's bed takes it.

    Raises:
        SheetError: it does not, whichever way it is laid.
    """
    bed = workshop.cutter.bed_mm
    if min(size) > min(bed) or max(size) > max(bed):
        raise SheetError(
            f"A sheet of {size[0]:g} × {size[1]:g} mm does not lie on the cutter's bed of "
            f"{bed[0]:g} × {bed[1]:g} mm. Take a smaller sheet or correct the bed in the "
            "workshop file."
        )
    return size


def unused_notes(stocks: Sequence[Stock], used: Sequence[str]) -> tuple[str, ...]:
    """Part-used boards that nobody need fetch: none of the pieces found room on them.

    Args:
        stocks: that were filled.
        used: names of the part-used boards that became sheets.
    """
    names = [leftover.name for stock in stocks for leftover in stock.leftovers]
    idle = [name for name in names if name not in used]
    if not idle:
        return ()
    told = ", ".join(f'"{name}"' for name in idle[:10])
    more = f" and {len(idle) - 10} more" if len(idle) > 10 else ""
    return (
        f"Not needed of the part-used boards: {told}{more}. None of the pieces has room there.",
    )


def recorded_leftovers(stocks: Sequence[Stock]) -> list[dict[str, str]]:
    """Part-used boards as the manifest's settings keep them."""
    return [
        {"name": leftover.name, "gone": sha256(leftover.used.wkb).hexdigest()}
        for stock in stocks
        for leftover in stock.leftovers
    ]
