"""A row with what was changed in it by hand: new texts are looked through, old remarks go."""

from dataclasses import replace

from namebatch.finding import Finding, hold, note, warn
from namebatch.names import read_pasted
from namebatch.names.mend import Mend, TextMend
from namebatch.names.mended import is_left_out, mended_row
from namebatch.names.row import Row

COLUMNS = {"name": "Name", "team": "Team"}


def _row(name: str = "Zoe", quantity: int = 1, *findings: Finding) -> Row:
    values = {"Name": name, "Team": "Gull"}
    return Row(7, values, {"name": name, "team": "Gull"}, quantity, findings)


def _codes(row: Row) -> list[str]:
    return [finding.code for finding in row.findings]


def test_nothing_changed_is_the_row_itself() -> None:
    """A guard against another list alone is no change."""
    row = _row()
    assert mended_row(row, None, COLUMNS) is row
    assert mended_row(row, Mend(was={"name": "Zoe"}), COLUMNS) is row


def test_a_new_text_is_made_and_the_list_stays_as_read() -> None:
    """The manifest tells both: what the list says and what was made."""
    row = mended_row(_row(), Mend(fields={"name": "  Zoë "}), COLUMNS)
    assert row.fields == {"name": "Zoë", "team": "Gull"}
    assert row.values["Name"] == "Zoe"
    assert [f.message for f in row.findings] == [
        'Line 7: changed by hand: "name" says "Zoë" instead of "Zoe".'
    ]


def test_remarks_on_the_old_text_are_forgotten_and_others_stay() -> None:
    """A warning that is settled must not hold anybody up again."""
    told = (
        warn("digit-in-name", 'Line 7, "Name": "Z0e" has a digit in it.'),
        note("duplicate", 'Line 7: "Z0e" stands on line 3 already.'),
        warn("formula-like", 'Line 7, "Team": "=Gull" looks like a formula.'),
        hold("too-many-cells", "Line 7: more cells than headers. Held."),
    )
    row = mended_row(_row("Z0e", 1, *told), Mend(fields={"name": "Zoe"}), COLUMNS)
    assert _codes(row) == ["formula-like", "too-many-cells", "by-hand"]
    both = Mend(fields={"name": "Zoe", "team": "Gull"})
    assert _codes(mended_row(_row("Z0e", 1, *told), both, COLUMNS)) == ["formula-like", "by-hand"]


def test_a_new_text_is_looked_through_like_a_cell() -> None:
    """What no piece can carry is not made because somebody typed it."""
    empty = mended_row(_row(), Mend(fields={"name": " "}), COLUMNS)
    assert empty.held
    assert _codes(empty) == ["empty-field", "by-hand"]
    assert not mended_row(_row(), Mend(fields={"team": ""}), COLUMNS, ("team",)).held
    odd = mended_row(_row(), Mend(fields={"name": "Zo\x07e"}), COLUMNS)
    assert "unusable-character" in _codes(odd)


def test_a_held_row_is_made_once_its_quantity_is_given() -> None:
    """The reason goes with what it was about."""
    names = read_pasted("name\tquantity\nZoe\tmany\n", ("name",))
    row = names.rows[0]
    assert row.held
    mended = mended_row(row, Mend(quantity=4), names.columns)
    assert not mended.held
    assert mended.quantity == 4
    assert mended.findings[-1].message == "Line 2: changed by hand: 4 to make instead of 0."
    assert mended_row(row, Mend(font="Lobster"), names.columns).held


def test_a_row_held_by_hand_says_why() -> None:
    """Whoever finds it held wants to know what is waited for."""
    row = mended_row(_row(), Mend(held="ask the crew."), COLUMNS)
    assert row.held
    assert row.findings[-1].message.startswith("Line 7 is held by hand: ask the crew. Release it")


def test_everything_that_was_changed_is_told() -> None:
    """The proof shows what is not as the list and the template have it."""
    text = TextMend("Oswald", 8, None, False, ("Ada", "Teasel"), (1, -2.5))
    mend = Mend(texts={"name": text}, font="Lobster", bridge_mm=2.5, quantity=3)
    assert mended_row(_row(), mend, COLUMNS).findings[0].message == (
        'Line 7: changed by hand: set in Lobster; text "name" in Oswald, 8 mm high, broken into '
        '"Ada" and "Teasel", moved 1 mm right and 2.5 mm down; bridges 2.5 mm wide; 3 to make '
        "instead of 1."
    )


def test_a_row_left_out_on_purpose_says_nothing_else() -> None:
    """Nobody need settle anything about it, whatever stands in it; it is held all the same."""
    row = Row(7, {"name": "", "team": "x"}, {"name": "", "team": "x"}, 0, (), "")
    row = replace(row, findings=(hold("empty-field", 'Line 7, "name": is empty. Held.'),))
    out = mended_row(row, Mend(held="left out"), COLUMNS)
    assert out.held
    assert is_left_out(out)
    assert [finding.message for finding in out.findings] == ["Line 7 is left out on purpose."]
    assert not is_left_out(mended_row(row, Mend(held="ask the crew"), COLUMNS))
