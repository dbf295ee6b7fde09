"""Templates and typefaces to choose from."""

import shutil
from pathlib import Path

import pytest
import resvg_py

from namebatch.desk.offered import draw_template, fonts_offered, templates_offered
from namebatch.errors import NotThereError
from namebatch.resources import bundled
from namebatch.template import bundled_templates


@pytest.fixture
def own(tmp_path: Path) -> Path:
    """A folder with one template of the workshop's own."""
    shutil.copytree(bundled("templates") / "key-fob", tmp_path / "own" / "our-fob")
    return tmp_path / "own"


def edited(own: Path, old: str, new: str) -> None:
    """Change the description of the own template."""
    path = own / "our-fob" / "template.toml"
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new), encoding="utf-8")


def test_own_templates_come_after_the_bundled_ones(own: Path) -> None:
    """All that can be chosen, each told whose it is."""
    found = templates_offered(own)
    assert [one.name for one in found] == [*bundled_templates(), "our-fob"]
    assert [one.name for one in found if one.own] == ["our-fob"]


def test_template_that_cannot_be_used_is_left_out_and_noted(
    own: Path, caplog: pytest.LogCaptureFixture
) -> None:
    """A slip in one template's description leaves the others to be chosen."""
    edited(own, "build =", "built =")
    assert [one.name for one in templates_offered(own)] == list(bundled_templates())
    assert 'the template "our-fob" was left out' in caplog.text


def test_template_without_sample_texts_is_drawn_nevertheless(own: Path) -> None:
    """Where a template names no texts for its picture, a name stands there."""
    edited(own, 'name = "Bruna"', "")
    assert b"<title>Marlo" in draw_template(own, "our-fob", None)


@pytest.mark.parametrize(
    ("old", "new", "why"),
    [
        ('name = "Bruna"', f'name = "{"Bartholomew-" * 9}"', "No piece can be made"),
        ('material = "', 'material = "no-', "no-"),
    ],
    ids=["held", "without-material"],
)
def test_what_cannot_be_made_is_drawn_without_its_texts(
    own: Path, caplog: pytest.LogCaptureFixture, old: str, new: str, why: str
) -> None:
    """The shape still shows which template it is; the log says what is the matter with it."""
    edited(own, old, new)
    svg = draw_template(own, "our-fob", None)
    assert bytes(resvg_py.svg_to_bytes(svg_string=svg.decode(), dpi=96)).startswith(b"\x89PNG")
    assert b"<title>" not in svg
    assert why in caplog.text


def test_template_that_is_not_there(own: Path) -> None:
    """A name leads to no folder that was not listed."""
    for name in ("no-fob", "../own/our-fob", str(own / "our-fob"), ""):
        with pytest.raises(NotThereError, match="There is no template"):
            draw_template(own, name, None)


def test_typefaces_are_told_with_family_and_style() -> None:
    """What the catalogue says of each."""
    lobster = next(font for font in fonts_offered() if font.name == "Lobster")
    assert lobster.family == "Lobster"
    assert lobster.style == "script"
