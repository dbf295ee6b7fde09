"""The table ``[joint]`` of a template."""

from pathlib import Path

import pytest

from namebatch.template import load_template
from tests.template.folders import WHOLE, problems_of, written


def test_without_the_table_nothing_is_joined(tmp_path: Path) -> None:
    """A template says nothing of joints unless it has the table."""
    assert load_template(written(tmp_path / "tag", WHOLE)).joint is None


def test_an_empty_table_has_sound_values(tmp_path: Path) -> None:
    """Straight joints with a gap of 0.1 mm, their lines found."""
    joint = load_template(written(tmp_path / "tag", WHOLE + "\n[joint]\n")).joint
    assert joint is not None
    assert (joint.kind, joint.fit_mm, joint.key_mm) == ("straight", 0.1, None)
    assert not joint.is_given


def test_given_lines(tmp_path: Path) -> None:
    """Lines are kept as they stand, whole numbers too."""
    text = '\n[joint]\nkind = "keyed"\nfit_mm = 0.2\nkey_mm = 5\nat_x_mm = [30, 60.5]\n'
    joint = load_template(written(tmp_path / "tag", WHOLE + text)).joint
    assert joint is not None
    assert joint.is_given
    assert (joint.at_x_mm, joint.at_y_mm, joint.key_mm) == ((30.0, 60.5), (), 5.0)


@pytest.mark.parametrize(
    ("table", "told"),
    [
        ('kind = "glued"', "joint.kind: must be one of straight, keyed"),
        ("fit_mm = -0.1", "joint.fit_mm: must be at least 0"),
        ("fit_mm = 9", "joint.fit_mm: must be at most 2"),
        ("key_mm = 5", 'joint.key_mm: goes only with kind = "keyed"'),
        ("at_x_mm = [60, 30]", "joint.at_x_mm: must rise"),
        ("at_x_mm = [30, 30]", "joint.at_x_mm: must rise"),
        ("at_x_mm = [90]", "joint.at_x_mm: has a line at 90 mm, outside of the base"),
        ("at_y_mm = [0]", "joint.at_y_mm: has a line at 0 mm, outside of the base"),
        ("at_z_mm = [0]", "joint.at_z_mm: there is no such key here"),
        ("bleed_mm = 2", "joint.bleed_mm: belongs at the top of the file"),
    ],
)
def test_what_is_wrong_is_told_with_its_place(table: str, told: str, tmp_path: Path) -> None:
    """Every fault of the table is told, with what to do."""
    found = problems_of(written(tmp_path / "tag", f"{WHOLE}\n[joint]\n{table}\n"))
    assert any(line.startswith(told) for line in found), found


def test_no_table_at_all(tmp_path: Path) -> None:
    """A value in place of the table is told."""
    found = problems_of(written(tmp_path / "tag", f"joint = 3\n{WHOLE}"))
    assert found == ("joint: needs a table of keys and values, not 3.",)
