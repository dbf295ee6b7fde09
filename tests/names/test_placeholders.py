"""Words that stand where a name is missing."""

from pathlib import Path

import pytest

from namebatch.names.placeholders import _NEVER, _SELDOM
from namebatch.names.tidy import tidy
from tests.names.helpers import codes, finding, only_row, read


@pytest.mark.parametrize(
    "text",
    [
        *("N/A", "n/a", "n.a.", "#N/A", "TBC", "tba", "tbd", "xxx", "???", "-", "--", "…", "..."),
        *("unbekannt", "#REF!", "Vorname", "k. A.", "to be confirmed", "–", "'", "_"),
        *("N/A N/A", "tba tbd"),
    ],
)
def test_what_nobody_is_called_is_held(tmp_path: Path, text: str) -> None:
    """A certain placeholder holds its row, says so and says what to do."""
    row = only_row(read(tmp_path, f'name,team\n"{text}",Reds\n'))
    assert row.held
    message = finding(row.findings, "placeholder").message
    assert message.startswith(f'Line 2, "name": "{text}" says that something is missing')
    assert "or delete the line" in message


@pytest.mark.parametrize(
    "text",
    [
        *("test", "Test", "Na", "none", "null", "Gast", "Guest 1", "Kind 12"),
        *("plus one", "Plus 1", "Begleitung", "Guest of Marlo Teasel"),
    ],
)
def test_what_may_be_a_name_is_warned_of(tmp_path: Path, text: str) -> None:
    """A word that is somebody's name somewhere is made, with a warning."""
    row = only_row(read(tmp_path, f"name\n{text}\n"))
    assert [(found.code, found.severity) for found in row.findings] == [
        ("placeholder-perhaps", "warn")
    ]


@pytest.mark.parametrize("text", ["%", "&", "+", "#", "@", "§"])
def test_a_lone_sign_may_be_wanted(tmp_path: Path, text: str) -> None:
    """A single sign can be meant for a piece: it is made, with a warning that fits a sign."""
    row = only_row(read(tmp_path, f'name,team\n"{text}",Reds\n'))
    (told,) = row.findings
    assert (told.code, told.severity) == ("lone-sign", "warn")
    assert told.message.startswith(f'Line 2, "name": "{text}" is a sign alone')


@pytest.mark.parametrize(
    "text", ["-", "--", "...", "?", "/", "*", "***", ".", ",", "_", "%%", "##"]
)
def test_what_fills_a_gap_is_held(tmp_path: Path, text: str) -> None:
    """Dashes, dots, question marks and rows of signs stand for something missing."""
    row = only_row(read(tmp_path, f'name,team\n"{text}",Reds\n'))
    assert codes(row.findings) == ["placeholder"]


def test_beside_another_name_it_is_one(tmp_path: Path) -> None:
    """Frei and Test are surnames behind a first name."""
    names = read(
        tmp_path,
        "first name,last name\nAda,Frei\nTest,Test\n,\nBo,N/A\n",
        ("first name", "last name"),
    )
    assert [codes(row.findings) for row in names.rows] == [
        [],
        ["placeholder-perhaps"],
        ["placeholder"],
    ]


@pytest.mark.parametrize("text", ["Nan Tucket", "Nathan", "Tester Hay", "Nil", "Bar", "X Æ", "🎪"])
def test_names_are_names(tmp_path: Path, text: str) -> None:
    """Names that begin like a placeholder, usual names and pictures are let alone."""
    assert only_row(read(tmp_path, f"name\n{text}\n")).findings == ()


def test_other_fields(tmp_path: Path) -> None:
    """A team may be called Test or 7; a missing one holds the row and may be left empty."""
    names = read(
        tmp_path, "name,team\nAda,Test\nBo,7\nCy,n/a\n", ("name", "team"), optional=("team",)
    )
    assert [codes(row.findings) for row in names.rows] == [[], [], ["placeholder"]]
    assert "or leave the cell empty" in names.rows[2].findings[0].message


def test_the_tables_can_be_met() -> None:
    """Each entry is written as a tidied text in folded case is, and stands in one table only."""
    assert not _NEVER & _SELDOM
    for word in _NEVER | _SELDOM:
        assert tidy(word).text.casefold() == word
