"""What shows only when a list is seen as a whole."""

from pathlib import Path

from namebatch.names import NameList
from tests.names.helpers import codes, finding, read

NAMES = ("Ada", "Bruna", "Cedar", "Dunlin", "Elke", "Fescue")


def _list(folder: Path, *names: str) -> NameList:
    return read(folder, "name\n" + "".join(f"{name}\n" for name in names))


def test_a_list_in_capitals(tmp_path: Path) -> None:
    """A list in capitals has one warning, on the list, and is made as typed."""
    names = _list(tmp_path, *map(str.upper, NAMES))
    assert codes(names.findings) == ["list-in-capitals"]
    assert "6 of 6 names are written in capitals, as on line 2" in names.findings[0].message
    assert [row.fields["name"] for row in names.rows] == [name.upper() for name in NAMES]
    assert all(row.findings == () for row in names.rows)


def test_a_list_in_small_letters(tmp_path: Path) -> None:
    """So does one in small letters; one name in capitals among them has a note."""
    names = _list(tmp_path, *map(str.lower, NAMES), "GRETA")
    assert codes(names.findings) == ["list-in-small-letters"]
    assert codes(names.rows[-1].findings) == ["name-in-capitals"]


def test_single_names_in_capitals(tmp_path: Path) -> None:
    """Among others, a name in capitals or in small letters has a note on its line."""
    names = _list(tmp_path, *NAMES, "GRETA HAY", "hanno")
    assert names.findings == ()
    assert [codes(row.findings) for row in names.rows[6:]] == [
        ["name-in-capitals"],
        ["name-in-small-letters"],
    ]
    assert {found.severity for row in names.rows for found in row.findings} == {"note"}


def test_held_rows_are_not_told_of_their_capitals(tmp_path: Path) -> None:
    """A row that is not made, or is no name, has the one finding that matters."""
    names = _list(tmp_path, *NAMES, "TBC", "test", "ada@kite.example")
    assert [codes(row.findings) for row in names.rows[6:]] == [
        ["placeholder"],
        ["placeholder-perhaps"],
        ["not-a-name"],
    ]


def test_capitals_where_they_say_nothing(tmp_path: Path) -> None:
    """Initials, short lists and scripts without case are let alone."""
    assert all(row.findings == () for row in _list(tmp_path, *NAMES, "AJ", "Jy").rows)
    assert _list(tmp_path, "ADA", "BO").findings == ()
    for text in ("ნინო", "سلمى", "मीरा", "山田"):
        names = _list(tmp_path, *(f"{text} {text}{number}" for number in range(6)))
        assert names.findings == ()


def test_apostrophes_of_two_kinds(tmp_path: Path) -> None:
    """Straight and curly apostrophes in one list are told with their lines, and both kept."""
    names = _list(tmp_path, "O'Hay", "O’Teasel", "D'Arc", "Bo")
    message = finding(names.findings, "apostrophes-mixed").message
    assert "straight (') on lines 2, 4, curly (’) on line 3" in message
    assert [row.fields["name"] for row in names.rows[:2]] == ["O'Hay", "O’Teasel"]
    assert _list(tmp_path, "O'Hay", "D'Arc", "’t Hart").findings == ()


def test_titles_on_some(tmp_path: Path) -> None:
    """A title before a few names is noted with the lines; before all it is the custom."""
    names = _list(tmp_path, *NAMES, "Dr. Greta Hay")
    assert "on line 8" in finding(names.findings, "titles-on-some").message
    assert _list(tmp_path, *(f"Mr {name}" for name in NAMES)).findings == ()


def test_first_and_last_name_swapped(tmp_path: Path) -> None:
    """A row whose names stand in each other's column elsewhere in the list is warned of."""
    rows = "Ada,Teasel\nBo,Hay\nAda,Marram\nTeasel,Ada\nCy,Teasel\n"
    names = read(tmp_path, f"first name,last name\n{rows}", ("first name", "last name"))
    assert [codes(row.findings) for row in names.rows] == [[], [], [], ["columns-swapped"], []]
    assert names.rows[3].findings[0].message.startswith('Line 5: "Teasel" is a last name elsewhere')


def test_first_and_last_names_of_one_stock(tmp_path: Path) -> None:
    """Where names serve in both columns, as in much of the world, nothing can be told."""
    rows = "Sabir,Yar\nYar,Khan\nKhan,Sabir\nYar,Bakht\nBakht,Yar\nBo,Khan\n"
    names = read(tmp_path, f"first name,last name\n{rows}", ("first name", "last name"))
    assert not any("columns-swapped" in codes(row.findings) for row in names.rows)


def test_other_fields_are_not_looked_at(tmp_path: Path) -> None:
    """Capitals in a team's column say nothing about the names."""
    rows = "".join(f"{name},REDS\n" for name in NAMES)
    assert read(tmp_path, f"name,team\n{rows}", ("name", "team")).findings == ()
