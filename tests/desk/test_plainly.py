"""Problems in the words of the page."""

from collections.abc import Callable
from pathlib import Path

import pytest

from namebatch.desk.plainly import plainly, problem_of
from namebatch.errors import ListError, NamebatchError
from namebatch.names import read_pasted
from namebatch.sheet.tight_clock import seconds_of
from namebatch.spares import read_spare


def _columns() -> None:
    read_pasted("who\tsquad\nAda\tTerns\n", ("name", "team"), {"name": "nom", "hat": "who"})


def _headers() -> None:
    read_pasted("a\tb\tc\td\nAda\tTerns\tx\ty\n", ("name", "team"))


@pytest.mark.parametrize(
    "fails",
    [
        _columns,
        _headers,
        lambda: seconds_of("fast", 9.0, False),
        lambda: seconds_of("tight", 9.0, True),
        lambda: seconds_of("tight", -9.0, False),
        lambda: read_spare("lots"),
        lambda: read_spare("9999"),
        lambda: read_spare("999%"),
    ],
)
def test_no_option_of_the_command_line_is_named(fails: Callable[[], object]) -> None:
    """Whoever has a page before them has no options; what is wrong is still told."""
    with pytest.raises(NamebatchError) as told:
        fails()
    problem = problem_of(told.value)
    text = " ".join((problem.what, *problem.details))
    assert "--" not in text
    assert "HEADER" not in text
    assert len(text) > 30


def test_other_words_stay_as_they_are() -> None:
    """Names in a message are data and never changed."""
    text = 'Line 3: "Ada --x (--y)" has no glyph.'
    assert plainly(text) == text
    assert problem_of(ListError("The list is empty.", ("one",))).details == ("One",)


def test_files_that_cannot_be_read_are_told() -> None:
    """A workshop file that vanishes between two looks is a problem of the docket."""
    error = FileNotFoundError(2, "No such file or directory", str(Path("workshop.toml")))
    assert "No such file" in problem_of(error).what


def test_a_choice_of_the_workshop_file_is_named_as_the_page_has_it() -> None:
    """The page asks what gives way in a form; nobody has to open a file for it."""
    told = plainly('They differ; with correct = "print" in the workshop file both come out true.')
    assert told == "They differ; if the print is put right under Workshop, both come out true."
