"""The one module that knows the whole order: settings in, a job out."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path

from namebatch.errors import OutlineError, SettingsError, SheetError
from namebatch.finding import Finding, hold, is_held
from namebatch.job import Job, Totals
from namebatch.maker import Maker, make_maker
from namebatch.names import read_list
from namebatch.names.row import NameList, Row
from namebatch.notes import plan_notes, reading_notes
from namebatch.outline import Limits
from namebatch.outline.found_holes import wall_notes
from namebatch.piece import Piece
from namebatch.sheet import (
    Filled,
    Stock,
    board_page,
    fits,
    jig_of,
    lay_out,
    printed_page,
    spoiled,
)
from namebatch.sheet.cost import cost_of
from namebatch.sheet.wishes import Wishes
from namebatch.template import find_template, load_template, load_workshop, sheet_size
from namebatch.template.model import Template
from namebatch.template.workshop import Workshop
from namebatch.workers import make_pieces

DEFAULT_GAP_MM = 3.0
GAP_RANGE_MM = (0.2, 100.0)
CASE_REMARKS = frozenset(
    {"list-in-capitals", "list-in-small-letters", "name-in-capitals", "name-in-small-letters"}
)
MOST_PIECES = 100_000
"""Copies of all rows together; more is a slip of the pen or several jobs."""

Progress = Callable[[str, int, int], None]
"""Stage, how much is done, of how much."""


@dataclass(frozen=True, slots=True)
class Settings:
    """What a user chose.

    Attributes:
        template: name of a bundled template or a folder.
        workshop: workshop file; None for the built-in example values.
        sheet: ``a4`` … or ``WxH`` in mm; None for the printer's or the material's own.
        gap_mm: least distance of cut lines of two pieces; None for the default.
        columns: template field → header of the list.
        font: typeface tried first in every box that takes a column.
        fill: way to fill sheets.
        keep_order: keep list order along the sheets.
        workers: processes that make pieces; the files do not depend on it.
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


@dataclass(frozen=True, slots=True)
class Plan:
    """Everything that is fixed before the first piece is made."""

    settings: Settings
    template: Template
    workshop: Workshop
    names: NameList
    stocks: tuple[Stock, ...]
    maker: Maker
    bleed_mm: float
    recorded: Mapping[str, object]
    notes: tuple[str, ...]


def plan_job(list_file: Path, settings: Settings) -> Plan:
    """Read list, template and workshop file and fix sheets and sizes.

    Raises:
        NamebatchError: the job is impossible; nothing has been made yet.
    """
    template = load_template(find_template(settings.template))
    workshop = load_workshop(settings.workshop)
    optional = _optional_fields(template)
    unknown = sorted(set(settings.columns) - set(template.fields))
    if unknown:
        raise SettingsError(
            f'The template "{template.name}" has no field called {", ".join(unknown)}. '
            f"Its fields: {', '.join(template.fields)}."
        )
    names = read_list(list_file, template.fields, settings.columns, optional)
    unfed = _unfed(template, names)
    if unfed:  # refused with the headers that there are, as for a field that stands alone
        names = read_list(list_file, template.fields, settings.columns, optional - unfed)
    if all(box.case != "as-typed" for box in template.boxes if not box.is_fixed):
        names = _without_case(names)
    gap = DEFAULT_GAP_MM if settings.gap_mm is None else settings.gap_mm
    if not GAP_RANGE_MM[0] <= gap <= GAP_RANGE_MM[1]:
        raise SettingsError(
            f"A gap of {gap:g} mm cannot be used; give {GAP_RANGE_MM[0]:g} to "
            f"{GAP_RANGE_MM[1]:g} mm."
        )
    bleed = min(template.bleed_mm, gap / 2)
    _check_materials(template, workshop)
    _check_total(names)
    stocks = _stocks(template, workshop, settings.sheet, gap, bleed)
    limits = Limits(
        max(stock.material.minimum_width_mm for stock in stocks),
        max(max(stock.material.kerf_mm) for stock in stocks),
    )
    maker = make_maker(template, limits, settings.font).sized(names.rows)
    return Plan(
        settings=settings,
        template=template,
        workshop=workshop,
        names=names,
        stocks=stocks,
        maker=maker,
        bleed_mm=bleed,
        recorded=_recorded(settings, maker, workshop, names, stocks, gap),
        notes=(
            *plan_notes(template, workshop, stocks, bleed),
            *wall_notes(template.found_holes, limits),
        ),
    )


