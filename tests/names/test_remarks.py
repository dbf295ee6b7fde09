"""What stands in a name's cell and is no name."""

from pathlib import Path

import pytest

from tests.names.helpers import codes, finding, only_row, read


@pytest.mark.parametrize("text", ["ada@saltmarsh.example", "https://kite.example/ada", "www.kite"])
def test_addresses_are_held(tmp_path: Path, text: str) -> None:
    """A mail or web address is plainly no name: the row is held."""
    row = only_row(read(tmp_path, f"name,mail\n{text},x\n"))
    assert row.held
    assert "Were two columns swapped?" in finding(row.findings, "not-a-name").message


@pytest.mark.parametrize("text", ["ada@saltmarsh.example", "2026-08-14"])
def test_one_column_was_not_swapped(tmp_path: Path, text: str) -> None:
    """A list of one column is not asked about two."""
    row = only_row(read(tmp_path, f"name\n{text}\n"))
    message = finding(row.findings, "not-a-name").message
    assert "swapped" not in message
    assert "Put the name there" in message


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("12", "a number"),
        ("3.0", "a number"),
        ("2026-08-14", "a date"),
        ("14.8.2026", "a date"),
        ("08/14/26", "a date"),
        ("+44 1632 960123", "a telephone number"),
        ("(01632) 960-123", "a telephone number"),
    ],
)
def test_numbers_are_warned_of(tmp_path: Path, text: str, kind: str) -> None:
    """A number, date or telephone number may be wanted on a tag: made, with a warning."""
    row = only_row(read(tmp_path, f"name\n{text}\n"))
    found = finding(row.findings, "not-a-name")
    assert found.severity == "warn"
    assert f'"{text}" looks like {kind}' in found.message


def test_swapped_name_and_quantity(tmp_path: Path) -> None:
    """Where name and quantity were swapped, both cells are told with the line."""
    row = only_row(read(tmp_path, "name,qty\n2,Ada\n"))
    assert row.held
    assert codes(row.findings) == ["not-a-name", "quantity-not-whole"]
    assert all(found.message.startswith("Line 2, ") for found in row.findings)


@pytest.mark.parametrize(
    ("text", "code", "part"),
    [
        ("Ada (2x)", "order-in-name", "2x"),
        ("Tom x2", "order-in-name", "x2"),
        ("Tom × 3", "order-in-name", "× 3"),
        ("Tom 2 Stück", "order-in-name", "2 Stück"),
        ('"Tom, 2 pcs"', "order-in-name", "2 pcs"),
        ("Bob - blue", "remark-in-name", "- blue"),
        ("Ada (blue)", "remark-in-name", "(blue)"),
        ("Ada [late]", "remark-in-name", "[late]"),
        ("Anne -Marie", "space-at-hyphen", "a space beside a hyphen"),
        ("Anne- Marie", "space-at-hyphen", "a space beside a hyphen"),
        ('"Ada,"', "stray-sign", "left over"),
        ("Ada;", "stray-sign", "left over"),
        ('"Teasel, Ada"', "surname-first", 'Write "Ada Teasel"'),
    ],
)
def test_remarks_are_warned_of(tmp_path: Path, text: str, code: str, part: str) -> None:
    """Orders, remarks and registers' commas in a name are told, and the name is made as typed."""
    row = only_row(read(tmp_path, f"name,note\n{text},\n"))
    assert part in finding(row.findings, code).message
    assert row.fields["name"] == text.strip('"')
    assert not row.held


@pytest.mark.parametrize(
    "text",
    [
        *("Anne-Marie", "J.R. Teasel", "Ada III", "Xavier", "Max 2", "Dr(a). Juana Hay", "Ada 2nd"),
        *(
            "Teasel & Hay",
            "Ada Hay, Jr.",
            "Ada Hay, PhD",
            "Ada Hay, S.Pd",
            "Ada, Bo, Cy",
            "St. Ives",
        ),
        *("Jean-Luc", "M", "R2D2", "Maria–Luise", "Axel", "X2", "Team 7"),
    ],
)
def test_names_without_remarks(tmp_path: Path, text: str) -> None:
    """Hyphens, initials, numbers behind a name and degrees are no remarks."""
    wrong = {"order-in-name", "remark-in-name", "surname-first", "stray-sign", "space-at-hyphen"}
    expected = {"order-in-name"} if text == "X2" else set()
    row = only_row(read(tmp_path, f'name\n"{text}"\n'))
    assert wrong & set(codes(row.findings)) == expected


def test_other_fields_may_say_anything(tmp_path: Path) -> None:
    """Only names are looked at like this: a team or an award may have numbers and brackets."""
    names = read(tmp_path, "name,team\nAda,Reds (2x) - blue\nBo,12\n", ("name", "team"))
    assert [row.findings for row in names.rows] == [(), ()]


@pytest.mark.parametrize(
    ("field", "told"),
    [("name", True), ("Vorname", True), ("guest", True), ("number", False), ("team", False)],
)
def test_which_field_is_a_name(tmp_path: Path, field: str, told: bool) -> None:
    """The words for names tell it; else the first field is one, unless its word says otherwise."""
    row = only_row(read(tmp_path, f"{field}\n12\n", (field,)))
    assert codes(row.findings) == ["not-a-name"] * told
