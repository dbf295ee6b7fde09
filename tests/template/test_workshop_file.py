"""Workshop files and sheet sizes."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from namebatch.errors import WorkshopError
from namebatch.template import load_workshop, sheet_size
from namebatch.template.builtin_workshop import BUILTIN_TOML

OPERATIONS = {"mark", "engrave", "inner", "outer", "window"}


def problems_of(tmp_path: Path, toml: str) -> tuple[str, ...]:
    """What loading the text complains about."""
    path = tmp_path / "shop.toml"
    path.write_text(toml, encoding="utf-8")
    with pytest.raises(WorkshopError, match=r"shop\.toml") as caught:
        load_workshop(path)
    return caught.value.problems


def test_the_built_in_workshop_is_a_workshop_file(tmp_path: Path) -> None:
    """The example is read by the same code, and written to a file it gives the same values."""
    built_in = load_workshop(None)
    path = tmp_path / "mine.toml"
    path.write_text(BUILTIN_TOML, encoding="utf-8")
    mine = load_workshop(path)
    assert (built_in.built_in, mine.built_in) == (True, False)
    assert (built_in.name, mine.name) == ("built-in", "mine.toml")
    assert (built_in.printer, built_in.cutter) == (mine.printer, mine.cutter)
    assert built_in.materials == mine.materials
    assert built_in.digest == mine.digest


def test_the_built_in_values_are_those_of_their_sources() -> None:
    """Okabe & Ito 2008 colours; kerfs within what workshop notes give (0.08 to 0.45 mm)."""
    found = load_workshop(None)
    assert found.printer.margins_mm == (5, 5, 7, 5)
    palette = {"#000000", "#e69f00", "#56b4e9", "#009e73", "#f0e442", "#0072b2", "#d55e00",
               "#cc79a7"}  # fmt: skip
    assert set(found.cutter.colours) == OPERATIONS
    assert set(found.cutter.colours.values()) <= palette
    assert len(set(found.cutter.colours.values())) == 5
    for material in found.materials.values():
        assert all(0.08 <= kerf <= 0.45 for kerf in material.kerf_mm)
        assert set(material.speeds_mm_s) == OPERATIONS
    assert found.materials["plywood-3"].kerf_mm == (0.18, 0.18)
    assert found.materials["card-160"].sheet_mm is None


def test_kerf_may_differ_in_x_and_y_and_nothing_is_added_to_the_speeds(tmp_path: Path) -> None:
    """What nobody entered is not there."""
    path = tmp_path / "shop.toml"
    path.write_text(
        BUILTIN_TOML + '[material.felt-3]\ntitle = "Wool felt"\nsheet_mm = [300, 200]\n'
        "thickness_mm = 3\nkerf_mm = [0.2, 0.25]\nminimum_width_mm = 3\n"
        "speeds_mm_s = { outer = 30, engrave = 100 }\n",
        encoding="utf-8",
    )
    felt = load_workshop(path).materials["felt-3"]
    assert felt.kerf_mm == (0.2, 0.25)
    assert felt.speeds_mm_s == {"outer": 30, "engrave": 100}
    assert felt.at_the_machine == {}


def test_the_workshops_own_words_for_the_machine_are_kept(tmp_path: Path) -> None:
    """Text for each operation, in the order in which they run, as it was written."""
    path = tmp_path / "shop.toml"
    path.write_text(
        BUILTIN_TOML.replace(
            "kerf_mm = 0.18",
            'kerf_mm = 0.18\nat_the_machine = { outer = "65 % power, 2 passes", mark = "8 %" }',
        ),
        encoding="utf-8",
    )
    words = load_workshop(path).materials["plywood-3"].at_the_machine
    assert list(words.items()) == [("mark", "8 %"), ("outer", "65 % power, 2 passes")]


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        ("[printer]", "[printr]", 'printr: there is no such key here; did you mean "printer"?'),
        ("[printer]", "[printr]", "[printer]: is missing"),
        ("bed_mm", "bedmm", 'cutter.bedmm: there is no such key here; did you mean "bed_mm"?'),
        ("bed_mm = [600, 400]", "bed_mm = [600]", "cutter.bed_mm: needs 2 numbers"),
        ('"a4"', '"a44"', 'printer.sheet: Sheet size "a44" is not known'),
        ("[5, 5, 7, 5]", "[5, 5, 7]", "printer.margins_mm: needs 4 numbers"),
        ("[5, 5, 7, 5]", "[5, 100, 7, 100.0]", "printer.margins_mm: leave less than 15 mm"),
        ('["svg", "dxf"]', '["svg", "dwg"]', "cutter.files[2]: must be one of svg, dxf"),
        ('mark = "#009e73"', 'mark = "green"', "cutter.colours.mark: must be a colour"),
        ('mark = "#009e73"', 'mark = "#D55E00"', "cutter.colours.outer: has the colour of mark"),
        ("kerf_mm = 0.18", "kerf_mm = nan", "material.plywood-3.kerf_mm[1]: needs a finite"),
        ("kerf_mm = 0.18", 'kerf_mm = "x"', "material.plywood-3.kerf_mm: needs a list"),
        ("[600, 300]", "[600, 20]", "material.plywood-3.edge_mm: leaves less than 15 mm"),
        ("width_mm = 1.5", "width_mm = 0.1", "material.plywood-3.minimum_width_mm: must be wider"),
        ("outer = 15", "outr = 15", "material.plywood-3.speeds_mm_s.outr: there is no such key"),
        ("outer = 15", "outer = 0", "material.plywood-3.speeds_mm_s.outer: must be at least 0.1"),
        ("= 1500", "= 1e-9", "cutter.acceleration_mm_s2: must be at least 1"),
        ("travel_mm_s = 300", "travel_mm_s = 0.5", "cutter.travel_mm_s: must be at least 1"),
        (
            "kerf_mm = 0.18",
            "kerf_mm = 0.18\nat_the_machine = { outr = 'x' }",
            "material.plywood-3.at_the_machine.outr: there is no such key",
        ),
        (
            "kerf_mm = 0.18",
            "kerf_mm = 0.18\nat_the_machine = { outer = ' ' }",
            "material.plywood-3.at_the_machine.outer: is empty",
        ),
        (
            "kerf_mm = 0.18",
            "kerf_mm = 0.18\nat_the_machine = { outer = 65 }",
            "material.plywood-3.at_the_machine.outer:",
        ),
        ("corner_mm = 0.05", "corner_mm = 0", "cutter.corner_mm: must be at least 0.001"),
        ("corner_mm = 0.05", "price_per_hour = -1", "cutter.price_per_hour: must be at least 0"),
        ('"Birch plywood 3 mm"', '"Vinyl"', "material.plywood-3: vinyl must never be cut"),
        ("files = [", 'kind = "saw"\nfiles = [', "cutter.kind: must be one of laser, blade"),
        ("files = [", 'jig = "a2"\nfiles = [', 'cutter.jig: Sheet size "a2" is not known'),
        ("files = [", 'jig = "700x300"\nfiles = [', "cutter.jig: is 700 × 300 mm and does not lie"),
    ],
)
def test_slips_in_a_workshop_file_are_told(
    tmp_path: Path, old: str, new: str, message: str
) -> None:
    """Each slip gives its problem, with its place and the nearest right word."""
    assert old in BUILTIN_TOML
    toml = BUILTIN_TOML.replace(old, new, 1)
    found = problems_of(tmp_path, toml)
    assert any(line.startswith(message) for line in found), found


def test_a_blade_may_cut_what_a_laser_must_not(tmp_path: Path) -> None:
    """Vinyl is refused for a laser, which is what a cutter is unless the file says otherwise."""
    toml = BUILTIN_TOML.replace('"Birch plywood 3 mm"', '"Vinyl, matt"')
    assert load_workshop(None).cutter.kind == "laser"
    for kind in ("", 'kind = "laser"\n'):
        found = problems_of(tmp_path, toml.replace("files = [", f"{kind}files = ["))
        assert len(found) == 1
        assert 'If this cutter has a blade and no laser, write kind = "blade"' in found[0]
    path = tmp_path / "blade.toml"
    path.write_text(toml.replace("files = [", 'kind = "blade"\nfiles = ['), encoding="utf-8")
    workshop = load_workshop(path)
    assert workshop.cutter.kind == "blade"
    assert workshop.materials["plywood-3"].title == "Vinyl, matt"


def test_the_sheet_for_jigs_is_read(tmp_path: Path) -> None:
    """Named or in mm, lying as it is given; without it a jig just suits its job."""
    assert load_workshop(None).cutter.jig_mm is None
    path = tmp_path / "shop.toml"
    for text, size in (("a3", (297, 420)), ("400x600", (400, 600))):
        toml = BUILTIN_TOML.replace("files = [", f'jig = "{text}"\nfiles = [')
        path.write_text(toml, encoding="utf-8")
        assert load_workshop(path).cutter.jig_mm == size


def test_a_missing_workshop_file_is_told(tmp_path: Path) -> None:
    """A path that leads nowhere says so."""
    with pytest.raises(WorkshopError, match=r"none\.toml: cannot be read"):
        load_workshop(tmp_path / "none.toml")


@pytest.mark.parametrize(
    ("text", "size"),
    [
        # ISO 216:2007; Letter after ASME Y14.1 (from memory).
        ("a3", (297, 420)),
        ("A4", (210, 297)),
        ("a5", (148, 210)),
        (" Letter ", (215.9, 279.4)),
        ("320x450", (320, 450)),
        ("320 × 450.5 mm", (320, 450.5)),
        ("20X3000", (20, 3000)),
    ],
)
def test_sheet_sizes(text: str, size: tuple[float, float]) -> None:
    """Names and free sizes in mm."""
    assert sheet_size(text) == size


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("a6", "Write a3, a4, a5, letter, or width and height"),
        ("lettre", 'Did you mean "letter"'),
        ("19x300", "19 mm is outside 20 to 3000 mm"),
        ("300x3001", "3001 mm is outside"),
        ("210,5x297", "with a point for decimals"),
        ("nanx20", "is not known"),
        ("1e3x20", "is not known"),
        ("", "is not known"),
        ("٢١٠x297", "is not known"),
    ],
)
def test_other_sheet_sizes_are_refused_with_a_remedy(text: str, message: str) -> None:
    """What is no sheet says what would be one."""
    with pytest.raises(WorkshopError, match=message):
        sheet_size(text)


@given(st.text())
def test_any_text_is_a_size_or_told(text: str) -> None:
    """No text does anything but give a size in bounds or a WorkshopError."""
    try:
        width, height = sheet_size(text)
    except WorkshopError:
        return
    assert 20 <= width <= 3000
    assert 20 <= height <= 3000
