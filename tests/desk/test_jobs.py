"""Jobs of a docket as the page shows them, and their files."""

import shutil
from pathlib import Path

import pytest

from namebatch.desk.jobs import KINDS, file_of, file_words, first_folder, order_of, whole_id
from namebatch.desk.work import Work
from namebatch.errors import DeskError, NotThereError, OutputError
from namebatch.names.mend import Mend
from namebatch.store import Change, KeptList, history
from tests.desk.owner import Owner, ended, opened


def test_a_job_tells_what_was_made(bench: tuple[Owner, Work]) -> None:
    """Counts add up, sheets have figures, and what was held says why in the page's words."""
    (job,) = bench[1].jobs(1)
    assert (job.number, job.remake_of, job.whole, job.stale, job.missing) == (
        1,
        None,
        True,
        False,
        (),
    )
    assert job.totals["rows"] == 4
    assert job.totals["made"] == 3
    assert job.totals["held"] == 1
    assert job.totals["pieces"] == 6
    assert [(sheet.id, sheet.kind, sheet.pieces) for sheet in job.sheets] == [
        ("face-001", "face", 6)
    ]
    (held,) = job.held
    assert held.line == 4
    assert "Zoë" in held.message
    assert job.faces == ("front",)
    assert "--" not in " ".join((*job.notes, *(each.text for each in job.cautions)))


def test_cautions_of_the_work_card_come_with_the_job(bench: tuple[Owner, Work]) -> None:
    """Whoever fetches cut files is told what the work card tells, the urgent first."""
    (job,) = bench[1].jobs(1)
    titles = [caution.title for caution in job.cautions]
    assert titles[:2] == ["Example values", "What comes first"]
    assert "Stay with the machine" in titles
    assert [caution.urgent for caution in job.cautions] == sorted(
        (caution.urgent for caution in job.cautions), reverse=True
    )


def test_files_are_sorted_by_what_they_are_for(bench: tuple[Owner, Work]) -> None:
    """Each has words for people; pictures of single pieces are fetched with the others only."""
    (job,) = bench[1].jobs(1)
    kinds = [file.kind for file in job.files]
    assert kinds == sorted(kinds, key=KINDS.index)
    paths = [file.path for file in job.files]
    assert {"print.pdf", "cut/face-001.svg", "jig.dxf", "workcard.pdf", "job.json"} <= set(paths)
    assert not [path for path in paths if path.startswith("previews/")]
    assert all(file.bytes > 0 and file.what for file in job.files)
    assert file_words("previews/L2-1.svg") is None


@pytest.mark.parametrize(
    "path",
    ["../../../namebatch.sqlite3", "/etc/hosts", "cut/../job.json", "cut", "", "proof.pdf\0"],
)
def test_only_what_the_manifest_lists_is_fetched(bench: tuple[Owner, Work], path: str) -> None:
    """Any other path is no file of the job, wherever it would lead."""
    with pytest.raises(NotThereError, match="has no file"):
        bench[1].file(1, 1, path)


def test_a_link_in_the_place_of_a_file_is_not_followed(bench: tuple[Owner, Work]) -> None:
    """A listed path that somebody made a link out of the folder counts as gone."""
    owner, work = bench
    path = work.file(1, 1, "held.csv")
    path.unlink()
    path.symlink_to(owner.store.path)
    with pytest.raises(OutputError, match=r"held\.csv is gone"):
        work.file(1, 1, "held.csv")


def test_a_changed_file_is_refused(bench: tuple[Owner, Work]) -> None:
    """Cut lines that are not those that were proven are not handed out, alone or in the ZIP."""
    work = bench[1]
    path = work.file(1, 1, "cut/face-001.svg")
    path.write_bytes(path.read_bytes() + b" ")
    with pytest.raises(OutputError, match="someone changed it"):
        work.file(1, 1, "cut/face-001.svg")
    with pytest.raises(OutputError, match="someone changed it"):
        work.all_files(1, 1)


