"""What each customer is sent, and what their files are called."""

import csv
from dataclasses import replace
from io import StringIO
from pathlib import Path

import pytest

from namebatch.finding import hold
from namebatch.job import Job
from namebatch.names.row import Row
from namebatch.output import held
from namebatch.output.atomic import write_job
from namebatch.output.customers import customers_of, plain_name
from tests.output import doc_jobs
from tests.output.pages import nothing


@pytest.mark.parametrize(
    ("name", "plain"),
    [
        ("Mill House", "mill-house"),
        ("  Straße 7 / Hof ", "strasse-7-hof"),
        ("Ørsted & Søn", "rsted-s-n"),
        ("../../etc/passwd", "etc-passwd"),
        ("CON", "con"),
        ("ร้านว่าว", "order"),
        ("=HYPERLINK(1)", "hyperlink-1"),
        ("Rookery School (reception class and helpers)", "rookery-school-reception-class-and"),
        ("a" * 90, "a" * 40),
    ],
)
def test_names_of_files_are_plain(name: str, plain: str) -> None:
    """Any system takes them, and no name leads out of the folder."""
    assert plain_name(name) == plain


def two_orders(quantity: int = 1) -> Job:
    """Fenna and a held row for the Gulls, Quill for the Terns; the headers are the list's."""
    job = doc_jobs.kite_job("medal", ("Fenna", "Quill"), held=False)
    orders = ("Gulls", "Terns")
    pieces = tuple(replace(one, order=name) for one, name in zip(job.pieces, orders, strict=True))
    rows = tuple(replace(one, order=name) for one, name in zip(job.rows, orders, strict=True))
    finding = hold("no-glyph", "Line 9: a sign that no typeface has. Held.")
    waits = Row(9, {"name": "Zo", "group": "x"}, {"name": "Zo"}, quantity, (finding,), "Gulls")
    return replace(job, pieces=pieces, rows=(*rows, waits))


def test_a_job_is_told_apart_by_order() -> None:
    """Each order's part of the job has its rows and pieces, and counts that add up."""
    found = customers_of(two_orders())
    assert [one.stem for one in found] == ["001-gulls", "002-terns"]
    gulls, terns = (one.job for one in found)
    assert [row.line for row in gulls.rows] == [2, 9]
    assert [row.line for row in terns.rows] == [3]
    assert (gulls.totals.rows, gulls.totals.made, gulls.totals.held) == (2, 1, 1)
    assert (terns.totals.rows, terns.totals.made, terns.totals.held) == (1, 1, 0)


def test_nobody_is_told_apart_in_a_list_of_one_order() -> None:
    """Without orders, or with one, there is nobody to keep the list from."""
    job = doc_jobs.kite_job("medal")
    assert customers_of(job) == ()
    rows = tuple(replace(row, order="Gulls") for row in job.rows)
    pieces = tuple(replace(piece, order="Gulls") for piece in job.pieces)
    assert customers_of(replace(job, rows=rows, pieces=pieces)) == ()


def test_held_rows_have_a_table_for_each_order(tmp_path: Path) -> None:
    """The whole table stays; an order has one of its own if anything of it is held."""
    held.write(two_orders(), tmp_path, nothing)
    assert (tmp_path / held.FILE).is_file()
    assert [path.name for path in (tmp_path / held.FOLDER).iterdir()] == ["001-gulls.csv"]
    text = (tmp_path / held.FOLDER / "001-gulls.csv").read_text(encoding="utf-8-sig")
    rows = list(csv.reader(StringIO(text)))
    assert [row[0] for row in rows] == ["line", "9"]


def test_no_tables_where_nothing_is_held(tmp_path: Path) -> None:
    """There is nothing to send back."""
    job = two_orders()
    held.write(replace(job, rows=job.rows[:2]), tmp_path, nothing)
    assert not (tmp_path / held.FOLDER).exists()


def test_a_folder_keeps_no_paper_of_orders_that_are_gone(tmp_path: Path) -> None:
    """Made anew from a list of one order, the papers of the former orders leave with the job."""
    out = tmp_path / "job"
    first = {path.relative_to(out).as_posix() for path in write_job(two_orders(), out, False, said)}
    papers = {"customer-proof/001-gulls.pdf", "customer-proof/002-terns.pdf", "held/001-gulls.csv"}
    assert papers <= first
    assert "customer-proof.pdf" not in first
    one = doc_jobs.kite_job("medal", ("Fenna", "Quill"), held=False)
    second = {path.relative_to(out).as_posix() for path in write_job(one, out, True, said)}
    assert "customer-proof.pdf" in second
    assert not (out / "customer-proof").exists()
    assert not (out / "held").exists()


def said(label: str, done: int, total: int) -> None:
    """Progress that nobody watches."""
