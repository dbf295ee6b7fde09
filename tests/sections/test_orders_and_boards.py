"""Long lists with orders, spares, part-used boards; what goes on from such a job later."""

import csv
import os
from itertools import product
from pathlib import Path

import pypdfium2
import pytest

from namebatch.crew import Processes
from namebatch.cutboards import cut_board
from namebatch.measured.jobsheet import read_job_sheet
from namebatch.output.atomic import write_job
from namebatch.remake import Wish as Remake
from namebatch.remake import make_again, plan_remake
from tests.conftest import silent
from tests.sections import batches

ORDERS = ("Mill House", "Dune Club", "", "Harbour", "mill  house")
LEFT = "".join(
    f'[[board]]\nname = "{name}"\nmaterial = "plywood-3"\nused_mm = [[0, 0, 520, 300]]\n'
    for name in ("behind the door", "under the stairs", "by the window")
)


def orders_list(place: Path) -> Path:
    """Twenty rows of four orders, one written in two ways; line 6 is held."""
    place.mkdir(parents=True, exist_ok=True)
    some = batches.names(20)
    some[4] = "Zoë 𓅯"
    rows = [f"{name},{ORDERS[n % 5]}" for n, name in enumerate(some)]
    path = place / "list.csv"
    path.write_text("name,order\n" + "\n".join(rows) + "\n", encoding="utf-8")
    return path


