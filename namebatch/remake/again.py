"""Making spoiled pieces again: the first job's rows, sizes and materials, new sheets."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from namebatch.cutboards import as_part_used
from namebatch.errors import NamebatchError, RemakeError, SettingsError
from namebatch.job import Job, some_of
from namebatch.leftovers import leftovers_of_job
from namebatch.measured.jobsheet import REMAKES
from namebatch.output.difference import REMAKE
from namebatch.pipeline import (
    Plan,
    Progress,
    Settings,
    make_job,
    plan_rows,
)
from namebatch.remake.faces import only_faces
from namebatch.remake.first import FirstJob, read_first
from namebatch.remake.numbering import renumbered
from namebatch.remake.same import differences
from namebatch.remake.sources import Change, template_again, typefaces_changed, workshop_again
from namebatch.remake.spoiled import ids_of, said_faces, said_ids, wanted_copies
from namebatch.remake.wish import Wish
from namebatch.sheet import Stock
from namebatch.sheet.model import Sheet
from namebatch.stocks import recorded_leftovers

CHANGED = "Pieces can only be made again as they were, and since then something has changed."
REMEDY = (
    "Or say --as-now to make them with what is there now; they may then differ from the others of "
    "the batch."
)
UNEXPLAINED = (
    "Not every piece comes out as it was, though nothing that was noted has changed: the manifest "
    "was changed by hand, or the program or a library is another one. Make the whole job again."
)
OTHER_SHEET = "On sheets of this size not every piece comes out as it was. Leave --sheet out."


@dataclass(frozen=True, slots=True)
class Remake:
    """A remake before its first piece is made.

    Attributes:
        wish: what was asked.
        first: the job whose pieces are made again.
        plan: their rows, materials and sheets.
        ids: of the pieces, in list order.
        changes: what has changed since the first job, if that was accepted.
    """

    wish: Wish
    first: FirstJob
    plan: Plan
    ids: tuple[str, ...]
    changes: tuple[Change, ...]


def plan_remake(wish: Wish) -> Remake:
    """Read the first job, find again what it was made from, and fix sheets and sizes.

    Sizes that all pieces share are found over all rows of the first job, not over the spoiled
    ones.

    Raises:
        RemakeError: the job or the pieces cannot be made again, or something has changed.
        NamebatchError: the remake is impossible for another reason.
    """
    wish = replace(wish, faces=wish.faces or said_faces(wish.pieces))
    first = read_first(wish.job)
    copies = wanted_copies(first.record, wish.pieces)
    template, changes = template_again(first, wish.template)
    workshop, more = workshop_again(first, wish.workshop)
    changes += more
    settings = _settings(first, wish, template.name)
    names = first.names(template.fields)
    try:
        plan = plan_rows(settings, template, workshop, names)
    except NamebatchError as error:
        if changes and not wish.as_now:
            raise RemakeError(CHANGED, (*map(str, changes), REMEDY)) from error
        raise
    rows = tuple(row for row in names.rows if row.line in copies)
    fonts = plan.maker.letterer.digests(row for row in plan.rows if row.line in copies)
    changes += typefaces_changed(first, fonts)
    if changes and not wish.as_now:
        raise RemakeError(CHANGED, (*map(str, changes), REMEDY))
    ids = ids_of(copies)
    stocks = _with_boards(plan, wish)
    some = only_faces(stocks, wish.faces)
    recorded = {
        **plan.recorded,
        "fonts_sha256": fonts,
        "part_used": recorded_leftovers(some),
        REMAKE: _recorded(first, ids, wish, changes),
    }
    plan = replace(
        plan,
        names=replace(names, rows=rows),
        stocks=stocks,
        some=some,
        only=copies,
        recorded=recorded,
    )
    return Remake(wish, first, plan, ids, changes)


def make_again(remake: Remake, progress: Progress) -> Job:
    """Make the pieces, prove that they are the same, and fill sheets whose numbers go on.

    Raises:
        RemakeError: a piece is not as it was, and nothing that is known to have changed tells why.
        SheetError: no piece has room on a sheet.
    """
    job = make_job(remake.plan, progress)
    told = differences(job.rows, job.pieces, remake.first.record.pieces)
    if told and not remake.changes:
        raise RemakeError(OTHER_SHEET if remake.wish.sheet else UNEXPLAINED, told)
    sheets = renumbered(job.sheets, remake.first, remake.wish.out)
    notes = (*_notes(remake, sheets), *_compared(remake, told))
    return replace(job, sheets=sheets, again=remake.ids, notes=(*notes, *job.notes))


def _settings(first: FirstJob, wish: Wish, template: str) -> Settings:
    """The first job's settings; the few pieces are filled fast."""
    was = first.record.settings
    width, height = was.sheet_mm
    return Settings(
        template=template,
        sheet=wish.sheet or f"{width:.6f}x{height:.6f}",
        gap_mm=was.gap_mm,
        font=was.font,
        workers=wish.workers,
        part_used=wish.part_used,
        mends=first.mends(),
        material=was.material,
        board=was.board,
    )


