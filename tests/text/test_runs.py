"""Script runs and direction."""

from hypothesis import given
from hypothesis import strategies as st

from namebatch.text.clusters import clusters
from namebatch.text.runs import items_of, script_runs


@given(st.text(max_size=40))
def test_runs_are_the_whole_text(text: str) -> None:
    """No character is lost or moved, whatever the text."""
    runs = script_runs(text)
    assert "".join(run.text for run in runs) == text
    assert [run.start for run in runs] == [
        sum(len(before.text) for before in runs[:i]) for i in range(len(runs))
    ]


def test_marks_and_spaces_stay_with_their_letters() -> None:
    """Common and inherited characters do not make runs of their own."""
    runs = script_runs("Zoe\u0308 क्षितिज-1")
    assert [(run.text, run.script) for run in runs] == [
        ("Zoe\u0308 ", "Latn"),
        ("क्षितिज-1", "Deva"),
    ]


def test_a_closing_bracket_goes_with_its_opening_one() -> None:
    """Paired brackets have one script (UAX #24, 5.1), however they are nested; others do not."""
    assert [(run.text, run.script) for run in script_runs("Ann (田中) B.")] == [
        ("Ann (", "Latn"),
        ("田中", "Hani"),
        (") B.", "Latn"),
    ]
    assert [(run.text, run.script) for run in script_runs("[דן (Ann] 1) 田")] == [
        ("[דן (", "Hebr"),
        ("Ann", "Latn"),
        ("] 1) ", "Hebr"),
        ("田", "Hani"),
    ]
    assert [run.script for run in script_runs("(田) Ann")] == ["Hani", "Latn"]
    assert [run.text for run in script_runs("田) Ann")] == ["田) ", "Ann"]


def test_leading_digits_join_what_follows() -> None:
    """A text that starts with a number has one run."""
    assert [run.script for run in script_runs("7 Aνα")] == ["Latn", "Grek"]
    assert [run.script for run in script_runs("7")] == ["Zyyy"]


def test_items_stand_in_visual_order() -> None:
    """Digits and Latin letters in a right-to-left line run left to right, at their place."""
    text = "محمد 12"
    items = items_of(text)
    assert [text[i.start : i.end].strip() for i in items] == ["12", "محمد"]
    assert [i.right_to_left for i in items] == [False, True]
    text = "Ana שלום Bo"
    items = items_of(text)
    assert [text[i.start : i.end] for i in items] == ["Ana ", "שלום", " ", "Bo"]
    assert [i.right_to_left for i in items] == [False, True, False, False]


@given(st.text(max_size=30))
def test_items_are_the_whole_text_once(text: str) -> None:
    """Every character is in exactly one item, and no cluster is cut."""
    items = sorted(items_of(text), key=lambda item: item.start)
    assert "".join(text[item.start : item.end] for item in items) == text
    starts = {cluster.start for cluster in clusters(text)}
    assert {item.start for item in items} <= starts
