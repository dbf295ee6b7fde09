"""The one module that knows the whole order: settings in, a job out."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import partial
from pathlib import Path

from namebatch.boards import print_limits, refuse_bad_rim
from namebatch.cuttable import NO_ROOM, made_cuttable
from namebatch.errors import SettingsError, SheetError
from namebatch.finding import is_held
from namebatch.jigs import jig_notes, job_jig
from namebatch.job import Job, Totals
from namebatch.listread import Reader, read_for
from namebatch.maker import Maker, make_maker
from namebatch.mends import check_mends, mended_rows
from namebatch.names import read_list
from namebatch.names.columns import listed
from namebatch.names.row import NameList, Row
from namebatch.notes import height_notes, part_notes, plan_notes, speed_notes, text_heights
from namebatch.outline.found_holes import wall_notes
from namebatch.piece import Piece
from namebatch.recorded import recorded_settings
from namebatch.settings import Settings as Settings
from namebatch.sheet import Filled, Stock, lay_out
from namebatch.sheet.bounds import Bounds
from namebatch.sheet.cost import cost_of
from namebatch.sheet.model import Jig, Sheet
from namebatch.sheet.tight_clock import seconds_of
from namebatch.sheet.wishes import Laid, NoWatch, Watch, Wishes, nobody_looks
from namebatch.spares import Spare, only_copies, read_spare, with_spares
from namebatch.stocks import (
    check_materials,
    printed_on,
    stocks_of,
    turned_notes,
    unused_notes,
    with_leftovers,
    with_materials,
)
from namebatch.template import find_template, load_template, load_workshop
from namebatch.template.model import Template
from namebatch.template.workshop import Workshop
from namebatch.workers import make_pieces

DEFAULT_GAP_MM = 3.0
GAP_RANGE_MM = (0.2, 100.0)
MOST_PIECES = 100_000
"""Copies of all rows together; more is a slip of the pen or several jobs."""

Progress = Callable[[str, int, int], None]
"""Stage, how much is done, of how much."""


@dataclass(frozen=True, slots=True)
class Plan:
    """Everything that is fixed before the first piece is made.

    Of the rows in `only` (by line) just the copies with those numbers are made, of others all.
    Where there is `some`, just those of the stocks are filled; pieces must suit all of them.
    """

    settings: Settings
    template: Template
    workshop: Workshop
    names: NameList
    stocks: tuple[Stock, ...]
    maker: Maker
    bleed_mm: float
    recorded: Mapping[str, object]
    notes: tuple[str, ...]
    spare: Spare = field(default_factory=Spare)
    only: Mapping[int, tuple[int, ...]] = field(default_factory=dict)
    jig: Jig | None = None
    some: tuple[Stock, ...] = ()

    @property
    def rows(self) -> tuple[Row, ...]:
        """The rows as they are to be made, with what was changed in them by hand."""
        return mended_rows(self.names, self.settings.mends, self.template)

    @property
    def filled(self) -> tuple[Stock, ...]:
        """The stocks that are filled."""
        return self.some or self.stocks


def plan_job(list_file: Path, settings: Settings) -> Plan:
    """Read list, template and workshop file and fix sheets and sizes.

    Raises:
        NamebatchError: the job is impossible; nothing has been made yet.
    """
    return plan_list(partial(read_list, list_file), settings)


def plan_list(read: Reader, settings: Settings) -> Plan:
    """Read a list, wherever it comes from, template and workshop file; fix sheets and sizes.

    Raises:
        NamebatchError: the job is impossible; nothing has been made yet.
    """
    ordered = settings.keep_order or settings.by_order
    settings = replace(settings, seconds=seconds_of(settings.fill, settings.seconds, ordered))
    template = load_template(find_template(settings.template))
    workshop = load_workshop(settings.workshop)
    names = read_for(template, read, settings.columns)
    return plan_rows(settings, template, workshop, names)


def plan_rows(settings: Settings, template: Template, workshop: Workshop, names: NameList) -> Plan:
    """Fix sheets and sizes for rows that were read.

    Args:
        settings: what was chosen.
        template: what the pieces look like.
        workshop: what they are made with.
        names: the whole list: sizes that all rows share are found over its rows.

    Raises:
        NamebatchError: the job is impossible; nothing has been made yet.
    """
    gap = checked_gap(settings.gap_mm)
    template = with_materials(template, workshop, settings.material, settings.board)
    bleed = min(template.bleed_mm, gap / 2)
    check_materials(template, workshop)
    rows = mended_rows(names, settings.mends, template)
    check_total(sum(row.quantity for row in rows if not row.held))
    spare = read_spare(settings.spare)
    if settings.by_order:
        _check_orders(names, settings)
    new = stocks_of(template, workshop, settings.sheet, gap, bleed)
    stocks = with_leftovers(new, settings.part_used, settings.keep_order, workshop)
    turned = turned_notes(template, workshop, settings.sheet, stocks)
    workshop = printed_on(workshop, stocks)
    limits = print_limits(template, stocks)
    jig = job_jig(template, workshop, stocks)
    # sizes that all share are those of the list as read: a change to one piece changes no other
    paper = workshop.materials[template.material].colour
    maker = make_maker(template, limits, settings.font, paper).sized(names.rows)
    outline = maker.outline.shape if maker.outline else None
    refuse_bad_rim(outline, maker.template, stocks)
    check_mends(settings.mends, names, template, limits, maker.letterer.catalogue)
    return Plan(
        settings=settings,
        template=maker.template,
        workshop=workshop,
        names=names,
        stocks=stocks,
        maker=maker,
        bleed_mm=bleed,
        recorded=recorded_settings(settings, maker, workshop, names, rows, stocks, gap),
        spare=spare,
        jig=jig,
        notes=(
            *plan_notes(template, workshop, stocks, bleed),
            *turned,
            *jig_notes(jig, template, workshop),
            *wall_notes(template.found_holes, limits),
        ),
    )


def checked_gap(gap_mm: float | None) -> float:
    """The least distance of cut lines of two pieces, in mm; None is the usual one.

    Raises:
        SettingsError: it is out of its range.
    """
    gap = DEFAULT_GAP_MM if gap_mm is None else gap_mm
    if not GAP_RANGE_MM[0] <= gap <= GAP_RANGE_MM[1]:
        raise SettingsError(
            f"A gap of {gap:g} mm cannot be used; give {GAP_RANGE_MM[0]:g} to "
            f"{GAP_RANGE_MM[1]:g} mm."
        )
    return gap


def found_rows(plan: Plan, progress: Progress) -> Iterator[tuple[Row, Piece | None]]:
    """Make every piece and see whether a sheet has room for it, row by row; nothing is kept.

    Yields:
        A row with all its findings, and its piece; None where it is held.
    """
    total = len(plan.names.rows)
    results = make_pieces(plan.maker, plan.rows, plan.settings.workers)
    for done, (row, piece) in enumerate(results, start=1):
        if piece is not None:
            row, piece = made_cuttable(row, piece, plan.template, plan.stocks)
        if is_held(row.findings) == (piece is not None):
            raise SettingsError("A row is neither made nor held. Please report this list.")
        yield row, piece
        progress("pieces", done, total)


def check_rows(plan: Plan, progress: Progress) -> tuple[tuple[Row, ...], tuple[Piece, ...]]:
    """Make every piece and see whether a sheet has room for it; nothing is written.

    Returns:
        All rows with all their findings, and the pieces of those that were made.
    """
    found = list(found_rows(plan, progress))
    return tuple(row for row, _ in found), tuple(piece for _, piece in found if piece is not None)


def make_job(
    plan: Plan, progress: Progress, watch: Watch | None = None, laid: Laid = nobody_looks
) -> Job:
    """Make the pieces and fill the sheets.

    Args:
        plan: what is fixed already.
        progress: hears of every step.
        watch: hears how far a search for fewer sheets is, and may end it.
        laid: is shown each sheet as soon as it is filled.

    Raises:
        SheetError: no piece has room on a sheet.
    """
    rows, pieces = check_rows(plan, progress)
    refuse_without_room([why for row in rows if (why := lacks_room(row))], len(rows))
    return fill_job(plan, rows, pieces, progress, watch, laid).job


@dataclass(frozen=True, slots=True)
class FilledJob:
    """A job, and how few sheets of each stock any arrangement could need, by the stocks' order."""

    job: Job
    bounds: tuple[Bounds, ...]


