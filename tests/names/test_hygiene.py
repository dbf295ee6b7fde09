"""A list as it comes: every kind of slip in one file, in every encoding that can hold it."""

from pathlib import Path

import pytest

from namebatch.names import read_pasted
from tests.names.helpers import codes, read

LINES = {
    "Ada\u00a0Teasel": ["tidied"],
    "Bruna  Hay": ["tidied"],
    "O’Samphire": [],
    "D`Arc": ["tidied"],
    "Tom (2x)": ["order-in-name"],
    "N/A": ["placeholder"],
    "test": ["placeholder-perhaps"],
    "TBC": ["placeholder"],
    "CEDAR HAY": ["name-in-capitals"],
    "elke hay": ["name-in-small-letters"],
    "ada@kite.example": ["not-a-name"],
    "Mary\u00adLou Fescue": ["tidied"],
}
BEYOND_WESTERN = {
    "\u0410nna Marram": ["look-alike-letter"],
    "Wren\u202e Hay": ["unusable-character"],
    "Dunlin\u200b Hay": ["tidied"],
    "Z\u0301\u0300\u0302\u0303\u0304oë": ["tidied", "marks-flood"],
    "علی\u200cرضا": [],
    "\ufffdves": ["unusable-character"],
}


@pytest.mark.parametrize(
    ("codec", "mark"),
    [
        ("utf-8", b""),
        ("utf-8", b"\xef\xbb\xbf"),
        ("utf-16-le", b"\xff\xfe"),
        ("utf-16-be", b"\xfe\xff"),
        ("utf-16-le", b""),
    ],
)
@pytest.mark.parametrize("ending", ["\r\n", "\n"])
def test_every_slip_in_every_encoding(tmp_path: Path, codec: str, mark: bytes, ending: str) -> None:
    """Each slip is told on its own line, however the file is stored, and no other line is."""
    lines = {**LINES, **BEYOND_WESTERN}
    names = read(tmp_path, mark + ending.join(["name", *lines, ""]).encode(codec))
    assert [codes(row.findings) for row in names.rows] == list(lines.values())
    for row in names.rows:
        assert all(found.message.startswith(f"Line {row.line}") for found in row.findings)


def test_in_a_western_code_page(tmp_path: Path) -> None:
    """No-break spaces, curly apostrophes and soft hyphens of Windows-1252 are told as well."""
    names = read(tmp_path, "\n".join(["name", *LINES]).encode("cp1252"))
    told = [
        [code for code in codes(row.findings) if code != "letters-guessed"] for row in names.rows
    ]
    assert told == list(LINES.values())


def test_pasted() -> None:
    """Pasted text is looked at like a file."""
    lines = {**LINES, **BEYOND_WESTERN}
    names = read_pasted("\n".join(lines), ["name"])
    assert [codes(row.findings) for row in names.rows] == list(lines.values())


def test_clean_lists_stay_quiet(tmp_path: Path) -> None:
    """Names as people write them, in many scripts, have no finding at all."""
    lines = (
        "Marlo Teasel\nZoë Glasswort\nŁucja Sandreed\nNguyễn Thị Sậy\nسلمى القصب\nमीरा सरकंडा\n"
        "ใบบัว เนินทราย\nנועה שחף\nΘάλεια Αλμύρα\nТамара Камыш\nÁsdís Lymegrass\n"
        "Idris Curlew-Thrift\nBo\nJy\nEluned ap Rhys\nvan der Aa\n"
        "山田 太郎\n김하늘\nნინო\nՆունե\nJ. R. Hay\nMcTeasel\n"
        "Marram & Hay\nAda III\nMª Luz\n"
    )
    names = read(tmp_path, f"name\n{lines}")
    assert names.findings == ()
    assert [row.findings for row in names.rows] == [()] * lines.count("\n")
