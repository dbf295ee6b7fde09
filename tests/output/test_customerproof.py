"""The sheet for the customer: every piece, small, with boxes; what needs an answer apart."""

import re
from dataclasses import replace
from pathlib import Path

import numpy as np
import pypdfium2 as pdfium
import pytest
from shapely import affinity

from namebatch.finding import note, warn
from namebatch.job import Job
from namebatch.names.mend import Mend
from namebatch.names.mended import mended_row
from namebatch.names.row import Row
from namebatch.output.customercells import Grid
from namebatch.output.customergrid import grid_of
from namebatch.output.customerproof import FILE, FOLDER, write
from namebatch.output.lettering import MM
from namebatch.output.paper import A4
from namebatch.output.picture import plain_picture
from namebatch.template.model import Artwork
from tests.output import doc_jobs
from tests.output.pages import Pages, nothing, read

GREEN = (0x40, 0xA0, 0x40)


def proof(job: Job, folder: Path) -> Pages:
    """Written and read back."""
    write(job, folder, nothing)
    return read(folder / FILE)


def many(count: int, kind: str = "medal") -> Job:
    """A job of so many rows with nothing to look at."""
    names = tuple(f"{doc_jobs.NAMES[i % 12]} {i + 1}" for i in range(count))
    job = doc_jobs.kite_job(kind, names, held=False)
    rows = tuple(replace(row, findings=()) for row in job.rows)
    return replace(job, rows=rows)


def test_every_piece_stands_once_with_its_boxes(tmp_path: Path) -> None:
    """Line, name, quantity and two boxes for every row that was made, in list order."""
    job = doc_jobs.kite_job("medal")
    text = proof(job, tmp_path).text
    grid = text[text.index("Every piece") :]
    at = 0
    for piece in job.pieces:
        at = grid.index(f"Line {piece.line} ", at) + 1
    for piece in job.pieces:
        assert grid.count(" ".join(piece.text["name"].split())) == 1
    assert grid.count("right") == grid.count("wrong") == len(job.pieces)
    assert grid.count("× 3") == 1


def test_nothing_of_the_workshop_is_on_it(tmp_path: Path) -> None:
    """No measures, typefaces or codes of signs: they mean nothing to who ordered the pieces."""
    text = proof(doc_jobs.kite_job("tag"), tmp_path).text
    for words in ("Pacifico", "Narrowest", "narrowest", "1.82 mm", "U+", "Bridges", "board"):
        assert words not in text


def test_what_it_is_and_how_to_answer(tmp_path: Path) -> None:
    """Counts that add up, the list, a place to sign with the date left open, the names' care."""
    text = proof(doc_jobs.kite_job("tag"), tmp_path).text
    for words in (
        "15 lines in the list = 12 shown here + 3 that wait for an answer; 14 pieces to be made.",
        "saltmarsh-helpers.csv",
        "each piece 85 × 42 mm",
        "Tick every piece as right or wrong",
        "Checked by",
        "Date",
        "personal data",
    ):
        assert words in text


def test_spares_are_not_counted(tmp_path: Path) -> None:
    """The customer ordered so many; what the workshop makes more is its own."""
    job = many(3)
    pieces = tuple(replace(piece, copies=piece.copies + 4, spares=4) for piece in job.pieces)
    text = proof(replace(job, pieces=pieces), tmp_path).text
    assert "5 pieces to be made" in text
    assert not re.search(r"× [57]\b", text)


