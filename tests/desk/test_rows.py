"""Rows, pictures, changes by hand and approvals as the desk gives them."""

from pathlib import Path

import pytest
import resvg_py
from PIL import Image

from namebatch.desk import Desk
from namebatch.desk.alike import lines_alike
from namebatch.desk.model import Event
from namebatch.errors import DeskError, MendError, NotThereError
from namebatch.finding import Severity
from namebatch.names.mend import Mend, TextMend
from namebatch.output.preview import preview_svg
from namebatch.pipeline import Settings, make_job, plan_job
from namebatch.store import KeptList
from namebatch.template.builtin_workshop import BUILTIN_TOML
from tests.desk.desks import FOBS, PLACES, all_made, desk_in
from tests.template.folders import WHOLE, written
from tests.template.images import saved

CREW = KeptList(
    "crew.csv",
    "name,team,order\nMarlo Teasel,Terns,A\nInka Glasswort,Terns,B\nOdile Quill,Gulls,A\n"
    "Zoë Marram,Gulls,B\nWren Samphire,Terns,B\n".encode(),
)


def test_a_picture_is_the_preview_of_the_job(desk: Desk, tmp_path: Path) -> None:
    """The page shows the very drawing that the job folder has of the same piece."""
    number = desk.create("", "place-card", PLACES).number
    file = tmp_path / PLACES.name
    file.write_bytes(PLACES.data)
    job = make_job(plan_job(file, Settings("place-card")), lambda *_: None)
    for piece in job.pieces:
        assert desk.picture(number, piece.line, large=True).svg.decode() == preview_svg(job, piece)


def test_rows_tell_what_is_seen_on_the_wall(desk: Desk) -> None:
    """A made row has its picture and size, a held one the reason."""
    number = desk.create("", "place-card", PLACES).number
    all_made(desk, number)
    rows = {row.line: row for row in desk.rows(number).rows}
    wren, zoe = rows[2], rows[4]
    assert (wren.state, wren.text, wren.quantity) == ("made", "Wren Teasel · Gull table", 2)
    assert wren.picture == desk.picture(number, 2).digest
    assert wren.size_mm == desk.row(number, 2).measures.size_mm  # type: ignore[union-attr]
    assert (zoe.state, zoe.severity, zoe.picture) == ("held", Severity.HOLD, None)
    assert "U+1316F" in zoe.message
    assert rows[5].codes == ("colour-unknown",)
    assert (rows[6].state, rows[6].quantity) == ("held", 0)


def test_held_rows_have_no_picture(desk: Desk) -> None:
    """What is not made cannot be looked at, and its texts can be changed all the same."""
    number = desk.create("", "place-card", PLACES).number
    with pytest.raises(NotThereError, match="Line 4 is held"):
        desk.picture(number, 4)
    detail = desk.row(number, 4)
    assert detail.measures is None
    assert [text.box for text in detail.texts][:1] == ["name"]


def test_a_row_opened_large_tells_how_it_is_made(desk: Desk) -> None:
    """Texts with their typeface, measures, and the way to its neighbours."""
    number = desk.create("", "line-winder", FOBS).number
    first, last = desk.row(number, 2), desk.row(number, 4)
    assert (first.previous, first.next_line, last.previous, last.next_line) == (None, 3, 3, None)
    text = first.texts[0]
    assert text.height_mm >= text.min_height_mm > 0.0
    assert " ".join(text.lines) == text.text
    assert first.measures is not None
    assert first.measures.narrowest_mm >= first.measures.required_mm > 0.0
    assert first.measures.has_bridges
    assert first.measures.bridge_least_mm == first.measures.required_mm
    assert first.values["team"] == "Terns"


def test_a_trial_keeps_nothing(desk: Desk) -> None:
    """How a change would look is shown, and everything is as it was."""
    number = desk.create("", "key-fob", FOBS).number
    all_made(desk, number)
    before = desk.row(number, 2)
    heard: list[Event] = []
    desk.hub.listen(number, heard.append)
    tried = desk.try_mend(number, 2, Mend(fields={"name": "Ottilie"}))
    assert tried.detail.text == "Ottilie"
    assert tried.detail.picture != before.picture
    assert tried.picture_svg is not None
    assert "<title>Ottilie</title>" in tried.picture_svg
    assert desk.row(number, 2) == before
    assert not desk.docket(number).can_undo
    assert not [event for event in heard if event.kind == "changed"]


