"""Steps and materials of builds that are laminated, taped, mounted, or cut with a blade."""

from dataclasses import replace
from pathlib import Path

import pypdfium2 as pdfium
import pytest
from shapely import affinity

from namebatch.job import Job
from namebatch.output.cautions import Caution, cautions
from namebatch.output.docpage import Document, flow, write_pages
from namebatch.output.jigpicture import jig_picture
from namebatch.output.materials import material_lines, settings_table
from namebatch.output.worksteps import boards_alike, steps
from namebatch.sheet import jig_of, printed_page
from namebatch.template.model import Finish, FoundHole
from tests.output import doc_jobs, jobs
from tests.output.pages import read


def _finished(finish: Finish, kind: str = "tag") -> Job:
    job = doc_jobs.kite_job(kind)
    return replace(job, template=replace(job.template, finish=finish))


def _titles(job: Job) -> list[str]:
    return [step.title for step in steps(job)]


def _text(job: Job, title: str) -> str:
    return next(step.text for step in steps(job) if step.title == title)


def _amounts(job: Job) -> dict[str, tuple[str, str]]:
    return {line.name: (line.amount, line.remark) for line in material_lines(job)}


def _caution(job: Job, words: str) -> Caution | None:
    return next((one for one in cautions(job) if words in one.title), None)


def _blade(job: Job, card: str = "Card") -> Job:
    materials = dict(job.workshop.materials)
    materials["card-160"] = replace(materials["card-160"], title=card)
    cutter = replace(job.workshop.cutter, kind="blade")
    return replace(job, workshop=replace(job.workshop, cutter=cutter, materials=materials))


def test_laminating_comes_between_two_measurings() -> None:
    """Laminating can change the size by a little, so the bars are looked at before and after."""
    job = _finished(Finish("pouch", 0.08))
    assert _titles(job)[:5] == ["Print", "Measure", "Laminate", "Measure again", "Make the jig"]
    assert "One pouch a page, 0.08 mm a side" in _text(job, "Laminate")
    assert "100 mm across and up" in _text(job, "Measure again")
    assert "namebatch align" in _text(job, "Measure again")
    film = _finished(Finish("film", 0.05))
    assert "Film of 0.05 mm on the printed side" in _text(film, "Laminate")


def test_the_step_that_is_gone_back_to_is_the_right_one() -> None:
    """With further steps before it, its number grows; it is that of laying the print."""
    for finish in (Finish(), Finish("film", 0.05), Finish("film", 0.05, "face")):
        job = _finished(finish)
        number = _titles(job).index("Lay the print") + 1
        assert f"Then back to step {number} with the next sheet" in _text(job, "Cut the faces")


def test_tape_on_the_face_is_laid_before_the_print_is_cut() -> None:
    """On the back of every page; the liner comes off when the print is mounted."""
    job = _finished(Finish(tape="face"))
    titles = _titles(job)
    assert titles.index("Measure") < titles.index("Tape the pages") < titles.index("Make the jig")
    assert "Tape the boards" not in titles
    assert "Peel the liner off" in _text(job, "Mount")
    assert "Peel" not in _text(_finished(Finish()), "Mount")


def test_tape_on_the_board_is_laid_before_the_board_is_cut() -> None:
    """On both sides where both are printed."""
    job = _finished(Finish(tape="board"))
    titles = _titles(job)
    assert titles.index("Cut the faces") < titles.index("Tape the boards")
    assert titles.index("Tape the boards") < titles.index("Lay the board")
    assert "Tape the pages" not in titles
    assert "on both sides of every board" in _text(job, "Tape the boards")
    one = replace(job, template=replace(job.template, faces=("front",)))
    assert "on the side that the print goes on of every board" in _text(one, "Tape the boards")


