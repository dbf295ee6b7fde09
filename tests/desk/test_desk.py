"""Dockets, lists and settings as the desk gives them."""

from collections.abc import Mapping
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from namebatch.desk import Desk, plan_recipe
from namebatch.errors import DeskError, NotThereError, StoreError
from namebatch.names.mend import Mend, TextMend
from namebatch.pipeline import Settings, plan_job
from namebatch.resources import bundled
from namebatch.store import KeptList
from namebatch.store.model import Setting
from namebatch.template import bundled_templates
from tests.desk.desks import BARE, FOBS, PLACES, all_made, desk_in


def test_counts_add_up(desk: Desk) -> None:
    """Lines are made, held or waiting at any time, and pieces count what made rows order."""
    number = desk.create("", "place-card", PLACES).number
    all_made(desk, number)
    view = desk.docket(number)
    counts = view.counts
    assert counts is not None
    assert counts.lines == 5 == counts.made + counts.held + counts.waiting
    assert (counts.made, counts.held, counts.waiting, counts.pieces) == (2, 3, 0, 3)
    assert view.problem is None


def test_a_new_docket_is_called_like_its_template_and_has_nothing_to_undo(desk: Desk) -> None:
    """Choosing the template is how it began, and no step of its history."""
    view = desk.create(" ", "key-fob")
    assert view.template is not None
    assert view.title == view.template.title
    assert (view.can_undo, view.undo_told, view.counts) == (False, None, None)
    assert (view.state, view.next.part) == ("list", "list")


def test_what_comes_next_follows_the_work(desk: Desk) -> None:
    """First the list, then its columns, then the pieces, then the sheets."""
    number = desk.create("Crew", "flyer-pass").number
    assert desk.docket(number).next.part == "list"
    view = desk.put_list(number, BARE)
    assert view.problem is not None
    assert view.next.part == "list"
    desk.put_list(number, FOBS)
    number = desk.create("Crew", "key-fob", FOBS).number
    all_made(desk, number)
    view = desk.docket(number)
    assert view.counts is not None
    assert (view.next.part, view.state) == (
        ("look", "look") if view.counts.look else ("lay-out",) * 2
    )


def test_the_stored_state_follows_and_is_no_change(desk: Desk) -> None:
    """Looking at a docket notes where it stands and leaves its place on the hook."""
    number = desk.create("Crew", "key-fob", FOBS).number
    before = desk.docket(number)
    all_made(desk, number)
    after = desk.docket(number)
    assert after.changed == before.changed
    desk.renew()  # put away, so that only the store knows
    (card,) = desk.dockets()
    assert (card.counts, card.state) == (after.counts, after.state)
    assert card.changed == before.changed


def test_dockets_that_are_not_there_are_told(desk: Desk) -> None:
    """A number, a line or a template that there is none of is another error than a wrong one."""
    with pytest.raises(NotThereError, match="no docket 0007"):
        desk.docket(7)
    with pytest.raises(StoreError, match="no docket 0007"):
        desk.delete(7)
    with pytest.raises(NotThereError, match="no template"):
        desk.create("", "../../key-fob", FOBS)
    number = desk.create("", "key-fob", FOBS).number
    with pytest.raises(NotThereError, match="nothing in line 99"):
        desk.row(number, 99)
    assert desk.rows(number, [99, 3]).rows[0].line == 3


def test_copies_have_list_settings_and_changes(desk: Desk) -> None:
    """A copy begins a history of its own and can be changed without the first one."""
    number = desk.create("Crew", "key-fob", FOBS).number
    desk.change_settings(number, {"gap_mm": 4.5})
    desk.put_mend(number, 2, Mend(fields={"name": "Marla"}))
    copy = desk.copy(number)
    assert copy.title == "Crew, copy"
    assert copy.settings == {"template": "key-fob", "gap_mm": 4.5}
    assert not copy.can_undo
    assert desk.row(copy.number, 2).text.startswith("Marla")
    desk.put_mend(copy.number, 2, None)
    assert desk.row(number, 2).fields["name"] == "Marla"