def test_what_needs_an_answer_stands_apart(tmp_path: Path) -> None:
    """Held rows and doubtful ones are numbered, with boxes; the number stands at the piece."""
    job = many(3)
    doubt = warn("remark-in-name", 'Line 3: "Fenna (left)" has a remark in it.')
    rows = (job.rows[0], replace(job.rows[1], findings=(doubt,)), job.rows[2])
    text = proof(replace(job, rows=rows), tmp_path).text
    points, grid = text.split("Every piece")
    assert '"Fenna (left)" has a remark in it.' in points
    assert "1 point" in points
    assert "right as shown" in points
    assert "change to:" in points
    assert "has a remark" not in grid
    assert "Line 3 1 " in grid
    held = proof(doc_jobs.kite_job("medal"), tmp_path).text
    assert "leave it out" in held
    assert "make it as:" in held
    assert held.index("circus tent") < held.index("Every piece")


def test_as_typed_stands_below_where_it_differs(tmp_path: Path) -> None:
    """Other letter case than in the list is seen, equal texts are not said twice."""
    job = many(2)
    first = replace(job.pieces[0], text={"name": "MARLO TEASEL 1"})
    text = proof(replace(job, pieces=(first, job.pieces[1])), tmp_path).text
    assert "MARLO TEASEL 1 typed: Marlo Teasel 1" in text
    assert text.count("typed:") == 1


def test_no_points_no_heading(tmp_path: Path) -> None:
    """A clean list has nothing to look at but the pieces."""
    text = proof(many(5), tmp_path).text
    assert "Please look at these" not in text
    assert "5 lines in the list, all shown here" in text


def test_the_heads_of_the_points_end_with_them(tmp_path: Path) -> None:
    """Pages of the grid do not carry the column heads of the list before it."""
    pages = proof(doc_jobs.kite_job("tag", tuple(f"Kite {i}" for i in range(120))), tmp_path)
    assert "Your answer" in pages.texts[0]
    assert len(pages.texts) > 2
    assert "Your answer" not in pages.texts[-1]


def test_small_pieces_use_the_page(tmp_path: Path) -> None:
    """Discs of 18 mm with capitals of 1 mm: shown larger, in columns, each page but the last full.

    Two columns of them, as names that can hardly be read asked for once, took nine pages.
    """
    job = many(120)
    pieces = tuple(
        replace(
            piece,
            outline=affinity.scale(piece.outline, 0.36, 0.36, origin=(0, 0)),
            letterings=tuple(
                replace(
                    one, height_mm=1.0, shape=affinity.scale(one.shape, 0.36, 0.36, origin=(0, 0))
                )
                for one in piece.letterings
            ),
        )
        for piece in job.pieces
    )
    job = replace(job, pieces=pieces)
    assert 1.1 <= grid_of(job, A4.room).scale <= 1.3  # capitals 1.3 mm, or a little less
    pages = proof(job, tmp_path)
    assert len(pages.texts) <= 4
    cells = [text.count("wrong") for text in pages.texts[1:-1]]
    assert min(cells) >= 36


@pytest.mark.parametrize(
    ("kind", "count", "pages"),
    [
        ("medal", 5, 1),
        ("medal", 60, 2),
        ("medal", 400, 10),
        ("tag", 60, 2),
        ("tag", 120, 3),
        ("winder", 60, 2),
    ],
)
def test_pages(kind: str, count: int, pages: int, tmp_path: Path) -> None:
    """A usual batch is a page or two, with two faces as well; a large one follows at that rate."""
    found = proof(many(count, kind), tmp_path)
    assert len(found.texts) == pages
    assert all(size == pytest.approx((595.28, 841.89), abs=0.02) for size in found.sizes)


def with_orders(job: Job, *orders: str) -> Job:
    """The job's rows shared among orders in turn, held rows too."""
    of = {row.line: orders[at % len(orders)] for at, row in enumerate(job.rows)}
    pieces = tuple(replace(piece, order=of[piece.line]) for piece in job.pieces)
    return replace(
        job,
        pieces=pieces,
        rows=tuple(replace(row, order=of[row.line]) for row in job.rows),
    )


def by_order(job: Job, folder: Path) -> dict[str, Pages]:
    """File → what a reader finds in it, of a list with several orders."""
    write(job, folder, nothing)
    assert not (folder / FILE).exists()
    return {path.name: read(path) for path in sorted((folder / FOLDER).iterdir())}


