"""The whole order: counts that add up, sheets that hold everything, same input same bytes."""

import json
from collections.abc import Callable, Mapping
from hashlib import sha256
from pathlib import Path

import pytest

from namebatch.errors import NamebatchError, SettingsError, SheetError
from namebatch.job import Job
from namebatch.output.atomic import write_job
from namebatch.piece import Piece
from namebatch.pipeline import Settings, make_job, plan_job
from namebatch.sheet.model import Sheet
from tests.conftest import silent
from tests.outside.beam import WORKSHOP

JobOf = Callable[..., Job]
ListFile = Callable[..., Path]
NAMES = "name,village,quantity\nMarlo,Holm,2\nΘάλεια,Creek,1\nZoë 𓅯,Holm,1\nWren,,two\n"


def test_rows_in_are_made_and_held(job_of: JobOf) -> None:
    """Four rows are two made and two held, each held one with a reason."""
    totals = job_of(NAMES, "bag-tag").totals
    assert (totals.rows, totals.made, totals.held, totals.pieces) == (4, 2, 2, 3)


def test_faced_job_has_faces_and_boards(job_of: JobOf) -> None:
    """Every copy has front and back side by side on one sheet, and a board of its own."""
    job = job_of(NAMES, "bag-tag")
    where: dict[str, set[str]] = {}
    for sheet in job.sheets:
        for placement in sheet.placements:
            where.setdefault(f"{placement.piece}.{placement.face}", set()).add(sheet.id)
    assert len(where) == 9
    for piece in ("L2-1", "L2-2", "L3-1"):
        assert where[f"{piece}.front"] == where[f"{piece}.back"]
        assert where[f"{piece}.board"].pop().startswith("board")


def test_a_tab_that_runs_along_the_contour_is_cut(job_of: JobOf) -> None:
    """Names of a long list whose cut lines crossed where the tab's root met the contour."""
    job = job_of("name\nGitaro Curlew\nCorama Teasel\nEwati Mallow\n", "ornament")
    assert [row.held for row in job.rows] == [False, False, False]


def test_bare_job_prints_nothing(job_of: JobOf) -> None:
    """A bare job has boards, no printed sheet and no jig."""
    job = job_of("name\nWren\n", "line-winder")
    assert {sheet.kind for sheet in job.sheets} == {"board"}
    assert job.jig is None


@pytest.mark.parametrize("sheet", ["a4", "a3", "a5", "letter", "320x450"])
def test_sheet_sizes(job_of: JobOf, sheet: str) -> None:
    """Place cards fill sheets of every size, at most as many as they are."""
    rows = "".join(f"Wren {i},{i}\n" for i in range(12))
    job = job_of("name,table\n" + rows, "place-card", sheet=sheet)
    assert job.totals.made == 12
    assert 1 <= job.totals.sheets <= 12
    assert job.totals.sheets >= job.totals.sheets_lower_bound >= 1


def test_gap_is_kept_and_bleed_bows_to_it(job_of: JobOf) -> None:
    """A small gap makes the bleed smaller, and that is said."""
    job = job_of("name,table\nWren,1\nTeal,2\n", "place-card", gap_mm=1.0)
    assert job.bleed_mm == 0.5
    assert any("bleed is 0.5 mm" in text for text in job.notes)


def test_piece_without_room_is_held(job_of: JobOf) -> None:
    """When no sheet takes the pieces the job is impossible, with size and remedy."""
    with pytest.raises(SheetError, match=r"has room for it .* Take a larger sheet"):
        job_of("name,table\nWren,1\n", "place-card", sheet="90x60")


@pytest.mark.parametrize(
    ("settings", "message"),
    [
        ({"gap_mm": 0.0}, "gap of 0 mm cannot be used"),
        ({"gap_mm": float("nan")}, "gap of nan mm cannot be used"),
        ({"fill": "loose"}, 'no way to fill called "loose"'),
        ({"seconds": 20.0}, "--seconds is the time for --fill tight"),
        ({"fill": "tight", "seconds": 0.5}, "give 1 to 36000 seconds"),
        ({"fill": "tight", "seconds": float("nan")}, "--seconds nan cannot be used"),
        ({"fill": "tight", "keep_order": True}, "cannot keep list order"),
        ({"columns": {"nmae": "name"}}, "no field called nmae"),
        ({"sheet": "a9"}, "a9"),
        ({"sheet": "2000x2000"}, "does not lie on the cutter's bed"),
        ({"font": "Pacifoco"}, 'Did you mean "Pacifico"'),
    ],
)
def test_impossible_settings(job_of: JobOf, settings: dict[str, object], message: str) -> None:
    """What cannot be done is said at once, with the remedy."""
    with pytest.raises(NamebatchError, match=message):
        job_of("name,table\nWren,1\n", "place-card", **settings)


