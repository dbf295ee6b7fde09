"""What a list is told on the terminal, in the table of held rows and on paper."""

import re
from collections.abc import Callable
from pathlib import Path

import pypdfium2 as pdfium
import pytest

from namebatch.output.atomic import write_job
from namebatch.pipeline import Settings, make_job, plan_job
from namebatch.summary import check_and_tell, make_and_tell
from tests.conftest import silent
from tests.names.formats.test_spreadsheets import xlsx_bytes
from tests.template.folders import BASE, HEAD, TEXT, written

TOML = HEAD.replace('["front", "back"]', '["front"]') + BASE + TEXT
PLACES = re.compile(r"\b[Rr]ows?\b")


def _texts(path: Path) -> str:
    with pdfium.PdfDocument(path) as document:
        return "\n".join(page.get_textpage().get_text_range() for page in document)


def test_a_list_has_lines_everywhere(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """One word for its places, in a spreadsheet too: no report speaks of rows."""
    template = str(written(tmp_path / "t", TOML))
    rows: list[list[str | int]] = [
        ["name", "quantity"],
        ["Marlo", 1],
        ["TBC", 1],
        ["", 2],
        ["test", 1],
        ["Bruna", 0],
        ["Ida", 2.5],  # type: ignore[list-item]
        ["%", 1],
        ["", ""],
        ["Bruna\u20e3\u0301\u0302\u0303\u0304", 1],
        ["marlo", 1],
        ["Bartholomew-Maximilian Glasswort of the Outer Marsh and the Inner Sands", 1],
        ["Otis 🎪", 1],
    ]
    path = tmp_path / "list.xlsx"
    path.write_bytes(xlsx_bytes(rows))
    check_and_tell(path, Settings(template), as_json=False)
    told = capsys.readouterr().out
    assert 'Line 3, "name": "TBC"' in told
    assert "delete the line" in told
    job = make_job(plan_job(path, Settings(template)), silent)
    assert job.totals.held >= 6
    write_job(job, tmp_path / "job", False, silent)
    held = (tmp_path / "job" / "held.csv").read_text(encoding="utf-8-sig")
    assert held.startswith("line,reason,")
    papers = _texts(tmp_path / "job" / "proof.pdf")
    assert "lines in" in papers
    assert "Line 2" in papers
    cards = _texts(tmp_path / "job" / "workcard.pdf")
    assert "lines in" in cards
    for text in (told, held, papers):
        assert not PLACES.search(text), PLACES.findall(text)


def test_a_guess_is_one_warning(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A list in an old code page: one warning, and a note only where letters depend on it."""
    template = str(written(tmp_path / "t", TOML))
    names = [f"Zoë {chr(97 + at % 26)}{chr(97 + at // 26)}" for at in range(60)]
    plain = [f"Ada {chr(97 + at % 26)}{chr(97 + at // 26)}" for at in range(60)]
    path = tmp_path / "list.csv"
    path.write_bytes("\n".join(["name", *plain, *names, ""]).encode("cp1252"))
    plan = plan_job(path, Settings(template))
    notes = [row.line for row in plan.names.rows for f in row.findings]
    assert notes == list(range(62, 122))
    check_and_tell(path, Settings(template), as_json=False)
    told = capsys.readouterr().out
    assert told.count("warn ") == 1
    assert "Lines 67–121: 55 more of the same kind as on line 66." in told
    assert len(told.splitlines()) < 12
    make_and_tell(path, Settings(template), tmp_path / "job", replace=False, strict=False)
    assert "Look:" not in capsys.readouterr().out


def test_the_same_warning_on_every_row_is_one_line(
    list_file: Callable[[str], Path], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """What is true of every line is said once, with the lines."""
    template = str(written(tmp_path / "t", TOML.replace("[10, 10, 60, 20]", "[10, 10, 6, 4]")))
    path = list_file("name\n" + "Bartholomew\n" * 50)
    assert check_and_tell(path, Settings(template), as_json=False) == 50
    told = capsys.readouterr().out
    assert len([line for line in told.splitlines() if line.strip().startswith("hold")]) == 1
    assert "Lines 2–51: " in told
