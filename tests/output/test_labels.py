"""Labels to pack by: one an order, several for a large one, one for a job without orders."""

import re
from dataclasses import replace
from pathlib import Path

import numpy as np
import pypdfium2 as pdfium
import pytest

from namebatch.finding import hold
from namebatch.job import Job
from namebatch.names.row import Row
from namebatch.output.labels import FILE, labels_of, write
from namebatch.output.lettering import MM
from tests.output import doc_jobs
from tests.output.pages import Pages, nothing, read


def labels(job: Job, folder: Path) -> Pages:
    """Written and read back."""
    write(job, folder, nothing)
    return read(folder / FILE)


def ordered(*sizes: int, copies: int = 1, spares: int = 0) -> Job:
    """A job with orders of so many rows, mixed in the list."""
    names = tuple(f"Kite {n}" for n in range(sum(sizes)))
    job = doc_jobs.kite_job("medal", names, held=False)
    whose = [f"order {i + 1}" for i, size in enumerate(sizes) for _ in range(size)]
    pieces = tuple(
        replace(piece, order=whose[i], copies=copies + spares, spares=spares)
        for i, piece in enumerate(job.pieces)
    )
    return replace(job, pieces=pieces)


def test_every_order_has_its_label(tmp_path: Path) -> None:
    """Order, count, names, first and last id, a box: all that is needed at the packing table."""
    text = labels(ordered(3, 1), tmp_path).text
    first, second = text.split("order 2")
    for words in ("order 1", "3 pieces", "Kite 0, Kite 1, Kite 2", "L2-1 … L4-1", "packed"):
        assert words in first
    for words in ("1 piece ", "Kite 3", "L5-1", "packed"):
        assert words in second
    assert "…" not in second.split("L5-1")[0]


def test_ids_leave_out_what_others_ordered(tmp_path: Path) -> None:
    """Pieces that do not stand one below the other in the list are named one by one."""
    job = ordered(1, 1, 2, 1)
    whose = ("Gulls", "Terns", "Gulls", "Gulls", "Terns")
    pieces = tuple(replace(p, order=o) for p, o in zip(job.pieces, whose, strict=True))
    first, second = labels_of(replace(job, pieces=pieces))
    assert first.ids == "L2-1, L4-1 … L5-1"
    assert second.ids == "L3-1, L6-1"
    many = ordered(*[1] * 40)
    mixed = tuple(replace(p, order=f"o{n % 2}") for n, p in enumerate(many.pieces))
    told = labels(replace(many, pieces=mixed), tmp_path).text
    assert re.search(r"L2-1, L4-1, .* and \d+ more", told)


def test_long_names_are_whole_where_there_is_room(tmp_path: Path) -> None:
    """A name is cut off only where the lines below are needed for others."""
    long = "Featherstonehaugh-Cholmondeley-Worthing of Great Saltmarsh-under-Reed"
    job = ordered(4)
    pieces = tuple(replace(one, text={"name": long}) for one in job.pieces)
    text = " ".join(labels(replace(job, pieces=pieces[:1]), tmp_path).text.split())
    assert long.replace("-", "") in text.replace("- ", "").replace("-", "")
    many = labels(replace(ordered(20), pieces=tuple(pieces) * 5), tmp_path).text
    assert "…" in many.split("L2-1")[0]


def test_every_piece_is_on_one_label() -> None:
    """Labels of an order share its pieces: none twice, none left out, spares none of them."""
    job = ordered(70, 24, 25, copies=1, spares=1)
    ids = [
        f"L{part.piece.line}-{copy}"
        for label in labels_of(job)
        for part in label.parts
        for copy in part.copies
    ]
    assert sorted(ids) == sorted(piece.ids[0] for piece in job.pieces)
    counts = [(label.title, label.number, label.total, label.count) for label in labels_of(job)]
    assert counts == [
        ("order 1", 1, 3, 23),
        ("order 1", 2, 3, 23),
        ("order 1", 3, 3, 24),
        ("order 2", 1, 1, 24),
        ("order 3", 1, 2, 12),
        ("order 3", 2, 2, 13),
    ]


def held_row(line: int, order: str, quantity: int = 1) -> Row:
    """A row that is not made."""
    finding = hold("no-glyph", f"Line {line}: a sign that no typeface has. Held.")
    return Row(line, {"name": "Zo"}, {"name": "Zo"}, quantity, (finding,), order)


def test_an_order_with_a_held_row_does_not_look_complete(tmp_path: Path) -> None:
    """Who packs sees that a piece is still to come, of how many, and which line it is."""
    job = ordered(1, 2)
    job = replace(job, rows=(*job.rows, held_row(9, "order 1"), held_row(11, "order 2", 0)))
    text = labels(job, tmp_path).text
    first, second = text.split("order 2")
    assert "1 of 2 pieces" in first
    assert "Not complete: line 9 waits for an answer" in first
    assert "2 pieces" in second  # how many more nobody knows: its quantity is what is wrong
    assert "Not complete: line 11 waits for an answer" in second


def test_an_order_of_held_rows_alone_has_a_label(tmp_path: Path) -> None:
    """It is not forgotten because nothing of it could be made; nothing is there to be ticked."""
    job = ordered(1)
    rows = tuple(held_row(line, "order 7", 2) for line in (3, 4, 5, 6, 8))
    text = labels(replace(job, rows=(*job.rows, *rows)), tmp_path).text
    last = text[text.index("order 7") :]
    assert "0 of 10 pieces" in last
    assert "Not complete: lines 3, 4, 5 and 2 more wait for an answer" in last
    assert "packed" not in last


