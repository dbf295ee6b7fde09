"""Changes by hand on their way through a whole job: single pieces, the manifest, remakes."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
import shapely
from typer.testing import CliRunner

from namebatch.cli import app
from namebatch.errors import MendError
from namebatch.finding import Severity
from namebatch.job import Job
from namebatch.mends import Mend, TextMend, written
from namebatch.names.row import Row
from namebatch.output.atomic import write_job
from namebatch.piece import Piece
from namebatch.pipeline import Plan, Settings, make_job, plan_job
from namebatch.remake import Wish, make_again, plan_remake
from namebatch.single import make_one
from namebatch.template.regions import region_of
from tests.conftest import silent
from tests.plates import PLATE

JobOf = Callable[..., Job]
NAMES = "name\nMarlo Teasel\nJiří Samphire\nInka\n"
TAG, WINDER, PLATE_OPEN = "bag-tag", "line-winder", "stencil-plate"
LISTS = {
    TAG: "name,village\nMarlo Teasel,Sandreed\nInka Samphire,\nBo,Marram\n",
    WINDER: "name\nMarlo\nJiří\n",
    PLATE_OPEN: "name\nMARLO\nBO\n",
    "medal": "name,award\nInka,Longest\n",
    "kite-tag": "name,team\nMarlo,Gull team\n",
}


@pytest.fixture(scope="module")
def plans(tmp_path_factory: pytest.TempPathFactory) -> Callable[[str], Plan]:
    """Plans of bundled templates, made once."""
    made: dict[str, Plan] = {}

    def plan(template: str) -> Plan:
        if template not in made:
            path = tmp_path_factory.mktemp("lists") / f"{template}.csv"
            path.write_text(LISTS[template], encoding="utf-8")
            made[template] = plan_job(path, Settings(template))
        return made[template]

    return plan


def _one(plan: Plan, mend: Mend | None, line: int = 2) -> tuple[Row, Piece | None]:
    row = next(row for row in plan.names.rows if row.line == line)
    return make_one(plan, row, mend)


def _made(plan: Plan, mend: Mend | None, line: int = 2) -> Piece:
    row, piece = _one(plan, mend, line)
    assert piece is not None, [finding.message for finding in row.findings]
    return piece


def _ink(piece: Piece, box: str = "name") -> shapely.Geometry:
    return next(part.shape for part in piece.letterings if part.box == box)


def test_another_text_is_made_as_if_the_list_said_so(plans: Callable[[str], Plan]) -> None:
    """Only the remark that it was changed tells the two apart."""
    plan = plans(TAG)
    mended = _made(plan, Mend(fields={"name": "Bo", "village": "Marram"}))
    listed = _made(plan, None, line=4)
    assert mended.text == listed.text
    assert _ink(mended).equals(_ink(listed))
    assert mended.outline.equals(listed.outline)


def test_a_typeface_for_one_text_or_for_all(plans: Callable[[str], Plan]) -> None:
    """Fixed lines stay as the template has them."""
    plan = plans(TAG)
    fonts = {part.box: part.font for part in _made(plan, Mend(font="Lobster")).letterings}
    own = {part.box: part.font for part in _made(plan, None).letterings}
    assert (fonts["name"], fonts["village"], fonts["name-back"]) == ("Lobster",) * 3
    assert fonts["festival"] == own["festival"]
    mend = Mend(texts={"village": TextMend(font="Oswald")}, font="Lobster")
    fonts = {part.box: part.font for part in _made(plan, mend).letterings}
    assert (fonts["name"], fonts["village"]) == ("Lobster", "Oswald")


@pytest.mark.parametrize("mend", [TextMend(height_mm=5.25), TextMend(most_mm=5.25)])
def test_a_height_is_exact_or_the_greatest(plans: Callable[[str], Plan], mend: TextMend) -> None:
    """A short name takes either; it could be larger."""
    piece = _made(plans(TAG), Mend(texts={"name": mend}))
    heights = {part.box: part.height_mm for part in piece.letterings}
    assert heights["name"] == pytest.approx(5.25)
    assert heights["name-back"] != pytest.approx(5.25)


def test_a_height_that_there_is_no_room_for_holds_the_row(plans: Callable[[str], Plan]) -> None:
    """The reason says how high it could be, and that height is then made."""
    row, piece = _one(plans(TAG), Mend(texts={"name": TextMend(height_mm=50)}))
    assert piece is None
    message = row.findings[-1].message
    assert "was to be 50 mm high by hand, and there is room for" in message
    room = float(message.split("room for ")[1].split(" mm")[0])
    piece = _made(plans(TAG), Mend(texts={"name": TextMend(height_mm=room)}))
    assert _ink(piece).bounds[3] - _ink(piece).bounds[1] > room


def test_a_text_is_broken_where_it_was_asked(plans: Callable[[str], Plan]) -> None:
    """Two lines are higher than one, and the piece says the same as before."""
    whole = _made(plans(TAG), None)
    mend = Mend(texts={"name": TextMend(lines=("Marlo", "Teasel"), most_mm=4)})
    piece = _made(plans(TAG), mend)
    assert piece.text["name"] == whole.text["name"] == "Marlo Teasel"
    left, bottom, right, top = _ink(piece).bounds
    assert top - bottom > 1.6 * 4
    assert right - left < 0.7 * (_ink(whole).bounds[2] - _ink(whole).bounds[0])
    row, nothing = _one(plans(TAG), Mend(texts={"name": TextMend(lines=("Mar", "lo Teasel"))}))
    assert nothing is None
    assert 'cannot be broken by hand into "Mar" and "lo Teasel"' in row.findings[-1].message


def test_one_line_stays_one_line(job_of: JobOf, tmp_path: Path) -> None:
    """Where the template would take two, for the name would come out larger."""
    (tmp_path / "t").mkdir()
    text = (
        '\n[[text]]\nname = "who"\ncolumn = "name"\nbox_mm = [5, 5, 50, 20]\n'
        'fonts = ["Fredoka SemiBold"]\nmin_height_mm = 2\nmax_height_mm = 12\n'
        'two_lines = "larger"\n'
    )
    (tmp_path / "t" / "template.toml").write_text(PLATE + text, encoding="utf-8")
    text = "name\nBartholomew Marram\n"
    one = Mend(texts={"who": TextMend(one_line=True)})
    as_ever = job_of(text, str(tmp_path / "t")).pieces[0]
    by_hand = job_of(text, str(tmp_path / "t"), mends={2: one}).pieces[0]
    assert _ink(by_hand, "who").bounds[3] - _ink(by_hand, "who").bounds[1] < 0.8 * (
        _ink(as_ever, "who").bounds[3] - _ink(as_ever, "who").bounds[1]
    )


@pytest.mark.parametrize(
    ("template", "box", "shift"),
    [
        (TAG, "name", (4.0, 1.0)),
        ("kite-tag", "name", (2.0, -3.0)),
        ("kite-tag", "team", (5.0, 0.3)),
    ],
)
def test_a_text_is_moved_and_stays_in_its_place(
    plans: Callable[[str], Plan], template: str, box: str, shift: tuple[float, float]
) -> None:
    """Same size, elsewhere; along a line it goes on along it."""
    plan = plans(template)
    small = _made(plan, Mend(texts={box: TextMend(most_mm=5)}))
    moved = _made(plan, Mend(texts={box: TextMend(most_mm=5, shift_mm=shift)}))
    before, after = _ink(small, box).centroid, _ink(moved, box).centroid
    assert before.distance(after) == pytest.approx(sum(s * s for s in shift) ** 0.5, rel=0.02)
    place = region_of(next(b for b in plan.template.boxes if b.name == box))
    assert place.buffer(0.02).contains(_ink(moved, box))
    assert _ink(moved, box).area == pytest.approx(_ink(small, box).area, rel=0.01)


def test_a_text_on_an_arc_goes_round_with_it(plans: Callable[[str], Plan]) -> None:
    """Moved on by some millimetres it keeps its distance from the arc's middle."""
    plan = plans("medal")
    arc: Any = next(box.place for box in plan.template.boxes if box.name == "award")
    middle = shapely.Point(arc.centre_mm)
    small = _ink(_made(plan, Mend(texts={"award": TextMend(most_mm=2.6)})), "award")
    mend = Mend(texts={"award": TextMend(most_mm=2.6, shift_mm=(2.0, 0.0))})
    moved = _ink(_made(plan, mend), "award")
    assert moved.distance(middle) == pytest.approx(small.distance(middle), abs=0.02)
    assert moved.centroid.x - small.centroid.x > 1.5


