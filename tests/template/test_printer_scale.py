"""The printer's scale in a workshop file."""

from pathlib import Path

import pytest

from namebatch.errors import WorkshopError
from namebatch.template import load_workshop
from namebatch.template.builtin_workshop import BUILTIN_TOML


def shop(tmp_path: Path, lines: str) -> Path:
    """A workshop file with lines more in its table of the printer."""
    path = tmp_path / "shop.toml"
    path.write_text(BUILTIN_TOML.replace("[printer]\n", f"[printer]\n{lines}\n"), encoding="utf-8")
    return path


def test_a_printer_is_taken_for_true_until_it_was_measured(tmp_path: Path) -> None:
    """Without the keys nothing is corrected."""
    printer = load_workshop(shop(tmp_path, "")).printer
    assert (printer.scale, printer.correct) == ((1.0, 1.0), "cut")


def test_scale_and_what_gives_way_are_read(tmp_path: Path) -> None:
    """One factor each for x and y."""
    lines = 'scale = [1.002, 0.997]\ncorrect = "print"'
    printer = load_workshop(shop(tmp_path, lines)).printer
    assert (printer.scale, printer.correct) == ((1.002, 0.997), "print")


@pytest.mark.parametrize(
    ("lines", "words"),
    [
        ("scale = [1.002]", "printer.scale: needs 2 numbers, [x, y], not 1"),
        ("scale = [1.05, 1.0]", "printer.scale"),
        ("scale = [0.9, 1.0]", "printer.scale"),
        ("scale = 1.002", "printer.scale"),
        ("scale = [nan, 1.0]", "printer.scale"),
        ('correct = "both"', "printer.correct"),
    ],
)
def test_what_no_printer_has_is_refused(tmp_path: Path, lines: str, words: str) -> None:
    """More than 3 %, one number, another word: each with its place."""
    with pytest.raises(WorkshopError, match=r"shop\.toml") as caught:
        load_workshop(shop(tmp_path, lines))
    assert any(words in problem for problem in caught.value.problems)