def _with_boards(plan: Plan, wish: Wish) -> tuple[Stock, ...]:
    """The stocks, those of boards with the boards of the first job before other part-used ones."""
    if not wish.onto:
        return plan.stocks
    if wish.faces and "board" not in wish.faces:
        raise SettingsError(
            f"Only {' and '.join(wish.faces)} of the pieces is made again, so --onto has no board "
            "to fill. Leave it out, or --face."
        )
    if all(stock.kind != "board" for stock in plan.stocks):
        raise SettingsError(
            "This template prints on what it cuts and has no boards, so --onto has nothing to "
            "fill. Leave it out."
        )
    return tuple(
        replace(
            stock,
            leftovers=(
                *leftovers_of_job(wish.job, wish.onto, stock.material, plan.workshop, wish.out),
                *stock.leftovers,
            ),
        )
        if stock.kind == "board"
        else stock
        for stock in plan.stocks
    )


def _recorded(
    first: FirstJob, ids: Sequence[str], wish: Wish, changes: Sequence[Change]
) -> Mapping[str, object]:
    """Where the pieces come from, for the manifest."""
    return {
        "job_sha256": first.sha256,
        "list_sha256": first.record.list.sha256,
        "pieces": list(ids),
        "faces": list(wish.faces),
        "changed": [change.what for change in changes],
    }


def _notes(remake: Remake, sheets: Sequence[Sheet]) -> list[str]:
    """What whoever has both jobs' papers on the bench should know."""
    first, count = remake.first, len(remake.ids)
    what = "1 piece" if count == 1 else f"{count:,} pieces"
    notes = [
        f"Remake of {what} of the first job from {first.record.list.source}: "
        f"{some_of(remake.ids, 12)}. {_numbered(remake, sheets)}"
    ]
    again = _whole_again(remake)
    if again:
        notes.append(
            f"{some_of(again, 12)}: one part was named; the piece is made again with all its parts."
        )
    laid = {sheet.part_used for sheet in sheets}
    full = [board for board in remake.wish.onto if as_part_used(board) not in laid]
    if full:
        notes.append(f"Nothing found room on what is left of {some_of(full, 8)}.")
    if first.altered:
        notes.append(
            "In the first job's folder these files are gone or were changed since: "
            f"{some_of(first.altered, 8)}. The remake does not need them."
        )
    return notes


def _numbered(remake: Remake, sheets: Sequence[Sheet]) -> str:
    """Which numbers the sheets have, and how far it can be trusted that nothing else has them."""
    ids = some_of([sheet.id for sheet in sheets], 8) or "none"
    if (remake.wish.job.resolve() / REMAKES) in remake.wish.out.resolve().parents:
        return (
            "Sheet numbers go on from that job's, so that no paper and no cut file is taken for "
            f"another: {ids}."
        )
    return (
        f"Sheet numbers go on from that job's and from those of the remakes in its folder: {ids}. "
        "Another remake outside of it may have the same; keep their papers apart."
    )


def _whole_again(remake: Remake) -> list[str]:
    """Pieces of which only a part was named."""
    parts = {piece.id for piece in remake.first.record.pieces} - set(remake.ids)
    said = {word.upper() for word in said_ids(remake.wish.pieces)}
    named = {word.rpartition("-")[0] for word in said & parts}
    return [one for one in remake.ids if one in named - said]


def _compared(remake: Remake, told: Sequence[str]) -> list[str]:
    """What changed, and whether the pieces show it."""
    if not remake.changes:
        return []
    changed = "; ".join(change.what for change in remake.changes)
    same = "" if told else " Every piece measures as it did all the same."
    most = 12
    notes = [
        f"Since the first job something has changed, and that was accepted (--as-now): {changed}."
        f"{same}",
        *(f"Not as at first: {one}" for one in told[:most]),
    ]
    return [*notes, f"Not as at first: {len(told) - most:,} more."] if len(told) > most else notes
