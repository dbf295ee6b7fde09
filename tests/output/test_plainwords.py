"""What whoever sent the list is told, and what is for the workshop alone."""

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

from namebatch.finding import Finding, Severity, hold, note, warn
from namebatch.output import plainwords
from namebatch.output.plainwords import asked, told

PACKAGE = Path(plainwords.__file__).parents[1]


def _calls(name: str) -> Iterator[str]:
    """First arguments of all calls of a function in the package that are plain strings."""
    for path in PACKAGE.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and getattr(node.func, "id", "") == name and node.args:
                first = node.args[0]
                if isinstance(first, ast.Constant) and isinstance(first.value, str):
                    yield first.value


@pytest.mark.parametrize("code", sorted(set(_calls("hold"))))
def test_every_hold_says_what_to_do(code: str) -> None:
    """No reason in the package goes out with nothing but the general remedy."""
    general = asked(hold("unheard-of", "x"), "Line")
    assert asked(hold(code, "x"), "Line") != general, f'give "{code}" words in output/plainwords'
    assert "{" not in asked(hold(code, "x"), "Row")


@pytest.mark.parametrize("code", sorted(plainwords.KNOWN))
def test_every_code_is_one_that_is_found(code: str) -> None:
    """A code that no room gives any more is a sentence that nobody will read."""
    source = "".join(path.read_text(encoding="utf-8") for path in PACKAGE.rglob("*.py"))
    source = source.replace(Path(plainwords.__file__).read_text(encoding="utf-8"), "")
    assert f'"{code}"' in source or f'"{code.partition("-in-")[2]}"' in source


@pytest.mark.parametrize(
    ("message", "words"),
    [
        ('Line 9, "name": "Inka (x)" has "(x)" in it. Take it out.',
         '"name": "Inka (x)" has "(x)" in it. Take it out.'),
        ('Row 8, "name" is empty. Fill it in. Held.', '"name" is empty. Fill it in.'),
        ('Line 3: more cells than headers. Held.', "More cells than headers."),
        ('Line 3: in "Аnna" the first letter is a Cyrillic А (U+0410); retype.',
         'In "Аnna" the first letter is a Cyrillic А; retype.'),
        ('Line 3, "name": "x" has U+FFFD replacement character. Retype it.',
         '"name": "x" has the sign replacement character. Retype it.'),
    ],
)  # fmt: skip
def test_place_codes_and_held_are_left_out(message: str, words: str) -> None:
    """The line stands beside the words, so they begin with what is to be seen there."""
    assert told(Finding("empty-field", Severity.HOLD, message), "Line") == words


def test_what_the_making_found_is_put_in_other_words() -> None:
    """Measures and typefaces are for the workshop; the customer is told what it means."""
    finding = hold("text-too-small", 'Line 7: "Fenna" fits only at 2.3 mm. Held.')
    words = told(finding, "Line")
    assert "mm" not in words
    assert words.startswith("It is too long for its place")
    assert words.endswith("settle another lettering or size with the workshop.")


@pytest.mark.parametrize("finding", [warn("thin-tail", "x"), note("tidied", "x"), note("y", "x")])
def test_the_rest_is_for_the_workshop(finding: Finding) -> None:
    """What nobody but the workshop can settle is not told."""
    assert told(finding, "Line") == ""


def test_a_hold_always_says_something() -> None:
    """A reason that has no other words stands as it is."""
    assert told(hold("unheard-of", "Line 2: the tide is in. Held."), "Line") == "The tide is in."
