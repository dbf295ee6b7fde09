"""A remake: the right pieces, told from the first job, refused where they would differ."""

import json
import os
import shutil
from hashlib import sha256
from pathlib import Path

import pytest
import shapely

from namebatch.errors import RemakeError, SettingsError, TemplateError
from namebatch.output.atomic import write_job
from namebatch.output.target import read_manifest, unchanged_files
from namebatch.remake import Wish, alone, check_place, next_folder, plan_remake
from namebatch.template.builtin_workshop import BUILTIN_TOML
from tests.conftest import silent
from tests.output import pages
from tests.remake import jobs
from tests.remake.jobs import First


@pytest.fixture(scope="module")
def kept(tmp_path_factory: pytest.TempPathFactory) -> First:
    """Place cards with a held row and spares; nobody may change it."""
    return jobs.first_job(tmp_path_factory.mktemp("cards"), jobs.HELD, "place-card", spare="1")


@pytest.fixture
def first(kept: First, tmp_path: Path) -> First:
    """A copy of the first job that a test may change."""
    folder = tmp_path / "first"
    shutil.copytree(kept.folder, folder)
    return First(kept.job, folder)


def test_only_the_copies_asked_for(first: First) -> None:
    """A copy, a spare and a whole line are made with their first ids, nothing else."""
    job = jobs.written(first, 1, "L2-2", "L5-4", "L3")
    made = jobs.manifest(first.folder / "remakes" / "001")
    assert [piece["id"] for piece in made["pieces"]] == ["L2-2", "L3-1", "L3-2", "L5-4"]
    assert [piece["copy"] for piece in made["pieces"]] == [2, 1, 2, 4]
    assert [piece["spare"] for piece in made["pieces"]] == [False, False, True, True]
    assert [row["line"] for row in made["rows"]] == [2, 3, 5]
    assert [row["pieces"] for row in made["rows"]] == [["L2-2"], ["L3-1", "L3-2"], ["L5-4"]]
    assert job.totals.rows == job.totals.made == 3
    assert (job.totals.pieces, job.totals.spares) == (4, 2)
    placed = sorted(p["piece"] for sheet in made["sheets"] for p in sheet["placements"])
    assert placed == ["L2-2", "L3-1", "L3-2", "L5-4"]
    assert sorted(path.stem for path in (first.folder / "remakes" / "001" / "previews").iterdir())


def test_traceable_to_the_first_job(first: First) -> None:
    """The remake names the first manifest by its digest, and papers and files by other numbers."""
    job = jobs.written(first, 1, "L2-2")
    folder = first.folder / "remakes" / "001"
    made = jobs.manifest(folder)
    assert made["remake_of"] == {
        "job_sha256": sha256((first.folder / "job.json").read_bytes()).hexdigest(),
        "list_sha256": first.manifest["list"]["sha256"],
        "pieces": ["L2-2"],
        "faces": [],
        "changed": [],
    }
    assert made["format"] == 1
    assert "remake_of" not in made["settings"]
    assert sorted(unchanged_files(folder, read_manifest(folder))) == sorted(made["files"])
    assert {s.id for s in job.sheets}.isdisjoint(sheet["id"] for sheet in first.manifest["sheets"])
    printed = " ".join(pages.read(folder / "print.pdf").text.split())
    assert f"{job.sheets[0].id} · Remake of L2-2: Place card" in printed
    assert "Remake of L2-2: Place card" in pages.read(folder / "workcard.pdf").text


def test_the_first_job_stays_as_it_was(first: First) -> None:
    """No file of the first job changes, and its folder can still be verified."""
    before = {path: path.read_bytes() for path in sorted(first.folder.rglob("*")) if path.is_file()}
    jobs.written(first, 1, "L2")
    assert all(path.read_bytes() == data for path, data in before.items())
    unchanged = unchanged_files(first.folder, read_manifest(first.folder))
    assert sorted(unchanged) == sorted(first.manifest["files"])


def test_numbers_go_on_over_all_remakes(first: First) -> None:
    """No two papers of a job and its remakes have one id; a remake made anew keeps its own."""
    one, two = jobs.written(first, 1, "L2-1"), jobs.written(first, 2, "L2-1")
    ids = [sheet["id"] for sheet in first.manifest["sheets"]]
    ids += [sheet.id for sheet in (*one.sheets, *two.sheets)]
    assert len(set(ids)) == len(ids)
    assert next_folder(first.folder).name == "003"
    data = (first.folder / "remakes" / "001" / "job.json").read_bytes()
    write_job(jobs.again(first, "L2-1"), first.folder / "remakes" / "001", False, silent)
    assert (first.folder / "remakes" / "001" / "job.json").read_bytes() == data


