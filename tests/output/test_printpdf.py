"""The print: pages at their size, looked at by PDFium."""

import re
from dataclasses import replace
from pathlib import Path

import pypdfium2 as pdfium
import pytest
from shapely import MultiPolygon, Polygon, affinity, box

from namebatch.errors import OutputError
from namebatch.job import Job
from namebatch.output import printpdf
from namebatch.output.cutsvg import cut_svg
from namebatch.output.printpdf import print_pdf
from namebatch.piece import Piece
from namebatch.sheet.model import Placement, ScaleBar, Sheet
from namebatch.template.model import RasterPicture
from tests.output import jobs
from tests.output.pdfreader import Window
from tests.output.readers import svg_bounds

JOB = jobs.faced_job()
SHEET = JOB.sheets[0]


def quiet(done: int, total: int) -> None:
    """Progress that nobody looks at."""


PDF = print_pdf(JOB, quiet)
CUT = svg_bounds(cut_svg(SHEET.cuts, SHEET.size_mm, jobs.COLOURS), SHEET.size_mm[1])
FRAME = svg_bounds(
    cut_svg(JOB.jig.cuts if JOB.jig else (), SHEET.size_mm, jobs.COLOURS), SHEET.size_mm[1]
)["op-mark", "frame"]


def with_sheet(job: Job, **changes: object) -> Job:
    """The job with its printed sheet changed."""
    sheet = replace(job.sheets[0], **changes)  # type: ignore[arg-type]
    return replace(job, sheets=(sheet, *job.sheets[1:]))


def plain(job: Job) -> Job:
    """The job without artwork: only its names are printed."""
    return replace(job, template=replace(job.template, artwork={}))


@pytest.mark.parametrize(
    ("size_mm", "points"),
    [
        ((210.0, 297.0), (595.276, 841.890)),  # A4, ISO 216:2007
        ((215.9, 279.4), (612.0, 792.0)),  # Letter, ASME Y14.1 (from memory)
        ((100.0, 148.0), (283.4646, 419.5276)),  # 1/72 inch, ISO 32000-1, 8.3.2.3
    ],
)
def test_the_page_is_the_sheet(size_mm: tuple[float, float], points: tuple[float, float]) -> None:
    """The MediaBox is the sheet in points, not rounded to whole ones."""
    document = pdfium.PdfDocument(print_pdf(with_sheet(JOB, size_mm=size_mm), quiet))
    left, bottom, right, top = document[0].get_mediabox()
    assert (left, bottom) == (0, 0)
    assert (right, top) == pytest.approx(points, abs=0.0006)


def test_viewers_are_asked_not_to_scale() -> None:
    """PrintScaling None, from PDF 1.6 on."""
    assert PDF.startswith(b"%PDF-1.6")
    document = pdfium.PdfDocument(PDF)
    # PDFium answers whether the viewer may scale
    assert not pdfium.raw.FPDF_VIEWERREF_GetPrintScaling(document.raw)
    assert re.search(rb"/PrintScaling\s*/None", PDF)


@pytest.mark.parametrize(
    ("lengths", "words"),
    [
        ((100.0, 100.0), "100 mm across and up"),
        ((50.0, 50.0), "50 mm across and up"),
        ((100.0, 50.0), "100 mm across and 50 mm up"),
    ],
)
def test_the_subject_tells_the_bars_that_are_there(
    lengths: tuple[float, float], words: str
) -> None:
    """A small page has shorter bars; the file says what to measure on this one."""
    bars = (replace(bar, length_mm=n) for bar, n in zip(JOB.scale_bars, lengths, strict=True))
    pdf = print_pdf(replace(JOB, scale_bars=tuple(bars)), quiet)
    subject = pdfium.PdfDocument(pdf).get_metadata_value("Subject")
    assert subject == f"Print at 100 %, without fitting to the page; check the bars: {words}."


def test_the_frame_is_printed_where_the_jig_marks_it() -> None:
    """The middle of the printed line is within 0.05 mm of the marked line on all four sides."""
    x0, y0, x1, y1 = FRAME
    side = {
        "left": Window(PDF, (x0 - 1, 20, x0 + 1, 22), 2400).ink_bounds(128)[0::2],
        "right": Window(PDF, (x1 - 1, 20, x1 + 1, 22), 2400).ink_bounds(128)[0::2],
        "bottom": Window(PDF, (120, y0 - 1, 122, y0 + 1), 2400).ink_bounds(128)[1::2],
        "top": Window(PDF, (20, y1 - 1, 22, y1 + 1), 2400).ink_bounds(128)[1::2],
    }
    middles = {name: sum(edges) / 2 for name, edges in side.items()}
    assert middles == pytest.approx({"left": x0, "right": x1, "bottom": y0, "top": y1}, abs=0.05)
    assert side["left"][1] - side["left"][0] == pytest.approx(0.2, abs=0.05)


