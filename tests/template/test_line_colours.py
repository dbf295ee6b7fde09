"""Colours of the operations' lines: seen on white, and told apart."""

from pathlib import Path

import pytest

from namebatch.errors import WorkshopError
from namebatch.template import load_workshop
from namebatch.template.builtin_workshop import BUILTIN_TOML
from namebatch.template.line_colours import LEAST_DIFFERENCE, difference


@pytest.mark.parametrize(
    ("one", "other", "expected"),
    [
        # White is L* 100 and black L* 0 by definition (CIE 15). The others after Lab values of
        # the sRGB primaries for D65 as colour tables have them (from memory): red 53.24, 80.09,
        # 67.20; green 87.73, -86.18, 83.18; blue 32.30, 79.19, -107.86.
        ("#ffffff", "#000000", 100.0),
        ("#ff0000", "#00ff00", 170.6),
        ("#ff0000", "#0000ff", 176.3),
        ("#123456", "#123456", 0.0),
    ],
)
def test_differences_of_known_colours(one: str, other: str, expected: float) -> None:
    """Distance in CIE Lab, either way round."""
    assert difference(one, other) == pytest.approx(expected, abs=0.1)
    assert difference(other, one) == pytest.approx(expected, abs=0.1)


@pytest.mark.parametrize(
    ("operation", "colour", "message"),
    [
        ("outer", "#ffffff", "cutter.colours.outer: #ffffff can hardly be seen on white"),
        ("mark", "#f4f4f0", "cutter.colours.mark: #f4f4f0 can hardly be seen on white"),
        ("mark", "#010101", "cutter.colours.engrave: #000000 is nearly the colour of mark"),
        ("inner", "#d65f02", "cutter.colours.outer: #d55e00 is nearly the colour of inner"),
    ],
)
def test_colours_that_nobody_can_tell_are_refused(
    tmp_path: Path, operation: str, colour: str, message: str
) -> None:
    """With the other one, the figure and what to do."""
    path = tmp_path / "shop.toml"
    lines = [
        f'{operation} = "{colour}"' if line.startswith(f'{operation} = "#') else line
        for line in BUILTIN_TOML.splitlines()
    ]
    path.write_text("\n".join(lines), encoding="utf-8")
    with pytest.raises(WorkshopError) as caught:
        load_workshop(path)
    [told] = caught.value.problems
    assert told.startswith(message)
    assert f"at least {LEAST_DIFFERENCE:g}" in told


def test_the_plain_colours_of_screens_pass(tmp_path: Path) -> None:
    """Many cutters tell operations by them: yellow is light, but it is not white."""
    path = tmp_path / "shop.toml"
    plain = {"mark": "#00ff00", "engrave": "#000000", "inner": "#0000ff", "outer": "#ff0000",
             "window": "#ffff00"}  # fmt: skip
    lines = [
        f'{line.split(" = ")[0]} = "{plain[line.split(" = ")[0]]}"'
        if line.split(" = ")[0] in plain
        else line
        for line in BUILTIN_TOML.splitlines()
    ]
    path.write_text("\n".join(lines), encoding="utf-8")
    assert load_workshop(path).cutter.colours == plain
