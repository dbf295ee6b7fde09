"""Pictures of templates are drawn once and kept."""

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from namebatch.desk.offered import draw_template
from namebatch.desk.template_pictures import TemplatePictures
from namebatch.errors import NotThereError
from namebatch.resources import bundled
from namebatch.template.builtin_workshop import BUILTIN_TOML

MODULE = "namebatch.desk.template_pictures"


def say(folder: Path, before: str, after: str) -> None:
    """Let the own template name another sample text."""
    path = folder / "own" / "our-fob" / "template.toml"
    text = path.read_text(encoding="utf-8")
    assert f'name = "{before}"' in text
    path.write_text(text.replace(f'name = "{before}"', f'name = "{after}"'), encoding="utf-8")


@pytest.fixture
def drawn(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Names of the templates that were really drawn, in order."""
    names: list[str] = []

    def noted(own: Path, name: str, workshop: Path | None) -> bytes:
        names.append(name)
        return draw_template(own, name, workshop)

    monkeypatch.setattr(f"{MODULE}.draw_template", noted)
    monkeypatch.setattr(f"{MODULE}.bundled_templates", lambda: ("key-fob",))
    return names


@pytest.fixture
def start(tmp_path: Path) -> Callable[[], TemplatePictures]:
    """Begins anew over one data folder with a template of the workshop's own."""
    shutil.copytree(bundled("templates") / "key-fob", tmp_path / "own" / "our-fob")
    say(tmp_path, "Bruna", "Odile")
    return lambda: TemplatePictures(
        tmp_path / "pictures", tmp_path / "own", tmp_path / "workshop.toml"
    )


def test_pictures_outlive_the_program(
    start: Callable[[], TemplatePictures], drawn: list[str]
) -> None:
    """What was drawn before is there at once after a new start, byte for byte."""
    first = start().picture("our-fob")
    assert first.startswith(b"<svg")
    assert start().picture("our-fob") == first
    assert drawn == ["our-fob"]


def test_a_picture_follows_template_workshop_and_program(
    start: Callable[[], TemplatePictures],
    drawn: list[str],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Another description, other limits or another version of the program mean another picture."""
    pictures = start()
    first = pictures.picture("our-fob")
    say(tmp_path, "Odile", "Inka")
    second = pictures.picture("our-fob")
    assert b"<title>Odile" in first
    assert b"<title>Inka" in second
    (tmp_path / "workshop.toml").write_text(BUILTIN_TOML, encoding="utf-8")
    pictures.picture("our-fob")
    monkeypatch.setattr(f"{MODULE}.__version__", "of tomorrow")
    pictures.picture("our-fob")
    assert drawn == ["our-fob"] * 4


def test_all_are_drawn_ahead_and_old_ones_dropped(
    start: Callable[[], TemplatePictures], drawn: list[str], tmp_path: Path
) -> None:
    """After a rest every template has its picture, and nothing else is kept."""
    pictures = start()
    pictures.draw_all(lambda: True)
    assert drawn == ["key-fob", "our-fob"]
    shutil.rmtree(tmp_path / "own" / "our-fob")
    (tmp_path / "pictures" / "half written").write_bytes(b"<sv")
    pictures.draw_all(lambda: True)
    (kept,) = (tmp_path / "pictures").iterdir()
    assert kept.read_bytes() == pictures.picture("key-fob")
    assert drawn == ["key-fob", "our-fob"]


def test_drawing_ahead_ends_when_there_is_work(
    start: Callable[[], TemplatePictures], drawn: list[str]
) -> None:
    """Between two pictures it is asked whether there is time for another."""
    answers = iter([True, False])
    start().draw_all(lambda: next(answers))
    assert drawn == ["key-fob"]


def test_a_folder_that_cannot_be_written_costs_no_picture(
    start: Callable[[], TemplatePictures],
    drawn: list[str],
    tmp_path: Path,
    caplog: pytest.LogCaptureFixture,
) -> None:
    """Where nothing can be kept, pictures are drawn each time, and that is told once."""
    (tmp_path / "pictures").write_bytes(b"no folder")
    pictures = start()
    assert pictures.picture("our-fob") == pictures.picture("our-fob")
    assert drawn == ["our-fob", "our-fob"]
    assert [record.getMessage()[:39] for record in caplog.records] == [
        "pictures of templates cannot be kept an"
    ]


def test_a_template_that_is_not_there_has_no_picture(
    start: Callable[[], TemplatePictures],
) -> None:
    """A name leads to no folder that was not listed."""
    with pytest.raises(NotThereError, match="There is no template"):
        start().picture("../own/our-fob")
