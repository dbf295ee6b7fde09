"""Cut files of many jobs, read back: what is left when the kerf is taken off again.

`NAMEBATCH_CORPUS=560 pytest tests/outside/test_what_the_beam_leaves.py` checks so many names at
each kerf; by default some are enough.
"""

import os
from pathlib import Path

import pytest
from shapely import Point, Polygon, box

from namebatch.pipeline import Settings, make_job, plan_job
from tests.conftest import silent
from tests.outside.beam import (
    FACES,
    LEAST_MM,
    TEMPLATES,
    WORKSHOP,
    faker_names,
    left_of,
    made,
    measured,
)
from tests.outside.medial import narrowest_by_samples

COUNT = int(os.environ.get("NAMEBATCH_CORPUS", "12"))
KERFS = [(0.2, 0.2), (0.1, 0.3), (0.5, 0.5), (0.3, 0.12), (0.1, 0.1)]
HELD = 0.02
"""Share of names that may be held."""
FEW = 100
"""Below so many names each kerf is tried with one template and typeface."""


def _jobs() -> list[tuple[str, tuple[float, float], tuple[str, ...]]]:
    """Template, kerf and typefaces of each run."""
    rules = list(TEMPLATES)
    if COUNT < FEW:
        return [(rules[k % len(rules)], kerf, (FACES[2 * k],)) for k, kerf in enumerate(KERFS)]
    return [(rule, kerf, FACES) for kerf in KERFS for rule in rules]


@pytest.mark.parametrize(("rule", "kerf", "faces"), _jobs())
def test_every_piece_is_sound(
    rule: str, kerf: tuple[float, float], faces: tuple[str, ...], tmp_path: Path
) -> None:
    """One part, all holes, as wide as the material needs, sizes right, apart, SVG like DXF."""
    each = max(1, round(COUNT / len(TEMPLATES) / len(faces)))
    names = faker_names(each * len(faces), seed=list(TEMPLATES).index(rule))
    total = held = 0
    for k, face in enumerate(faces):
        job = made(rule, face, names[k * each : (k + 1) * each], kerf, tmp_path)
        total += job.totals.rows
        held += job.totals.held
        wrong = [left for left in measured(job, rule, face, kerf) if not left.is_sound]
        assert not wrong
    assert total == len(names)
    assert held <= HELD * total


def test_the_medial_axis_finds_known_necks() -> None:
    """A waist, the wall of a hole and a plain disc have the widths that one can name."""
    plate = box(0, 0, 40, 20)
    waist = plate - box(18, -1, 20, 9) - box(18, 10.5, 20, 21)
    assert narrowest_by_samples(waist, 3.0) == pytest.approx(1.5, abs=0.003)
    walled = plate - Point(30, 5.1).buffer(4, quad_segs=64)
    assert narrowest_by_samples(walled, 3.0) == pytest.approx(1.1, abs=0.003)
    assert narrowest_by_samples(plate, 3.0) == 3.0
    spike = plate.union(Polygon([(40, 9.8), (50, 10), (40, 10.2)]))
    assert narrowest_by_samples(spike, 3.0) == 3.0


def test_the_beam_is_an_ellipse_of_both_kerfs() -> None:
    """A square loses half the kerf of x on its sides and half that of y above and below."""
    left = left_of(box(0, 0, 10, 10), (0.2, 0.6))
    assert left.bounds == pytest.approx((0.1, 0.3, 9.9, 9.7))


def test_unsound_is_noticed(tmp_path: Path) -> None:
    """The measure fails pieces that are not as promised: here a kerf that was not reckoned."""
    job = made("weld on a rectangle", "Pacifico", ["Marlo"], (0.1, 0.1), tmp_path)
    (left,) = measured(job, "weld on a rectangle", "Pacifico", (0.2, 0.2))
    assert not left.is_sound
    assert 0.09 < left.size_off_mm < 0.12


def test_arcs_that_all_but_touch_are_not_taken_for_a_crossing(tmp_path: Path) -> None:
    """Coarse chords of this contour cross at a cusp where its arcs do not; the name is made."""
    folder = tmp_path / "contour"
    folder.mkdir()
    toml = TEMPLATES["contour"] + 'fonts = ["Lora Bold"]\n'
    (folder / "template.toml").write_text(toml, encoding="utf-8")
    workshop = WORKSHOP.format(kerf=(0.2, 0.2), least=LEAST_MM)
    (tmp_path / "workshop.toml").write_text(workshop, encoding="utf-8")
    (tmp_path / "list.csv").write_text("name\nΜηλιά\n", encoding="utf-8")
    settings = Settings(str(folder), workshop=tmp_path / "workshop.toml")
    job = make_job(plan_job(tmp_path / "list.csv", settings), silent)
    assert job.totals.made == 1, [row.findings for row in job.rows]