@pytest.mark.parametrize("piece", ["L2-1", "L2-2", "L5-1"])
def test_a_front_is_printed_where_it_is_cut(piece: str) -> None:
    """Printed bounds are the cut line's bounds, less half a kerf, plus the bleed; 0.05 mm."""
    x0, y0, x1, y1 = CUT["op-outer", f"{piece}.front"]
    grow = jobs.BLEED_MM - jobs.KERF_MM / 2
    expected = (x0 - grow, y0 - grow, x1 + grow, y1 + grow)
    room = (expected[0] - 0.4, expected[1] - 0.4, expected[2] + 0.4, expected[3] + 0.4)
    assert Window(PDF, room).ink_bounds() == pytest.approx(expected, abs=0.05)


@pytest.mark.parametrize(("piece", "clear"), [("L2-1", 2), ("L2-2", 3), ("L5-1", 2)])
def test_a_back_is_printed_where_it_is_cut(piece: str, clear: int) -> None:
    """The same for the mirrored back, but for the side on which its picture is clear."""
    x0, y0, x1, y1 = CUT["op-outer", f"{piece}.back"]
    grow = jobs.BLEED_MM - jobs.KERF_MM / 2
    expected = [x0 - grow, y0 - grow, x1 + grow, y1 + grow]
    room = (expected[0] - 0.4, expected[1] - 0.4, expected[2] + 0.4, expected[3] + 0.4)
    found = list(Window(PDF, room).ink_bounds())
    del expected[clear], found[clear]
    assert found == pytest.approx(expected, abs=0.05)


def test_the_names_lie_in_their_cut_outline_as_the_piece_has_them() -> None:
    """A printed name's bounds are its shape's bounds in the piece; 0.05 mm."""
    pdf = print_pdf(plain(JOB), quiet)
    x0, y0, x1, y1 = JOB.pieces[0].letterings[0].shape.bounds
    left, bottom = 12.5, 14.0
    expected = (left + x0, bottom + y0, left + x1, bottom + y1)
    found = Window(pdf, (left, bottom, left + 60, bottom + 30)).ink_bounds()
    assert found == pytest.approx(expected, abs=0.05)


def test_the_back_reads_the_right_way_round() -> None:
    """Text and picture of the back are not mirrored, though its outline is."""
    left, bottom = 135.6 - 60.0, 14.0  # the face's own bottom left corner on the sheet
    window = Window(PDF, (left - 2, bottom - 2, left + 62, bottom + 32), 300)
    ink = (0x7A, 0x1F, 0x3D)
    assert window.colour(left + 25, bottom + 19) == ink  # the arm of the F, to the right
    assert window.colour(left + 25, bottom + 11) != ink  # beside its stem
    assert window.colour(left + 21, bottom + 11) == ink  # the stem
    assert window.colour(left + 2, bottom + 29) == (86, 180, 233)  # patch at the top left
    assert window.colour(left + 45, bottom + 29) == (213, 94, 0)
    assert window.colour(left + 45, bottom + 2) == (0, 158, 115)
    # seen from behind, the corner that is cut off is at the top right
    assert window.colour(left + 59.5, bottom + 29.5) == (255, 255, 255)


def test_a_turned_back_turns_counter_clockwise() -> None:
    """A quarter turn takes the back's top left patch to the bottom left of the sheet."""
    # worked out by hand: u → up, v → left, from the corner (78, 50)
    window = Window(PDF, (46, 48, 80, 112), 300)
    assert window.colour(78 - 29, 50 + 2) == (86, 180, 233)
    assert window.colour(78 - 2, 50 + 45) == (0, 158, 115)


def test_print_runs_on_over_holes_and_opacity_is_kept() -> None:
    """The hole is cut through print; half-clear blue on the sky is the mean of both."""
    left, bottom = 12.5, 14.0
    window = Window(PDF, (left - 1, bottom - 1, left + 61, bottom + 31), 300)
    assert window.colour(left + 5, bottom + 15) == (0xCF, 0xE8, 0xEF)
    # sky cfe8ef under 0072b2 at one half: (103.5, 173, 208.5)
    assert window.colour(left + 10, bottom + 2) == pytest.approx((103, 173, 208), abs=2)