@pytest.mark.parametrize(("template", "box"), [(TAG, "name"), ("medal", "award")])
def test_a_text_moved_out_of_its_place_holds_the_row(
    plans: Callable[[str], Plan], template: str, box: str
) -> None:
    """It would be cut off, or run over another; the reason says by how much."""
    row, piece = _one(plans(template), Mend(texts={box: TextMend(shift_mm=(60, 0))}))
    assert piece is None
    assert row.findings[-1].code == "moved-out-of-place"
    assert "leaves its place by " in row.findings[-1].message


def test_what_there_is_room_for_can_be_moved(plans: Callable[[str], Plan]) -> None:
    """The figures in the reason are right: just so far is made, a little farther is not."""
    text = TextMend(height_mm=5, shift_mm=(60, 0))
    row, _ = _one(plans(TAG), Mend(texts={"name": text}))
    far = float(row.findings[-1].message.split("room for ")[1].split(" mm")[0])
    assert _made(plans(TAG), Mend(texts={"name": TextMend(height_mm=5, shift_mm=(far, 0))}))
    beyond = TextMend(height_mm=5, shift_mm=(far + 0.1, 0))
    assert _one(plans(TAG), Mend(texts={"name": beyond}))[1] is None


@pytest.mark.parametrize(("template", "name"), [(WINDER, "Jiří"), (PLATE_OPEN, "Ööö")])
def test_bridges_are_as_wide_as_asked(
    plans: Callable[[str], Plan], template: str, name: str
) -> None:
    """They stand where they stood, the piece is one, and its proof is that of any piece."""
    fields = {"name": name}
    font = "" if template == WINDER else "Fredoka SemiBold"
    thin = _made(plans(template), Mend(fields=fields, font=font))
    wide = _made(plans(template), Mend(fields=fields, font=font, bridge_mm=3.0))
    assert thin.bridges
    assert [b.start for b in wide.bridges] == [b.start for b in thin.bridges]
    assert all(bridge.width_mm >= 3.0 for bridge in wide.bridges)
    assert wide.outline.area > thin.outline.area
    assert wide.proof.parts == 1
    assert wide.proof.narrowest_mm >= wide.proof.required_mm - 0.02
    for bridge in wide.bridges:
        middle = shapely.LineString([bridge.start, bridge.end])
        assert wide.outline.buffer(0.02).contains(middle.buffer(1.0, cap_style="flat"))


