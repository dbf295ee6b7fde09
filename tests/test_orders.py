"""Orders, spares and part-used boards through the whole job."""

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from namebatch.errors import SettingsError, WorkshopError
from namebatch.job import Job
from namebatch.output.atomic import write_job
from tests.conftest import silent

JobOf = Callable[..., Job]
LIST = (
    "name,qty,Customer\nMarlo Teasel,3,Mill House\nWren Marram,2,Dune Club\nCy Sedge,1,\n"
    "Di Samphire,4,Mill House\nEd Kelp,2,Dune Club\nFlo Wrack,5,Harbour\n"
)
GONE = '[[board]]\nname = "behind the door"\nmaterial = "plywood-3"\nused_mm = [[0, 0, 310, 300]]\n'


@pytest.fixture
def left(tmp_path: Path) -> Path:
    """A file with one part-used board."""
    path = tmp_path / "left.toml"
    path.write_text(GONE, encoding="utf-8")
    return path


def test_orders_share_sheets(job_of: JobOf) -> None:
    """An order that fits one sheet lies on one, whatever the list's order."""
    job = job_of(LIST, "place-card", columns={"table": "qty", "order": "Customer"}, by_order=True)
    own = {piece_id: piece.order for piece in job.pieces for piece_id in piece.ids}
    on: dict[str, set[str]] = {}
    for sheet in job.sheets:
        for placement in sheet.placements:
            on.setdefault(own[placement.piece], set()).add(sheet.id)
    assert all(len(on[order]) == 1 for order in ("Mill House", "Dune Club", "Harbour"))


def test_by_order_needs_orders(job_of: JobOf) -> None:
    """Without a column of orders the remedy is told with the headers that there are."""
    with pytest.raises(SettingsError, match=r'It has "name", "team".*--column order=HEADER'):
        job_of("name,team\nWren,Holm\n", "line-winder", by_order=True)


def test_orders_and_list_order_do_not_go_together(job_of: JobOf) -> None:
    """Two wishes that contradict each other are refused, not one of them forgotten."""
    with pytest.raises(SettingsError, match=r"--keep-order and --by-order cannot go together"):
        job_of(LIST, "bag-tag", by_order=True, keep_order=True)


def test_spares_are_made_and_told(job_of: JobOf, tmp_path: Path) -> None:
    """Spares are further copies: placed, counted, marked in the manifest, not on the proof."""
    job = job_of(LIST, "bag-tag", spare="10%")
    assert (job.totals.pieces, job.totals.spares) == (19, 2)
    write_job(job, tmp_path / "job", False, silent)
    manifest = json.loads((tmp_path / "job" / "job.json").read_text(encoding="utf-8"))
    spares = [piece["id"] for piece in manifest["pieces"] if piece["spare"]]
    placed = {p["piece"] for sheet in manifest["sheets"] for p in sheet["placements"]}
    assert len(spares) == 2
    assert placed == {piece["id"] for piece in manifest["pieces"]}
    assert [row["quantity"] for row in manifest["rows"]] == [3, 2, 1, 4, 2, 5]
    assert manifest["totals"]["spares"] == 2


def test_part_used_boards_in_the_files(job_of: JobOf, left: Path, tmp_path: Path) -> None:
    """The manifest says which board is the part-used one, and what of it is gone."""
    job = job_of(LIST, "bag-tag", part_used=left)
    write_job(job, tmp_path / "job", False, silent)
    manifest = json.loads((tmp_path / "job" / "job.json").read_text(encoding="utf-8"))
    first, *_ = (sheet for sheet in manifest["sheets"] if sheet["kind"] == "board")
    assert first["part_used"] == "behind the door"
    [[ring]] = first["used_mm"]
    assert sorted(map(tuple, ring)) == [(0, 0), (0, 300), (310, 0), (310, 300)]
    assert manifest["totals"]["boards_lower_bound"] <= manifest["totals"]["boards"]


def test_a_board_that_takes_nothing_is_told(job_of: JobOf, left: Path) -> None:
    """A part-used board without room is named, so that nobody fetches it."""
    full = GONE.replace("310, 300", "598, 300").replace("behind the door", "the full one")
    left.write_text(GONE + full, encoding="utf-8")
    job = job_of(LIST, "bag-tag", part_used=left)
    [told] = [note for note in job.notes if "Not needed" in note]
    assert '"the full one"' in told
    assert "behind the door" not in told


def test_what_part_used_boards_cannot_do(job_of: JobOf, left: Path) -> None:
    """A template without boards, and list order along the sheets, are refused with a remedy."""
    with pytest.raises(SettingsError, match=r"has no boards.*Leave it out"):
        job_of(LIST, "place-card", columns={"table": "qty"}, part_used=left)
    with pytest.raises(SettingsError, match=r"cannot go together.*Leave one"):
        job_of(LIST, "bag-tag", part_used=left, keep_order=True)


def test_boards_of_materials_that_there_are_not(job_of: JobOf, left: Path) -> None:
    """A material that the workshop file lacks is named with those that it has."""
    left.write_text(GONE.replace("plywood-3", "oak-9"), encoding="utf-8")
    with pytest.raises(WorkshopError, match=r'the door: .*no material "oak-9"; it has: card'):
        job_of(LIST, "bag-tag", part_used=left)
    left.write_text(GONE.replace("used_mm", "size_mm = [2000, 900]\nused_mm"), encoding="utf-8")
    with pytest.raises(WorkshopError, match=r"behind the door: 2000 × 900 mm does not lie"):
        job_of(LIST, "bag-tag", part_used=left)
