"""What is told of a job whose material has layers on it, or is cut with a blade."""

from dataclasses import replace

import pytest

from namebatch.notes import blade_notes, finish_notes
from namebatch.template.model import Finish
from tests.output import jobs

JOB = jobs.faced_job()


def _told(finish: Finish, build: str = "faced") -> tuple[str, ...]:
    template = replace(JOB.template, finish=finish)
    if build == "printed":
        template = replace(template, build="printed", board=None, faces=("front",))
    return finish_notes(template, JOB.workshop)


def test_nothing_laid_on_nothing_told() -> None:
    """Kerf and speeds are those of the plain material."""
    assert _told(Finish()) == ()
    assert _told(Finish(mounted=True), "printed") == ()


@pytest.mark.parametrize(
    ("finish", "build", "words"),
    [
        (Finish("pouch", 0.08), "faced", ["Card 160 g/m² alone. With pouch on it"]),
        (Finish("film", 0.05, "face"), "faced", ["Card 160 g/m² alone. With film and tape on it"]),
        (Finish(tape="board"), "faced", ["plywood 3 mm alone. With tape on it"]),
        (
            Finish("film", 0.05, "board"),
            "faced",
            ["Card 160 g/m² alone. With film on it", "plywood 3 mm alone. With tape on it"],
        ),
        (Finish(tape="board", mounted=True), "printed", ["Card 160 g/m² alone. With tape on it"]),
    ],
)
def test_layers_are_told_with_what_they_lie_on(
    finish: Finish, build: str, words: list[str]
) -> None:
    """One sentence a material that is cut with something on it."""
    told = _told(finish, build)
    assert len(told) == len(words)
    for note, expected in zip(told, words, strict=True):
        assert expected in note
        assert "cut a test piece" in note


def test_a_blade_does_not_engrave() -> None:
    """Told with the text boxes that it concerns, and what to write instead."""
    bare = jobs.bare_job()
    template, shop = bare.template, bare.workshop
    first, *others = template.boxes
    engraved = replace(template, boxes=(replace(first, made="engrave"), *others))
    blade = replace(shop, cutter=replace(shop.cutter, kind="blade"))
    assert blade_notes(engraved, shop) == ()
    (told,) = blade_notes(engraved, blade)
    assert f'engraves "{first.name}"' in told
    assert 'made = "mark"' in told
    marked = replace(template, boxes=tuple(replace(box, made="mark") for box in template.boxes))
    assert blade_notes(marked, blade) == ()