def test_laminate_and_tape_are_counted() -> None:
    """A pouch or a piece of film a page; tape in sheets of the size of what it is laid on."""
    job = _finished(Finish("pouch", 0.125, "face", 0.2))
    assert job.totals.sheets == 3
    amounts = _amounts(job)
    assert amounts["laminating pouches"] == ("3", "for pages of 210 × 297 mm, 0.125 mm a side")
    tape = ("3", "210 × 297 mm each, 0.2 mm thick, on the backs of the pages")
    assert amounts["sheets of double-sided tape"] == tape
    assert amounts["faces to mount"][1] == "the tape is on their backs"
    job = _finished(Finish("film", 0.05, "board"))
    amounts = _amounts(job)
    assert job.totals.boards == 2
    assert amounts["pieces of laminating film"][0] == "3"
    assert amounts["sheets of double-sided tape"] == ("4", "300 × 200 mm each, on the boards")
    assert amounts["finished pieces"][1].endswith("when done, tape not counted")


def test_glue_lies_ready_where_a_step_wants_it() -> None:
    """Pages that are glued on, and fronts glued to their backs, have glue among the material."""
    pages = _amounts(_mounted())["page to mount"]
    assert pages[1] == "glue or double-sided tape, all over"
    assert "page to mount" not in _amounts(_mounted("face"))


def test_found_holes_want_rings_too() -> None:
    """One ring a hole, whether its place is given or found; the width says which."""
    job = doc_jobs.kite_job("tag")
    found = FoundHole("round", 4.0, 4.0, "top", 2.0, True)
    template = replace(job.template, found_holes=(found,))
    holes = len(job.template.holes) + 1
    amount, remark = _amounts(replace(job, template=template))["rings, cords, ribbons or screws"]
    assert amount == str(holes * job.totals.pieces)
    assert remark.startswith("if hung: one a hole; holes 4 ")
    none = replace(job, template=replace(template, holes=()))
    assert "If hung, put in rings" in _text(none, "Pack")


def _mounted(tape: str = "none") -> Job:
    """Medals whose pages are mounted on plywood of 400 × 300 mm before they are cut."""
    job = _finished(Finish(tape=tape, mounted=True), "medal")  # type: ignore[arg-type]
    materials = dict(job.workshop.materials)
    materials["card-160"] = replace(
        materials["card-160"], title="Plywood", sheet_mm=(400.0, 300.0), thickness_mm=3.0
    )
    page = printed_page((210.0, 297.0), (5.0, 5.0, 7.0, 5.0), 1.5)
    return replace(
        job,
        workshop=replace(job.workshop, materials=materials),
        jig=jig_of(page, (430.0, 330.0)),
    )


def test_mounted_prints_are_cut_with_their_board() -> None:
    """Mounted first; the jig lies level on strips and reaches past the board, its lines too."""
    job = _mounted()
    assert _titles(job) == [
        "Print",
        "Measure",
        "Mount the pages",
        "Make the jig",
        "Lay the print",
        "Tape it down",
        "Cut the faces",
        "Pack",
    ]
    assert "on paper" in _text(job, "Print")
    assert "on a sheet of Plywood (400 × 300 mm)" in _text(job, "Mount the pages")
    jig = _text(job, "Make the jig")
    assert "strips of Plywood" in jig
    assert "a jig sheet (430 × 330 mm) on them: it has to lie level" in jig
    assert "Beyond the edge of the sheet the marked lines go on" in _text(job, "Lay the print")
    amounts = _amounts(job)
    pages = str(job.totals.sheets)
    assert pages == "1"
    assert amounts["page of paper"] == (pages, "210 × 297 mm, to print")
    assert amounts["Plywood"] == (pages, "400 × 300 mm, 3 mm thick, one under each page")
    assert amounts["Jig sheet"][1] == "430 × 330 mm, stiff card or paper, cut at its own settings"
    assert amounts["finished pieces"][1].startswith("3.00 mm thick when done, paper not counted")