def test_one_size_is_that_of_the_whole_list(tmp_path: Path) -> None:
    """A short name keeps the size that the longest name of the first list left it."""
    old = 'vertical = "middle"\n\n[[text]]'
    new = 'vertical = "middle"\none_size = true\n\n[[text]]'
    template = jobs.own_template(tmp_path, "place-card", old, new)
    text = "name,table\nTeal,\nMaximilian Bartholomew Teasel,\n"
    first = jobs.first_job(tmp_path, text, template)
    alone = jobs.first_job(tmp_path / "alone", "name,table\nTeal,\n", template)
    again = jobs.again(first, "L2", template=str(template))
    was = first.job.pieces[0]
    assert again.pieces[0].letterings == was.letterings
    assert again.pieces[0].letterings[0].height_mm < alone.job.pieces[0].letterings[0].height_mm - 1


def test_han_characters_are_drawn_as_at_first(tmp_path: Path) -> None:
    """A name that leaves it open is drawn in the language that the first list showed."""
    text = "name,table\n直子,\n陈晓东,\n"
    first = jobs.first_job(tmp_path, text, "place-card")
    alone = jobs.first_job(tmp_path / "alone", "name,table\n直子,\n", "place-card")
    again = jobs.again(first, "L2")
    assert again.pieces[0].letterings == first.job.pieces[0].letterings
    assert again.pieces[0].letterings != alone.job.pieces[0].letterings


def test_a_rebuilt_row_says_what_was_tidied_once(tmp_path: Path) -> None:
    """Remarks of the reading come back as they were; those of the making are not doubled."""
    text = 'name,table\n"  Wren   Teasel ",\n"' + "Anastasia Bartholomew Teasel-Samphire" + '",\n'
    first = jobs.first_job(tmp_path, text, "place-card")
    again = jobs.again(first, "L2", "L3")
    assert again.rows == first.job.rows
    assert any(finding.code == "tidied" for finding in again.rows[0].findings)


def test_another_template_is_refused(tmp_path: Path) -> None:
    """A template that changed stops the remake with its remedy; accepted, what differs is told."""
    template = jobs.own_template(tmp_path, "place-card", "[samples]", "[samples]")
    first = jobs.first_job(tmp_path, jobs.CARDS, template)
    assert jobs.again(first, "L3").again == ("L3-1",)  # found beside the job by its name
    toml = template / "template.toml"
    text = toml.read_text(encoding="utf-8")
    toml.write_text(text.replace("width_mm = 85", "width_mm = 84"), encoding="utf-8")
    with pytest.raises(RemakeError, match=r"my-place-card is another one(.|\n)*--as-now"):
        jobs.again(first, "L3")
    job = jobs.again(first, "L3", as_now=True)
    assert any("the width was 85.0000 mm and is 84.0000 mm" in note for note in job.notes)
    assert job.settings["remake_of"]["changed"] == [  # type: ignore[index]
        "the template my-place-card is another one"
    ]
    shutil.rmtree(template)
    with pytest.raises(RemakeError, match="Say where it lies now with --template"):
        jobs.again(first, "L3", as_now=True)
    with pytest.raises(TemplateError, match="no template"):
        jobs.again(first, "L3", template="my-place-card")


def test_a_template_that_moved_is_given(tmp_path: Path) -> None:
    """What counts is what is in the template, not where it lies nor what its folder is called."""
    template = jobs.own_template(tmp_path, "place-card", "[samples]", "[samples]")
    first = jobs.first_job(tmp_path, jobs.CARDS, template)
    elsewhere = template.rename(tmp_path / "moved-card")
    assert jobs.again(first, "L3", template=str(elsewhere)).again == ("L3-1",)


def test_another_workshop_file_is_refused(tmp_path: Path) -> None:
    """Other values may make other pieces; a corrected printer alone makes the same ones."""
    place = tmp_path / "bench"
    place.mkdir()
    workshop = place / "shop.toml"
    workshop.write_text(BUILTIN_TOML, encoding="utf-8")
    first = jobs.first_job(place, jobs.CARDS, "place-card", workshop=workshop)
    assert jobs.again(first, "L3").again == ("L3-1",)
    workshop.write_text(f"# measured in May\n{BUILTIN_TOML}", encoding="utf-8")
    assert jobs.again(first, "L3").again == ("L3-1",)  # a remark is no other value
    scaled = BUILTIN_TOML.replace("[printer]", "[printer]\nscale = [1.002, 0.999]", 1)
    workshop.write_text(scaled, encoding="utf-8")
    with pytest.raises(RemakeError, match=r"shop.toml is another one(.|\n)*--workshop FILE"):
        jobs.again(first, "L3")
    job = jobs.again(first, "L3", as_now=True)
    assert any("Every piece measures as it did all the same" in note for note in job.notes)
    workshop.unlink()
    with pytest.raises(RemakeError, match=r"shop.toml, which is neither in this folder"):
        jobs.again(first, "L3")