def test_nothing_is_left_of_a_deleted_docket(desk: Desk) -> None:
    """Neither the open docket nor the kept one answers any more."""
    number = desk.create("Crew", "key-fob", FOBS).number
    assert desk.delete(number).complete
    for ask in (desk.docket, desk.rows, desk.list_view, desk.history, desk.recipe):
        with pytest.raises(NotThereError, match="no docket"):
            ask(number)
    assert desk.dockets() == ()


def test_all_is_there_after_a_restart(tmp_path: Path) -> None:
    """What was shown as saved is there in another run, with a higher revision."""
    with desk_in(tmp_path) as desk:
        number = desk.create("Crew", "key-fob", FOBS).number
        detail = desk.put_mend(number, 3, Mend(quantity=4))
        revision = desk.approve(number, {3: detail.picture}).revision
    with desk_in(tmp_path) as desk:
        again = desk.row(number, 3)
        assert (again.quantity, again.approved, again.picture) == (4, "yes", detail.picture)
        assert desk.rename(number, "Crew 2").revision != revision


@pytest.mark.parametrize("template", bundled_templates())
def test_every_template_has_a_list_to_try(template: str, desk: Desk) -> None:
    """The sample of a bundled template can be made as it is."""
    names = desk.sample(template)
    view = desk.create("", template, names)
    assert view.problem is None
    assert view.counts is not None
    assert view.counts.lines > 0
    first = desk.rows(view.number).rows[0].line
    assert desk.row(view.number, first).state == "made"


def test_the_sample_of_an_own_template_is_what_it_names(desk: Desk) -> None:
    """An own template has no example list; its sample texts make one of one row."""
    source = bundled("templates") / "key-fob"
    own = desk.own_templates() / "our-fob"
    own.mkdir(parents=True)
    for file in source.iterdir():
        (own / file.name).write_bytes(file.read_bytes())
    number = desk.create("", "our-fob", desk.sample("our-fob")).number
    assert len(desk.rows(number).rows) == 1
    assert desk.recipe(number).own_templates == desk.own_templates()


def test_the_plan_is_that_of_the_command_line(desk: Desk, tmp_path: Path) -> None:
    """What a manifest would record of a job is the same for the same file and choices."""
    number = desk.create("", "place-card", PLACES).number
    desk.change_settings(number, {"sheet": "a3", "gap_mm": 2.5, "by_order": None, "spare": "5%"})
    file = tmp_path / PLACES.name
    file.write_bytes(PLACES.data)
    settings = Settings("place-card", sheet="a3", gap_mm=2.5, spare="5%")
    assert plan_recipe(desk.recipe(number)).recorded == plan_job(file, settings).recorded


def test_columns_that_do_not_fit_can_be_said(desk: Desk) -> None:
    """The list shows its headers and first rows even while nothing can be made of it."""
    number = desk.create("", "flyer-pass", BARE).number
    shown = desk.list_view(number)
    assert shown.headers == ("who", "squad")
    assert shown.first[0].values == {"who": "Marlo", "squad": "Terns"}
    assert shown.problem is not None
    assert "--" not in shown.problem.what + "".join(shown.problem.details)
    needed = [field for field in shown.fields if field.required and field.header is None]
    columns: dict[str, Setting] = {field.name: "who" for field in needed[:1]}
    columns |= {field.name: "squad" for field in needed[1:]}
    view = desk.change_settings(number, {"columns": columns})
    assert view.problem is None
    fields = {field.name: field for field in desk.list_view(number).fields}
    assert all(not fields[name].guessed and fields[name].header for name in columns)


def test_quantity_and_order_are_among_the_columns(desk: Desk) -> None:
    """Which header says how many is shown beside the fields, and can be said, too."""
    names = KeptList("crew.csv", b"name,pieces,number\nMarlo,2,7\nInka,1,5\n")
    number = desk.create("", "key-fob", names).number
    fields = {field.name: field for field in desk.list_view(number).fields}
    assert (fields["quantity"].header, fields["quantity"].guessed) == ("pieces", True)
    assert fields["order"].header is None
    desk.change_settings(number, {"columns": {"quantity": "number"}})
    fields = {field.name: field for field in desk.list_view(number).fields}
    assert (fields["quantity"].header, fields["quantity"].guessed) == ("number", False)
    assert [row.quantity for row in desk.rows(number).rows] == [7, 5]


