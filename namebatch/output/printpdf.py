"""`print.pdf`: every printed page at exactly its size, to be printed without scaling."""

from collections.abc import Callable
from io import BytesIO
from pathlib import Path

from reportlab.pdfgen.canvas import Canvas

from namebatch import __version__
from namebatch.curves import Affine
from namebatch.errors import OutputError
from namebatch.job import Job
from namebatch.output.backs import turned_over
from namebatch.output.lettering import text_width
from namebatch.output.printface import FacePainter
from namebatch.output.printpage import draw_surround
from namebatch.output.truescale import about_middle, page_scale
from namebatch.output.worksteps import bar_lengths
from namebatch.piece import Piece, cut_pieces
from namebatch.sheet.model import PlacedFace, Sheet

FILE = "print.pdf"
POINTS_PER_MM = 72 / 25.4
"""One PDF unit is 1/72 inch (ISO 32000-1, 8.3.2.3)."""

# registered by `lettering`; as the first font it keeps the built-in, never embedded one out
_PAGE_FACE = "namebatch-page-400"


def write(job: Job, folder: Path, progress: Callable[[int, int], None]) -> None:
    """Write ``print.pdf``; nothing when no sheet is printed.

    Args:
        job: what was made.
        folder: the job folder being filled.
        progress: called with pages done and pages in all.

    Raises:
        OutputError: when a picture cannot be decoded.
    """
    if any(sheet.kind == "face" for sheet in job.sheets):
        (folder / FILE).write_bytes(print_pdf(job, progress))


def print_pdf(job: Job, progress: Callable[[int, int], None]) -> bytes:
    """All printed pages, 1:1; the same job gives the same bytes.

    Where the workshop file says that the print is to be stretched, it is drawn to the inverse of
    the printer's scale about the sheet's middle: 1:1 is then what comes out of the printer.

    Args:
        job: what was made; at least one of its sheets is printed.
        progress: called with pages done and pages in all.

    Raises:
        OutputError: when a picture cannot be decoded.
    """
    sheets = [sheet for sheet in job.sheets if sheet.kind == "face"]
    stream = BytesIO()
    canvas = _document(job, stream, sheets[0])
    painter = FacePainter(canvas, job)
    pieces = {name: piece for piece in cut_pieces(job.pieces) for name in piece.ids}
    for done, sheet in enumerate(sheets, start=1):
        _page(canvas, painter, pieces, job, sheet)
        if sheet.backs:
            _page(canvas, painter, pieces, job, sheet, behind=True)
        progress(done, len(sheets))
    canvas.save()
    return stream.getvalue()


def _page(
    canvas: Canvas,
    painter: FacePainter,
    pieces: dict[str, Piece],
    job: Job,
    sheet: Sheet,
    *,
    behind: bool = False,
) -> None:
    """The page of a sheet, or the page with the backs that is stuck behind it."""
    width, height = sheet.size_mm
    base_width = job.template.size_mm[0]
    canvas.setPageSize((width * POINTS_PER_MM, height * POINTS_PER_MM))
    canvas.scale(POINTS_PER_MM, POINTS_PER_MM)
    scale = page_scale(job.workshop.printer)
    if scale != (1.0, 1.0):
        canvas.transform(*about_middle(sheet.size_mm, scale))
    for placement in sheet.placements:
        if behind:
            affine = placement.behind_affine(base_width, width)
            _place(canvas, painter, pieces, placement.piece, "back", affine)
        else:
            affine = placement.view_affine(base_width)
            _place(canvas, painter, pieces, placement.piece, placement.face, affine)
    page, bars = turned_over(sheet, job.scale_bars) if behind else (sheet, job.scale_bars)
    # last, so that no bleed ever covers the line that everything is laid to
    draw_surround(canvas, page, bars, _title(job), job.bleed_mm)
    canvas.showPage()


def _document(job: Job, stream: BytesIO, first: Sheet) -> Canvas:
    """An empty document that asks viewers not to scale it."""
    text_width("0", 1.0)  # registers the page face
    canvas = Canvas(
        stream,
        pagesize=(first.size_mm[0] * POINTS_PER_MM, first.size_mm[1] * POINTS_PER_MM),
        pageCompression=1,
        invariant=1,
        pdfVersion=(1, 6),  # the first that knows PrintScaling
        initialFontName=_PAGE_FACE,
    )
    canvas.setTitle(_title(job))
    canvas.setSubject(
        f"Print at 100 %, without fitting to the page; check the bars: {bar_lengths(job)}."
    )
    canvas.setAuthor("namebatch")
    canvas.setCreator(f"namebatch {__version__}")
    canvas.setProducer(f"namebatch {__version__}")
    canvas.setViewerPreference("PrintScaling", "None")
    return canvas


def _place(
    canvas: Canvas,
    painter: FacePainter,
    pieces: dict[str, Piece],
    piece_id: str,
    face: PlacedFace,
    affine: Affine,
) -> None:
    """One face where it lies on the page."""
    if face == "board" or piece_id not in pieces:
        raise OutputError(
            f'"{piece_id}" ({face}) lies on a printed sheet, but the job has no such printed '
            "piece. Make the job again from its list."
        )
    canvas.saveState()
    canvas.transform(*affine)
    painter.draw(pieces[piece_id], face)
    canvas.restoreState()


def _title(job: Job) -> str:
    """What the pages are called: the job and the list."""
    return f"{job.title} · {job.names.source}"
