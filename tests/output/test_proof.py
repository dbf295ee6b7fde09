"""The proof: every row made, in order, with what was found; every row held, with its reason."""

from dataclasses import replace
from pathlib import Path

import pytest
from shapely import affinity

from namebatch.finding import Finding, Severity
from namebatch.job import Job
from namebatch.output.docpage import BOTTOM, TOP, Block, flow, minutes
from namebatch.output.proof import proof_blocks, write
from namebatch.piece import BoardPart
from namebatch.pipeline import Settings, make_job, plan_job
from namebatch.resources import bundled
from tests.conftest import silent
from tests.output import doc_jobs, jobs
from tests.output.pages import Pages, nothing, read


def _proof(job: Job, folder: Path) -> Pages:
    """Written and read back."""
    write(job, folder, nothing)
    return read(folder / "proof.pdf")


def test_counts_add_up_in_sight(tmp_path: Path) -> None:
    """The head says lines in = made + held, and says it again above the lines not made."""
    text = _proof(doc_jobs.kite_job("tag"), tmp_path).text
    assert "15 lines in = 12 made + 3 held" in text
    assert "15 in = 12 made + 3 held" in text
    assert "Kite Day bag tag, two faces" in text
    assert "saltmarsh-helpers.csv" in text


@pytest.mark.parametrize("kind", ["tag", "winder", "medal"])
def test_every_row_stands_in_list_order(kind: str, tmp_path: Path) -> None:
    """Line number and name of every row that was made follow each other as in the list."""
    job = doc_jobs.kite_job(kind)
    text = _proof(job, tmp_path).text
    at = 0
    for piece in job.pieces:
        at = text.index(f"Line {piece.line} ", at) + 1
        assert piece.text["name"] in text[at:]


def test_measures_are_told(tmp_path: Path) -> None:
    """Size, letters, narrowest place, typeface, bridges, quantity: all figures of a piece."""
    job = doc_jobs.kite_job("winder")
    text = _proof(job, tmp_path).text
    width, height = job.pieces[0].size_mm
    assert f"{width:.1f} × {height:.1f} mm" in text
    for words in ("12.6 mm", "1.82 mm", "2.00 mm", "Pacifico", "Bridges", "× 3", "× 1"):
        assert words in text


def test_a_board_of_its_own_has_its_own_measures(tmp_path: Path) -> None:
    """Where board and print differ, the narrowest place of either is told, with its limit."""
    job = doc_jobs.kite_job("tag", ("Fenna",))
    piece = job.pieces[0]
    proof = replace(piece.proof, narrowest_mm=2.5, required_mm=1.5)
    board = BoardPart(affinity.scale(piece.outline, 0.9, 0.9), proof)
    text = _proof(replace(job, pieces=(replace(piece, board=board),)), tmp_path).text
    assert "Narrowest 4.40 mm" in text
    assert "Must have 2.00 mm" in text
    assert "Board neck 2.50 mm" in text
    assert "Board needs 1.50 mm" in text
    wide, tall = (0.9 * side for side in piece.size_mm)
    assert f"Board {wide:.1f} × {tall:.1f} mm" in text
    assert "Board neck" not in _proof(job, tmp_path).text


def test_findings_are_told_in_words(tmp_path: Path) -> None:
    """Warnings and notes of a row stand with it; the head names the lines to look at."""
    text = _proof(doc_jobs.kite_job("tag"), tmp_path).text
    assert "Look at line 7 before material is spent." in text
    assert "Line 7: the narrowest place is 1.82 mm" in text
    assert "Line 5: two blanks in a row became one." in text


def test_held_rows_have_line_values_and_reason(tmp_path: Path) -> None:
    """Nothing that was not made is missing, and an empty cell is said to be empty."""
    text = _proof(doc_jobs.kite_job("medal"), tmp_path).text
    assert text.index("Not made") < text.index("902")
    for words in (
        "902",
        "903",
        "904",
        "name: Bartholomew-Maximilian",
        "fits only at 2.1 mm",
        "circus tent",
        "name: (empty)",
        "group: <i>none</i>",
    ):
        assert words in text


def test_nothing_held_is_said(tmp_path: Path) -> None:
    """A list that was made whole says so."""
    text = _proof(doc_jobs.kite_job("tag", held=False), tmp_path).text
    assert "every line of the list was made" in text


def test_nothing_made_is_still_a_proof(tmp_path: Path) -> None:
    """A list of which every row is held gives a proof with the reasons."""
    job = jobs.faced_job()
    held = tuple(row for row in job.rows if row.held)
    totals = replace(job.totals, rows=1, made=0, held=1, pieces=0, sheets=0, boards=0)
    job = replace(job, rows=held, pieces=(), sheets=(), totals=totals)
    assert "the quantity is" in _proof(job, tmp_path).text


