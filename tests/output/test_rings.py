"""Holes that something goes through, listed ones, found ones and those of a drawing."""

from collections.abc import Callable
from pathlib import Path

import pytest

from namebatch.job import Job
from namebatch.output.materials import material_lines
from namebatch.output.rings import ring_widths_mm
from namebatch.template import find_template, load_template
from tests.template.folders import HEAD, TEXT, written

JobOf = Callable[..., Job]
TOML = f'{HEAD}\n[base]\ndrawing = "base.svg"\n{TEXT}'

DRAWN = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="80mm" height="40mm" viewBox="0 0 80 40">'
    '<path d="M0 0h80v40h-80z"/>{inside}</svg>'
)
DISC = '<circle cx="8" cy="20" r="{r}"/>'
SLOT = '<path d="M60 4h{length}v3h-{length}z"/>'
STAR = '<path d="M40 30l1 2.5 2.5 1-2.5 1-1 2.5-1-2.5-2.5-1 2.5-1z"/>'


@pytest.mark.parametrize(
    ("name", "widths"),
    [
        ("bag-tag", (5.0,)),  # listed
        ("ornament", (3.5,)),  # found for each piece
        ("key-fob", (5.0,)),  # drawn, beside the eleven lines of a kite
        ("line-winder", (3.5, 3.5)),
        ("place-card", ()),
    ],
)
def test_bundled_templates(name: str, widths: tuple[float, ...]) -> None:
    """What a person would put a ring or a cord through on the ten pieces."""
    assert ring_widths_mm(load_template(find_template(name))) == widths


@pytest.mark.parametrize(
    ("inside", "widths"),
    [
        (DISC.format(r=2), (4.0,)),
        (DISC.format(r=6), ()),  # a window
        (DISC.format(r=1), ()),  # an eye of a drawing
        (SLOT.format(length=10), (3.0,)),
        (SLOT.format(length=15), ()),
        (STAR, ()),
    ],
)
def test_drawn_holes_count_by_size_and_shape(
    tmp_path: Path, inside: str, widths: tuple[float, ...]
) -> None:
    """A hole that takes a ring is told from a window, an eye and a star."""
    folder = written(tmp_path / "t", TOML, base__svg=DRAWN.format(inside=inside))
    assert ring_widths_mm(load_template(folder)) == pytest.approx(widths, abs=0.05)


def test_rings_of_drawn_holes_are_counted(job_of: JobOf) -> None:
    """Three key fobs need three rings, though their template lists no hole."""
    job = job_of("name\nMarlo\nInka\nBirgit\n", "key-fob")
    [line] = [line for line in material_lines(job) if line.name.startswith("rings")]
    assert line.amount == "3"
    assert "5 mm" in line.remark