@pytest.mark.parametrize(
    ("tape", "where", "how"),
    [
        ("face", "on the backs of the pages", "Peel the liner off"),
        ("board", "on what they go on", "Lay tape on the sheet first, as large as the page"),
    ],
)
def test_mounted_prints_may_be_taped(tape: str, where: str, how: str) -> None:
    """On the page or on what it goes on, in sheets of the page's size."""
    job = _mounted(tape)
    amount, remark = _amounts(job)["sheet of double-sided tape"]
    assert (amount, where in remark) == (str(job.totals.sheets), True)
    assert how in _text(job, "Mount the pages")


def test_a_jig_of_another_card_has_colours_but_no_settings_and_no_time() -> None:
    """The colours of its lines are told; neither speeds of the plywood nor a time are."""
    job = _mounted()
    table = {row[0].partition("\t")[0]: row for row in settings_table(job)}
    colours = job.workshop.cutter.colours
    assert table["Cut jig window"] == (f"Cut jig window\t{colours['window']}", "jig: its own")
    assert table["Mark a line"] == (f"Mark a line\t{colours['mark']}", "jig: its own")
    assert next(s.seconds for s in steps(job) if s.title == "Make the jig") is None


def _short_jig() -> Job:
    """Pages mounted on plywood of 600 × 300 mm under a jig of A3, which reaches past no edge."""
    job = _mounted()
    materials = dict(job.workshop.materials)
    materials["card-160"] = replace(materials["card-160"], sheet_mm=(600.0, 300.0))
    page = printed_page((210.0, 297.0), (5.0, 5.0, 7.0, 5.0), 1.5)
    return replace(
        job,
        workshop=replace(job.workshop, materials=materials),
        jig=jig_of(page, (420.0, 297.0)),
    )


def test_a_jig_that_has_no_edge_to_be_fixed_by_is_not_told_to_be_fixed_by_one() -> None:
    """The step says what the note says: there is none, and what helps."""
    told = _text(_short_jig(), "Make the jig")
    assert "beyond the right or the upper edge" not in told
    assert "does not reach past the sheets of Plywood (600 × 300 mm)" in told
    assert "no edge to fix it by" in told
    assert "Cut the sheets smaller, or make the jig of a larger one (jig under [cutter]" in told


def test_the_picture_of_a_jig_shows_the_board_whole_and_no_edge_that_is_not_there(
    tmp_path: Path,
) -> None:
    """The board under the jig stays clear of the words, and nothing is fixed where it cannot be."""
    for job, fixed in ((_mounted(), True), (_short_jig(), False)):
        path = tmp_path / "jig.pdf"
        pages = flow(jig_picture(job))
        write_pages(path, Document("Card", "Tags", "x.csv"), pages, lambda done: None)
        assert ("Fixed to the bed along here" in read(path).text) is fixed
        with pdfium.PdfDocument(path) as document:
            page = document[0]
            words = page.get_textpage()
            at = words.search("The windows: the printed").get_next()
            left = words.get_charbox(at[0])[0]
            shapes = [o.get_bounds() for o in page.get_objects(filter=[2]) if o.get_bounds()]
        picture = [box for box in shapes if box[0] < left - 40 and box[3] < 780 and box[1] > 90]
        assert max(box[2] for box in picture if box[2] - box[0] < 400) < left - 12


def test_times_stand_with_the_steps_of_the_cutter() -> None:
    """The times of sheets and boards are those of the job; nothing else has one."""
    job = doc_jobs.kite_job("tag")
    times = {step.title: step.seconds for step in steps(job) if step.seconds is not None}
    assert set(times) == {"Make the jig", "Cut the faces", "Cut the boards"}
    assert times["Cut the faces"] + times["Cut the boards"] == pytest.approx(job.totals.cut_seconds)
    assert 0 < times["Make the jig"] < 60


