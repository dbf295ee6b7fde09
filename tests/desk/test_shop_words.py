"""What is wrong in the workshop's form is told in the words that stand on it."""

from pathlib import Path
from typing import Any

import pytest

from namebatch.desk.shop import change_shop
from namebatch.desk.shop_words import shop_told
from namebatch.errors import WorkshopError
from tests.desk.test_shop import form


@pytest.mark.parametrize(
    ("problem", "told"),
    [
        (
            "printer.margins_mm[1]: must be at least 0",
            "Printer, margins it cannot print, top: must be at least 0",
        ),
        ("printer.scale[2]: x", "Printer, printed length over true length, up: x"),
        ("cutter.bed_mm[2]: x", "Cutter, bed, depth: x"),
        ("cutter.price_per_hour: x", "Cutter, price of an hour: x"),
        ("material.card-160.kerf_mm[1]: x", 'Material "card-160", kerf, across: x'),
        ('material."card 0.5".thickness_mm: x', 'Material "card 0.5", thickness: x'),
        ("material.new.speeds_mm_s.outer: x", 'Material "new", speed of outlines: x'),
        ("material.new: is there twice", 'Material "new": is there twice'),
        ("something else", "something else"),
    ],
)
def test_a_place_is_called_as_on_the_form(problem: str, told: str) -> None:
    """Keys of the file are for whoever writes the file."""
    assert shop_told(problem) == told


def test_a_refused_form_is_told_so(tmp_path: Path) -> None:
    """What the reader of the file says comes out without one of its keys."""
    sent: dict[str, Any] = form(tmp_path / "workshop.toml")
    sent["printer"]["margins_mm"] = [-3, 5, 5, 5]
    sent["cutter"]["bed_mm"] = [600, -1]
    sent["materials"][0]["thickness_mm"] = None
    with pytest.raises(WorkshopError) as error:
        change_shop(tmp_path / "workshop.toml", **sent)
    told = " ".join(map(shop_told, error.value.problems))
    assert "top: must be at least 0" in told
    assert "_mm" not in told
    assert "[" not in told
