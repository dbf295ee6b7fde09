"""Orders whose names differ in nothing but capitals and spaces."""

from pathlib import Path

from tests.names.helpers import codes, finding, read


def test_one_order_in_two_spellings_is_one(tmp_path: Path) -> None:
    """The first spelling counts, the cell stays, and the row says so."""
    names = read(
        tmp_path,
        "name,order\nAda,Same order\nBo,same order\nCy,SAME  ORDER\nDi,Other\nEd,Same order\n",
    )
    assert [row.order for row in names.rows] == [*["Same order"] * 3, "Other", "Same order"]
    assert names.rows[1].values["order"] == "same order"
    told = [codes(row.findings) for row in names.rows]
    assert ["order-spelled-otherwise" in codes for codes in told] == [
        False,
        True,
        True,
        False,
        False,
    ]
    found = finding(names.rows[1].findings, "order-spelled-otherwise")
    assert found.severity == "note"
    assert found.message == (
        'Line 3: the order "same order" is taken for "Same order" on line 2. Give one of them '
        "another name if they are two."
    )


def test_other_names_stay_apart(tmp_path: Path) -> None:
    """A letter, an accent or a sign makes another order; no order stays none."""
    names = read(tmp_path, "name,order\nAda,Mill 1\nBo,Mill 2\nCy,Mïll 1\nDi,\nEd,Mill-1\n")
    assert [row.order for row in names.rows] == ["Mill 1", "Mill 2", "Mïll 1", "", "Mill-1"]
    assert not any("order-spelled-otherwise" in codes(row.findings) for row in names.rows)
