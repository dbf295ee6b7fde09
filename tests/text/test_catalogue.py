"""The catalogue: bundled faces, own files, useful refusals."""

import re
import shutil
from pathlib import Path

import pytest

from namebatch.errors import FontError
from namebatch.text.catalogue import Catalogue, load_catalogue

SAMPLES = {"Zsye": "🪁", "Zsym": "←", "Armn": "ա", "Beng": "ক", "Ethi": "ሀ", "Geor": "ა"}
SAMPLES |= {"Gujr": "ક", "Guru": "ਕ", "Hebr": "א", "Knda": "ಕ", "Khmr": "ក", "Laoo": "ກ"}
SAMPLES |= {"Mlym": "ക", "Mymr": "က", "Orya": "କ", "Sinh": "ක", "Taml": "க", "Telu": "క"}
SAMPLES |= {"Latn": "o", "Grek": "ω", "Cyrl": "ж", "Arab": "ع", "Deva": "क", "Thai": "ก"}
SAMPLES |= {"Hani": "木", "Hira": "め", "Kana": "メ", "Bopo": "ㄅ", "Hang": "한"}
"""A letter of each script that faces are listed for."""


def test_every_listed_face_opens(catalogue: Catalogue) -> None:
    """Each entry's file is there, its axes exist and letters of its scripts have ink."""
    for info in catalogue.infos:
        assert info.licence in ("OFL-1.1", "Apache-2.0")
        face = catalogue.open(info.name)
        for tag in info.scripts:
            assert face.can_set(SAMPLES[tag]), (info.name, tag)
            (glyph,) = face.shape(SAMPLES[tag]).glyphs
            assert face.glyph_shape(glyph.gid, 2.0).area > 0


def test_every_listed_face_is_installed(catalogue: Catalogue) -> None:
    """With the extras for tests there is nothing in the list that cannot be used."""
    assert catalogue.absent == ()


@pytest.fixture
def lacking(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Catalogue:
    """A catalogue of two faces whose packages are not there."""
    entry = '[[face]]\nname = "{}"\npackage = "{}"\n{}scripts = ["Hani"]\n'
    (tmp_path / "fonts.toml").write_text(
        entry.format("Harbour Han", "no-such-fonts-a", 'extra = "harbour"\n')
        + entry.format("Harbour Hand", "no-such-fonts-b", ""),
        encoding="utf-8",
    )
    monkeypatch.setattr("namebatch.text.catalogue.bundled", lambda _: tmp_path)
    return load_catalogue()


def test_a_face_that_is_not_installed_says_what_to_install(lacking: Catalogue) -> None:
    """A name of the catalogue is known without its package: the extra or the package is named."""
    assert [face.name for face in lacking.absent] == ["Harbour Han", "Harbour Hand"]
    assert lacking.infos == ()
    by_extra = re.escape(
        'The typeface "Harbour Han" needs the extra "harbour": pip install "namebatch[harbour]"'
    )
    for name in ("Harbour Han", "harbour han", "Harbour Han wght=700"):
        with pytest.raises(FontError, match=f"^{by_extra}$"):
            lacking.open(name)
    with pytest.raises(FontError, match="needs the package no-such-fonts-b: pip install no-such"):
        lacking.open("Harbour Hand")


def test_an_own_file_counts_before_a_face_that_is_not_installed(
    lacking: Catalogue, catalogue: Catalogue, tmp_path: Path
) -> None:
    """A workshop that has the file does not need the package."""
    shutil.copy(catalogue.info("Lobster").path, tmp_path / "Harbour Han.ttf")
    again = load_catalogue()
    assert again.open("Harbour Han").can_set("Marlo")
    assert [face.name for face in again.absent] == ["Harbour Hand"]


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
