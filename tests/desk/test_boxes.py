"""Every text that can be changed by hand, and where it may be parted."""

from dataclasses import replace

from namebatch.desk.boxes import texts_of
from namebatch.desk.row_model import TextView
from namebatch.names.mend import Mend, TextMend
from namebatch.names.row import Row
from namebatch.resources import bundled
from namebatch.template import load_template
from namebatch.text.breaks import break_number


def row(name: str, mend: Mend | None = None) -> Row:
    """A row of a list of kite tags."""
    return Row(14, {"name": name}, {"name": name, "team": ""}, 1, mend=mend)


def test_a_held_row_has_its_texts() -> None:
    """What was not set is there all the same, or nobody could mend it; fixed lines are not."""
    template = load_template(bundled("templates") / "bag-tag")
    fields = {"name": "Zoë", "village": ""}
    texts = texts_of(template, replace(row("Zoë"), fields=fields), ())
    assert [text.box for text in texts] == ["name", "village", "name-back"]
    assert {(text.text, text.font, text.height_mm, text.lines) for text in texts} == {
        ("", "", 0.0, ())
    }
    assert [text.min_height_mm for text in texts] == [3.0, 1.8, 2.8]


def test_what_is_set_is_told_with_what_was_moved() -> None:
    """A text that is set keeps what is known of it; where it was moved to comes from the change."""
    template = load_template(bundled("templates") / "kite-tag")
    known = TextView("name", "front", "Zoë", "Lilita One", 9.5, 4.5, False, ("Zoë",), (0.0, 0.0))
    mended = row("Zoë", Mend(texts={"name": TextMend(shift_mm=(1.0, -0.5))}))
    text = texts_of(template, mended, (known,))[0]
    assert text == replace(known, shift_mm=(1.0, -0.5))


def test_every_offered_break_is_one_that_may_be_asked_for() -> None:
    """At spaces and behind hyphens, each accepted as a break by hand; a lone word has none."""
    template = load_template(bundled("templates") / "kite-tag")
    typed = "Ada Teasel-Marram"
    text = texts_of(template, row(typed), ())[0]
    assert text.breaks == (("Ada", "Teasel-Marram"), ("Ada Teasel-", "Marram"))
    assert [break_number(typed, *each) for each in text.breaks] == [1, 2]
    assert texts_of(template, row("Zoë"), ())[0].breaks == ()


def test_a_text_along_an_arc_is_not_parted() -> None:
    """It has one line only."""
    template = load_template(bundled("templates") / "medal")
    fields = {"name": "Inka Samphire", "award": "Highest flight"}
    texts = texts_of(template, replace(row("Inka Samphire"), fields=fields), ())
    bent = [text for text in texts if text.bent]
    assert bent
    assert [text.breaks for text in bent] == [()] * len(bent)