def test_which_board_takes_which_print() -> None:
    """Alike boards take any print; of boards of their own shapes each takes its own."""
    job = doc_jobs.kite_job("tag")
    assert boards_alike(job)
    assert "All boards are alike" in _text(job, "Mount")
    first, *others = job.pieces
    other = replace(first, outline=affinity.scale(first.outline, 1.1))
    job = replace(job, pieces=(other, *others))
    assert not boards_alike(job)
    assert "find its id on the map of the board" in _text(job, "Mount")


def test_the_back_goes_with_its_own_front() -> None:
    """Boards may be alike, but the two prints on one are of the same piece."""
    told = _text(doc_jobs.kite_job("tag"), "Mount")
    assert "All boards are alike" in told
    assert "mount the back with the same id (where it was: assembly list and sheet map)" in told


def _again(job: Job, *faces: str) -> Job:
    """A remake of one piece, of some of its faces only."""
    sheets = [
        replace(one, placements=tuple(p for p in one.placements if p.face in faces))
        for one in job.sheets
    ]
    left = tuple(one for one in sheets if one.placements)
    return replace(job, sheets=left, again=("L2-1",), pieces=job.pieces[:1])


def test_of_one_face_made_again_only_that_is_mounted() -> None:
    """The good part has board and other face already: nothing is said of boards of any kind."""
    job = doc_jobs.kite_job("tag")
    told = _text(_again(job, "front"), "Mount")
    assert "Only the new front is mounted: on the board that has the good back" in told
    assert "All boards" not in told
    assert "mount the back" not in told
    assert "on the board that has the good front" in _text(_again(job, "back"), "Mount")


def test_good_parts_of_the_first_job_are_named() -> None:
    """What a remake does not make comes from the first job: boards, prints, one of the prints."""
    job = doc_jobs.kite_job("tag")
    told = _text(_again(job, "board"), "Mount")
    assert "The prints are the good ones of the first job." in told
    assert "All boards are alike" not in told
    assert "(where it was: assembly list and sheet map of the first job)" in told
    both = _text(_again(job, "front", "back"), "Mount")
    assert both.startswith("The boards are the good ones of the first job")
    assert "The back is the good one" in _text(_again(job, "front", "board"), "Mount")
    plain = replace(job, template=replace(job.template, faces=("front",)))
    assert "The print is the good one of the first job." in _text(_again(plain, "board"), "Mount")


def test_nothing_is_laid_to_a_jig_without_an_edge() -> None:
    """Where a jig cannot turn, no step slides anything under it or folds it away."""
    told = {step.title: step.text for step in steps(_short_jig())}
    assert "no edge to turn about" in told["Lay the print"]
    assert "lide the" not in told["Lay the print"]
    assert "fold" not in told["Tape it down"]
    hinged = {step.title: step.text for step in steps(_mounted())}
    assert "Slide the mounted print" in hinged["Lay the print"]
    assert "fold the jig away" in hinged["Tape it down"]


def test_one_side_is_not_called_the_first() -> None:
    """Where there is a front alone there is nothing to come after it."""
    job = doc_jobs.kite_job("tag")
    job = replace(job, template=replace(job.template, faces=("front",)))
    told = _text(job, "Mount")
    assert "first" not in told.lower()
    assert "back" not in told
    assert "The print lies flush at the edge and at the hole." in told


def test_commands_are_told_where_they_are_needed(tmp_path: Path) -> None:
    """A cutter with a pointer needs no jig, and spoiled pieces are made again: by which words."""
    job = doc_jobs.kite_job("tag")
    path = tmp_path / "jig.pdf"
    pages = flow(jig_picture(job))
    write_pages(path, Document("Card", "Tags", "x.csv"), pages, lambda done: None)
    align = "namebatch align FOLDER --sheet face-001 --measured marks.csv"
    assert align in read(path).text
    assert "namebatch remake FOLDER --piece L2-1" in _text(job, "Pack")


