"""Our glyph runs against the `hb-shape` program (Debian libharfbuzz-bin)."""

import os
import re
import shutil
import subprocess

import pytest

from namebatch.text.catalogue import load_catalogue
from namebatch.text.runs import LIKELY_LANGUAGE, script_runs

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
    language = LIKELY_LANGUAGE.get(script, "und")
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