def check_rows(plan: Plan, progress: Progress) -> tuple[tuple[Row, ...], tuple[Piece, ...]]:
    """Make every piece and see whether a sheet has room for it; nothing is written.

    Returns:
        All rows with all their findings, and the pieces of those that were made.
    """
    rows: list[Row] = []
    pieces: list[Piece] = []
    total = len(plan.names.rows)
    results = make_pieces(plan.maker, plan.names.rows, plan.settings.workers)
    for done, (row, piece) in enumerate(results, start=1):
        wrong = None if piece is None else _not_to_be_cut(row, piece, plan.stocks)
        if wrong is not None:
            row, piece = replace(row, findings=(*row.findings, wrong)), None
        rows.append(row)
        if piece is not None:
            pieces.append(piece)
        progress("pieces", done, total)
    held = [row for row in rows if is_held(row.findings)]
    if len(held) + len(pieces) != len(rows):
        raise SettingsError("A row is neither made nor held. Please report this list.")
    return tuple(rows), tuple(pieces)


def make_job(plan: Plan, progress: Progress) -> Job:
    """Make the pieces and fill the sheets.

    Raises:
        SheetError: no piece has room on a sheet.
    """
    rows, pieces = check_rows(plan, progress)
    if rows and not pieces and all(_only_lacks_room(row) for row in rows):
        raise SheetError(rows[0].findings[-1].message)
    filled: list[Filled] = []
    for done, stock in enumerate(plan.stocks, start=1):
        filled.append(
            lay_out(
                pieces,
                stock,
                plan.workshop,
                plan.template.size_mm[0],
                plan.settings.fill,
                Wishes(plan.settings.keep_order),
            )
        )
        progress("sheets", done, len(plan.stocks))
    printed = next((stock for stock in plan.stocks if stock.kind == "face"), None)
    return Job(
        template=plan.template,
        workshop=plan.workshop,
        names=plan.names,
        rows=rows,
        pieces=pieces,
        sheets=tuple(sheet for some in filled for sheet in some.sheets),
        jig=jig_of(printed.page) if printed else None,
        scale_bars=printed.page.scale_bars if printed else (),
        bleed_mm=plan.bleed_mm,
        settings=plan.recorded,
        notes=(*plan.notes, *reading_notes(pieces)),
        totals=_totals(rows, pieces, plan, filled),
    )


def _unfed(template: Template, names: NameList) -> frozenset[str]:
    """Fields of formulas that no column of the list feeds at all."""
    return frozenset(
        field
        for box in template.boxes
        if not box.optional and not set(box.fields) & set(names.columns)
        for field in box.fields
    )


def _without_case(names: NameList) -> NameList:
    """The list without remarks on capital and small letters, which this template sets itself."""
    rows = tuple(
        replace(row, findings=tuple(f for f in row.findings if f.code not in CASE_REMARKS))
        for row in names.rows
    )
    told = tuple(f for f in names.findings if f.code not in CASE_REMARKS)
    return replace(names, rows=rows, findings=told)


def _optional_fields(template: Template) -> frozenset[str]:
    """Fields that no text box insists on; a formula of several is looked at when it is set."""
    alone = [box.fields for box in template.boxes if not box.optional and len(box.fields) == 1]
    needed = {field for fields in alone for field in fields}
    return frozenset(template.fields) - needed


def _stocks(
    template: Template, workshop: Workshop, sheet: str | None, gap: float, bleed: float
) -> tuple[Stock, ...]:
    """What is printed and what is cut, by the build."""
    material = workshop.materials[template.material]
    turns = template.turns_deg
    if template.build == "bare":
        size = sheet_size(sheet) if sheet else material.sheet_mm
        size = size or sheet_size(workshop.printer.sheet)
        page = board_page(_on_bed(size, workshop), material)
        return (Stock("board", page, material, ("board",), turns, gap),)
    size = _on_bed(sheet_size(sheet or workshop.printer.sheet), workshop)
    page = printed_page(size, workshop.printer.margins_mm, bleed)
    face = Stock("face", page, material, template.faces, turns, gap)
    if template.build == "printed" or template.board is None:
        return (face,)
    board = workshop.materials[template.board]
    size = _on_bed(board.sheet_mm or sheet_size(workshop.printer.sheet), workshop)
    return (face, Stock("board", board_page(size, board), board, ("board",), turns, gap))


