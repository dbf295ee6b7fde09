"""Parts of a change that are given to others."""

import pytest

from namebatch.desk.alike import with_parts
from namebatch.errors import DeskError
from namebatch.names.mend import Mend, TextMend

SOURCE = Mend(
    fields={"team": "Terns"},
    texts={"a.b": TextMend(height_mm=5.0, shift_mm=(1.0, 0.0)), "c": TextMend(one_line=True)},
    font="Lobster",
    bridge_mm=2.0,
    quantity=3,
    held="wait",
    was={"name": "Ada"},
)


def test_only_the_parts_that_are_named_are_given() -> None:
    """What else is changed in either row stays there."""
    target = Mend(fields={"name": "Inka"}, quantity=7)
    assert with_parts(target, SOURCE, ["font", "bridge_mm"]) == Mend(
        fields={"name": "Inka"}, quantity=7, font="Lobster", bridge_mm=2.0
    )
    assert with_parts(target, SOURCE, ["fields.team", "held"]) == Mend(
        fields={"name": "Inka", "team": "Terns"}, quantity=7, held="wait"
    )


def test_text_boxes_may_have_dots_in_their_names() -> None:
    """The last part of a key counts only if it is one of a text's."""
    assert with_parts(Mend(), SOURCE, ["text.a.b"]).texts == {"a.b": SOURCE.texts["a.b"]}
    assert with_parts(Mend(), SOURCE, ["text.a.b.height_mm"]).texts == {
        "a.b": TextMend(height_mm=5.0)
    }


def test_a_break_of_ones_own_stays_unless_one_line_is_given() -> None:
    """Two things that exclude each other never stand together."""
    own = Mend(texts={"c": TextMend(lines=("Ada", "Teasel"), most_mm=4.0)})
    given = with_parts(own, SOURCE, ["text.c.one_line"])
    assert given.texts["c"] == TextMend(one_line=True, most_mm=4.0)
    kept = with_parts(own, SOURCE, ["text.c.font"])
    assert kept.texts["c"].lines == ("Ada", "Teasel")
    exact = with_parts(Mend(texts={"a.b": TextMend(most_mm=4.0)}), SOURCE, ["text.a.b.height_mm"])
    assert exact.texts["a.b"] == TextMend(height_mm=5.0)


def test_parts_that_the_source_does_not_have_are_taken_away() -> None:
    """A text without any change left is no entry."""
    own = Mend(texts={"c": TextMend(most_mm=4.0)}, font="Pacifico")
    assert with_parts(own, Mend(), ["text.c", "font"]) == Mend()


@pytest.mark.parametrize("key", ["", "text", "text.", "fields", "fields.", "was", "colour"])
def test_parts_that_there_are_not(key: str) -> None:
    """They are refused by name."""
    with pytest.raises(DeskError, match="no part of a change"):
        with_parts(Mend(), SOURCE, [key])


def test_where_a_name_is_broken_is_its_own() -> None:
    """Two lines of one name would be another name on others."""
    with pytest.raises(DeskError, match="broken into two lines"):
        with_parts(Mend(), SOURCE, ["text.c.lines"])