def test_a_change_to_one_piece_changes_no_other(job_of: JobOf) -> None:
    """Sizes that all share are those of the list: what was approved stays as it was approved."""
    text = "name\nMarlo\nBartholomew\nInka\n"
    alike = Mend(fields={"name": "Bo"})
    plain, mended = job_of(text, "ornament"), job_of(text, "ornament", mends={3: alike})
    for before, after in zip(plain.pieces, mended.pieces, strict=True):
        assert (before.line == 3) != before.outline.equals(after.outline)


def test_one_alone_is_as_it_is_among_all(job_of: JobOf, plans: Callable[[str], Plan]) -> None:
    """What the page shows is what will be made."""
    mends = {
        2: Mend(texts={"name": TextMend(height_mm=6, shift_mm=(1, 1))}),
        3: Mend(fields={"village": "Sandreed"}, font="Lobster"),
        4: Mend(held="ask the crew"),
    }
    job = job_of(LISTS[TAG], TAG, mends=mends)
    by_line = {piece.line: piece for piece in job.pieces}
    for row in job.rows:
        alone, piece = _one(plans(TAG), mends[row.line], row.line)
        assert alone == row
        assert (piece is None) == (row.line not in by_line)
        if piece is not None:
            assert piece.outline.equals(by_line[row.line].outline)
            assert piece.letterings == by_line[row.line].letterings
    assert (job.totals.made, job.totals.held) == (2, 1)


@pytest.mark.parametrize(
    ("template", "line", "mend", "told"),
    [
        (TAG, 99, Mend(quantity=2), "line 99: the list has nothing there; it ends at 4."),
        (TAG, 2, Mend(fields={"nam": "x"}), 'no field called "nam"; did you mean "name"?'),
        (TAG, 2, Mend(texts={"nme": TextMend(one_line=True)}), 'no text called "nme"; did you'),
        (TAG, 2, Mend(texts={"festival": TextMend(font="Oswald")}), "same on every piece"),
        (TAG, 2, Mend(font="Lobstr"), 'There is no typeface "Lobstr". Did you mean "Lobster"'),
        (TAG, 2, Mend(texts={"name": TextMend(height_mm=1)}), "would be 1 mm high; the template's"),
        (TAG, 2, Mend(bridge_mm=3), "this template has no bridges"),
        (WINDER, 2, Mend(bridge_mm=1), "narrower than the 1.5 mm that the material needs"),
        (TAG, 2, Mend(quantity=2, was={"name": "Inka"}), "the list is another one"),
        ("medal", 2, Mend(texts={"award": TextMend(lines=("a", "b"))}), "has one line only"),
    ],
)
def test_what_does_not_fit_is_refused(
    job_of: JobOf, template: str, line: int, mend: Mend, told: str
) -> None:
    """Before anything is made, and in words that say what to do."""
    with pytest.raises(MendError, match="do not fit the list") as error:
        job_of(LISTS[template], template, mends={line: mend, 50: Mend(quantity=1)})
    assert told in str(error.value)
    assert len(error.value.problems) == 2


