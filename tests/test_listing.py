"""What a person is told about the typefaces that set a text."""

import json

import pytest

from namebatch.errors import SettingsError
from namebatch.listing import check_fonts
from namebatch.template import load_workshop
from namebatch.text import Catalogue, load_catalogue
from namebatch.text.catalogue import AbsentFace

MIXED = "Zoë 田中 🎪"


def test_a_mixture_is_told_with_stroke_place_and_heights(
    capsys: pytest.CaptureFixture[str],
) -> None:
    """Who helps, how thin at the height asked for, in which letter, and the least heights."""
    assert check_fonts(MIXED, 20.0, load_workshop(None), as_json=False)
    said = capsys.readouterr().out
    assert f'No typeface here sets all of "{MIXED}"; these do with the help of others.' in said
    (line,) = [line for line in said.splitlines() if line.startswith("Lilita One")]
    assert "Noto Sans CJK SemiBold + Noto Emoji Bold" in line
    assert line.endswith("🎪 (Noto Emoji Bold)")
    assert "thinnest at 20 mm" in said


def test_a_mixture_as_json_has_the_keys_of_a_single_face(
    capsys: pytest.CaptureFixture[str],
) -> None:
    """The figures stand under the same keys, and two more say which faces and where."""
    workshop = load_workshop(None)
    assert check_fonts(MIXED, 20.0, workshop, as_json=True)
    entries = {entry["name"]: entry for entry in json.loads(capsys.readouterr().out)}
    entry = entries["Lilita One"]
    assert entry["text_faces"] == ["Lilita One", "Noto Sans CJK SemiBold", "Noto Emoji Bold"]
    assert entry["text_stroke_at"] == {"letter": "🎪", "face": "Noto Emoji Bold"}
    assert entry["text_stroke_mm"] == pytest.approx(20 * entry["text_stroke_ratio"], abs=0.002)
    assert set(entry["least_height_mm"]) == set(workshop.materials)
    for name, height in entry["least_height_mm"].items():
        least = workshop.materials[name].minimum_width_mm / entry["text_stroke_ratio"]
        assert least <= height + 0.05
        assert height <= least + 0.15


def test_a_single_face_keeps_its_table(capsys: pytest.CaptureFixture[str]) -> None:
    """A plain name is told face by face, with the letter that has the thinnest stroke."""
    assert check_fonts("Marlo", None, load_workshop(None), as_json=False)
    said = capsys.readouterr().out.splitlines()
    assert said[0].split()[:2] == ["name", "style"]
    assert "thinnest at 10 mm" in said[0]
    assert all(line.split()[-1] in "Marlo" for line in said[1:-1])


@pytest.mark.parametrize("text", ["", "  \t\n"])
def test_no_text_is_refused(text: str) -> None:
    """An empty text is told instead of a table of blanks."""
    with pytest.raises(SettingsError, match=r"--check is empty\. Give the text"):
        check_fonts(text, None, load_workshop(None), as_json=False)


@pytest.mark.parametrize("height", [0.2, -1.0, float("nan"), float("inf")])
def test_a_height_that_cannot_be_cut_is_refused(height: float) -> None:
    """The height is told back with what is possible."""
    with pytest.raises(SettingsError, match=r"--height .* is not a height .* Give 0.5 to 2000 mm"):
        check_fonts("Ada", height, load_workshop(None), as_json=False)


def test_a_sign_that_no_face_has_is_named(capsys: pytest.CaptureFixture[str]) -> None:
    """Its code and name are told; JSON stays JSON."""
    assert not check_fonts("Zoë ✘", None, load_workshop(None), as_json=False)
    assert "none has U+2718 heavy ballot x" in capsys.readouterr().out
    assert not check_fonts("Zoë ✘", None, load_workshop(None), as_json=True)
    told = capsys.readouterr()
    assert json.loads(told.out) == []
    assert "U+2718" in told.err


def test_the_extra_is_named_where_it_helps(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Without the large typeface its extra is named, with the command that brings it."""
    full = load_catalogue()
    lean = Catalogue(
        [info for info in full.infos if info.package != "manimgx-fonts-cjk"],
        absent=[AbsentFace("Noto Sans CJK SemiBold", ("Hani",), "manimgx-fonts-cjk", "cjk")],
    )
    monkeypatch.setattr("namebatch.listing.load_catalogue", lambda: lean)
    assert not check_fonts("Zoë 田中", None, load_workshop(None), as_json=False)
    assert 'needs the extra "cjk": pip install "namebatch[cjk]"' in capsys.readouterr().out