def test_every_order_has_a_proof_of_its_own(tmp_path: Path) -> None:
    """Numbers and names of the files follow the list; rows without an order come last."""
    job = with_orders(many(9), "Mühle & Co.", "", "جمعية")
    found = by_order(job, tmp_path)
    assert list(found) == ["001-muhle-co.pdf", "002-order.pdf", "003-without-an-order.pdf"]
    first = found["001-muhle-co.pdf"].text
    for words in (
        "Mühle & Co.",
        "Kite Day medal · from the list saltmarsh-helpers.csv",
        "3 lines in this order, all shown here; 3 pieces to be made.",
        "Line 2 ",
        "Line 5 ",
        "Line 8 ",
    ):
        assert words in first
    assert "Without an order" in found["003-without-an-order.pdf"].text
    assert "3 lines without an order, all shown" in found["003-without-an-order.pdf"].text
    assert "in this order" not in found["003-without-an-order.pdf"].text


def test_no_customer_sees_what_another_ordered(tmp_path: Path) -> None:
    """Names, held rows and findings of one order are on no paper of another."""
    job = with_orders(doc_jobs.kite_job("medal"), "Gulls", "Terns")
    almost = warn("almost-duplicate", 'Line 2: "Marlo Teasel" is nearly "Fenna" on line 3.')
    habit = warn("apostrophes-mixed", 'Apostrophes differ: "Fenna" on line 3.')
    rows = (replace(job.rows[0], findings=(almost,)), *job.rows[1:])
    job = replace(job, rows=rows, names=replace(job.names, findings=(habit,)))
    found = by_order(job, tmp_path)
    for row in job.rows:
        own, other = (
            found["001-gulls.pdf"].text,
            found["002-terns.pdf"].text,
        )[:: 1 if row.order == "Gulls" else -1]
        assert f"Line {row.line} " in own or row.held
        name = " ".join(row.values["name"].split())
        if name.isascii() and name:
            assert name in own
            assert name not in other
    gulls = found["001-gulls.pdf"].text
    assert "8 lines in this order = 6 shown here + 2 that wait for an answer" in gulls


def test_two_of_a_name_in_one_order_are_asked_about_there_alone(tmp_path: Path) -> None:
    """A name twice in one order is a point; once in each of two orders it is none."""
    job = many(4)
    rows = tuple(replace(row, fields={"name": "Ada"}, quantity=1) for row in job.rows)
    twice = with_orders(replace(job, rows=rows), "Gulls", "Gulls", "Gulls", "Terns")
    found = by_order(twice, tmp_path)
    assert "It stands in the list 3 times, on lines 2, 3, 4." in found["001-gulls.pdf"].text
    assert "Please look" not in found["002-terns.pdf"].text


def test_an_order_of_held_rows_alone_is_asked(tmp_path: Path) -> None:
    """It has a proof without a piece, with the points that are to be answered."""
    job = doc_jobs.kite_job("medal", ("Fenna",))
    rows = tuple(replace(row, order="Terns" if row.held else "Gulls") for row in job.rows)
    pieces = tuple(replace(piece, order="Gulls") for piece in job.pieces)
    found = by_order(replace(job, rows=rows, pieces=pieces), tmp_path)
    text = found["002-terns.pdf"].text
    assert "3 lines in this order = 0 shown here + 3 that wait for an answer" in text
    assert "Every piece" not in text


def test_one_order_is_one_file(tmp_path: Path) -> None:
    """A list of a single customer has the file that a list without orders has, with its name."""
    text = proof(with_orders(many(3), "Mill House"), tmp_path).text
    assert "Please check Mill House Kite Day medal · from the list" in text
    assert not (tmp_path / FOLDER).exists()