def test_rows_to_correct_are_those_of_the_list(desk: Desk) -> None:
    """A quantity that is none is told with its line; corrected, nothing is left to look at."""
    number = desk.create("", "place-card", PLACES).number
    found = desk.list_view(number).corrections
    assert 6 in [row.line for row in found]
    assert 5 not in [row.line for row in found]  # its colour is found in making
    all_made(desk, number)
    assert {4, 5, 6} <= {row.line for row in desk.list_view(number).corrections}
    desk.put_mend(number, 6, Mend(quantity=2))
    (row,) = (row for row in desk.list_view(number).corrections if row.line == 6)
    assert (row.quantity, row.findings) == (2, ())
    assert row.state == "made"


def test_lines_to_mend_are_the_held_ones_and_no_looks_of_the_making(desk: Desk) -> None:
    """A mended line whose typeface needs a look is mended; one held in making is still to mend."""
    names = "name,team,quantity\nMarlo,Terns,two\nInka,Terns,1\n"
    number = desk.create("", "bag-tag", KeptList("crew.csv", names.encode())).number
    all_made(desk, number)
    desk.put_mend(number, 2, Mend(fields={"name": "日本"}, quantity=2))
    codes = desk.rows(number, (2,)).rows[0].codes
    assert "other-typeface" in codes
    (row,) = desk.list_view(number).corrections
    assert (row.line, row.findings) == (2, ())


def test_a_job_of_nothing_is_refused(desk: Desk) -> None:
    """Where every line is held there is nothing to fill sheets with, and that is said."""
    names = KeptList("crew.csv", b"name,quantity\nMarlo,some\nInka,many\n")
    number = desk.create("", "key-fob", names).number
    all_made(desk, number)
    with pytest.raises(DeskError, match="all 2 lines are held"):
        desk.work.make(number)
    assert desk.work.jobs(number) == ()


def test_a_list_that_is_no_list_is_told(desk: Desk) -> None:
    """It is kept all the same, so that the docket can say what is wrong with it."""
    number = desk.create("", "key-fob", KeptList("crew.csv", b"\x00\x01\x02" * 99)).number
    view = desk.docket(number)
    assert view.problem is not None
    assert view.counts is None
    assert desk.list_view(number).headers == ()
    with pytest.raises(DeskError, match=r"list|text"):
        desk.rows(number)


def test_pasted_names_with_commas_stay_whole(desk: Desk) -> None:
    """What was pasted is read as one name a line, and not as a table with commas."""
    names = KeptList("pasted text", b"Teasel, Marlo\nQuill, Odile\n", pasted=True)
    number = desk.create("", "key-fob", names).number
    assert [row.fields["name"] for row in desk.rows(number).rows] == [
        "Teasel, Marlo",
        "Quill, Odile",
    ]


@pytest.mark.parametrize(
    ("wanted", "words"),
    [
        ({"gap_mm": 900.0}, "gap of 900 mm"),
        ({"sheet": "napkin"}, "napkin"),
        ({"font": "Nonesuch Grotesque"}, "Nonesuch"),
        ({"by_order": True}, "no column that names the order"),
        ({"fill": "tight", "keep_order": True}, "cannot keep list order"),
        ({"spare": "lots"}, "lots"),
        ({"folder": "/etc"}, "cannot be chosen"),
        ({"keep_order": "yes"}, "cannot be chosen"),
        ({"template": None}, "needs a template"),
    ],
)
def test_impossible_settings_change_nothing(
    wanted: Mapping[str, Setting], words: str, desk: Desk
) -> None:
    """They are refused in the words of the page, and the docket is as it was."""
    number = desk.create("", "key-fob", FOBS).number
    before = desk.docket(number)
    with pytest.raises(DeskError) as refused:
        desk.change_settings(number, wanted)
    told = " ".join((refused.value.what, *refused.value.problems))
    assert words in told
    assert "--" not in told
    after = desk.docket(number)
    assert (after.settings, after.can_undo) == (before.settings, False)