def test_no_cut_line_is_printed() -> None:
    """Where only the outline is, there is nothing on the paper."""
    bare = replace(plain(JOB), pieces=tuple(replace(p, letterings=()) for p in JOB.pieces))
    x, y, width, height = SHEET.usable_mm
    window = Window(print_pdf(bare, quiet), (x, y, x + width, y + height), 300)
    assert int(window.pixels.min()) == 255


def test_scale_bars_are_100_mm() -> None:
    """From tick to tick the printed bars measure 100 mm in x and in y."""
    level = Window(PDF, (8.5, 9.5, 110.0, 9.9)).ink_bounds(128)
    assert level[2] - level[0] == pytest.approx(100 + 0.2, abs=0.05)
    upright = Window(PDF, (9.5, 11.5, 9.9, 113.0)).ink_bounds(128)
    assert upright[3] - upright[1] == pytest.approx(100 + 0.2, abs=0.05)


def test_id_title_and_lengths_stand_in_the_band() -> None:
    """The words can be found as text, inside the frame and outside the usable area."""
    page = pdfium.PdfDocument(PDF)[0]
    text = page.get_textpage()
    words = text.get_text_range()
    for wanted in ("face-001", "Saltmarsh tag, two faces", "kites.csv"):
        assert wanted in words
    assert words.count("100 mm") == 2
    x, y, width, height = (value * 72 / 25.4 for value in SHEET.frame_mm)
    ux, uy, uw, uh = (value * 72 / 25.4 for value in SHEET.usable_mm)
    usable = box(ux, uy, ux + uw, uy + uh)
    frame = box(x, y, x + width, y + height)
    for index in range(text.count_chars()):
        letter = box(*text.get_charbox(index))
        assert letter.area == 0 or (frame.contains(letter) and not usable.intersects(letter))


def test_the_title_stands_beside_the_id_where_there_is_room() -> None:
    """On a wide sheet one line says it all."""
    wide = with_sheet(
        JOB,
        size_mm=(297.0, 210.0),
        frame_mm=(6.0, 6.0, 285.0, 198.0),
        usable_mm=(12.0, 12.0, 273.0, 186.0),
    )
    text = pdfium.PdfDocument(print_pdf(wide, quiet))[0].get_textpage()
    assert "face-001 · Saltmarsh tag, two faces · kites.csv" in text.get_text_bounded(
        top=12.0 * 72 / 25.4
    )


@pytest.mark.parametrize("rows", [1, 2, 4])
def test_artwork_is_embedded_once(rows: int) -> None:
    """Forms and images do not grow with the number of pieces that share a picture."""
    model = JOB.pieces[1]
    made = tuple(replace(model, line=line) for line in range(10, 10 + rows))
    placements = tuple(
        Placement(
            f"L{piece.line}-1",
            face,
            14.0 + (x := 61.0 * (face == "back")),
            14.0 + 40 * i,
            0.0,
            x > 0,
        )
        for i, piece in enumerate(made)
        for face in ("front", "back")
    )
    job = with_sheet(replace(JOB, pieces=made), placements=placements)
    pdf = print_pdf(job, quiet)
    images = pdf.count(b"/Subtype /Image")
    assert images == 2  # the back's colours and their mask
    # two artworks; with several pieces also their clip and their equal texts, once a face
    assert pdf.count(b"/Subtype /Form") == (2 if rows == 1 else 6)


def test_without_bleed_print_ends_at_the_outline() -> None:
    """A template that wants no bleed gets none; an empty text prints nothing."""
    nothing = replace(JOB.pieces[1].letterings[0], shape=MultiPolygon())
    pieces = (JOB.pieces[0], replace(JOB.pieces[1], letterings=(nothing,)))
    pdf = print_pdf(replace(JOB, bleed_mm=0.0, pieces=pieces), quiet)
    found = Window(pdf, (11.5, 119.0, 73.5, 151.0)).ink_bounds()
    assert found == pytest.approx((12.5, 120.0, 72.5, 150.0), abs=0.05)


def test_a_sheet_without_bars_or_room_still_says_what_it_is() -> None:
    """The id is printed on whatever band there is."""
    for bars in ((), (ScaleBar((8.0, 9.0), (138.0, 9.0), 130.0), JOB.scale_bars[1])):
        pdf = print_pdf(replace(JOB, scale_bars=bars), quiet)
        words = pdfium.PdfDocument(pdf)[0].get_textpage().get_text_range()
        assert "face-001 · Saltmarsh tag, two faces" in words