def fill_job(
    plan: Plan,
    rows: tuple[Row, ...],
    pieces: Sequence[Piece],
    progress: Progress,
    watch: Watch | None = None,
    laid: Laid = nobody_looks,
) -> FilledJob:
    """Fill the sheets with pieces that were made.

    Args:
        plan: what is fixed already.
        rows: with all findings.
        pieces: of the rows that were made, without spares.
        progress: hears of every step.
        watch: hears how far a search for fewer sheets is, and may end it.
        laid: is shown each sheet as soon as it is filled.
    """
    pieces = only_copies(with_spares(pieces, plan.spare), plan.only)
    check_total(sum(piece.copies for piece in pieces))
    filled: list[Filled] = []
    wishes = Wishes(
        plan.settings.keep_order,
        plan.settings.by_order,
        (plan.settings.seconds or 0.0) / len(plan.filled),
        watch or NoWatch(),
        laid,
    )
    for done, stock in enumerate(plan.filled, start=1):
        filled.append(
            lay_out(
                pieces,
                stock,
                plan.workshop,
                plan.template.size_mm[0],
                plan.settings.fill,
                wishes,
            )
        )
        progress("sheets", done, len(plan.filled))
    sheets = tuple(sheet for some in filled for sheet in some.sheets)
    bounds = tuple(some.bounds for some in filled)
    heights = text_heights(pieces)
    return FilledJob(whole_job(plan, rows, pieces, sheets, bounds, heights), bounds)