def test_sheet_settings_leave_the_pieces_alone(desk: Desk) -> None:
    """How sheets are filled is no reason to make all pieces anew."""
    number = desk.create("", "key-fob", FOBS).number
    all_made(desk, number)
    view = desk.change_settings(number, {"keep_order": True})
    assert view.counts is not None
    assert view.counts.waiting == 0
    assert desk.change_settings(number, {"fill": "fast", "keep_order": None}).can_undo


def test_time_goes_with_the_tight_filling(desk: Desk) -> None:
    """Going back to the fast filling takes the time away that only the tight one has."""
    number = desk.create("", "key-fob", FOBS).number
    desk.change_settings(number, {"fill": "tight", "seconds": 20.0})
    assert desk.change_settings(number, {"fill": "fast"}).settings == {
        "template": "key-fob",
        "fill": "fast",
    }


def test_another_template_takes_along_what_fits(desk: Desk) -> None:
    """Changes that the other template has no place for go with it, and come back with it."""
    number = desk.create("", "kite-tag", FOBS).number
    desk.put_mend(number, 2, Mend(texts={"team": TextMend(most_mm=2.1)}))
    desk.put_mend(number, 3, Mend(quantity=5))
    desk.change_settings(number, {"template": "key-fob"})
    assert sorted(desk.recipe(number).mends) == [3]
    stepped = desk.undo(number)
    assert stepped.lines is None
    assert sorted(desk.recipe(number).mends) == [2, 3]
    assert desk.row(number, 2).mended


def test_another_list_keeps_the_changes_that_fit_it(desk: Desk) -> None:
    """A change of a line that says another name now is taken away, and comes back with the list."""
    number = desk.create("", "key-fob", FOBS).number
    for line in (2, 3, 4):
        desk.put_mend(number, line, Mend(quantity=line))
    seen = desk.row(number, 4).picture
    desk.approve(number, {4: seen})
    desk.put_list(number, KeptList("crew.csv", b"name,team\nMarlo,Terns\nTeal,Terns\n"))
    recipe = desk.recipe(number)
    assert sorted(recipe.mends) == [2]
    told = desk.history(number)[-1].told
    assert told == ("list: crew.csv; changes by hand that do not fit it taken away: 2 lines")
    stepped = desk.undo(number)
    assert (stepped.told, stepped.lines) == (told, None)
    recipe = desk.recipe(number)
    assert (recipe.names, sorted(recipe.mends)) == (FOBS, [2, 3, 4])
    row = desk.row(number, 4)
    assert (row.state, row.mended, row.approved) == ("made", True, "yes")
    desk.redo(number)
    assert desk.row(number, 3).fields["name"] == "Teal"


def test_the_first_list_can_be_taken_back_too(desk: Desk) -> None:
    """A list brought by mistake leaves a docket without one, and comes again as it was."""
    number = desk.create("Crew", "key-fob").number
    assert desk.put_list(number, FOBS).undo_told == "list: crew.csv"
    assert desk.undo(number).lines is None
    view = desk.docket(number)
    assert (view.list_name, view.counts, view.next.part) == ("", None, "list")
    desk.redo(number)
    assert desk.row(number, 2).fields["name"] == "Marlo"


def test_the_same_list_again_is_no_step(desk: Desk) -> None:
    """Whoever brings what is there already has nothing to take back."""
    number = desk.create("Crew", "key-fob", FOBS).number
    assert not desk.put_list(number, FOBS).can_undo


def test_a_title_can_be_taken_back(desk: Desk) -> None:
    """A docket that was renamed is called as before, and its pieces stay as they are."""
    number = desk.create("Crew", "key-fob", FOBS).number
    all_made(desk, number)
    assert desk.rename(number, "Crew of  1931").undo_told == "title: Crew of 1931"
    stepped = desk.undo(number)
    assert (stepped.told, stepped.lines) == ("title: Crew of 1931", ())
    view = desk.docket(number)
    assert (view.title, view.can_redo) == ("Crew", True)
    assert view.counts is not None
    assert view.counts.waiting == 0