def test_the_order_of_lists_and_files_makes_no_difference(tmp_path: Path) -> None:
    """A page's choices and a file's make the same folder, byte for byte."""
    text = Mend(texts={"name": TextMend(height_mm=6, shift_mm=(1, 1))}, quantity=3)
    mends = {2: text, 3: Mend(fields={"name": "Inka M."}, was={"name": "Inka Samphire"})}
    (tmp_path / "list.csv").write_text(LISTS[TAG], encoding="utf-8")
    (tmp_path / "mends.json").write_bytes(written(mends))
    arguments = ["make", str(tmp_path / "list.csv"), "--template", TAG, "--gap", "3"]
    arguments += ["--out", str(tmp_path / "a"), "--mends", str(tmp_path / "mends.json")]
    outcome = CliRunner().invoke(app, arguments)
    assert outcome.exit_code == 0, outcome.output
    plan = plan_job(tmp_path / "list.csv", Settings(TAG, gap_mm=3.0, mends=mends))
    write_job(make_job(plan, silent), tmp_path / "b", False, silent)
    paths = sorted(p.relative_to(tmp_path / "a") for p in (tmp_path / "a").rglob("*.*"))
    for path in paths:
        assert (tmp_path / "a" / path).read_bytes() == (tmp_path / "b" / path).read_bytes(), path
    manifest = json.loads((tmp_path / "a" / "job.json").read_bytes())
    assert [row["values"]["name"] for row in manifest["rows"]][1] == "Inka Samphire"
    assert manifest["rows"][1]["mend"]["fields"] == {"name": "Inka M."}
    assert manifest["rows"][2]["mend"] is None
    assert manifest["rows"][0]["mend"]["read"] == {"quantity": 1, "findings": []}
    assert [piece["id"] for piece in manifest["pieces"]][:3] == ["L2-1", "L2-2", "L2-3"]
    assert "mends_sha256" in manifest["settings"]


def test_a_mended_piece_is_made_again_as_it_was(tmp_path: Path) -> None:
    """A remake knows what was changed by hand, quantity and settled holds among it."""
    (tmp_path / "list.csv").write_text(
        "name,village,quantity\nMarlo Teasel,Sandreed,none\nInka,,1\n", encoding="utf-8"
    )
    text = TextMend(height_mm=6, shift_mm=(1, 1), font="Lobster")
    mends = {2: Mend(fields={"village": "Marram"}, texts={"name": text}, quantity=2)}
    plan = plan_job(tmp_path / "list.csv", Settings(TAG, mends=mends))
    job = make_job(plan, silent)
    write_job(job, tmp_path / "first", False, silent)
    remake = plan_remake(Wish(tmp_path / "first", tmp_path / "again", ("L2-2",)))
    again = make_again(remake, silent)
    assert again.pieces[0].letterings == job.pieces[0].letterings
    assert again.pieces[0].ids == ("L2-2",)
    assert again.rows[0].findings == job.rows[0].findings


def test_several_processes_make_the_same(job_of: JobOf) -> None:
    """A row takes its changes with it."""
    text = "name\n" + "".join(f"Inka {number}\n" for number in range(60))
    mends = {2: Mend(font="Lobster"), 40: Mend(texts={"name": TextMend(height_mm=4)})}
    one = job_of(text, "key-fob", mends=mends)
    two = job_of(text, "key-fob", mends=mends, workers=2)
    assert one.rows == two.rows
    assert [piece.letterings for piece in one.pieces] == [p.letterings for p in two.pieces]


def test_a_change_is_told_on_the_piece(job_of: JobOf) -> None:
    """Proof and work card show findings of pieces; a change by hand is one of them."""
    job = job_of("name\nMarlo\n", "key-fob", mends={2: Mend(quantity=2)})
    told = job.pieces[0].findings
    assert [(f.code, f.severity) for f in told] == [("by-hand", Severity.NOTE)]
    assert job.totals.pieces == 2