def test_hostile_names_do_no_harm(tmp_path: Path) -> None:
    """Markup, PDF operators, very long names, other scripts: words on a page, nothing else."""
    job = doc_jobs.kite_job("tag", doc_jobs.HOSTILE)
    pages = _proof(job, tmp_path)
    assert "<script>alert(1)</script>" in pages.text
    assert "]]> --> ${x} \\) Tj" in pages.text
    assert all(0.01 < ink < 0.5 for ink in pages.ink)
    for line in range(2, 2 + len(doc_jobs.HOSTILE)):
        assert f"Line {line} " in pages.text


def test_very_long_findings_and_values_stay_on_the_page(tmp_path: Path) -> None:
    """Long reasons wrap and long lists of values end; the page count stays sane."""
    job = jobs.faced_job()
    long = Finding("long", Severity.HOLD, "Line 3: " + "a reason that goes on " * 60)
    values = {f"column {i}": "x" * 500 for i in range(40)}
    rows = tuple(
        replace(row, values=values, findings=(long,) * 3) if row.held else row for row in job.rows
    )
    assert len(_proof(replace(job, rows=rows), tmp_path).texts) <= 3


def test_pages_are_a4_and_numbered(tmp_path: Path) -> None:
    """Every page is A4 (ISO 216: 210 × 297 mm) and says which of how many it is."""
    pages = _proof(doc_jobs.kite_job("medal"), tmp_path)
    total = len(pages.texts)
    assert total > 1
    for number, (text, size) in enumerate(zip(pages.texts, pages.sizes, strict=True), start=1):
        assert f"page {number} of {total}" in text
        assert size == pytest.approx((595.276, 841.890), abs=0.01)


def test_same_job_same_bytes(tmp_path: Path) -> None:
    """No clock, no chance: the file is the same when it is made again."""
    first, second = tmp_path / "a", tmp_path / "b"
    for folder in (first, second):
        folder.mkdir()
        write(doc_jobs.kite_job("tag", doc_jobs.HOSTILE), folder, nothing)
    assert (first / "proof.pdf").read_bytes() == (second / "proof.pdf").read_bytes()


def test_artwork_is_kept_once(tmp_path: Path) -> None:
    """The file has one form for the picture, whatever the number of pieces and faces."""
    write(doc_jobs.kite_job("tag"), tmp_path, nothing)
    data = (tmp_path / "proof.pdf").read_bytes()
    assert data.count(b"/Subtype /Form") == 1


def test_progress_ends_at_the_last_page(tmp_path: Path) -> None:
    """Progress counts pages up to the number that the file has."""
    seen: list[tuple[int, int]] = []
    write(doc_jobs.kite_job("medal"), tmp_path, lambda *step: seen.append(step))
    total = len(read(tmp_path / "proof.pdf").texts)
    assert seen == [(n, total) for n in range(1, total + 1)]


def _block(height: float, **more: object) -> Block:
    """A block that draws nothing."""
    return Block(height, lambda canvas, x, y: None, **more)  # type: ignore[arg-type]


def test_flow_keeps_together_and_repeats_heads() -> None:
    """A heading moves with what follows it; a table's head comes again on the next page."""
    head, row, title = _block(10, repeat=True), _block(40), _block(20, keep=60)
    pages = flow([title, head, row, row, row], room=120)
    assert pages == [[title, head, row, row], [head, row]]
    assert flow([row, row, title], room=120) == [[row, row], [title]]
    assert flow([_block(500), row], room=120)[1] == [row]


def test_a_repeated_head_ends_with_its_section() -> None:
    """A section that begins on a new page does not show the head of the one before."""
    head, row, title = _block(10, repeat=True), _block(40), _block(20, new_page=True)
    assert flow([head, row, title, row, row, row], room=120)[1:] == [[title, row, row], [row]]


@pytest.mark.parametrize(
    ("seconds", "words"),
    [(0, "0 s"), (40, "40 s"), (61, "1 min"), (3540, "59 min"), (7500, "2 h 05 min")],
)
def test_minutes(seconds: float, words: str) -> None:
    """Times are told as people say them."""
    assert minutes(seconds) == words


@pytest.mark.parametrize("template", ["bag-tag", "key-fob", "ornament", "place-card"])
def test_pages_are_filled(template: str) -> None:
    """Where pictures a little smaller bring one more row on the page, they are that small."""
    settings = Settings(template)
    plan = plan_job(bundled("examples") / f"{template}.csv", settings)
    pages = flow(proof_blocks(make_job(plan, silent)))
    left = [TOP - BOTTOM - sum(block.height for block in page) for page in pages[1:-1]]
    assert min(left) < 0.1 * max(block.height for block in pages[1])


def test_nothing_held_takes_no_page(tmp_path: Path) -> None:
    """That every line was made is said on the first page, without a section of its own."""
    pages = _proof(doc_jobs.kite_job("tag", held=False), tmp_path)
    assert "Nothing is held: every line of the list was made." in pages.texts[0]
    assert "Not made" not in pages.text
