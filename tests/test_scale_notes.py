"""What a job says of a printer that is off."""

from dataclasses import replace

import pytest

from namebatch.notes import scale_notes
from namebatch.template.turned import printer_for
from namebatch.template.workshop import Printer
from tests.output import jobs

FACED = jobs.faced_template()
LEVEL = (297.0, 210.0)
OFF = Printer("p", "a4", (5, 5, 7, 5), (1.002, 0.997))


def test_a_true_printer_is_not_mentioned() -> None:
    """There is nothing to know."""
    assert scale_notes(FACED, replace(OFF, scale=(1.0, 1.0))) == ()


def test_pieces_that_follow_the_print_are_off_and_boards_are_not() -> None:
    """With both figures, and what makes both come out true."""
    (note,) = scale_notes(FACED, OFF)
    assert "off by +0.20 % in x and -0.30 % in y" in note
    assert "the jig follow" in note
    assert 'with correct = "print" in the workshop file both come out true' in note
    (alone,) = scale_notes(replace(FACED, build="printed"), OFF)
    assert "boards" not in alone


def test_prints_that_come_out_true_are_told() -> None:
    """The page itself is drawn the other way."""
    (note,) = scale_notes(FACED, replace(OFF, correct="print"))
    assert "print.pdf is drawn so much the other way" in note


@pytest.mark.parametrize(("scale", "count"), [((1.002, 0.997), 2), ((1.002, 1.002), 1)])
def test_a_sheet_that_lies_the_other_way_is_told(scale: tuple[float, float], count: int) -> None:
    """X and y have changed places, which matters only where they differ."""
    printer = printer_for(replace(OFF, scale=scale), LEVEL)
    assert len(scale_notes(FACED, printer)) == count
