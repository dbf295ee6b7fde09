"""Problems in words for the page: where the command line names an option, the page has a place."""

import re
from typing import Final

from namebatch.desk.model import Problem
from namebatch.errors import NamebatchError

_WORDS: Final = (
    ("Say which column is which with --column FIELD=HEADER", "Say which column is which"),
    (
        "so --board has nothing to say. Leave it out, or say --material",
        "so no board can be chosen for it",
    ),
    (r"or choose another one with --[a-z -]+\.", "or choose another one under Lay out."),
    (r"--(?:material|board) ", ""),
    ("or say --column FIELD=HEADER", "or say which column is which"),
    (r"say --column (\S+)=HEADER", r"choose another column for \1"),
    (r"Say which it is with --column (\S+)=HEADER", r"Choose the column for \1"),
    (r"--column (\S+): ", r"column for \1: "),
    (
        "then enter your own on the page under Workshop, or write them into a workshop file and "
        "name it when the job is made: --workshop FILE",
        "then enter your own under Workshop.",
    ),
    (r" \(one line a reading\)", ""),
    (r" \(--as-now\)", ""),
    (
        r"Looked at was .*; give the one of that time with --template DIR",
        "Put the template of that time back, or make them with the one that is there",
    ),
    ("Say where it lies now with --template DIR", "Put it back among the own templates"),
    (
        "Give the one of that time with --workshop FILE",
        "Put the workshop's values of that time back, or make them with those of now",
    ),
    ("so --onto has no board to fill. Leave it out, or --face", "so there is no board to fill"),
    ("so --onto has nothing to fill. Leave it out", "so there is no board to fill"),
    ("Leave --sheet out", "Leave the size as it was"),
    ("say --turned, or measure a third", "tick that it was laid so, or measure a third"),
    (r"say --turned\.", "tick that it was laid so."),
    (r" \(--(?:gap|sheet|workshop)\)", ""),
    ("--keep-order and --by-order cannot", "The list's order and sheets by order cannot"),
    ("--by-order was asked for", "Sheets by order were asked for"),
    (
        "--seconds is the time for --fill tight; the fast way takes what it needs. Add --fill "
        "tight or leave --seconds out",
        "A time can be set for the tight filling only; the fast one takes what it needs. Choose "
        "the tight one or leave the time out",
    ),
    (
        "--fill tight puts every piece where it saves material, so it cannot keep list order or "
        "orders together. Leave out --keep-order and --by-order, or --fill tight",
        "The tight filling puts every piece where it saves material, so it cannot keep list order "
        "or orders together. Leave those out, or choose the fast filling",
    ),
    (r"--seconds (\S+) cannot", r"A time of \1 s cannot"),
    ("--spare takes", "Spares are"),
    (
        'with correct = "print" in the workshop file both come out true',
        "if the print is put right under Workshop, both come out true",
    ),
    (r"--spare (\S+) is", r"\1 is"),
    ("Delete one of the two if", "Leave one of the two out if"),
    ("delete one if", "leave one out if"),
    ("Delete the (?:line|row)", "Leave the line out"),
    ("delete the (?:line|row)", "leave the line out"),
)
_FOUND: Final = tuple((re.compile(words), instead) for words, instead in _WORDS)


def plainly(text: str) -> str:
    """A sentence of the rooms below as the page says it."""
    for words, instead in _FOUND:
        text = words.sub(instead, text)
    return text[:1].upper() + text[1:]


def problem_of(error: Exception) -> Problem:
    """An error as the page tells it."""
    if isinstance(error, NamebatchError):
        return Problem(plainly(error.what), tuple(plainly(one) for one in error.problems))
    if isinstance(error, OSError):
        return Problem(f"A file that is needed cannot be read: {error.strerror or error}.")
    raise error