def test_long_names_of_orders_are_told_whole(tmp_path: Path) -> None:
    """Two lines of the heading take what a school calls itself."""
    name = "Saltmarsh School (reception class and helpers) c/o Mrs Annabel Featherington-Whitlow"
    assert name in proof(with_orders(many(3), name), tmp_path).text


def test_names_of_any_script_are_drawn(tmp_path: Path) -> None:
    """Arabic, Hebrew, Devanagari names, pictures and hostile text: drawn, nothing raised."""
    pages = proof(doc_jobs.kite_job("tag", doc_jobs.HOSTILE), tmp_path)
    assert all(share > 0.01 for share in pages.ink)


def green(job: Job) -> Job:
    """The job's print one flat colour."""
    square = doc_jobs._flat("#40a040", [(0, 0), (90, 0), (90, 90), (0, 90)])
    picture = replace(doc_jobs.scene(90, 90), shapes=(square,))
    art = {
        face: Artwork(face, picture, (-3.0, -3.0, 90.0, 90.0), "b1" * 32)
        for face in job.template.faces
    }
    return replace(job, template=replace(job.template, artwork=art))


@pytest.mark.parametrize("kind", ["tag", "medal"])
def test_colour_and_scale_are_true(
    kind: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The print's colour covers what the faces less their letters cover at the grid's scale."""
    job = green(own_backs(many(5, kind)))
    grids: list[Grid] = []

    def noted(job: Job, room: float, taken: float) -> Grid:
        grids.append(grid_of(job, room, taken))
        return grids[-1]

    monkeypatch.setattr("namebatch.output.customerproof.grid_of", noted)
    write(job, tmp_path, nothing)
    page = pdfium.PdfDocument(str(tmp_path / FILE))[0]
    dots_per_mm = 12
    pixels = page.render(scale=dots_per_mm / MM).to_numpy()[:, :, :3][:, :, ::-1]
    seen = np.all(np.abs(pixels.astype(int) - GREEN) <= 2, axis=2).sum() / dots_per_mm**2
    faces = sum(piece.outline.area * len(job.template.faces) for piece in job.pieces)
    ink = sum(one.shape.area for piece in job.pieces for one in piece.letterings)
    assert seen == pytest.approx((faces - ink) * grids[0].scale ** 2, rel=0.03)


def own_backs(job: Job) -> Job:
    """The job with backs that say something of the list that is not on the front."""
    pieces = tuple(replace(one, text={**one.text, "event": "Kite Day"}) for one in job.pieces)
    return replace(job, pieces=pieces)


def test_backs_are_shown_piece_by_piece_only_where_they_differ(tmp_path: Path) -> None:
    """Backs with fixed words alone, or their front's own words, are shown once."""
    alike = many(12, "tag")
    job = replace(alike, pieces=tuple(replace(piece, text={"name": "x"}) for piece in alike.pieces))
    assert not grid_of(alike, A4.room).backs
    assert "Front and back of line 2. All backs are the same." in proof(alike, tmp_path).text
    pieces = tuple(
        replace(
            piece,
            text={**piece.text, "event": piece.text["name"]},
            letterings=(
                piece.letterings[0],
                replace(piece.letterings[1], text=piece.letterings[0].text),
            ),
        )
        for piece in job.pieces
    )
    repeated = proof(replace(job, pieces=pieces), tmp_path).text
    assert "Every other back says the same as its front" in repeated
    alone = proof(replace(alike, pieces=alike.pieces[:1]), tmp_path).text
    assert "Front and back of line 2. Below, the front is shown alone." in alone
    differ = own_backs(alike)
    assert grid_of(differ, A4.room).backs
    assert "Front and back of" not in proof(differ, tmp_path).text


def test_the_back_is_shown_where_it_says_something() -> None:
    """A back without text is left out; with text it stands below a wide front."""
    job = doc_jobs.kite_job("tag")
    piece = job.pieces[0]
    front = tuple(one for one in piece.letterings if one.face == "front")
    both = plain_picture(job, piece, 0.2)
    alone = plain_picture(job, replace(piece, letterings=front), 0.2)
    assert [face.face for face in both.faces] == ["front", "back"]
    assert [face.face for face in alone.faces] == ["front"]
    assert both.size_mm[0] == pytest.approx(alone.size_mm[0])
    assert both.size_mm[1] == pytest.approx(2 * alone.size_mm[1] - 0.4 + 2.0)
    assert not any(face.measure or face.bridges for face in both.faces)


def test_one_giant_does_not_make_the_others_small(tmp_path: Path) -> None:
    """A piece far larger than the rest is shown smaller than they are, and that is said."""
    job = many(30)
    last = job.pieces[-1]
    giant = replace(last, outline=affinity.scale(last.outline, 3, 3, origin=(0, 0)), letterings=())
    with_giant = replace(job, pieces=(*job.pieces[:-1], giant))
    assert grid_of(with_giant, A4.room) == grid_of(job, A4.room)
    assert proof(with_giant, tmp_path).text.count("shown smaller") == 1


def test_letter_paper_where_the_workshop_prints_on_it(tmp_path: Path) -> None:
    """The page has the workshop's size and nothing runs off its lower edge."""
    job = many(60)
    printer = replace(job.workshop.printer, sheet="letter")
    job = replace(job, workshop=replace(job.workshop, printer=printer))
    pages = proof(job, tmp_path)
    assert all(size == pytest.approx((611.97, 792.0), abs=0.1) for size in pages.sizes)
    assert sum(text.count("wrong") for text in pages.texts) == 60 + 2


def test_the_same_job_gives_the_same_bytes(tmp_path: Path) -> None:
    """No clock, no random ids."""
    for name in ("one", "two"):
        (tmp_path / name).mkdir()
        write(doc_jobs.kite_job("medal"), tmp_path / name, nothing)
    assert (tmp_path / "one" / FILE).read_bytes() == (tmp_path / "two" / FILE).read_bytes()


def test_a_job_without_a_piece_still_asks(tmp_path: Path) -> None:
    """All held: the points are there, no grid."""
    job = doc_jobs.kite_job("tag")
    held = tuple(row for row in job.rows if row.held)
    totals = replace(job.totals, rows=3, made=0, held=3, pieces=0)
    text = proof(replace(job, rows=held, pieces=(), totals=totals), tmp_path).text
    assert "3 lines in the list = 0 shown here + 3 that wait" in text
    assert "3 points" in text
    assert "Every piece" not in text


def test_a_remake_is_not_shown_again(tmp_path: Path) -> None:
    """Spoiled pieces are made again as they were: there is nothing new to answer."""
    write(replace(many(2), again=("L2-1",)), tmp_path, nothing)
    assert not (tmp_path / FILE).exists()


def test_findings_of_a_row_without_words_are_no_point(tmp_path: Path) -> None:
    """A note that spaces were tidied is nothing to answer."""
    job = many(2)
    tidied = Row(2, {"name": "x"}, {"name": "x"}, 1, (note("tidied", "Line 2: tidied."),))
    text = proof(replace(job, rows=(tidied, job.rows[1])), tmp_path).text
    assert "Please look" not in text


def test_lines_left_out_on_purpose_wait_for_no_answer(tmp_path: Path) -> None:
    """They are counted apart from those that are asked about, and are no point."""
    job = doc_jobs.kite_job("tag")
    held = next(row for row in job.rows if row.held)
    out = mended_row(replace(held, findings=()), Mend(held="left out"), {})
    rows = tuple(out if row is held else row for row in job.rows)
    text = " ".join(proof(replace(job, rows=rows), tmp_path).text.split())
    assert "12 shown here + 2 that wait for an answer + 1 left out on purpose" in text
    assert "on purpose" not in text.partition("Please look at these")[2]
