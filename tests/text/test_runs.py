"""Script runs and direction."""

from hypothesis import given
from hypothesis import strategies as st

from namebatch.text.runs import has_mixed_direction, is_right_to_left, script_runs


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


def test_leading_digits_join_what_follows() -> None:
    """A text that starts with a number has one run."""
    assert [run.script for run in script_runs("7 Aνα")] == ["Latn", "Grek"]
    assert [run.script for run in script_runs("7")] == ["Zyyy"]


def test_direction() -> None:
    """Right to left is seen, and mixed only when something runs the other way."""
    assert is_right_to_left("محمد")
    assert not is_right_to_left("Ana")
    assert has_mixed_direction("محمد 12")
    assert has_mixed_direction("שלום Ana")
    assert has_mixed_direction("שלום سلام")
    assert not has_mixed_direction("محمد علي")
    assert not has_mixed_direction("Ana 12")