def test_one_of_a_thing_is_told_as_one() -> None:
    """No "1 pages", "1 sheets", "1 pouches"."""
    job = _finished(Finish("pouch", 0.08, "face", mounted=True), "medal")
    first = job.pieces[0]
    job = replace(
        job,
        pieces=(first,),
        sheets=(replace(job.sheets[0], placements=job.sheets[0].placements[:1]),),
        totals=replace(job.totals, pieces=1, sheets=1, boards=0),
    )
    names = {line.name for line in material_lines(job) if line.amount == "1"}
    assert names == {
        "page of paper",
        "Card 160 g/m²",
        "laminating pouch",
        "sheet of double-sided tape",
        "ring, cord, ribbon or screw",
        "Jig sheet",
        "finished piece",
    }
    film = replace(job, template=replace(job.template, finish=Finish("film", 0.05)))
    assert "piece of laminating film" in {line.name for line in material_lines(film)}
    faced = replace(doc_jobs.kite_job("tag"), pieces=(first,))
    faced = replace(faced, sheets=(), totals=replace(faced.totals, pieces=1))
    faced = replace(faced, template=replace(faced.template, faces=("front",)))
    assert "face to mount" in {line.name for line in material_lines(faced)}


def test_what_a_cost_leaves_out_is_said() -> None:
    """All that the card counts beside sheets and time is named as not counted."""
    told = _amounts(_finished(Finish("pouch", 0.08, "board")))["cost"][1]
    assert told.endswith("; not counted: pouches, tape, rings, the jig sheet")
    mounted = _amounts(_mounted())["cost"][1]
    assert mounted.endswith("; not counted: paper, glue, rings, the jig sheet")
    winder = doc_jobs.without_slot(doc_jobs.kite_job("winder"))
    assert "not counted" not in _amounts(winder)["cost"][1]


def test_a_cost_of_nothing_says_why() -> None:
    """Boards of an earlier job were paid for with it."""
    job = doc_jobs.kite_job("winder")
    old = replace(
        job,
        sheets=tuple(replace(sheet, part_used="offcut") for sheet in job.sheets),
        totals=replace(job.totals, cost=0.0),
    )
    assert (
        "part-used boards (paid for with the job that they were new for)"
        in (_amounts(old)["cost"][1])
    )


def test_a_blade_leaves_no_soot_and_no_fumes() -> None:
    """Steps and cautions speak of a blade; not of extraction, soot or a prohibited list."""
    job = _blade(doc_jobs.kite_job("tag"))
    told = " ".join(step.text for step in steps(job))
    care = " ".join(f"{one.title} {one.text}" for one in cautions(job))
    assert "soot" not in told
    assert "Mind the blade" in care
    for word in ("Extraction", "acrylic", "PVC", "laser"):
        assert word not in care
    assert "manual, local rules and licensed practice stand above this card" in care


def test_a_blades_vinyl_is_kept_out_of_lasers() -> None:
    """What may go under a blade only is told of by its name."""
    job = _blade(doc_jobs.kite_job("tag"), "Vinyl, matt")
    found = _caution(job, "Never into a laser: Vinyl, matt")
    assert found is not None
    assert found.urgent
    assert "chlorine and hydrogen chloride" in found.text


def test_laminate_and_tape_under_the_laser_are_left_to_their_makers() -> None:
    """The program knows no adhesive that may be cut: it defers, and only where one is cut."""
    assert _caution(doc_jobs.kite_job("tag"), "under the laser") is None
    found = _caution(_finished(Finish("pouch", 0.08, "face")), "Pouch and tape under the laser")
    assert found is not None
    assert found.urgent
    assert "Have the maker say in writing" in found.text
    assert "without that they are not cut" in found.text
    assert _caution(_finished(Finish("film", 0.05)), "Film under the laser") is not None
    assert _caution(_blade(_finished(Finish("film", 0.05))), "under the laser") is None


def test_the_manual_comes_first() -> None:
    """What stands above the card is the first of its own words."""
    job = jobs.faced_job()
    job = replace(job, workshop=replace(job.workshop, built_in=False))
    assert cautions(job)[0].title == "What comes first"