def test_a_list_that_breaks_the_reader_is_a_problem_of_its_docket(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What nobody foresaw is told on that docket, which can still be looked at and deleted."""

    def breaks(*_: object) -> None:
        raise RecursionError("too deep")

    monkeypatch.setattr("namebatch.desk.lying.plan_recipe", breaks)
    view = desk.create("", "key-fob", FOBS)
    assert view.problem is not None
    assert "RecursionError" in view.problem.what
    assert desk.list_view(view.number).headers == ("name", "team")
    assert desk.delete(view.number).complete


def test_many_at_once(desk: Desk) -> None:
    """Several browsers look, change and take back at the same time; all of it is kept in order."""
    number = desk.create("", "key-fob", FOBS).number

    def one(line: int) -> None:
        for quantity in range(2, 6):
            desk.picture(number, line)
            desk.put_mend(number, line, Mend(quantity=quantity))
            desk.undo(number)
            desk.redo(number)
            desk.rows(number)
            desk.approve(number, {line: desk.row(number, line).picture})
            desk.docket(number)

    with ThreadPoolExecutor(3) as threads:
        for done in [threads.submit(one, line) for line in (2, 3, 4)]:
            done.result()
    steps = desk.history(number)
    assert [step.number for step in steps] == list(range(1, len(steps) + 1))
    kept = desk.recipe(number).mends
    shown = {row.line: row.quantity for row in desk.rows(number).rows}
    assert shown == {line: kept[line].quantity if line in kept else 1 for line in (2, 3, 4)}


def test_a_column_is_said_away(desk: Desk, tmp_path: Path) -> None:
    """None in this list: for what may be missing, with the same plan as the command line's."""
    number = desk.create("", "place-card", PLACES).number
    chosen: dict[str, Setting] = {"colour": "", "quantity": ""}
    view = desk.change_settings(number, {"columns": chosen})
    assert view.problem is None
    fields = {field.name: field for field in desk.list_view(number).fields}
    assert [(fields[name].header, fields[name].guessed) for name in chosen] == [(None, False)] * 2
    assert {row.quantity for row in desk.rows(number).rows} == {1}
    path = tmp_path / PLACES.name
    path.write_bytes(PLACES.data)
    columns = {name: str(header) for name, header in chosen.items()}
    plan = plan_job(path, Settings(template="place-card", columns=columns))
    assert plan_recipe(desk.recipe(number)).recorded == plan.recorded
    assert plan.recorded["other_columns"] == {"quantity": ""}
    told = desk.change_settings(number, {"columns": {"name": ""}}).problem
    assert told is not None
    assert any("is needed" in one and "--" not in one for one in told.details)
    needed = {field.name: field for field in desk.list_view(number).fields}["name"]
    assert needed.header == "name"


@pytest.mark.parametrize(
    "wanted",
    [
        {"gap_mm": -5.0},
        {"fill": "tight", "seconds": 0.0},
        {"fill": "tight", "seconds": 86_400.0},
        {"fill": "tight", "by_order": True},
        {"spare": "lots"},
        {"sheet": "napkin"},
    ],
)
@pytest.mark.parametrize("along", [{"template": "bag-tag"}, {"columns": {"name": "nowhere"}}, {}])
@pytest.mark.parametrize("names", [FOBS, None], ids=["list", "no-list"])
def test_no_setting_out_of_its_range_is_kept(
    names: KeptList | None, along: Mapping[str, Setting], wanted: Mapping[str, Setting], desk: Desk
) -> None:
    """Template and columns may wait for each other; what can never be is refused with them too."""
    number = desk.create("", "key-fob", names).number
    with pytest.raises(DeskError):
        desk.change_settings(number, {**along, **wanted})
    assert desk.docket(number).settings == {"template": "key-fob"}
