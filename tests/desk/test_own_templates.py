"""A workshop's own templates: their names, kept whole, taken away."""

from pathlib import Path

import pytest

from namebatch.desk.own_templates import LONGEST_NAME, keep, name_for, take_away
from namebatch.desk.templates import own_names
from namebatch.errors import OutputError, TemplateError

FILES = {"template.toml": b"format = 1\n", "front.svg": b"<svg/>"}


@pytest.mark.parametrize(
    ("title", "name"),
    [
        ("Kite float", "kite-float"),
        ("  Tag — 90 × 50 mm ", "tag-90-50-mm"),
        ("Drachenanhänger_2", "drachenanhänger-2"),
        ("凧の札", "凧の札"),
        ("../../etc/passwd", "etc-passwd"),
        ("A" * 200, "a" * LONGEST_NAME),
    ],
)
def test_a_title_gives_a_plain_folder_name(title: str, name: str) -> None:
    """Letters and digits of any script and hyphens are left, so nothing of it can be a path."""
    assert name_for(title) == name


@pytest.mark.parametrize("title", ["", " - ", "…/..", "CON", "lpt1", "🪁"])
def test_what_gives_no_name_is_refused(title: str) -> None:
    """Nothing is left of it, or some system keeps that name for a machine."""
    with pytest.raises(TemplateError, match="cannot be the name of a template"):
        name_for(title)


def test_a_template_is_kept_and_found(tmp_path: Path) -> None:
    """Its folder holds just its files and is listed; nothing else is left beside it."""
    own = tmp_path / "templates"
    folder = keep(own, "kite-float", FILES)
    assert {path.name: path.read_bytes() for path in folder.iterdir()} == FILES
    assert own_names(own) == ("kite-float",)
    assert [path.name for path in own.iterdir()] == ["kite-float"]


@pytest.mark.parametrize("name", ["kite-float", "medal"])
def test_a_name_that_is_taken_stays_as_it_is(tmp_path: Path, name: str) -> None:
    """Neither one of one's own nor a bundled one is written over."""
    keep(tmp_path, "kite-float", FILES)
    with pytest.raises(TemplateError, match="already"):
        keep(tmp_path, name, {"template.toml": b"other"})
    assert (tmp_path / "kite-float" / "template.toml").read_bytes() == b"format = 1\n"
    assert len(list(tmp_path.iterdir())) == 1


def test_what_cannot_be_written_leaves_nothing(tmp_path: Path) -> None:
    """A file stands where the folder should be; it is told, and stays."""
    own = tmp_path / "templates"
    own.write_bytes(b"")
    with pytest.raises(OutputError, match="cannot be kept"):
        keep(own, "kite-float", FILES)
    assert own.read_bytes() == b""


def test_one_of_its_own_is_taken_away(tmp_path: Path) -> None:
    """Its folder is gone, and with it everything that was moved aside."""
    keep(tmp_path, "kite-float", FILES)
    take_away(tmp_path, "kite-float")
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("name", ["medal", "..", "kite-float/.", "nothing"])
def test_nothing_else_is_taken_away(tmp_path: Path, name: str) -> None:
    """Bundled ones stay, and a name that leads elsewhere is none."""
    keep(tmp_path, "kite-float", FILES)
    with pytest.raises(TemplateError, match="no template"):
        take_away(tmp_path, name)
    assert own_names(tmp_path) == ("kite-float",)
