"""What the sheets of a job are: pages to print on, new boards, part-used ones."""

from collections.abc import Sequence
from dataclasses import replace
from hashlib import sha256
from pathlib import Path

from namebatch.errors import SettingsError, SheetError
from namebatch.leftovers import leftovers_of
from namebatch.sheet import Stock, board_page, printed_page
from namebatch.sheet.bed import page_lying
from namebatch.template import sheet_size
from namebatch.template.model import Template
from namebatch.template.problems import shown
from namebatch.template.turned import printer_for
from namebatch.template.workshop import Material, Workshop


def stocks_of(
    template: Template, workshop: Workshop, sheet: str | None, gap: float, bleed: float
) -> tuple[Stock, ...]:
    """What is printed and what is cut, by the build; all of it as it lies on the bed.

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
        page = board_page(_on_bed(_asked(template, workshop, sheet), workshop), material)
        return (Stock("board", page, material, ("board",), turns, gap),)
    size = _on_bed(_asked(template, workshop, sheet), workshop, *_covering(template, workshop))
    backs = template.has_backs  # they lie on a page of their own behind the fronts
    margins = printer_for(workshop.printer, size).margins_mm
    page = printed_page(size, margins, bleed, turned_over=backs)
    faces = ("front",) if backs else template.faces
    face = Stock("face", page, material, faces, turns, gap, backs=backs)
    if template.build == "printed" or template.board is None:
        return (face,)
    board = workshop.materials[template.board]
    size = _on_bed(_board_size(board, workshop), workshop)
    return (face, Stock("board", board_page(size, board), board, ("board",), turns, gap))


def with_materials(
    template: Template, workshop: Workshop, material: str | None, board: str | None
) -> Template:
    """The template with other materials than its own.

    Args:
        template: as it was read.
        workshop: has what can be chosen.
        material: what is printed on, or what is cut where nothing is printed; None for the
            template's own.
        board: what the print is stuck on; None for the template's own.

    Raises:
        SettingsError: the workshop file has no such material, or the template no boards.
    """
    if board is not None and template.board is None:
        raise SettingsError(
            f'The template "{template.name}" sticks nothing on a board, so --board has nothing to '
            "say. Leave it out, or say --material."
        )
    said = {"--material": material, "--board": board}
    lacking = [
        f"{option} {shown(name)}"
        for option, name in said.items()
        if name is not None and name not in workshop.materials
    ]
    if lacking:
        raise SettingsError(
            f"The workshop file {workshop.name} has no such material: {' and '.join(lacking)}. It "
            f"has: {', '.join(workshop.materials)}. Choose one of them, or add it there."
        )
    return replace(template, material=material or template.material, board=board or template.board)


def recorded_materials(material: str | None, board: str | None) -> dict[str, str]:
    """Materials that were chosen, for the manifest's settings; nothing where none was."""
    chosen = {"material": material, "board": board}
    return {kind: name for kind, name in chosen.items() if name is not None}


def check_materials(template: Template, workshop: Workshop) -> None:
    """Material and board must be in the workshop file; both are told at once.

    Raises:
        SettingsError: one is not.
    """
    wanted = {"--material": template.material, "--board": template.board}
    lacking = {
        option: name for option, name in wanted.items() if name and name not in workshop.materials
    }
    if lacking:
        quoted = " and ".join(f'"{name}"' for name in lacking.values())
        raise SettingsError(
            f'The template "{template.name}" asks for the material {quoted}, which the workshop '
            f"file {workshop.name} does not have. It has: {', '.join(workshop.materials)}. Add "
            f"the material there, or choose another one with {' and '.join(lacking)}."
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


Size = tuple[float, float]


def _asked(template: Template, workshop: Workshop, sheet: str | None) -> Size:
    """The sheet that is filled first, as it was asked for: a page, or a board where none is."""
    if sheet:
        return sheet_size(sheet)
    material = workshop.materials[template.material]
    if template.build == "bare":
        return _board_size(material, workshop)
    return sheet_size(workshop.printer.sheet)


def _board_size(material: Material, workshop: Workshop) -> Size:
    """A board's own size; paper comes in the printer's."""
    return material.sheet_mm or sheet_size(workshop.printer.sheet)


def _covering(template: Template, workshop: Workshop) -> tuple[Size, ...]:
    """Sheets that lie over or under a printed page on the bed."""
    mounted = workshop.materials[template.material].sheet_mm if template.finish.mounted else None
    return tuple(size for size in (mounted, workshop.cutter.jig_mm) if size is not None)


def _on_bed(size: Size, workshop: Workshop, *others: Size) -> Size:
    """The sheet as it lies on the cutter's bed, if it does.

    Raises:
        SheetError: it does not, whichever way it is laid.
    """
    bed = workshop.cutter.bed_mm
    lying = page_lying(size, bed, others)
    if lying is None:
        raise SheetError(
            f"A sheet of {size[0]:g} × {size[1]:g} mm does not lie on the cutter's bed of "
            f"{bed[0]:g} × {bed[1]:g} mm. Take a smaller sheet or correct the bed in the "
            "workshop file."
        )
    return lying


def printed_on(workshop: Workshop, stocks: Sequence[Stock]) -> Workshop:
    """The workshop with its printer turned as the job's pages are, if they are.

    Args:
        workshop: as its file has it.
        stocks: of the job.
    """
    size = next((stock.page.size_mm for stock in stocks if stock.kind == "face"), None)
    if size is None:
        return workshop
    return replace(workshop, printer=printer_for(workshop.printer, size))


def turned_notes(
    template: Template, workshop: Workshop, sheet: str | None, stocks: Sequence[Stock]
) -> tuple[str, ...]:
    """What lies on the bed another way round than it was asked for.

    Args:
        template: as `stocks_of` took it.
        workshop: the same.
        sheet: the same.
        stocks: what it made of them, part-used boards added.
    """
    notes: list[str] = []
    for number, stock in enumerate(stocks):
        board = _board_size(stock.material, workshop)
        asked = _asked(template, workshop, sheet) if number == 0 else board
        if stock.page.size_mm != asked:
            notes.append(_turned_note(stock, asked, workshop))
        notes += [
            f'The part-used board "{leftover.name}" lies on the bed turned by a quarter to the '
            "left: what was its left edge lies at the front."
            for leftover in stock.leftovers
            if leftover.is_turned
        ]
    return tuple(notes)


def _turned_note(stock: Stock, asked: Size, workshop: Workshop) -> str:
    """How a sheet lies, and what to do about it."""
    size, bed = stock.page.size_mm, workshop.cutter.bed_mm
    lies = (
        f"{asked[0]:g} × {asked[1]:g} mm lie on the cutter's bed of {bed[0]:g} × {bed[1]:g} mm "
        f"turned by a quarter: {size[0]:g} × {size[1]:g} mm"
    )
    if stock.kind == "board":
        return f"Sheets of {stock.material.title} of {lies}. Mind the grain, if they have one."
    return (
        f"Pages of {lies}, and so they stand in print.pdf. Print them as they are, at 100 %, and "
        "let the printer turn them if it has to."
    )


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
