"""Matching headers to fields."""

import re
from collections.abc import Mapping

import pytest

from namebatch.errors import ListError
from namebatch.names.columns import Columns, match_columns
from namebatch.names.wanted import wanted
from tests.names.helpers import codes, finding


def match(
    headers: str,
    fields: str,
    columns: Mapping[str, str] | None = None,
    optional: tuple[str, ...] = (),
) -> Columns:
    """Match headers and fields given with bars between them."""
    return match_columns(headers.split("|"), wanted(fields.split("|"), columns, optional))


@pytest.mark.parametrize(
    ("headers", "fields", "expected", "quantity"),
    [
        ("name|qty", "name", {"name": 0}, 1),
        ("NAME|Team_Name", "name|team name", {"name": 0, "team name": 1}, None),
        ("First Name|x", "first_name", {"first_name": 0}, None),
        ("Vorname|Anzahl", "name", {"name": 0}, 1),
        ("Farbe|Aufschrift|Anzahl", "name", {"name": 1}, 2),
        ("Aufschrift|Name", "name", {"name": 1}, None),
        ("Anzahl|Vor- und Zuname|Name", "name", {"name": 2}, 0),
        ("Nom|Quantité", "name", {"name": 0}, 1),
        ("Nombre|Cantidad", "name", {"name": 0}, 1),
        ("Aantal|Naam", "name", {"name": 1}, 0),
        ("Nachname|Vorname", "first name|last name", {"first name": 1, "last name": 0}, None),
        ("姓名|数量", "name", {"name": 0}, 1),
        ("Verein|Vorname", "name|team", {"name": 1, "team": 0}, None),
        ("number of copies|Full Name", "name", {"name": 1}, 0),
        ("count|Quantity|name", "name", {"name": 2}, 1),
        ("Kite|qty", "name", {"name": 0}, 1),
        ("copies|name", "copies|name", {"copies": 0, "name": 1}, None),
        ("Guest|Qty|Table|Remark", "name|table", {"name": 0, "table": 2}, 1),
        ("Customer|Child's name|Vorname", "name", {"name": 2}, None),
        ("Teilnehmer|Verein|Anzahl", "name|team", {"name": 0, "team": 1}, 2),
    ],
)
def test_matches(headers: str, fields: str, expected: dict[str, int], quantity: int | None) -> None:
    """Exact, spelt alike, by synonym, or the only column left."""
    columns = match(headers, fields)
    assert columns.fields == expected
    assert columns.quantity == quantity


def test_the_user_has_the_last_word() -> None:
    """What --column says goes before what would match, for the quantity too."""
    columns = match("name|nick|a|qty", "name", {"name": "Nick", "quantity": "a"})
    assert columns.fields == {"name": 1}
    assert columns.quantity == 2


@pytest.mark.parametrize(
    ("headers", "fields", "columns", "expected"),
    [
        ("name|qty|Order", "name", {}, 2),
        ("Kunde|Vorname", "name", {}, 0),
        ("Kite|Order", "name", {}, 1),
        ("Customer|qty", "name", {}, None),
        ("order|name", "order|name", {}, None),
        ("name|who|order", "name", {"order": "who"}, 1),
        ("name|qty", "name", {}, None),
        ("name|Customer", "name|team", {}, 1),
    ],
)
def test_the_column_of_orders(
    headers: str, fields: str, columns: dict[str, str], expected: int | None
) -> None:
    """Orders are told by the header, as the user said, and never take the column of the names."""
    matched = match(headers, fields, columns, ("team",))
    assert matched.order == expected
    assert {*fields.split("|")} - {*matched.fields} <= {"team"}


def test_assumptions_are_told() -> None:
    """Synonyms and the only column left are notes; a second candidate is a warning."""
    assert codes(match("Vorname", "name").findings) == ["column-by-synonym"]
    assert codes(match("Kite", "name").findings) == ["column-only-one"]
    doubt = finding(match("Nom|Prénom", "name").findings, "column-in-doubt")
    assert doubt.severity == "warn"
    assert '"Prénom" would fit too' in doubt.message


def test_optional_fields_need_no_column() -> None:
    """A field that may be empty may be missing, with a note."""
    columns = match("name", "name|motto", optional=("motto",))
    assert columns.fields == {"name": 0}
    assert codes(columns.findings) == ["column-missing"]


def test_all_problems_at_once() -> None:
    """Every missing field and wrong --column is listed with the nearest right one."""
    with pytest.raises(ListError, match="columns do not fit") as caught:
        match("frst|lst name|Teem", "first name|last name|team", {"nam": "x", "team": "Tem"})
    assert caught.value.problems == (
        '--column nam: the template has no field "nam"',
        '--column team: the list has no column "Tem"; the nearest is "Teem"',
        'no column for the field "first name"; the nearest is "lst name"',
        'no column for the field "last name"; the nearest is "lst name"',
    )
    assert '"frst", "lst name", "Teem"' in str(caught.value)
    assert "--column FIELD=HEADER" in str(caught.value)


def test_only_what_is_near_is_called_the_nearest() -> None:
    """Half the letters in common is chance; a slip of the pen is near."""
    with pytest.raises(ListError, match="columns do not fit") as caught:
        match("Anna|Reel|Boat", "name|team")
    assert caught.value.problems == (
        'no column for the field "name"',
        'no column for the field "team"',
    )
    with pytest.raises(ListError, match='the nearest is "taem"'):
        match("name|taem|x", "name|team")


def test_two_columns_are_not_guessed_between() -> None:
    """One field and two strange columns: the user is asked."""
    with pytest.raises(ListError, match=re.escape('no column for the field "name"')):
        match("Kite|Reel", "name")


def test_a_guess_is_said_away() -> None:
    """With an empty header an optional field, quantity and order have no column; no other takes it.

    The first line shows what would be guessed.
    """
    headers, fields = "name|Village|qty|Customer", "name|village"
    guessed = match(headers, fields, optional=("village",))
    assert (guessed.fields, guessed.quantity, guessed.order) == ({"name": 0, "village": 1}, 2, 3)
    none = {"village": "", "quantity": "", "order": ""}
    columns = match(headers, fields, none, ("village",))
    assert (columns.fields, columns.quantity, columns.order) == ({"name": 0}, None, None)
    assert columns.findings == ()


def test_what_is_needed_is_not_said_away() -> None:
    """A field that every piece needs is refused with an empty header."""
    with pytest.raises(ListError, match="columns do not fit") as caught:
        match("name|qty", "name", {"name": ""})
    assert caught.value.problems == (
        '--column name: the field "name" is needed, so it cannot go without a column',
    )