def test_a_trial_that_cannot_be_made_tells_why(desk: Desk) -> None:
    """A text without glyphs is held, a change that fits no text is refused."""
    number = desk.create("", "key-fob", FOBS).number
    tried = desk.try_mend(number, 2, Mend(fields={"name": "𓅯"}))
    assert (tried.detail.state, tried.picture_svg) == ("held", None)
    with pytest.raises(MendError) as refused:
        desk.try_mend(number, 2, Mend(texts={"motto": TextMend(one_line=True)}))
    assert "motto" in refused.value.problems[0]


def test_a_change_is_seen_told_and_taken_back(desk: Desk) -> None:
    """The row, its picture, the history and whoever watches agree on what was changed."""
    number = desk.create("", "key-fob", FOBS).number
    before = desk.row(number, 3)
    heard: list[Event] = []
    desk.hub.listen(number, heard.append)
    after = desk.put_mend(number, 3, Mend(fields={"name": "Inga"}, quantity=4))
    assert (after.text, after.quantity, after.mended) == ("Inga", 4, True)
    assert after.mend == {"fields": {"name": "Inga"}, "quantity": 4}
    assert desk.picture(number, 3).digest == after.picture != before.picture
    assert desk.rows(number, [3]).rows[0].text == "Inga"
    assert heard[-1] == Event("changed", {"revision": after.revision, "lines": [3]})
    view = desk.docket(number)
    assert view.undo_told is not None
    assert '"Inga" instead of "Inka"' in view.undo_told
    assert desk.undo(number).lines == (3,)
    back = desk.row(number, 3)
    assert (back.text, back.picture, back.mend) == ("Inka", before.picture, None)
    assert desk.docket(number).redo_told == view.undo_told
    assert desk.redo(number).lines == (3,)
    assert desk.row(number, 3).picture == after.picture
    assert desk.redo(number).told is None
    assert [step.done for step in desk.history(number)] == [True]


def test_holding_by_hand(desk: Desk) -> None:
    """A row that somebody holds says so, is seen as it would be made, and made once released."""
    number = desk.create("", "key-fob", FOBS).number
    before = desk.row(number, 2)
    held = desk.put_mend(number, 2, Mend(held="spelling is asked for"))
    assert (held.state, held.held_by_hand, held.codes[0]) == ("held", True, "held-by-hand")
    assert held.picture == before.picture is not None
    assert held.texts == before.texts
    assert desk.picture(number, 2) == desk.picture(number, 2)
    counts = desk.docket(number).counts
    assert counts is not None
    assert counts.held == 1
    assert desk.docket(number).undo_told == "Line 2: held by hand"
    assert desk.put_mend(number, 2, None).state == "made"


def test_what_cannot_be_made_is_not_seen_either(desk: Desk) -> None:
    """Held by hand beside a finding of the list, a row has no picture."""
    number = desk.create("", "place-card", PLACES).number
    held = desk.put_mend(number, 6, Mend(held="not paid"))
    assert (held.state, held.picture) == ("held", None)
    assert {"held-by-hand"} < set(held.codes)


def test_a_text_left_empty_is_empty(desk: Desk) -> None:
    """Nothing to set is told apart from what could not be set."""
    number = desk.create("", "place-card", PLACES).number
    empty = {text.box for text in desk.row(number, 2).texts if text.is_empty}
    assert not empty
    detail = desk.put_mend(number, 2, Mend(fields={"table": ""}))
    empty = {text.box for text in detail.texts if text.is_empty}
    assert empty
    assert all(not text.height_mm for text in detail.texts if text.box in empty)


def test_a_change_that_changes_nothing_is_none(desk: Desk) -> None:
    """An empty change leaves no trace on the row."""
    number = desk.create("", "key-fob", FOBS).number
    detail = desk.put_mend(number, 2, Mend(texts={"name": TextMend()}))
    assert (detail.mend, detail.mended) == (None, False)
    assert not desk.docket(number).can_undo