def _check_materials(template: Template, workshop: Workshop) -> None:
    """Material and board must be in the workshop file; both are told at once."""
    wanted = [name for name in (template.material, template.board) if name]
    lacking = [name for name in wanted if name not in workshop.materials]
    if lacking:
        quoted = " and ".join(f'"{name}"' for name in lacking)
        raise SettingsError(
            f'The template "{template.name}" asks for the material {quoted}, which the workshop '
            f"file {workshop.name} does not have. It has: {', '.join(workshop.materials)}. Add "
            "the material there or name another one in the template."
        )


def _check_total(names: NameList) -> None:
    total = sum(row.quantity for row in names.rows if not row.held)
    if total > MOST_PIECES:
        raise SettingsError(
            f"The list orders {total:,} pieces; one job takes at most {MOST_PIECES:,}. Split the "
            "list, or look for a wrong quantity."
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


def _recorded(
    settings: Settings,
    maker: Maker,
    workshop: Workshop,
    names: NameList,
    stocks: Sequence[Stock],
    gap: float,
) -> dict[str, object]:
    """The settings as the manifest keeps them: all that the files depend on."""
    return {
        "list": {"file": names.source, "sha256": names.sha256},
        "template_sha256": maker.template.digest,
        "fonts_sha256": maker.letterer.digests(names.rows),
        "workshop": {"name": workshop.name, "sha256": workshop.digest},
        "sheet_mm": list(stocks[0].page.size_mm),
        "gap_mm": gap,
        "columns": dict(names.columns),
        "font": settings.font,
        "fill": settings.fill,
        "keep_order": settings.keep_order,
    }


def _no_room_text(piece: Piece, stocks: Sequence[Stock]) -> str:
    width, height = piece.size_mm
    stock = next(stock for stock in stocks if not fits(piece, stock))
    what = "two faces side by side need" if len(stock.faces) > 1 else "it needs"
    room = stock.page.usable_mm
    return (
        f"the piece is {width:.1f} × {height:.1f} mm and no sheet of {stock.material.title} has "
        f"room for it ({what} more than the usable {room[2]:.1f} × {room[3]:.1f} mm). Take a "
        "larger sheet."
    )


def _not_to_be_cut(row: Row, piece: Piece, stocks: Sequence[Stock]) -> Finding | None:
    """Hold a piece that no sheet takes, or that the kerf closes or spoils once it is turned."""
    try:
        if not all(fits(piece, stock) for stock in stocks):
            return _no_room(row, piece, stocks)
        wrong = next(filter(None, (spoiled(piece, stock) for stock in stocks)), None)
    except OutlineError as error:
        return hold("gap-narrower-than-kerf", f"Line {row.line}: {error}")
    return None if wrong is None else hold("spoiled-by-cut", f"Line {row.line}: {wrong}")


def _no_room(row: Row, piece: Piece, stocks: Sequence[Stock]) -> Finding:
    return hold("no-room-on-sheet", f"Line {row.line}: {_no_room_text(piece, stocks)}")


def _only_lacks_room(row: Row) -> bool:
    return bool(row.findings) and row.findings[-1].code == "no-room-on-sheet"


def _totals(
    rows: Sequence[Row], pieces: Sequence[Piece], plan: Plan, filled: Sequence[Filled]
) -> Totals:
    sheets = [sheet for some in filled for sheet in some.sheets]
    faces = [some for some, stock in zip(filled, plan.stocks, strict=True) if stock.kind == "face"]
    boards = [some for some in filled if some not in faces]
    cost = cost_of(sheets, plan.workshop)
    return Totals(
        rows=len(rows),
        made=len(pieces),
        held=len(rows) - len(pieces),
        pieces=sum(piece.copies for piece in pieces),
        sheets=sum(len(some.sheets) for some in faces),
        sheets_lower_bound=sum(some.bounds.sheets for some in faces),
        boards=sum(len(some.sheets) for some in boards),
        boards_lower_bound=sum(some.bounds.sheets for some in boards),
        cut_seconds=sum(sheet.seconds for sheet in sheets),
        cost=None if cost is None else cost.total,
        sheets_area_bound=sum(some.bounds.area for some in faces),
        boards_area_bound=sum(some.bounds.area for some in boards),
        cutting_cost=None if cost is None else cost.cutting,
    )
