"""Rows that repeat another."""

from pathlib import Path

from tests.names.helpers import codes, finding, read


def test_the_same_again_is_a_note(tmp_path: Path) -> None:
    """Two people may have one name: the later row has a note with the earlier line."""
    names = read(tmp_path, "name,qty\nAda Teasel,1\nBo,1\nAda  Teasel,2\n")
    assert [codes(row.findings) for row in names.rows] == [[], [], ["tidied", "duplicate"]]
    found = finding(names.rows[2].findings, "duplicate")
    assert found.severity == "note"
    assert 'Line 4: "Ada Teasel" stands on line 2 already' in found.message


def test_nearly_the_same_is_a_warning_on_both(tmp_path: Path) -> None:
    """Names that differ only in capitals, spaces, apostrophes or hyphens are told on each line."""
    names = read(tmp_path, "name\nO'Neill\nBo\nO’Neill\no neill\nAnne-Marie\nAnne Marie\n")
    told = {row.line: "almost-duplicate" in codes(row.findings) for row in names.rows}
    assert told == {2: True, 3: False, 4: True, 5: True, 6: True, 7: True}
    message = names.rows[0].findings[0].message
    assert message.startswith(
        'Line 2: "O\'Neill" is nearly "O’Neill" on line 4, "o neill" on line 5'
    )


def test_all_fields_count(tmp_path: Path) -> None:
    """One name in two teams is no repetition."""
    names = read(tmp_path, "name,team\nAda,Reds\nAda,Blues\n", ("name", "team"))
    assert [row.findings for row in names.rows] == [(), ()]


def test_many_spellings_are_not_all_told(tmp_path: Path) -> None:
    """A long row of spellings is cut short in the message."""
    names = read(tmp_path, "name\nada bo\nAda Bo\nADA BO\nAda bo\nada Bo\n")
    message = finding(names.rows[0].findings, "almost-duplicate").message
    assert message.count("on line") == 3
    assert "and 1 more" in message


ORDERED = "name,customer\nAda,Mill House\nAda,Dune Club\nBo,Mill House\nADA,Harbour\nAda,\n"


def test_repeats_are_looked_for_inside_an_order(tmp_path: Path) -> None:
    """Two customers may both order an Ada, and a row without an order is nobody's second."""
    names = read(tmp_path, ORDERED)
    assert [codes(row.findings) for row in names.rows] == [[]] * 5
    again = read(tmp_path, ORDERED + "Ada,mill  HOUSE\nada,Dune Club\nAda,\n")
    told = {row.line: set(codes(row.findings)) for row in again.rows}
    assert "duplicate" in told[7]
    assert "almost-duplicate" in told[3] & told[8]
    assert "duplicate" in told[9]
    assert not told[2] | told[4] | told[6]
    message = finding(again.rows[5].findings, "duplicate").message
    assert 'Line 7: "Ada" stands on line 2 already' in message
    assert "in this order" in message
