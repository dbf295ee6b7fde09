"""The catalogue: bundled faces, own files, useful refusals."""

import shutil
from pathlib import Path

import pytest

from namebatch.errors import FontError
from namebatch.text.catalogue import Catalogue, load_catalogue


def test_every_listed_face_opens(catalogue: Catalogue) -> None:
    """Each entry's file is there, its axes exist and its letters have ink."""
    for info in catalogue.infos:
        assert info.licence in ("OFL-1.1", "Apache-2.0")
        assert (
            catalogue.open(info.name)
            .glyph_shape(catalogue.open(info.name).shape("o").glyphs[0].gid, 2.0)
            .area
            > 0
        )


def test_styles_that_the_workshop_needs(catalogue: Catalogue) -> None:
    """At least two hand-lettered, two rounded, one serif, one condensed; and the scripts."""
    families = {(info.style, info.family) for info in catalogue.infos}
    count = {style: sum(s == style for s, _ in families) for style, _ in families}
    assert count["script"] >= 2
    assert count["rounded"] >= 2
    assert count["serif"] >= 1
    assert count["condensed"] >= 1
    scripts = {script for info in catalogue.infos for script in info.scripts}
    assert {"Latn", "Grek", "Cyrl", "Hebr", "Arab", "Deva", "Thai"} <= scripts


def test_own_file_by_name_in_the_template_folder(tmp_path: Path, catalogue: Catalogue) -> None:
    """A font file beside the template is found by its file name."""
    shutil.copy(catalogue.info("Lobster").path, tmp_path / "mine.ttf")
    assert load_catalogue(tmp_path).open("mine.ttf").can_set("Marlo")


def test_own_file_in_the_fonts_folder(
    tmp_path: Path, catalogue: Catalogue, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A file dropped into fonts/ is called by its stem."""
    (tmp_path / "fonts").mkdir()
    shutil.copy(catalogue.info("Lobster").path, tmp_path / "fonts" / "Harbour Hand.ttf")
    monkeypatch.chdir(tmp_path)
    assert load_catalogue().open("harbour hand").name == "Harbour Hand"


def test_unknown_face_gets_the_nearest_names(catalogue: Catalogue) -> None:
    """A slip of the pen is answered with what was meant."""
    with pytest.raises(FontError, match='Did you mean "Pacifico"'):
        catalogue.open("Pacifoco")


def test_unknown_file_is_told(catalogue: Catalogue) -> None:
    """A font file that is not there is told with where to put it."""
    with pytest.raises(FontError, match=r'no font file "gone\.otf"'):
        catalogue.open("gone.otf")
