"""Shaping and outlines of a face."""

from pathlib import Path

import pytest

from namebatch.curves import Recorder
from namebatch.errors import FontError
from namebatch.text.catalogue import Catalogue
from namebatch.text.face import Face


def test_missing_characters_are_named_once(catalogue: Catalogue) -> None:
    """Each character that the face lacks is told, in text order."""
    run = catalogue.open("Lobster").shape("Zoë 🎪🎪 ก")
    assert run.missing == ("🎪", "ก")


def test_decomposed_letter_is_not_missing(catalogue: Catalogue) -> None:
    """A face with the composed letter sets base and mark too."""
    assert catalogue.open("Pacifico").can_set("Zoe\u0308")


def test_joiners_are_not_missing(catalogue: Catalogue) -> None:
    """Zero width joiners shape and need no glyph of their own."""
    assert catalogue.open("Noto Sans Arabic").can_set("می\u200cخواهم")


def test_tracking_spreads_letters_but_not_joined_scripts(catalogue: Catalogue) -> None:
    """Spaced capitals are wider by the tracking between letters; Arabic is left joined."""
    face = catalogue.open("Noto Sans")
    plain, spaced = face.shape("KITE"), face.shape("KITE", 0.25)
    assert spaced.advance - plain.advance == pytest.approx(3 * 0.25 * face.cap_height)
    arabic = catalogue.open("Noto Sans Arabic")
    assert arabic.shape("محمد", 0.25).advance == arabic.shape("محمد").advance


def test_weight_axis_makes_heavier_letters(catalogue: Catalogue) -> None:
    """A variable face at a higher weight has more ink."""
    light, heavy = catalogue.open("Fredoka"), catalogue.open("Fredoka SemiBold")
    areas = [
        sum(face.glyph_shape(g.gid, 1.0).area for g in face.shape("Marlo").glyphs)
        for face in (light, heavy)
    ]
    assert areas[1] > 1.2 * areas[0]


def test_each_script_is_shaped_as_it_asks(catalogue: Catalogue) -> None:
    """A Devanagari part behind a Latin one still forms its conjuncts."""
    face = catalogue.open("Noto Sans Devanagari")
    alone = [g.gid for g in face.shape("क्षितिज").glyphs]
    behind = [g.gid for g in face.shape("Ana क्षितिज").glyphs][-len(alone) :]
    assert behind == alone


def test_outline_is_drawn_into_any_sink(catalogue: Catalogue) -> None:
    """The protocol gives closed contours of curves."""
    face = catalogue.open("Pacifico")
    recorder = Recorder()
    face.draw(face.shape("o").glyphs[0].gid, recorder)
    verbs = [segment.verb for segment in recorder.path]
    assert verbs.count("M") == verbs.count("Z") >= 2


@pytest.mark.parametrize(
    ("content", "reason"),
    [
        (b"\x89PNG\r\n", "neither a TTF nor an OTF"),
        (b"\0\1\0\0" + b"\0" * 40, "no characters"),
        (b"OTTO" + b"\xff" * 400, "no characters"),
    ],
)
def test_broken_file_is_told(tmp_path: Path, content: bytes, reason: str) -> None:
    """A file that is no font is refused with the reason."""
    path = tmp_path / "broken.ttf"
    path.write_bytes(content)
    with pytest.raises(FontError, match=reason):
        Face("broken", path)


def test_units_per_em_outside_the_standard_are_refused(
    tmp_path: Path, catalogue: Catalogue
) -> None:
    """OpenType `head` allows 16 to 16384 units per em."""
    good = catalogue.info("Pacifico").path.read_bytes()
    count = int.from_bytes(good[4:6], "big")
    entries = [good[12 + 16 * i : 28 + 16 * i] for i in range(count)]
    at = next(int.from_bytes(e[8:12], "big") for e in entries if e[:4] == b"head")
    path = tmp_path / "zero.ttf"
    path.write_bytes(good[: at + 18] + b"\0\0" + good[at + 20 :])
    with pytest.raises(FontError, match="units per em are 0"):
        Face("zero", path)


def test_missing_file_is_told(tmp_path: Path) -> None:
    """The remedy stands in the message."""
    with pytest.raises(FontError, match="Install its font package"):
        Face("gone", tmp_path / "gone.ttf")
