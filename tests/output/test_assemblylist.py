"""The assembly list of the work card: orders, spares, held rows, names of any script."""

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from namebatch.finding import hold
from namebatch.job import Job
from namebatch.names.row import Row
from namebatch.output import lettering
from namebatch.output.assemblylist import assembly_list
from namebatch.output.docpage import TOP, Document, flow, write_pages
from tests.output import doc_jobs
from tests.output.pages import nothing, read


def listed(job: Job, folder: Path) -> str:
    """The list's text as it is read back."""
    path = folder / "list.pdf"
    pages = flow(assembly_list(job))
    write_pages(path, Document("Work card", "Tags", "x.csv"), pages, lambda done: nothing(done, 1))
    return read(path).text


def held_row(line: int, order: str = "", quantity: int = 1) -> Row:
    """A row that is not made."""
    finding = hold("no-glyph", f"Line {line}: a sign that no typeface has. Held.")
    return Row(line, {"name": "Zo"}, {"name": "Zo"}, quantity, (finding,), order)


def ordered(job: Job, order: str, spares: int = 0) -> Job:
    """The job as one order, each piece with so many spares."""
    pieces = tuple(
        replace(piece, order=order, copies=piece.copies + spares, spares=spares)
        for piece in job.pieces
    )
    return replace(job, pieces=pieces)


def test_held_rows_stand_with_their_order(tmp_path: Path) -> None:
    """Who puts an order together sees what of it is still to come, orders of that alone too."""
    job = ordered(doc_jobs.kite_job("medal", ("Fenna", "Quill"), held=False), "1041 Gulls")
    job = replace(job, rows=(*job.rows, held_row(8, "1041 Gulls", 2), held_row(9, "1042 Terns")))
    text = listed(job, tmp_path)
    gulls, terns = text.split("1042 Terns")
    assert "2 of 4 pieces" in gulls
    assert gulls.index("L3-1 Quill") < gulls.index("Line 8 Zo held: waits for an answer")
    assert "0 of 1 piece" in terns
    assert "Line 9 Zo held: waits for an answer" in terns


def test_held_rows_end_a_list_without_orders(tmp_path: Path) -> None:
    """Rows of the list = rows ticked + rows that wait, on this page too."""
    text = listed(doc_jobs.kite_job("medal", ("Fenna",)), tmp_path)
    assert text.index("L2-1") < text.index("Line 902") < text.index("Line 904")
    assert text.count("held: waits for an answer") == 3
    assert "Line 904 (empty) held" in text


def test_spares_are_told_apart_from_the_order(tmp_path: Path) -> None:
    """An order counts the pieces that go out, as its label does."""
    job = ordered(doc_jobs.kite_job("medal", ("Fenna", "Quill", "Ivo"), held=False), "A", spares=1)
    text = listed(job, tmp_path)
    assert "5 pieces and 3 spares" in text
    assert "8 pieces" not in text


def test_an_orders_name_stands_above_its_first_piece(tmp_path: Path) -> None:
    """However the pages fall, no order's name is left alone at a page's foot."""
    job = doc_jobs.kite_job("medal", tuple(f"Kite {k}" for k in range(120)), held=False)
    pieces = tuple(replace(piece, order=f"order {piece.line // 2}") for piece in job.pieces)
    job = replace(job, pieces=pieces)
    for lower in range(0, 48, 4):
        for page in flow(assembly_list(job), room=TOP / 2 - lower):
            assert not page[-1].leads


@pytest.mark.parametrize("name", ["שירה לוי", "محمد الأمين"])
def test_names_from_right_to_left_do_not_turn_the_line(
    name: str, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """The name comes first and the field after it, whichever way the name is written."""
    job = doc_jobs.kite_job("medal", (name,), held=False)
    piece = replace(job.pieces[0], text={"name": name, "pitch": "Marsh pitch"})
    drawn: list[str] = []

    def noted(canvas: Any, x: float, y: float, text: str, *rest: Any) -> float:
        drawn.append(text)
        return lettering.draw_text(canvas, x, y, text, *rest)

    monkeypatch.setattr("namebatch.output.assemblylist.draw_text", noted)
    listed(replace(job, pieces=(piece,)), tmp_path)
    (line,) = [text for text in drawn if name in text]
    assert line == f"{lettering.apart(name)} · Marsh pitch"