def test_another_typeface_is_refused(first: First) -> None:
    """A typeface whose file is not the one of that time is told by name."""
    settings = first.manifest["settings"]
    fonts = dict(settings["fonts_sha256"], **{"Dancing Script Bold": "0" * 64})
    del fonts["Vollkorn SemiBold"]
    jobs.change_manifest(first.folder, {"settings": {**settings, "fonts_sha256": fonts}})
    with pytest.raises(RemakeError) as told:
        jobs.again(first, "L3")
    assert "the typeface Dancing Script Bold is another file" in str(told.value)
    assert "the typeface Vollkorn SemiBold was not there" in str(told.value)


def test_pieces_that_do_not_measure_the_same_are_refused(first: First) -> None:
    """A manifest that was changed by hand, or another library, shows in the measures."""
    rows = first.manifest["rows"]
    rows[0]["values"]["name"] = "Wren Weasel"
    jobs.change_manifest(first.folder, {"rows": rows})
    with pytest.raises(RemakeError, match=r"L2-1: the text was Wren Teasel.* and is Wren Weasel"):
        jobs.again(first, "L2-1")
    jobs.again(first, "L3")  # other rows are as they were


def test_a_row_that_is_held_now_is_refused(first: First) -> None:
    """What cannot be set any more is told, not left out."""
    rows = first.manifest["rows"]
    rows[0]["values"]["name"] = "W 𓅯"
    jobs.change_manifest(first.folder, {"rows": rows})
    with pytest.raises(RemakeError, match=r"cannot be made now. Line 2: .*U\+1316F"):
        jobs.again(first, "L2-1")


def test_changed_files_of_the_first_job_are_told(first: First) -> None:
    """Files that are gone or changed are named; the remake does not need them."""
    (first.folder / "proof.pdf").write_bytes(b"mine")
    (first.folder / "previews" / "L2-1.svg").unlink()
    notes = jobs.again(first, "L2-1").notes
    assert any("previews/L2-1.svg, proof.pdf" in note for note in notes)


@pytest.mark.parametrize("damage", ["gone", "cut", "older", "remake"])
def test_what_is_no_first_job_is_refused(first: First, damage: str) -> None:
    """An unfinished, damaged or older job, or a remake, is refused with what to do."""
    path = first.folder / "job.json"
    message = "holds no finished job"
    if damage == "gone":
        path.unlink()
    elif damage == "cut":
        path.write_bytes(path.read_bytes()[:-200])
    elif damage == "older":
        jobs.change_manifest(first.folder, {"list": {"source": "list.csv"}})
        message = "not as this version writes it"
    else:
        jobs.written(first, 1, "L2-1")
        shutil.copytree(first.folder / "remakes" / "001", first.folder.parent / "again")
        first = First(first.job, first.folder.parent / "again")
        message = "is itself a remake"
    with pytest.raises(RemakeError, match=message):
        jobs.again(first, "L2-1")


def test_every_manifest_that_was_tampered_with_is_an_error_of_ours(first: First) -> None:
    """Whatever a key of the manifest holds, the answer is a message and no crash."""
    whole = first.manifest
    for key in ("format", "template", "list", "settings", "software", "rows", "pieces", "sheets"):
        values: tuple[object, ...] = (None, 3, "x", [], {}, [{}], [None])
        for value in values:
            if key == "sheets" and value == []:
                continue  # a job of no sheets is a manifest that makes sense
            path = first.folder / "job.json"
            path.write_text(json.dumps({**whole, key: value}), encoding="utf-8")
            with pytest.raises(RemakeError):
                plan_remake(Wish(first.folder, first.folder / "remakes" / "001", ("L2-1",)))


def test_one_face_of_a_piece(tmp_path: Path) -> None:
    """A spoiled print on a good board, or the other way round, fills one kind of sheet only."""
    first = jobs.first_job(tmp_path, jobs.example("bag-tag", 2), "bag-tag")
    back = jobs.written(first, 1, "L2", faces=("back",))
    assert {p.face for sheet in back.sheets for p in sheet.placements} == {"back"}
    board = jobs.written(first, 2, "L2", faces=("board",))
    assert {sheet.kind for sheet in board.sheets} == {"board"}
    assert not (first.folder / "remakes" / "002" / "print.pdf").exists()
    card = " ".join(pages.read(first.folder / "remakes" / "002" / "workcard.pdf").text.split())
    assert "The prints are the good ones of the first job" in card
    assert "Make the jig" not in card
    whole = jobs.again(first, "L2")
    outlines = {bytes(shapely.to_wkb(job.pieces[0].outline)) for job in (back, board, whole)}
    assert len(outlines) == 1


