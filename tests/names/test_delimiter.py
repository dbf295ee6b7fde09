"""Which delimiter a text list uses."""

import pytest

from namebatch.names.delimiter import announced, find_delimiter
from tests.names.helpers import NAME_ONLY


@pytest.mark.parametrize(
    ("text", "delimiter"),
    [
        ("name,qty\nAda,2\n", ","),
        ("name;qty\nAda;2\n", ";"),
        ("name\tqty\nAda\t2\n", "\t"),
        ("Name;Note, if any, of ours\nAda;x, y, z\n", ";"),
        ('name;"a,b,c,d"\nAda;x\n', ";"),
        ("\n\n;;\nname;qty\n", ";"),
        ("Who;How\nAda, B;x\nBo;y\n", ";"),
        ("name\nSmith; Ada\n", ","),
        ("name|qty\nAda|2\n", "|"),
        ("name,a|b|c\nAda,x|y|z\n", ","),
        ("Who|How\nAda|x\n", ","),
    ],
)
def test_found(text: str, delimiter: str) -> None:
    """Known headers decide, then lines that are alike, then the number of cells."""
    assert find_delimiter(text, NAME_ONLY.known) == delimiter


def test_preference_wins_ties() -> None:
    """A list of one column takes the delimiter that its file name suggests."""
    assert find_delimiter("name\nAda\n", NAME_ONLY.known, "\t") == "\t"


@pytest.mark.parametrize(
    ("text", "delimiter", "start"),
    [("sep=;\r\nname", ";", 7), ("SEP=,\nname", ",", 6), ('"sep=\t"\nname', "\t", 8)],
)
def test_announced(text: str, delimiter: str, start: int) -> None:
    """A first line that names the delimiter is read and passed over."""
    assert announced(text) == (delimiter, start)


@pytest.mark.parametrize("text", ["sep=a\nname", "name\nsep=;", "separate\n"])
def test_not_announced(text: str) -> None:
    """Only a first line of exactly that form names a delimiter."""
    assert announced(text) is None