def test_curves_of_the_artwork_stay_curves() -> None:
    """Artwork is enlarged without corners: its Béziers are in the file."""
    raw = pdfium.raw
    page = pdfium.PdfDocument(PDF)[0]
    segments = [
        raw.FPDFPathSegment_GetType(raw.FPDFPath_GetPathSegment(item, index))
        for item in (found.raw for found in page.get_objects(max_depth=8))
        if raw.FPDFPageObj_GetType(item) == raw.FPDF_PAGEOBJ_PATH
        for index in range(raw.FPDFPath_CountSegments(item))
    ]
    assert raw.FPDF_SEGMENT_BEZIERTO in segments


def test_text_that_leaves_the_piece_is_clipped() -> None:
    """A name that reaches past the bleed does not print on the neighbour."""
    long = MultiPolygon([box(-9.0, 12.0, 30.0, 14.0)])
    piece = replace(JOB.pieces[1], letterings=(replace(JOB.pieces[1].letterings[0], shape=long),))
    job = plain(replace(JOB, pieces=(JOB.pieces[0], piece)))
    left, bottom = 12.5, 120.0
    found = Window(print_pdf(job, quiet), (left - 1.9, bottom + 11, left + 40, bottom + 15))
    assert found.ink_bounds()[0] == pytest.approx(left - jobs.BLEED_MM, abs=0.05)


def test_a_sharp_corner_of_the_bleed_stays_off_the_neighbour() -> None:
    """The bleed of a long spike reaches at most one and a half times as far."""
    spike = Polygon([(0, 0), (30, 1), (0, 2)])
    piece: Piece = replace(JOB.pieces[1], outline=spike, letterings=())
    job = with_sheet(
        replace(JOB, pieces=(piece,)), placements=(Placement("L5-1", "front", 30, 60, 0, False),)
    )
    found = Window(print_pdf(job, quiet), (25, 55, 70, 67)).ink_bounds()
    assert found[2] <= 60 + 1.5 * jobs.BLEED_MM + 0.05
    assert found[3] - found[1] >= 2 + 2 * jobs.BLEED_MM - 0.1


def test_only_the_page_face_is_used_and_it_is_embedded() -> None:
    """No font that a printer would have to replace."""
    names = re.findall(rb"/BaseFont\s*/(\S+)", PDF)
    assert names
    assert all(re.fullmatch(rb"[A-Z]{6}\+Atkinson\S+", name) for name in names)
    assert PDF.count(b"/FontFile2") == len(names)


def test_bytes_are_the_same_when_made_again() -> None:
    """No clock and no random id in the file."""
    assert print_pdf(jobs.faced_job(), quiet) == PDF


def test_nothing_is_written_without_printed_sheets(tmp_path: Path) -> None:
    """Bare pieces have no print.pdf."""
    printpdf.write(jobs.bare_job(), tmp_path, quiet)
    assert list(tmp_path.iterdir()) == []


def test_every_printed_sheet_is_a_page(tmp_path: Path) -> None:
    """Boards are left out, progress counts the pages."""
    second: Sheet = replace(SHEET, id="face-002")
    seen: list[tuple[int, int]] = []
    job = replace(JOB, sheets=(SHEET, second, *JOB.sheets[1:]))
    printpdf.write(job, tmp_path, lambda done, total: seen.append((done, total)))
    assert seen == [(1, 2), (2, 2)]
    assert len(pdfium.PdfDocument((tmp_path / "print.pdf").read_bytes())) == 2


def test_a_picture_that_cannot_be_decoded_is_named() -> None:
    """A broken picture ends in a message, not in a trace."""
    broken = replace(
        JOB.template.artwork["back"], picture=RasterPicture(b"\x89PNG no", "png", (9, 9))
    )
    template = replace(JOB.template, artwork={"back": broken})
    with pytest.raises(OutputError, match="picture of the back cannot be decoded"):
        print_pdf(replace(JOB, template=template), quiet)


def test_a_placement_without_its_piece_is_refused() -> None:
    """Sheets and pieces that do not belong together never reach the printer."""
    with pytest.raises(OutputError, match="L5-1"):
        print_pdf(replace(JOB, pieces=JOB.pieces[:1]), quiet)


def test_the_worked_example_of_the_mirror_is_right() -> None:
    """The cut outline of a back is the front's turned over, point for point."""
    outline = affinity.scale(JOB.pieces[0].outline, -1, 1, origin=(0, 0))
    x0, y0, x1, y1 = outline.buffer(jobs.KERF_MM / 2, join_style="mitre").bounds
    expected = (135.6 + x0, 14 + y0, 135.6 + x1, 14 + y1)
    assert CUT["op-outer", "L2-1.back"] == pytest.approx(expected, abs=0.0001)