def test_a_piece_in_parts_is_made_with_all_of_them(tmp_path: Path) -> None:
    """A part stands for its piece; sheets on which it would be split otherwise are refused."""
    joint = '[joint]\nkind = "straight"\n\n[samples]'
    template = jobs.own_template(tmp_path, "key-fob", "[samples]", joint)
    text = "name,quantity\nTeal,2\nInka,1\n"
    first = jobs.first_job(tmp_path, text, template, sheet="60x40")
    ids = [f"L2-2-{part}" for part in (1, 2, 3)]
    assert set(ids) < set(first.ids)
    for said in ("L2-2-1", "L2-2", "L2-2-1.board"):
        job = jobs.again(first, said)
        assert job.again == ("L2-2",)
        assert sorted(p.piece for sheet in job.sheets for p in sheet.placements) == ids
        told = any("made again with all its parts" in note for note in job.notes)
        assert told == (said != "L2-2")
    with pytest.raises(RemakeError, match=r"of line 2 there is L2-1 to L2-2"):
        jobs.again(first, "L2-2-4")
    with pytest.raises(RemakeError, match=r"Leave --sheet out(.|\n)*cut in 3 parts .* in 1 part"):
        jobs.again(first, "L2-2", sheet="a4")


def test_other_sheets_take_the_same_pieces(first: First) -> None:
    """A few pieces may go on a smaller page; they are the same there."""
    job = jobs.again(first, "L2-1", sheet="a5")
    assert job.sheets[0].size_mm == (148.0, 210.0)
    was = next(piece for piece in first.job.pieces if piece.line == 2)
    assert job.pieces[0].letterings == was.letterings
    assert job.pieces[0].outline == was.outline


def test_a_face_that_there_is_not_is_refused(first: First) -> None:
    """A place card has no back and no board."""
    with pytest.raises(RemakeError, match=r"no back and no board of their own. They have: front"):
        jobs.again(first, "L2-1", faces=("back", "board"))


def test_a_printed_job_has_no_board_to_go_onto(first: First) -> None:
    """--onto is refused where nothing is cut without print."""
    with pytest.raises(SettingsError, match="has no boards, so --onto"):
        jobs.again(first, "L2-1", onto=("board-001",))


def test_boards_are_not_named_for_prints_alone(tmp_path: Path) -> None:
    """--onto beside --face front would promise what is not done."""
    first = jobs.first_job(tmp_path, jobs.example("bag-tag", 2), "bag-tag")
    with pytest.raises(SettingsError, match=r"Only front of the pieces is made again"):
        jobs.again(first, "L2", faces=("front",), onto=("board-001",))


def test_two_at_once_are_kept_apart(first: First) -> None:
    """The second is refused while the first is at it, and goes through afterwards."""
    with alone(first.folder):
        with (
            pytest.raises(RemakeError, match=r"being made again by another run"),
            alone(first.folder),
        ):
            pass
        assert next_folder(first.folder).name == "001"
    with alone(first.folder):
        jobs.written(first, 1, "L2-1")
    assert next_folder(first.folder).name == "002"


def test_a_remake_elsewhere_does_not_vouch_for_its_numbers(first: First, tmp_path: Path) -> None:
    """Of remakes outside of the job's folder nobody knows; the papers do not claim otherwise."""
    inside = jobs.again(first, "L2-1")
    assert any("is taken for another" in note for note in inside.notes)
    outside = jobs.again(first, "L2-1", out=tmp_path / "elsewhere")
    assert not any("is taken for another" in note for note in outside.notes)
    assert any("keep their papers apart" in note for note in outside.notes)


def test_a_remake_keeps_out_of_the_first_job(first: First) -> None:
    """Neither the folder itself nor one among its files takes a remake; beside it is fine."""
    for place in (first.folder, first.folder / "cut", first.folder / "remakes"):
        with pytest.raises(RemakeError, match="whose files stay as they are"):
            check_place(first.folder, place)
    check_place(first.folder, first.folder / "remakes" / "001")
    check_place(first.folder, first.folder.parent / "again")


def test_the_same_wish_gives_the_same_bytes(first: First, tmp_path: Path) -> None:
    """Two folders of the same first job give byte-identical remakes, whatever they are called."""
    other = First(first.job, tmp_path / "elsewhere" / "job")
    shutil.copytree(first.folder, other.folder)
    here = Path.cwd()
    jobs.written(first, 1, "L5", "L2-1")
    os.chdir(tmp_path)
    try:
        jobs.written(First(first.job, Path("elsewhere/job")), 1, "L2-1,L5")
    finally:
        os.chdir(here)
    one, two = first.folder / "remakes" / "001", other.folder / "remakes" / "001"
    names = sorted(path.relative_to(one) for path in one.rglob("*") if path.is_file())
    assert names == sorted(path.relative_to(two) for path in two.rglob("*") if path.is_file())
    assert all((one / name).read_bytes() == (two / name).read_bytes() for name in names)