def whole_job(
    plan: Plan,
    rows: tuple[Row, ...],
    pieces: tuple[Piece, ...],
    sheets: tuple[Sheet, ...],
    bounds: Sequence[Bounds],
    heights: tuple[float, float] | None,
) -> Job:
    """Everything about a job from what was made and how it lies.

    Args:
        plan: what was fixed before.
        rows: with all findings.
        pieces: of those that were made.
        sheets: that they lie on.
        bounds: of each stock that is filled.
        heights: of the lowest and the highest text of the list; None without one.
    """
    printed = next((stock for stock in plan.filled if stock.kind == "face"), None)
    jig = plan.jig if printed else None
    return Job(
        template=plan.template,
        workshop=plan.workshop,
        names=plan.names,
        rows=rows,
        pieces=pieces,
        sheets=sheets,
        jig=jig,
        scale_bars=printed.page.scale_bars if printed else (),
        bleed_mm=plan.bleed_mm,
        settings=plan.recorded,
        notes=(
            *plan.notes,
            *part_notes(pieces),
            *unused_notes(plan.filled, [sheet.part_used for sheet in sheets]),
            *speed_notes(plan.template, plan.workshop, sheets, jig),
            *height_notes(heights),
        ),
        totals=_totals(rows, pieces, plan, sheets, bounds),
    )


def check_total(total: int) -> None:
    """Refuse more pieces than one job takes.

    Raises:
        SettingsError: there are more.
    """
    if total > MOST_PIECES:
        raise SettingsError(
            f"The list orders {total:,} pieces, spares counted; one job takes at most "
            f"{MOST_PIECES:,}. Split the list, or look for a wrong quantity."
        )


def _check_orders(names: NameList, settings: Settings) -> None:
    """Sheets by order need a column that names the orders, and do not go by the list's lines."""
    if settings.keep_order:
        raise SettingsError(
            "--keep-order and --by-order cannot go together: lines of an order need not stand "
            "together in the list. Leave one of them out."
        )
    if not any(row.order for row in names.rows):
        raise SettingsError(
            "--by-order was asked for, and the list has no column that names the order or the "
            f"customer. It has {listed(names.headers)}. Say which it is with --column "
            "order=HEADER."
        )


def lacks_room(row: Row) -> str:
    """Why no sheet has room for a row's piece; empty where that is not what holds it."""
    return row.findings[-1].message if row.findings and row.findings[-1].code == NO_ROOM else ""


def refuse_without_room(lacking: Sequence[str], rows: int) -> None:
    """Refuse a job of which every row lacks nothing but room on a sheet.

    Args:
        lacking: why, of each such row.
        rows: of the job.

    Raises:
        SheetError: they are all of them.
    """
    if lacking and len(lacking) == rows:
        raise SheetError(lacking[0])


def _totals(
    rows: Sequence[Row],
    pieces: Sequence[Piece],
    plan: Plan,
    sheets: Sequence[Sheet],
    bounds: Sequence[Bounds],
) -> Totals:
    kinds = [sheet.kind for sheet in sheets]
    faces = [some for some, stock in zip(bounds, plan.filled, strict=True) if stock.kind == "face"]
    boards = [some for some, stock in zip(bounds, plan.filled, strict=True) if stock.kind != "face"]
    cost = cost_of(sheets, plan.workshop)
    return Totals(
        rows=len(rows),
        made=len(pieces),
        held=len(rows) - len(pieces),
        pieces=sum(piece.copies for piece in pieces),
        sheets=kinds.count("face"),
        sheets_lower_bound=sum(some.sheets for some in faces),
        boards=kinds.count("board"),
        boards_lower_bound=sum(some.sheets for some in boards),
        cut_seconds=sum(sheet.seconds for sheet in sheets),
        cost=None if cost is None else cost.total,
        sheets_area_bound=sum(some.area for some in faces),
        boards_area_bound=sum(some.area for some in boards),
        cutting_cost=None if cost is None else cost.cutting,
        spares=sum(piece.spares for piece in pieces),
    )
