"""Font files by name: a template stays in its folder, the command line may go anywhere."""

import shutil
from pathlib import Path

import pytest

from namebatch.errors import FontError
from namebatch.text.catalogue import Catalogue, load_catalogue


@pytest.fixture
def outside(tmp_path: Path, catalogue: Catalogue) -> Path:
    """A font file that does not belong to the template beside it."""
    (tmp_path / "template").mkdir()
    path = tmp_path / "outside.ttf"
    shutil.copy(catalogue.info("Lobster").path, path)
    return path


@pytest.mark.parametrize("axes", ["", " wght=600", " wght=600 wdth=90"])
def test_a_template_cannot_reach_out_of_its_folder(
    outside: Path, axes: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Neither a whole path nor .. nor the present folder opens a file from elsewhere."""
    monkeypatch.chdir(outside.parent)
    catalogue = load_catalogue(outside.parent / "template")
    for name in (str(outside), "../outside.ttf", "outside.ttf"):
        with pytest.raises(FontError, match=r"no font file .* in the template's folder\. Put"):
            catalogue.open(name + axes)


def test_the_chosen_typeface_may_be_anywhere(outside: Path) -> None:
    """What the command line names is opened by its whole path, in a template's job too."""
    catalogue = load_catalogue(outside.parent / "template", str(outside))
    assert catalogue.open(str(outside)).can_set("Marlo")
    with pytest.raises(FontError, match="in the template's folder"):
        catalogue.open("../outside.ttf")


def test_axes_do_not_hide_the_chosen_file(outside: Path) -> None:
    """A setting behind the path belongs to the typeface and not to the file's name."""
    catalogue = load_catalogue(outside.parent / "template", f"{outside} wght=600")
    assert catalogue.info(f"{outside} wght=600").path == outside


def test_a_chosen_file_that_is_missing_is_told(tmp_path: Path) -> None:
    """The remedy for the command line is a path or the fonts folder."""
    gone = str(tmp_path / "gone.ttf")
    with pytest.raises(FontError, match=r"no font file .*gone\.ttf\"\. Give its whole path"):
        load_catalogue(tmp_path, gone).open(gone)