def test_approvals_go_stale(desk: Desk) -> None:
    """What was approved is the picture that was seen, and no other one."""
    number = desk.create("", "key-fob", FOBS).number
    all_made(desk, number)
    seen = {row.line: row.picture for row in desk.rows(number).rows}
    assert desk.approve(number, seen).counts.approved == 3
    desk.put_mend(number, 2, Mend(fields={"name": "Marla"}))
    desk.put_mend(number, 3, Mend(quantity=9))  # looks the same
    approved = {row.line: row.approved for row in desk.rows(number).rows}
    assert approved == {2: "stale", 3: "yes", 4: "yes"}
    assert desk.approve(number, {3: None}).counts.approved == 1
    assert desk.docket(number).undo_told == "Line 3 not approved any more"
    assert desk.undo(number).lines == (3,)
    desk.put_mend(number, 2, None)
    counts = desk.docket(number).counts
    assert counts is not None
    assert counts.approved == 3
    with pytest.raises(NotThereError, match="line 40"):
        desk.approve(number, {40: "0" * 32})


def test_warnings_want_a_look_until_they_are_approved(desk: Desk) -> None:
    """Made rows with a warning are counted as to be looked at; approved ones are not."""
    names = KeptList("crew.csv", b"name\nMarlo\nInka (Terns)\nTeal\n")
    number = desk.create("", "key-fob", names).number
    all_made(desk, number)
    warned = [row for row in desk.rows(number).rows if row.severity is Severity.WARN]
    counts = desk.docket(number).counts
    assert counts is not None
    assert counts.look == len(warned) > 0
    assert desk.docket(number).next.text.startswith("look at")
    after = desk.approve(number, {row.line: row.picture for row in warned})
    assert after.counts.look == 0


def test_rows_alike_take_a_change_together(desk: Desk) -> None:
    """All of a team get the height of one, in one step; the others stay as they are."""
    number = desk.create("", "kite-tag", CREW).number
    all_made(desk, number)
    desk.put_mend(
        number,
        2,
        Mend(quantity=3, texts={"name": TextMend(most_mm=5.0, lines=("Marlo", "Teasel"))}),
    )
    desk.put_mend(number, 6, Mend(held="not paid"))
    alike = {group.key: group for group in desk.row(number, 2).alike}
    assert alike["field:team"].count == 2
    assert '"Terns"' in alike["field:team"].label
    assert alike["all"].count == 4
    assert "field:name" not in alike
    liked = desk.like(number, 2, "field:team", ["text.name"])
    assert liked.changed == (3, 6)
    mends = desk.recipe(number).mends
    assert mends[3].texts == {"name": TextMend(most_mm=5.0)}
    assert mends[3].quantity is None
    assert mends[3].was == {"name": "Inka Glasswort", "team": "Terns"}
    assert (mends[6].held, mends[6].texts["name"].most_mm) == ("not paid", 5.0)
    assert desk.row(number, 3).texts[0].height_mm <= 5.0
    assert desk.undo(number).lines == (3, 6)
    assert sorted(desk.recipe(number).mends) == [2, 6]
    assert desk.like(number, 2, "field:team", ["font"]).changed == ()


def test_counts_of_rows_alike_are_those_that_would_take_it(desk: Desk) -> None:
    """Whatever was changed by hand, undone or tried, and without looking at all rows again."""
    number = desk.create("", "kite-tag", CREW).number
    all_made(desk, number)
    font = "Fredoka SemiBold"

    def check() -> None:
        with desk._table.lay(number) as lying:
            opened = lying.wall
            for line in opened.lines:
                for group in desk.row(number, line).alike:
                    row, made = opened.row(line), opened.shown(line)
                    assert group.count == len(lines_alike(opened, row, made, group.key))

    check()
    desk.put_mend(number, 3, Mend(fields={"team": "Gulls"}, font=font))
    desk.put_mend(number, 4, Mend(held="not paid"))
    check()
    tried = desk.try_mend(number, 2, Mend(font=font)).detail
    (alike,) = [group for group in tried.alike if group.key == "font:name"]
    assert alike.count == 1
    desk.undo(number)
    all_made(desk, number)
    check()


def test_a_part_that_a_row_does_not_have_is_taken_from_the_others(desk: Desk) -> None:
    """Making all alike also means to take away what the one does not have."""
    number = desk.create("", "key-fob", FOBS).number
    desk.put_mend(number, 3, Mend(quantity=5, fields={"name": "Inga"}))
    assert desk.like(number, 2, "all", ["quantity", "fields.name"]).changed == (3,)
    assert desk.row(number, 3).mend is None


