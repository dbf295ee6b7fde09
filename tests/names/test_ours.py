"""Columns of a table of held rows that is given back as a list."""

import pytest

from namebatch.names.ours import our_columns


@pytest.mark.parametrize(
    ("headers", "count"),
    [
        (("line", "reason", "what to do", "name"), 3),
        (("row", "reason", "what to do", "name"), 3),
        (("Line in the list", "reason for holding", "what to do", "line", "name"), 3),
        (("line in the list", "reason for holding", "what to do with it")
         + ("line", "reason", "what to do", "name"), 6),
        (("line", "name"), 0),
        (("name", "line", "reason", "what to do"), 0),
        (("line", "reason"), 0),
        ((), 0),
    ],
)  # fmt: skip
def test_ours_are_the_first(headers: tuple[str, ...], count: int) -> None:
    """Three headings together, once or more, and nothing that only has one of their words."""
    assert our_columns(headers) == count