def test_a_job_that_is_gone_is_told(bench: tuple[Owner, Work]) -> None:
    """Of a job whose folder is gone only what was noted is told; a missing file is named."""
    owner, work = bench
    folder = owner.store.docket_folder(1) / "jobs/001"
    (folder / "proof.pdf").unlink()
    (job,) = work.jobs(1)
    assert (job.whole, job.missing) == (False, ("proof.pdf",))
    shutil.rmtree(folder)
    (job,) = work.jobs(1)
    assert not job.whole
    assert "is gone" in job.missing[0]
    assert (job.sheets, job.files, job.totals) == ((), (), {})
    with pytest.raises(DeskError, match="is gone"):
        work.all_files(1, 1)
    with pytest.raises(NotThereError, match="has no job 7"):
        file_of(owner.store, 1, 7, "print.pdf")


def test_another_manifest_is_not_believed(bench: tuple[Owner, Work]) -> None:
    """A manifest that is not the one that was noted cannot name files to be fetched."""
    owner, work = bench
    manifest = owner.store.docket_folder(1) / "jobs/001/job.json"
    manifest.write_bytes(manifest.read_bytes().replace(b"held.csv", b"hold.csv"))
    (job,) = work.jobs(1)
    assert not job.whole
    with pytest.raises(DeskError, match="is gone"):
        work.file(1, 1, "job.json")


def test_a_job_is_stale_once_something_is_changed(bench: tuple[Owner, Work]) -> None:
    """A changed gap, filling or piece makes it stale; taken back, it is the same job again."""
    owner, work = bench
    for change in (
        Change(settings={"gap_mm": 5.0}),
        Change(settings={"keep_order": True}),
        Change(settings={"spare": "1"}),
        Change(mends={3: Mend(fields={"name": "Tealby"})}),
    ):
        history.change(owner.store, 1, "changed", owner.now(), change)
        assert work.jobs(1)[0].stale, change
        history.undo(owner.store, 1, owner.now())
        assert not work.jobs(1)[0].stale, change


def test_folders_and_ids_of_a_family() -> None:
    """A remake belongs to the job in whose folder it lies, a part to its whole piece."""
    assert first_folder("jobs/001/remakes/002") == "jobs/001"
    assert first_folder("jobs/001") == "jobs/001"
    assert whole_id("L14-2-1") == "L14-2"
    assert whole_id("L14-2") == "L14-2"


def test_each_order_has_its_own_files(tmp_path: Path) -> None:
    """Proofs and held lines of one order are told with its name, rows without one among them."""
    names = "name,order\nWren,Mill House\nTeal,\nZoë 𓅯,Dune Club\nInka,Mill House\nOdile,ร้านว่าว\n"
    with opened(tmp_path / "data") as (owner, work):
        docket = owner.docket(KeptList("orders.csv", names.encode()), "kite-tag")
        assert ended(owner, work, docket).state == "done"
        (job,) = work.jobs(docket)
    found = [(file.path, file.order) for file in job.files if file.kind == "order"]
    assert found == [
        ("customer-proof/001-mill-house.pdf", "Mill House"),
        ("customer-proof/002-dune-club.pdf", "Dune Club"),
        ("customer-proof/003-order.pdf", "ร้านว่าว"),
        ("customer-proof/004-without-an-order.pdf", "Without an order"),
        ("held/002-dune-club.csv", "Dune Club"),
    ]


def test_a_file_that_belongs_to_no_known_order_has_no_name() -> None:
    """A number beyond the orders, or words that are not those of the order, tell nothing."""
    orders = ("Mill House", "")
    assert order_of("customer-proof/002-without-an-order.pdf", orders) == "Without an order"
    assert order_of("customer-proof/003-mill-house.pdf", orders) is None
    assert order_of("held/001-dune-club.csv", orders) is None
    assert order_of("customer-proof/000-mill-house.pdf", orders) is None
    assert file_words("customer-proof/001-mill-house.csv") is None
    assert file_words("previews/001-mill-house.pdf") is None
