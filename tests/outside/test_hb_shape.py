"""Our glyph runs against the `hb-shape` program (Debian libharfbuzz-bin)."""

import os
import re
import shutil
import subprocess
from unicodedata import category

import pytest
from faker import Faker

from namebatch.text.catalogue import load_catalogue
from namebatch.text.languages import likely_language
from namebatch.text.runs import items_of, script_runs

HB_SHAPE = shutil.which("hb-shape")
CASES = [
    ("Pacifico", "Øyvind"),
    ("Pacifico", "AVATAR To Ty"),
    ("Lobster", "Łukasz"),
    ("Vollkorn SemiBold", "Đặng Thị Ngọc"),
    ("Noto Sans", "Ångström-Öhm"),
    ("Noto Sans", "Αλκυόνη"),
    ("Noto Sans", "Тамара"),
    ("Noto Sans Arabic", "محمد"),
    ("Noto Sans Arabic SemiBold", "عائشة"),
    ("Noto Sans Devanagari", "क्षितिज"),
    ("Noto Sans Thai", "อรุณี"),
    ("Heebo Bold", "שלום"),
    ("Baloo 2 SemiBold", "Marlo"),
]


@pytest.mark.skipif(
    HB_SHAPE is None and os.environ.get("CI") != "true", reason="hb-shape is not installed"
)
@pytest.mark.parametrize(("name", "text"), CASES, ids=[f"{n}-{t}" for n, t in CASES])
def test_glyphs_and_advances(name: str, text: str) -> None:
    """Glyph ids, offsets and the line's advance are those of hb-shape."""
    assert HB_SHAPE is not None, "hb-shape must be installed under CI"
    face = load_catalogue().open(name)
    script = script_runs(text)[0].script
    language = likely_language(script, text)
    axes = ",".join(f"{tag}={value}" for tag, value in face.axes.items())
    command = [HB_SHAPE, "--no-glyph-names", "--no-clusters", f"--language={language}"]
    command += [f"--variations={axes}"] if axes else []
    command += [f"--font-size={face.units_per_em}", str(face.path), text]
    said = subprocess.run(command, capture_output=True, text=True, check=True).stdout
    pattern = r"(\d+)(?:@(-?\d+),(-?\d+))?\+(-?\d+)"
    x = 0.0
    theirs = []
    for gid, dx, dy, advance in re.findall(pattern, said):
        theirs.append((int(gid), x + int(dx or 0), int(dy or 0)))
        x += int(advance)
    run = face.shape(text)
    assert [glyph.gid for glyph in run.glyphs] == [gid for gid, _, _ in theirs]
    for glyph, (_, at_x, at_y) in zip(run.glyphs, theirs, strict=True):
        # advances of variable fonts are rounded glyph by glyph in either version
        assert glyph.x == pytest.approx(at_x, abs=len(theirs))
        assert glyph.y == pytest.approx(at_y, abs=1)
    assert run.advance == pytest.approx(x, abs=len(theirs))


SCRIPTS = {
    "Noto Sans SemiBold": ("pl_PL", "vi_VN", "el_GR", "uk_UA"),
    "Noto Sans Hebrew SemiBold": ("he_IL",),
    "Noto Sans Arabic SemiBold": ("ar_SA", "fa_IR"),
    "Noto Sans Devanagari SemiBold": ("hi_IN", "ne_NP"),
    "Noto Sans Bengali SemiBold": ("bn_BD",),
    "Noto Sans Gujarati SemiBold": ("gu_IN",),
    "Noto Sans Tamil SemiBold": ("ta_IN",),
    "Noto Sans Thai SemiBold": ("th_TH",),
    "Noto Sans Georgian SemiBold": ("ka_GE",),
    "Noto Sans Armenian SemiBold": ("hy_AM",),
    "Noto Sans CJK SemiBold": ("ja_JP", "zh_CN", "ko_KR"),
}
EACH = 45


def _names(locale: str) -> list[str]:
    """Words of names that are of one script and one direction, as `hb-shape` takes them."""
    fake = Faker(locale)
    fake.seed_instance(20270)
    words = [word for _ in range(4 * EACH) for word in fake.name().split(" ")]
    single = [
        word
        for word in words
        if len(items_of(word)) == 1 and all(category(c)[0] in "LM" for c in word)
    ]
    return list(dict.fromkeys(single))[:EACH]


def _theirs(name: str, texts: list[str]) -> list[list[int]]:
    """Glyph ids of each text by `hb-shape`, with the language that our runs have."""
    assert HB_SHAPE is not None, "hb-shape must be installed under CI"
    face = load_catalogue().open(name)
    axes = ",".join(f"{tag}={value}" for tag, value in face.axes.items())
    found = []
    for text in texts:
        language = likely_language(items_of(text)[0].script, text)
        command = [HB_SHAPE, "--no-glyph-names", "--no-clusters", "--no-positions"]
        command += [f"--language={language}", *([f"--variations={axes}"] if axes else [])]
        said = subprocess.run(
            [*command, str(face.path), text], capture_output=True, text=True, check=True
        ).stdout
        found.append([int(gid) for gid in re.findall(r"\d+", said)])
    return found


@pytest.mark.skipif(
    HB_SHAPE is None and os.environ.get("CI") != "true", reason="hb-shape is not installed"
)
@pytest.mark.parametrize("name", SCRIPTS)
def test_names_of_twelve_scripts(name: str) -> None:
    """Some eight hundred names of fifteen scripts take the glyphs that hb-shape takes."""
    face = load_catalogue().open(name)
    texts = [text for locale in SCRIPTS[name] for text in _names(locale)]
    ours = [[glyph.gid for glyph in face.shape(text).glyphs] for text in texts]
    assert len(texts) >= 20 * len(SCRIPTS[name])
    assert ours == _theirs(name, texts)