@pytest.mark.parametrize(
    ("group", "keys", "error", "words"),
    [
        ("field:hat", ["font"], NotThereError, "nothing in common"),
        ("all", ["was"], DeskError, "no part of a change"),
        ("all", ["text.name.lines"], DeskError, "broken into two lines"),
        ("all", ["fields"], DeskError, "no part of a change"),
    ],
)
def test_groups_and_parts_that_there_are_not(
    group: str, keys: list[str], error: type[Exception], words: str, desk: Desk
) -> None:
    """They are refused, and nothing is changed."""
    number = desk.create("", "key-fob", FOBS).number
    with pytest.raises(error, match=words):
        desk.like(number, 2, group, keys)
    assert not desk.docket(number).can_undo


def test_two_who_change_the_same_docket_see_each_other(desk: Desk) -> None:
    """What another desk over the same store changes is seen here at the next look."""
    number = desk.create("", "key-fob", FOBS).number
    all_made(desk, number)
    with desk_in(desk.store.folder) as other:
        other.put_mend(number, 2, Mend(fields={"name": "Ottilie"}))
        other.put_list(number, KeptList("crew.csv", FOBS.data + b"Teal,Terns\n"))
    rows = desk.rows(number).rows
    assert [row.fields["name"] for row in rows] == ["Ottilie", "Inka", "Odile", "Teal"]


def test_a_workshop_file_changes_what_is_made(desk: Desk) -> None:
    """Other limits are seen as soon as the file is another one, and whoever watches is told."""
    number = desk.create("", "name-sign", CREW).number
    before = desk.row(number, 2)
    assert before.measures is not None
    heard: list[Event] = []
    desk.hub.listen(number, heard.append)
    wider = BUILTIN_TOML.replace("minimum_width_mm = 0.8", "minimum_width_mm = 0.9")
    desk.workshop_file().write_text(wider, encoding="utf-8")
    after = desk.row(number, 2)
    assert after.measures is not None
    assert (before.measures.required_mm, after.measures.required_mm) == (0.8, 0.9)
    assert any(event.kind == "changed" and event.data["lines"] is None for event in heard)


def test_photographs_are_small_on_the_wall(desk: Desk) -> None:
    """A wall of a thousand pieces repeats the template's photograph, so there it is small."""
    noise = Image.effect_noise((900, 600), 80).convert("RGB")
    toml = WHOLE + '[artwork.front]\nfile = "front.jpg"\n'
    written(desk.own_templates() / "photo-tag", toml, front__jpg=saved(noise, "JPEG"))
    number = desk.create("", "photo-tag", FOBS).number
    wall, large = desk.picture(number, 2), desk.picture(number, 2, large=True)
    assert wall.digest == large.digest
    assert len(wall.svg) < len(large.svg) / 3
    for picture in (wall, large):
        assert b"<artwork" not in picture.svg
        png = resvg_py.svg_to_bytes(svg_string=picture.svg.decode(), dpi=96)
        assert bytes(png).startswith(b"\x89PNG")


def test_a_line_left_out_needs_no_mending(desk: Desk) -> None:
    """Held by hand, a line that cannot be mended is told as left out, and comes back as it was."""
    number = desk.create("", "place-card", PLACES).number
    all_made(desk, number)
    (before,) = (one for one in desk.list_view(number).corrections if one.line == 6)
    assert (before.settled, bool(before.findings)) == ("", True)
    desk.put_mend(number, 6, Mend(held="left out"))
    (out,) = (one for one in desk.list_view(number).corrections if one.line == 6)
    assert (out.settled, out.findings, out.state) == ("left out", (), "held")
    desk.put_mend(number, 6, None)
    assert before in desk.list_view(number).corrections


def test_spares_are_counted_with_what_is_made(desk: Desk) -> None:
    """What is laid out is pieces and spares; held lines have none."""
    number = desk.create("", "place-card", PLACES).number
    all_made(desk, number)
    desk.change_settings(number, {"spare": "2"})
    counts = desk.docket(number).counts
    assert counts is not None
    assert (counts.made, counts.pieces, counts.spares) == (2, 3, 4)
