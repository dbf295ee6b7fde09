"""Values set in a workshop file, everything else as it was."""

import os
from pathlib import Path

import pytest

from namebatch.errors import MeasureError, WorkshopError
from namebatch.measured.workshop_edit import set_values
from namebatch.template.builtin_workshop import BUILTIN_TOML

SCALE: dict[tuple[str, ...], tuple[float, ...]] = {("printer", "scale"): (1.002, 0.997)}


def shop(tmp_path: Path, text: str = BUILTIN_TOML) -> Path:
    """A workshop file."""
    path = tmp_path / "shop.toml"
    path.write_bytes(text.encode())
    return path


def changed(before: str, after: str) -> tuple[list[str], list[str]]:
    """Lines that went and lines that came."""
    old, new = before.splitlines(), after.splitlines()
    return [line for line in old if line not in new], [line for line in new if line not in old]


def test_a_new_value_is_one_new_line(tmp_path: Path) -> None:
    """Comments, order and all other values stay; it stands in its table."""
    path = shop(tmp_path)
    assert set_values(path, SCALE).printer.scale == (1.002, 0.997)
    after = path.read_bytes().decode()
    assert changed(BUILTIN_TOML, after) == ([], ["scale = [1.002, 0.997]"])
    assert "margins_mm = [5, 5, 7, 5]\nscale = [1.002, 0.997]\n\n[cutter]" in after
    assert [path.name for path in tmp_path.iterdir()] == ["shop.toml"]


def test_a_value_that_is_there_keeps_its_comment(tmp_path: Path) -> None:
    """Of materials too, with points in their names."""
    path = shop(tmp_path, BUILTIN_TOML.replace("kerf_mm = 0.09\nm", "kerf_mm = 0.09  # May\nm"))
    name = "stencil-card-0.5"
    now = set_values(path, {("material", name, "kerf_mm"): (0.101, 0.12)})
    assert now.materials[name].kerf_mm == (0.101, 0.12)
    lines = path.read_bytes().decode().splitlines()
    assert "kerf_mm = [0.101, 0.12]  # May" in lines
    assert lines.count("kerf_mm = 0.09  # May") == 2


@pytest.mark.parametrize(
    "text",
    [BUILTIN_TOML.replace("\n", "\r\n"), "\ufeff" + BUILTIN_TOML],
    ids=["windows line ends", "byte order mark"],
)
def test_line_ends_and_marks_of_editors_stay(tmp_path: Path, text: str) -> None:
    """The file is changed in one line whatever program wrote it."""
    path = shop(tmp_path, text)
    set_values(path, SCALE)
    after = path.read_bytes().decode()
    end = "\r\n" if "\r\n" in text else "\n"
    assert after.replace(f"scale = [1.002, 0.997]{end}", "") == text


def test_set_twice_is_set_once(tmp_path: Path) -> None:
    """The second result takes the place of the first."""
    path = shop(tmp_path)
    set_values(path, {("printer", "scale"): (1.001, 1.001)})
    set_values(path, SCALE)
    assert path.read_text(encoding="utf-8").count("scale = ") == 1


def test_values_that_cannot_be_leave_the_file_as_it_was(tmp_path: Path) -> None:
    """A kerf as wide as the narrowest part is refused, with the reader's own words."""
    path = shop(tmp_path)
    with pytest.raises(WorkshopError, match="cannot take these values; it is as it was") as caught:
        set_values(path, {("material", "card-160", "kerf_mm"): (0.9, 0.9)})
    assert "minimum_width_mm: must be wider than the kerf" in "".join(caught.value.problems)
    assert path.read_bytes() == BUILTIN_TOML.encode()
    assert [path.name for path in tmp_path.iterdir()] == ["shop.toml"]


def test_a_broken_file_is_not_touched(tmp_path: Path) -> None:
    """It is told as when a job is made with it."""
    path = shop(tmp_path, "[printer")
    with pytest.raises(WorkshopError, match=r"shop\.toml"):
        set_values(path, SCALE)
    assert path.read_bytes() == b"[printer"


def test_the_examples_cannot_be_changed() -> None:
    """There is no file to store into."""
    with pytest.raises(MeasureError, match="Name your own workshop file: --workshop FILE"):
        set_values(None, SCALE)


def test_rights_and_links_stay(tmp_path: Path) -> None:
    """A file that others may not read stays so, and a link still leads to it."""
    path = shop(tmp_path)
    path.chmod(0o640)
    link = tmp_path / "link.toml"
    link.symlink_to(path)
    set_values(link, SCALE)
    assert link.is_symlink()
    assert path.stat().st_mode & 0o777 == 0o640
    assert b"scale = " in path.read_bytes()


@pytest.mark.skipif(os.geteuid() == 0, reason="root may write anywhere")
def test_a_folder_that_cannot_be_written_is_told(tmp_path: Path) -> None:
    """The file is as it was."""
    path = shop(tmp_path)
    tmp_path.chmod(0o500)
    try:
        with pytest.raises(MeasureError, match="cannot be written"):
            set_values(path, SCALE)
    finally:
        tmp_path.chmod(0o700)