def test_unknown_material(list_file: ListFile, tmp_path: Path) -> None:
    """A template whose material the workshop lacks is told which there are."""
    workshop = tmp_path / "workshop.toml"
    workshop.write_text(
        '[printer]\nsheet = "a4"\nmargins_mm = [5, 5, 5, 5]\n'
        "[cutter]\nbed_mm = [600, 400]\ntravel_mm_s = 300\nacceleration_mm_s2 = 1500\n"
        '[material.oak]\ntitle = "Oak"\nsheet_mm = [300, 200]\nthickness_mm = 4\n'
        "kerf_mm = [0.2, 0.2]\nminimum_width_mm = 2\n[material.oak.speeds_mm_s]\nouter = 10\n",
        encoding="utf-8",
    )
    with pytest.raises(SettingsError, match="It has: oak"):
        plan_job(list_file("name\nWren\n"), Settings("line-winder", workshop))


def _digests(folder: Path) -> dict[str, str]:
    return {
        str(path.relative_to(folder)): sha256(path.read_bytes()).hexdigest()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


@pytest.mark.parametrize(
    ("template", "keep_order"), [("bag-tag", False), ("line-winder", True), ("place-card", False)]
)
def test_same_input_gives_the_same_bytes(
    list_file: ListFile, tmp_path: Path, template: str, keep_order: bool
) -> None:
    """Made twice, with one worker and with two, a job is the same to the byte.

    Sixty winders fill sheets for a long time; in list order that is quick.
    """
    text = "name,village,table\n" + "".join(
        f"Wren {chr(65 + i % 26)},Holm,{i}\n" for i in range(60)
    )
    path = list_file(text)
    for workers in (1, 2):
        settings = Settings(template, workers=workers, keep_order=keep_order)
        write_job(
            make_job(plan_job(path, settings), silent), tmp_path / f"out{workers}", False, silent
        )
    assert _digests(tmp_path / "out1") == _digests(tmp_path / "out2")


def test_manifest_lists_every_file(job_of: JobOf, tmp_path: Path) -> None:
    """The manifest's digests are those of the files, and no file is left out."""
    write_job(job_of(NAMES, "bag-tag"), tmp_path / "out", False, silent)
    manifest = json.loads((tmp_path / "out" / "job.json").read_text(encoding="utf-8"))
    found = _digests(tmp_path / "out")
    found.pop("job.json")
    assert manifest["files"] == found
    assert manifest["format"] == 1
    assert {"print.pdf", "jig.svg", "jig.dxf", "proof.pdf", "workcard.pdf", "held.csv"} <= set(
        found
    )
    assert {"customer-proof.pdf", "labels.pdf"} <= set(found)
    assert "cut/face-001.svg" in found
    assert "cut/board-001.dxf" in found
    assert {f"previews/{piece['id']}.svg" for piece in manifest["pieces"]} <= set(found)


@pytest.mark.parametrize(("gap", "told"), [(0.2, True), (0.3, False)])
def test_a_gap_below_the_kerf_is_told(
    list_file: ListFile, tmp_path: Path, gap: float, told: bool
) -> None:
    """Neighbouring cuts that run into each other are said; a gap as wide as the kerf is not."""
    workshop = tmp_path / "workshop.toml"
    text = WORKSHOP.format(kerf=(0.1, 0.3), least=1.4).replace("material.ply", "material.plywood-3")
    workshop.write_text(text, encoding="utf-8")
    plan = plan_job(list_file(NAMES), Settings("key-fob", workshop=workshop, gap_mm=gap))
    said = [note for note in plan.notes if "narrower than the kerf of 0.3 mm in Test ply" in note]
    assert bool(said) == told


def test_sheets_are_shown_as_they_are_filled(list_file: ListFile) -> None:
    """Whoever looks on sees every sheet once, in order, with the pieces that lie on it."""
    seen: list[tuple[str, set[str]]] = []

    def look(sheet: Sheet, pieces: Mapping[str, Piece]) -> None:
        seen.append((sheet.id, {placed.piece for placed in sheet.placements} - set(pieces)))

    job = make_job(plan_job(list_file(NAMES), Settings("bag-tag")), silent, laid=look)
    assert seen == [(sheet.id, set()) for sheet in job.sheets]