@pytest.fixture(scope="module")
def by_order(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A job by order in several sections, whose rows do not follow one another."""
    place = tmp_path_factory.mktemp("orders")
    batches.made(orders_list(place), place / "job", "bag-tag", by_order=True)
    return place / "job"


def text_of(path: Path) -> str:
    """All that stands in a PDF."""
    with pypdfium2.PdfDocument(path) as document:
        return "\n".join(page.get_textpage().get_text_range() for page in document)


def test_list_order_in_the_manifest(by_order: Path) -> None:
    """Rows and pieces stand in list order, however the orders share them out."""
    content = batches.manifest(by_order)
    assert batches.lines(content["rows"]) == list(range(2, 22))
    assert batches.lines(content["pieces"]) == [line for line in range(2, 22) if line != 6]
    rows = {row["line"]: row["pieces"] for row in content["rows"]}
    assert all(piece["id"] in rows[piece["line"]] for piece in content["pieces"])
    for kind, faces in (("face", ("front", "back")), ("board", ("board",))):
        ids = [piece["id"] for piece in content["pieces"]]
        assert batches.placed(content, kind) == sorted(f"{i}.{f}" for i, f in product(ids, faces))


def test_an_order_is_in_one_section(by_order: Path) -> None:
    """No two sections have a piece of the same order: sheets of one follow those of another."""
    content = batches.manifest(by_order)
    order = {
        piece: " ".join(row["order"].split()).casefold()
        for row in content["rows"]
        for piece in row["pieces"]
    }
    card = text_of(by_order / "workcard.pdf")
    assert "as the orders are" in card
    sheets = [sheet for sheet in content["sheets"] if sheet["kind"] == "face"]
    ends: dict[str, set[int]] = {}
    for number, sheet in enumerate(sheets):
        for place in sheet["placements"]:
            ends.setdefault(order[place["piece"]], set()).add(number)
    assert len(ends["mill house"]) <= 3
    assert ends["mill house"].isdisjoint(ends["harbour"])


def test_each_customer_has_a_proof(by_order: Path) -> None:
    """One proof an order, numbered over the whole list, with all of its names and no other."""
    found = {path.name: text_of(path) for path in (by_order / "customer-proof").iterdir()}
    assert sorted(found) == [
        "001-mill-house.pdf",
        "002-dune-club.pdf",
        "003-harbour.pdf",
        "004-without-an-order.pdf",
    ]
    stems = ("001", "002", "004", "003", "001")  # of the orders in turn
    for number, name in enumerate(batches.names(20)):
        whose = [key[:3] for key, text in found.items() if name in text]
        assert whose == ([] if number == 4 else [stems[number % 5]])
    assert not (by_order / "customer-proof.pdf").exists()


def test_held_rows_by_order(by_order: Path) -> None:
    """The order with the held row has a table of its own, with the number of its proof."""
    assert [path.name for path in (by_order / "held").iterdir()] == ["001-mill-house.csv"]
    with (by_order / "held.csv").open(encoding="utf-8-sig", newline="") as stream:
        assert [row[0] for row in csv.reader(stream)] == ["line", "6"]


def test_list_order_is_kept_along_the_sheets(tmp_path: Path) -> None:
    """With --keep-order sections are rows that follow one another; an order's proofs are joined."""
    path = orders_list(tmp_path)
    batches.made(path, tmp_path / "job", "bag-tag", keep_order=True)
    content = batches.manifest(tmp_path / "job")
    faces = [sheet for sheet in content["sheets"] if sheet["kind"] == "face"]
    along = [int(place["piece"][1:-2]) for s in faces for place in s["placements"]]
    assert along == sorted(along)
    proof = text_of(tmp_path / "job" / "customer-proof" / "001-mill-house.pdf")
    names = batches.names(20)
    assert all(name in proof for name in names[::5])


def test_spares(tmp_path: Path) -> None:
    """Spares are made in every section, and the totals count them."""
    path = batches.plain_list(tmp_path)
    made = batches.made(path, tmp_path / "job", spare="1")
    content = batches.manifest(tmp_path / "job")
    assert (content["totals"]["pieces"], content["totals"]["spares"]) == (38, 19)
    assert made.job.totals.spares == 19
    assert sum(piece["spare"] for piece in content["pieces"]) == 19


@pytest.fixture(scope="module")
def part_used(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A job that begins on what is left of three boards."""
    place = tmp_path_factory.mktemp("boards")
    (place / "left.toml").write_text(LEFT, encoding="utf-8")
    path = batches.plain_list(place)
    batches.made(path, place / "job", "bag-tag", part_used=place / "left.toml")
    return place / "job"


def test_a_part_used_board_is_cut_once(part_used: Path) -> None:
    """What one section leaves unused the next one may take; no board is taken twice."""
    content = batches.manifest(part_used)
    used = [sheet["part_used"] for sheet in content["sheets"] if sheet["part_used"]]
    assert used
    assert len(used) == len(set(used))
    ids = [piece["id"] for piece in content["pieces"]]
    assert batches.placed(content, "board") == sorted(f"{i}.board" for i in ids)


def test_part_used_boards_by_several(part_used: Path, tmp_path: Path) -> None:
    """Several processes take the same boards in the same order."""
    place = part_used.parent
    batches.made(
        place / "list.csv",
        tmp_path / "job",
        "bag-tag",
        crew=Processes(3),
        part_used=place / "left.toml",
    )
    assert batches.files_of(tmp_path / "job") == batches.files_of(part_used)


def test_spoiled_pieces_are_made_again(by_order: Path, tmp_path: Path) -> None:
    """A remake reads such a job like any other, and its sheets go on from the last one."""
    remake = plan_remake(Remake(by_order, tmp_path / "again", ("L3-1", "L21-1")))
    job = make_again(remake, silent)
    write_job(job, tmp_path / "again", False, silent)
    last = max(s["id"] for s in batches.manifest(by_order)["sheets"] if s["kind"] == "face")
    first = batches.manifest(tmp_path / "again")["sheets"][0]["id"]
    assert int(first[-3:]) == int(last[-3:]) + 1


def test_sheets_can_be_aligned_and_cut_again(by_order: Path) -> None:
    """The last sheets' cut files are found and read with their digests, pages and boards."""
    ids = [sheet["id"] for sheet in batches.manifest(by_order)["sheets"]]
    face = [name for name in ids if name.startswith("face")][-1]
    assert read_job_sheet(by_order, face).size_mm == (210.0, 297.0)
    board = cut_board(by_order, ids[-1])
    assert board.gone.area > 0


def test_search_shares_its_time(tmp_path: Path) -> None:
    """--fill tight goes through; each section searches for its share of the time."""
    path = batches.plain_list(tmp_path)
    made = batches.made(path, tmp_path / "job", "key-fob", fill="tight", seconds=3.0)
    assert made.job.totals.made == 19
    content = batches.manifest(tmp_path / "job")
    assert content["settings"]["seconds"] == 3.0
    ids = [piece["id"] for piece in content["pieces"]]
    assert batches.placed(content, "board") == sorted(f"{i}.board" for i in ids)


@pytest.mark.skipif(os.name != "posix", reason="needs rights of a folder")
def test_processes_make_no_other_files(tmp_path: Path) -> None:
    """Nothing but the job is left beside it when several processes made it."""
    path = batches.plain_list(tmp_path)
    batches.made(path, tmp_path / "job", crew=Processes(2))
    assert sorted(one.name for one in tmp_path.iterdir()) == ["job", "list.csv"]
