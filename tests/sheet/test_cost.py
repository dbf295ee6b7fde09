"""What a job costs: sheets, boards and the cutter's time at the workshop file's prices."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from namebatch.job import Job
from namebatch.output.materials import material_lines
from namebatch.sheet.cost import cost_of, unpriced
from namebatch.template import load_workshop
from namebatch.template.builtin_workshop import BUILTIN_TOML
from namebatch.template.workshop import Workshop


@pytest.fixture
def job(job_of: Callable[..., Job]) -> Job:
    """Three key fobs on one board, at no price."""
    return job_of("name\nMarlo\nWren\nOtis\n", "key-fob")


def priced(job: Job, board: float | None, hour: float | None) -> Workshop:
    """The job's workshop with prices for its board and for an hour."""
    shop = job.workshop
    name = job.sheets[0].material
    materials = {**shop.materials, name: replace(shop.materials[name], price=board)}
    return replace(shop, cutter=replace(shop.cutter, price_per_hour=hour), materials=materials)


def test_boards_and_time_add_up(job: Job) -> None:
    """One board at 4.20, and an hour at 36: a hundredth of a second costs 0.0001."""
    cost = cost_of(job.sheets, priced(job, 4.2, 36.0))
    assert cost is not None
    assert cost.cutting is not None
    assert cost.material == 4.2 * len(job.sheets)
    assert cost.cutting == pytest.approx(0.01 * sum(sheet.seconds for sheet in job.sheets))
    assert cost.total == pytest.approx(4.2 * len(job.sheets) + cost.cutting)


def test_what_has_no_price_is_not_guessed(job: Job) -> None:
    """Without a price for the board there is no cost; without one for an hour that of boards."""
    assert cost_of(job.sheets, job.workshop) is None
    assert cost_of(job.sheets, priced(job, None, 36.0)) is None
    assert cost_of([], priced(job, 4.2, 36.0)) is None
    boards = cost_of(job.sheets, priced(job, 4.2, None))
    assert boards is not None
    assert (boards.cutting, boards.total) == (None, 4.2)
    free = cost_of(job.sheets, priced(job, 0.0, 0.0))
    assert free is not None
    assert free.total == 0.0


def test_part_used_boards_cost_nothing_only_where_boards_have_a_price(job: Job) -> None:
    """A workshop that enters no prices is told no cost, not one of nothing."""
    old = [replace(sheet, part_used="behind the door") for sheet in job.sheets]
    assert cost_of(old, priced(job, None, None)) is None
    free = cost_of(old, priced(job, 4.2, None))
    assert free is not None
    assert free.total == 0.0


def test_a_lacking_price_is_named_once_another_is_given(job: Job) -> None:
    """Nothing is said to a workshop that enters no prices at all."""
    board = job.workshop.materials[job.sheets[0].material]
    assert unpriced([board], job.workshop) == ()
    assert unpriced([board, board], priced(job, None, 36.0)) == (board.title,)
    shop = priced(job, 4.2, 36.0)
    assert unpriced([shop.materials[board.name]], shop) == ()


def test_prices_of_the_workshop_file_reach_job_and_card(
    tmp_path: Path, job_of: Callable[..., Job]
) -> None:
    """A file with both prices gives a cost in its parts; the card says what it counts."""
    path = tmp_path / "shop.toml"
    toml = BUILTIN_TOML.replace("corner_mm = 0.05", "corner_mm = 0.1\nprice_per_hour = 24")
    for name in ("plywood-3", "basswood-2"):
        toml = toml.replace(f"[material.{name}]", f"[material.{name}]\nprice = 4.2")
    path.write_text(toml, encoding="utf-8")
    cutter = load_workshop(path).cutter
    assert "cost" not in " ".join(job_of("name\nMarlo\n", "key-fob").notes)
    assert (cutter.corner_mm, cutter.price_per_hour) == (0.1, 24.0)
    job = job_of("name\nMarlo\nWren\n", "key-fob", workshop=path)
    cutting = 24.0 * job.totals.cut_seconds / 3600
    assert job.totals.cutting_cost == pytest.approx(cutting)
    assert job.totals.cost == pytest.approx(4.2 + cutting)
    (line,) = [line for line in material_lines(job) if line.name == "cost"]
    assert line.amount == f"{4.2 + cutting:.2f}"
    told = f"material 4.20, cutting {cutting:.2f}, at the workshop file's prices"
    assert line.remark == f"{told}; not counted: rings"


def test_a_job_says_why_its_cost_is_left_out(tmp_path: Path, job_of: Callable[..., Job]) -> None:
    """An hour has a price and the board has none: no cost, and a note that names the board."""
    path = tmp_path / "shop.toml"
    toml = BUILTIN_TOML.replace("corner_mm = 0.05", "price_per_hour = 24")
    path.write_text(toml, encoding="utf-8")
    job = job_of("name\nMarlo\n", "key-fob", workshop=path)
    board = job.workshop.materials[job.sheets[0].material].title
    assert (job.totals.cost, job.totals.cutting_cost) == (None, None)
    assert f"The cost is left out: the workshop file has no price for {board}." in job.notes