def test_one_row_may_go_over_several_labels(tmp_path: Path) -> None:
    """Thirty of one name are two labels, each with its share of the copies."""
    job = ordered(1, copies=30)
    assert [label.ids for label in labels_of(job)] == ["L2-1 … L2-15", "L2-16 … L2-30"]
    text = labels(job, tmp_path).text
    assert "1 of 2" in text
    assert "2 of 2" in text
    assert text.count("Kite 0 × 15") == 2


def test_spares_are_named_apart(tmp_path: Path) -> None:
    """Who packs sees what is more than was ordered, and that it does not count."""
    text = labels(ordered(2, copies=2, spares=1), tmp_path).text
    assert "4 pieces" in text
    assert "Spares apart: Kite 0, Kite 1" in text
    assert "L2-1 … L3-2" in text


@pytest.mark.parametrize("order", ["order 1", ""])
def test_spares_alone_have_a_label(order: str, tmp_path: Path) -> None:
    """Spares made again later, none of them ordered, are packed as spares."""
    job = ordered(1)
    piece = replace(job.pieces[0], copies=1, spares=1, only=(2,), order=order)
    text = labels(replace(job, pieces=(piece,)), tmp_path).text
    assert "0 pieces" in text
    assert "Spares apart: Kite 0" in text
    assert "L2-2" in text


def test_what_has_no_room_is_counted(tmp_path: Path) -> None:
    """Names that a label cannot hold are told as a number: those shown and it are all."""
    job = ordered(24)
    pieces = tuple(
        replace(piece, text={"name": f"Hippolyta Glasswort the {k}th"})
        for k, piece in enumerate(job.pieces)
    )
    text = labels(replace(job, pieces=pieces), tmp_path).text
    more = re.search(r"and (\d+) more", text)
    assert more is not None
    assert text.count("Hippolyta") + int(more[1]) == 24


def test_a_list_without_orders_has_one_label(tmp_path: Path) -> None:
    """The whole job is one parcel, named as the template."""
    job = doc_jobs.kite_job("medal", tuple(f"Kite {n}" for n in range(80)))
    (label,) = labels_of(job)
    assert (label.title, label.total, label.count) == ("Kite Day medal", 1, 82)
    text = labels(job, tmp_path).text
    assert "82 pieces" in text
    assert "Not complete: lines 902, 903, 904 wait for an answer" in text


def test_pieces_without_an_order_come_last() -> None:
    """A row whose order cell is empty is packed too."""
    job = ordered(1, 1, 1)
    pieces = (replace(job.pieces[0], order=""), *job.pieces[1:])
    titles = [label.title for label in labels_of(replace(job, pieces=pieces))]
    assert titles == ["order 2", "order 3", "Without an order"]


def test_nothing_made_no_labels(tmp_path: Path) -> None:
    """Nothing is packed when every row is held."""
    write(replace(ordered(1), pieces=()), tmp_path, nothing)
    assert not (tmp_path / FILE).exists()


@pytest.mark.parametrize(("orders", "pages"), [(1, 1), (21, 1), (22, 2), (60, 3)])
def test_pages(orders: int, pages: int, tmp_path: Path) -> None:
    """Three by seven on a page."""
    assert len(labels(ordered(*[1] * orders), tmp_path).texts) == pages


def test_cut_marks_bound_equal_cells(tmp_path: Path) -> None:
    """Marks stand a third of the width and 33 mm apart, and words keep off the lines between."""
    write(ordered(*[2] * 6), tmp_path, nothing)
    page = pdfium.PdfDocument(str(tmp_path / FILE))[0]
    dots = 10
    grey = page.render(scale=dots / MM).to_numpy()[:, :, :3].min(axis=2)
    dark = grey < 200
    columns = [round((16 + k * 178 / 3) * dots) for k in range(4)]
    marks = np.flatnonzero(dark[:, columns[1] - 2 : columns[1] + 3].any(axis=1))
    groups = np.split(marks, np.flatnonzero(np.diff(marks) > 5) + 1)
    middles = [float(group.mean()) / dots for group in groups if len(group) > 2 * dots]
    assert np.diff(middles) == pytest.approx([33.0, 33.0], abs=0.2)
    for column in columns:
        assert dark[:, column - 2 : column + 3].any()
    inside = dark[int((middles[0] + 2) * dots) : int((middles[1] - 2) * dots)]
    for column in columns[1:3]:
        assert not inside[:, column - 2 * dots : column + 2 * dots].any()


def test_letter_paper(tmp_path: Path) -> None:
    """On letter paper the cells keep their size, and as many stand on a page."""
    job = ordered(*[1] * 21)
    printer = replace(job.workshop.printer, sheet="letter")
    job = replace(job, workshop=replace(job.workshop, printer=printer))
    pages = labels(job, tmp_path)
    assert all(size == pytest.approx((611.97, 792.0), abs=0.1) for size in pages.sizes)
    assert [text.count("packed") for text in pages.texts] == [21 + 1]  # and in the head


def test_long_orders_and_any_script(tmp_path: Path) -> None:
    """An order's name as long as a sentence and names of all scripts stay in their cells."""
    job = doc_jobs.kite_job("medal", doc_jobs.HOSTILE, held=False)
    title = "The Very Long and Windy Salt Marsh Association of Kite Flyers and Line Winders"
    pieces = tuple(replace(piece, order=f"{title} {piece.line % 2}") for piece in job.pieces)
    pages = labels(replace(job, pieces=pieces), tmp_path)
    assert len(pages.texts) == 1
    assert "The Very Long and Windy" in pages.text


def test_the_same_job_gives_the_same_bytes(tmp_path: Path) -> None:
    """No clock, no random ids."""
    for name in ("one", "two"):
        (tmp_path / name).mkdir()
        write(ordered(3, 2), tmp_path / name, nothing)
    assert (tmp_path / "one" / FILE).read_bytes() == (tmp_path / "two" / FILE).read_bytes()
