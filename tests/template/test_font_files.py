"""Font files that a template names: they lie in its folder, wherever the name tries to lead."""

from pathlib import Path

import pytest

from tests.template.folders import WHOLE, problems_of, written


@pytest.mark.parametrize(
    "font", ["/usr/share/x.ttf", "../x.otf", "x.ttf", "/usr/share/x.ttf wght=600", "x.ttf wght=9"]
)
def test_font_files_lie_in_the_folder(tmp_path: Path, font: str) -> None:
    """A font file from elsewhere is refused with the two places where it may lie."""
    toml = WHOLE.replace('["Pacifico"]', f'["{font}"]')
    (line,) = problems_of(written(tmp_path / "t", toml))
    assert line.startswith("text[1].fonts[1]: ")
    assert "Put the font file in the template's folder, or in fonts/" in line
