"""A file of changes by hand: read whole, refused whole, written alike."""

from pathlib import Path

import pytest
from hypothesis import given, strategies

from namebatch.errors import MendError
from namebatch.mends import Mend, TextMend, mend_from, read_mends, written
from namebatch.names.mend import mend_of, plain_mend
from namebatch.template.problems import Problems

TOML = """
format = 1

[line.14]
quantity = 3
font = "Lobster"
bridge_mm = 2
held = "ask the crew"
fields = { name = "Zoë" }
was = { name = "Zoe" }

[line.14.text.name]
height_mm = 8
lines = ["Ada", "Teasel"]
shift_mm = [0.5, -0.25]

[line.3.text.name]
most_mm = 6.5
one_line = true
font = "Oswald"
"""
MENDS = {
    3: Mend(texts={"name": TextMend("Oswald", most_mm=6.5, one_line=True)}),
    14: Mend(
        fields={"name": "Zoë"},
        texts={"name": TextMend(height_mm=8, lines=("Ada", "Teasel"), shift_mm=(0.5, -0.25))},
        font="Lobster",
        bridge_mm=2,
        quantity=3,
        held="ask the crew",
        was={"name": "Zoe"},
    ),
}


def _read(folder: Path, text: str | bytes) -> dict[int, Mend]:
    path = folder / "changes"
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return read_mends(path)


def test_a_toml_file_gives_every_kind_of_change(tmp_path: Path) -> None:
    """What somebody writes by hand, in the order of the list."""
    found = _read(tmp_path, TOML)
    assert found == MENDS
    assert list(found) == [3, 14]


def test_what_is_written_is_read_again(tmp_path: Path) -> None:
    """The page hands its changes to the command line; equal changes are equal bytes."""
    assert _read(tmp_path, written(MENDS)) == MENDS
    assert written(dict(reversed(MENDS.items()))) == written(MENDS)
    assert written({2: Mend(bridge_mm=2)}) == written({2: Mend(bridge_mm=2.0)})


_TEXTS = strategies.text(max_size=20)
_SIZES = strategies.one_of(strategies.none(), strategies.floats(0.5, 99))
_TEXT_MENDS = strategies.builds(
    TextMend,
    font=_TEXTS,
    height_mm=_SIZES,
    one_line=strategies.booleans(),
    lines=strategies.one_of(strategies.none(), strategies.tuples(_TEXTS, _TEXTS)),
    shift_mm=strategies.tuples(strategies.floats(-9, 9), strategies.floats(-9, 9)),
)


@given(
    strategies.builds(
        Mend,
        fields=strategies.dictionaries(_TEXTS, _TEXTS, max_size=3),
        texts=strategies.dictionaries(
            _TEXTS, _TEXT_MENDS.filter(lambda m: m != TextMend()), max_size=2
        ),
        bridge_mm=_SIZES,
        quantity=strategies.one_of(strategies.none(), strategies.integers(1, 99)),
        held=_TEXTS,
        was=strategies.dictionaries(_TEXTS, _TEXTS, max_size=2),
    )
)
def test_a_mend_and_its_table_say_the_same(mend: Mend) -> None:
    """Nothing is lost between a change, the manifest and the database."""
    assert mend_of(plain_mend(mend)) == mend


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("format = 2\n", "format: must be 1"),
        ("format = 1\nlines = 3\n", 'lines: there is no such key here; did you mean "line"?'),
        ("format = 1\n[line.one]\nquantity = 2", "line.one: needs the number of a line"),
        ("format = 1\n[line.007]\nquantity = 2", "line.007: needs the number of a line"),
        ("format = 1\n[line.7]\nquantity = 0", "line.7.quantity: must be at least 1, not 0"),
        ("format = 1\n[line.7]\nquantity = 2.5", "line.7.quantity: needs a whole number"),
        ("format = 1\n[line.7]\nbridge = 2", 'there is no such key here; did you mean "bridge_mm"'),
        ("format = 1\n[line.7.text.name]\nlines = ['Ada']", "needs the two lines"),
        ("format = 1\n[line.7.text.name]\nheight_mm = 3\nmost_mm = 4", "leave one out"),
        ("format = 1\n[line.7.text.name]\none_line = true\nlines = ['A', 'B']", "leave one out"),
        ("format = 1\n[line.7.text.name]\nshift_mm = [1, 2, 3]", "needs 2 numbers"),
        ("format = 1\n[line.7.text.name]\nshift_mm = [nan, 2]", "needs a finite number"),
        ("format = 1\nline = 7", "line: needs tables by line of the list"),
        ('{"format": 1, "line": {"7": {}, "7": {}}}', '"7" stands twice in one table'),
        ('{"format": 1', "stops making sense"),
        ("format = 1\n[line.7]\nheld = ''", "line.7.held: is empty"),
        (b"\xff\xfe", "is not UTF-8 text"),
    ],
)
def test_what_is_wrong_is_told_with_its_place(tmp_path: Path, text: str, told: str) -> None:
    """Whoever wrote the file finds the place and knows what to do."""
    with pytest.raises(MendError) as error:
        _read(tmp_path, text)
    assert told in str(error.value)


def test_all_problems_are_told_at_once(tmp_path: Path) -> None:
    """Nobody mends a file ten times."""
    with pytest.raises(MendError, match="cannot be used yet") as error:
        _read(tmp_path, "[line.2]\nquantity = 0\nfont = 3\n[line.3.text.name]\nhigh = 2\n")
    assert len(error.value.problems) == 4


def test_a_file_that_is_not_there_is_told(tmp_path: Path) -> None:
    """A slip in its name is the likeliest fault."""
    with pytest.raises(MendError, match=r"nothing\.toml: cannot be read"):
        read_mends(tmp_path / "nothing.toml")


def test_a_table_of_the_page_is_looked_through_in_the_same_way() -> None:
    """What comes over the wire is no better than what comes in a file."""
    problems = Problems()
    assert mend_from({"quantity": "3"}, "line 7", problems) is None
    assert problems.told() == ('line 7.quantity: needs a whole number, not "3".',)
