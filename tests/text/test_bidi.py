"""Levels and visual order of a line."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from namebatch.text.bidi import LevelRun, base_level, level_runs, levels
from tests.text.visual import visual_order

MIXED = st.text(st.sampled_from("ab אבגا12٣٤+,.$%()[] \u0301\u200d\u202e\t!"), max_size=30)


@pytest.mark.parametrize(
    ("text", "base"), [("Marlo", 0), ("12 שלום a", 1), ("… محمد", 1), ("12 ()", 0), ("", 0)]
)
def test_the_first_letter_gives_the_line_its_direction(text: str, base: int) -> None:
    """Digits and signs do not count, and without any letter a line runs left to right."""
    assert base_level(text) == base


@pytest.mark.parametrize(
    ("text", "base", "wanted"),
    [
        ("Ana 12", None, "000000"),
        ("אב a1", None, "11122"),
        ("Ana אב", None, "000011"),
        ("Ana אב", 1, "222111"),
        ("Ana 12 אב!", None, "0000000110"),
        ("אב 12", None, "11122"),  # digits run left to right in a right-to-left line: I1, I2
        ("اب 12", None, "11122"),  # W2: and count as Arabic digits after Arabic letters
        ("אב 1,234", None, "11122222"),  # W4
        ("אב 12%", None, "111222"),  # W5
        ("a (אב) b", None, "00011000"),  # N0: brackets follow the line
        ("א (a b) ג", None, "111222111"),
        ("אב a\u0301", None, "11122"),  # W1: a mark goes with its letter
        ("a אב ", None, "00110"),  # L1: a space at the end
        ("אב\u202ea", None, "1112"),  # a mark that turns has no effect
    ],
)
def test_levels(text: str, base: int | None, wanted: str) -> None:
    """Cases worked out by hand with the rules of UAX #9."""
    assert "".join(map(str, levels(text, base))) == wanted


def test_angle_brackets_of_two_codes_are_one_pair() -> None:
    """U+2329 closes with U+3009, its canonical equivalent (BD16): the pair follows the line."""
    assert levels("a \u2329א\u3009ב", 0) == (0, 0, 0, 1, 0, 1)
    assert levels("a ⟨א\u3009ב", 0) == (0, 0, 0, 1, 1, 1)


@pytest.mark.parametrize(
    ("text", "level"),
    [("(" * 62 + "b(אc)d", 1), ("(" * 63 + "b(אc)d", 2), ("b(אc)d" + "(" * 64, 1)],
)
def test_pairing_ends_at_the_sixty_fourth_open_bracket(text: str, level: int) -> None:
    """The 63rd still pairs, the 64th ends the search, pairs found before it stay (BD16)."""
    assert levels(text, 1)[text.index(")")] == level


def test_runs_are_in_visual_order() -> None:
    """In a right-to-left line what is last comes first; digits keep their own order."""
    assert level_runs("אב a1") == (LevelRun(3, 5, 2), LevelRun(0, 3, 1))
    assert level_runs("Ana") == (LevelRun(0, 3, 0),)
    assert level_runs("") == ()
    assert visual_order(level_runs("Ana אב 12 c")) == [0, 1, 2, 3, 7, 8, 6, 5, 4, 9, 10]


@given(MIXED, st.sampled_from([None, 0, 1]))
def test_runs_are_the_whole_line(text: str, base: int | None) -> None:
    """Every character is in one run, at its own level, and neighbours in the text differ."""
    runs = sorted(level_runs(text, base), key=lambda run: run.start)
    assert [i for run in runs for i in range(run.start, run.end)] == list(range(len(text)))
    assert [run.level for run in runs for _ in range(run.start, run.end)] == [*levels(text, base)]
    assert all(one.level != next_.level for one, next_ in pairwise(runs))


def test_a_line_has_one_of_two_levels() -> None:
    """Another level for the line is refused."""
    with pytest.raises(ValueError, match="0 or 1, not 2"):
        levels("Ana", 2)
