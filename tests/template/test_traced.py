"""Templates with a traced base, a contour, and holes to be found."""

from pathlib import Path

import pytest
from shapely import Polygon

from namebatch.template import load_template
from namebatch.template.model import ContourRule, FoundHole
from tests.template.cutouts import cover, cut_out, disc, on_ground
from tests.template.folders import BASE, TEXT, problems_of, written
from tests.template.images import saved

HEAD = 'format = 1\ntitle = "Kite"\nbuild = "printed"\nmaterial = "card-160"\n'
CONTOUR = 'rule = "contour"\n' + HEAD
SIZES = "[contour]\ndistance_mm = 2\n"
TRACE = '[base]\ntrace = "front"\nwidth_mm = 60\n'
FRONT = '[artwork.front]\nfile = "kite.png"\n'
SMALL = TEXT.replace("[10, 10, 60, 20]", "[10, 10, 15, 10]")
KITE = saved(cut_out(cover(disc(30, 20, 15), (60, 40), 160)), "PNG")
FIND = '[[hole]]\nshape = "round"\nfind = "top"\ndiameter_mm = 4\n'


def test_traced_base_and_its_picture(tmp_path: Path) -> None:
    """The base is the outline, half a millimetre inside; the picture lies where it was traced."""
    found = load_template(written(tmp_path / "t", HEAD + TRACE + FRONT + SMALL, kite__png=KITE))
    assert found.size_mm == pytest.approx((29, 29), abs=0.06)
    assert found.base.bounds[:2] == (0, 0)
    x, y, width, height = found.artwork["front"].box_mm
    assert (x, y) == pytest.approx((-15.5, -5.5), abs=0.06)
    assert (width, height) == pytest.approx((60, 40), abs=0.1)
    assert found.warnings == ()


@pytest.mark.parametrize(("key", "size"), [("outset_mm = 2", 34), ("inset_mm = 0", 30)])
def test_inset_or_outset(tmp_path: Path, key: str, size: float) -> None:
    """The line runs where the template says; the height may be given instead of the width."""
    base = f'[base]\ntrace = "front"\nheight_mm = 40\n{key}\n'
    found = load_template(written(tmp_path / "t", HEAD + base + FRONT + SMALL, kite__png=KITE))
    assert found.size_mm == pytest.approx((size, size), abs=0.08)


def test_soft_pictures_are_warned_of(tmp_path: Path) -> None:
    """From 75 to 150 dpi the template is read, with a warning."""
    base = TRACE.replace("60", "90")
    found = load_template(written(tmp_path / "t", HEAD + base + FRONT + SMALL, kite__png=KITE))
    (line,) = found.warnings
    assert line.code == "trace-coarse"
    assert "only 107 pixels an inch" in line.message


def test_svg_has_its_own_size(tmp_path: Path) -> None:
    """A drawing is traced at its own size when none is given."""
    svg = (
        '<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="40mm" viewBox="0 0 60 40">'
        '<circle cx="30" cy="20" r="15" fill="#c8281e"/></svg>'
    )
    toml = HEAD + '[base]\ntrace = "front"\n' + FRONT.replace("png", "svg") + SMALL
    found = load_template(written(tmp_path / "t", toml, kite__svg=svg))
    assert found.size_mm == pytest.approx((29, 29), abs=0.03)


@pytest.mark.parametrize(
    ("toml", "told"),
    [
        (HEAD + TRACE + SMALL, "base.trace: needs a picture to trace"),
        (HEAD + TRACE + 'shape = "circle"\n' + FRONT + SMALL, "base: has a trace and a drawing"),
        (HEAD + TRACE + "height_mm = 9\n" + FRONT + SMALL, "both width_mm and height_mm"),
        (HEAD + '[base]\ntrace = "front"\n' + FRONT + SMALL, "no size; give width_mm"),
        (HEAD + TRACE + "inset_mm = 1\noutset_mm = 1\n" + FRONT + SMALL, "both inset_mm and"),
        (HEAD + TRACE + FRONT + "box_mm = [0, 0, 6, 4]\n" + SMALL, "follows from the base"),
        (HEAD + TRACE + FRONT.replace("kite", "tail") + SMALL, 'no file "tail.png"'),
        (HEAD + TRACE + FRONT.replace("png", "gif") + SMALL, "must be an .svg, .png"),
        (HEAD + TRACE.replace("front", "back") + FRONT + SMALL, "base.trace: must be one of"),
        (HEAD + TRACE.replace("60", "2500") + FRONT + SMALL, "its sides must be 2 to 2000"),
        (HEAD + TRACE.replace("60", "200") + FRONT + SMALL, "base.trace: kite.png has only 48"),
        (HEAD + TRACE + "inset_mm = 14.5\n" + FRONT + SMALL, "that is too small"),
        (HEAD + TRACE + "inset_mm = 16\n" + FRONT + SMALL, "nowhere wide enough"),
    ],
)
def test_what_is_wrong_with_a_trace_is_told(tmp_path: Path, toml: str, told: str) -> None:
    """Each problem has its place and says what to do."""
    lines = problems_of(written(tmp_path / "t", toml, kite__png=KITE))
    assert any(told in line for line in lines), lines


def test_a_picture_without_background_is_a_problem(tmp_path: Path) -> None:
    """One colour from border to border shows nothing to trace."""
    blank = saved(on_ground(cover(disc(0, 0, 900), (60, 40), 160)), "PNG")
    lines = problems_of(written(tmp_path / "t", HEAD + TRACE + FRONT + SMALL, kite__png=blank))
    assert any("shows nothing to trace" in line for line in lines)


def test_contour_and_its_defaults(tmp_path: Path) -> None:
    """The rule's sizes are read, with what the format promises for the rest."""
    found = load_template(written(tmp_path / "t", CONTOUR + BASE + SIZES + TEXT))
    assert found.contour == ContourRule(2.0, "round", 0.5, 1.0, None)
    sizes = 'corners = "smooth"\ninside_radius_mm = 1\ngap_mm = 3\nleast_hole_mm2 = 40\n'
    found = load_template(written(tmp_path / "u", CONTOUR + BASE + SIZES + sizes + TEXT))
    assert found.contour == ContourRule(2.0, "smooth", 1.0, 3.0, 40.0)


def test_other_rules_have_no_contour(tmp_path: Path) -> None:
    """Without the rule there are no sizes."""
    assert load_template(written(tmp_path / "t", HEAD + BASE + TEXT)).contour is None


def test_a_name_alone(tmp_path: Path) -> None:
    """A contour needs no base; the size is what the text boxes reach."""
    found = load_template(written(tmp_path / "t", CONTOUR + SIZES + TEXT + FIND))
    assert found.base.is_empty
    assert found.size_mm == (70, 30)
    assert len(found.found_holes) == 1


def test_a_contour_goes_round_text_beyond_the_base(tmp_path: Path) -> None:
    """On the front a text may leave the base, as the line runs round it."""
    text = TEXT.replace("[10, 10, 60, 20]", "[60, 10, 60, 20]")
    assert load_template(written(tmp_path / "t", CONTOUR + BASE + SIZES + text)).boxes


@pytest.mark.parametrize(
    ("toml", "told"),
    [
        (CONTOUR + BASE + TEXT, "[contour]: is missing"),
        (HEAD + BASE + SIZES + TEXT, 'contour: goes only with rule = "contour", not "base"'),
        (CONTOUR + BASE + "[contour]\n" + TEXT, "contour.distance_mm: is missing"),
        (CONTOUR + BASE + SIZES.replace("2", "-2") + TEXT, "must be at least 0, not -2"),
        (CONTOUR + BASE + SIZES + 'corners = "sharp"\n' + TEXT, "round, mitred, smooth"),
        (CONTOUR + BASE + SIZES + 'title = "x"\n' + TEXT, "contour.title: belongs at the top"),
        (CONTOUR + BASE + SIZES + TEXT + 'made = "outline"\n', "round every text of the front"),
        (HEAD + TEXT, "[base]: is missing"),
        (
            CONTOUR + SIZES + TEXT + '[[hole]]\nshape = "round"\nat_mm = [9, 9]\ndiameter_mm = 3\n',
            "hole[1]: needs a base to lie in",
        ),
    ],
)
def test_what_is_wrong_with_a_contour_is_told(tmp_path: Path, toml: str, told: str) -> None:
    """Each problem has its place and says what to do."""
    lines = problems_of(written(tmp_path / "t", toml))
    assert any(told in line for line in lines), lines


def test_holes_to_be_found(tmp_path: Path) -> None:
    """Round holes and slots, near an edge or a point; fixed holes are kept apart from them."""
    toml = (
        HEAD + BASE + FIND + 'wall_mm = 3\ntab = false\n[[hole]]\nshape = "slot"\n'
        "near_mm = [10, 40]\nlength_mm = 9\nwidth_mm = 3\n"
        '[[hole]]\nshape = "round"\nat_mm = [20, 20]\ndiameter_mm = 5\n'
    )
    found = load_template(written(tmp_path / "t", toml + TEXT))
    assert found.found_holes == (
        FoundHole("round", 4.0, 4.0, "top", 3.0, False),
        FoundHole("slot", 3.0, 9.0, (10.0, 40.0), 2.0, True),
    )
    assert len(found.holes) == 1
    assert [Polygon(ring).area for ring in found.base.interiors] == [found.holes[0].area]


@pytest.mark.parametrize(
    ("hole", "told"),
    [
        (FIND + "at_mm = [9, 9]\n", "hole[1]: has at_mm and find; keep one"),
        (FIND + "near_mm = [9, 9]\n", "hole[1]: has find and near_mm; keep one"),
        (FIND.replace('"top"', '"tpo"'), "hole[1].find: must be one of top, bottom"),
        (FIND.replace("round", "oval"), 'hole[1].shape: "oval" is not a hole known here'),
        (FIND.replace("= 4", "= 0.1"), "hole[1].diameter_mm: must be at least 0.5"),
        (FIND + "wall = 1\n", 'hole[1].wall: there is no such key here; did you mean "wall_mm"'),
        (FIND * 9, "hole: more than 8"),
        (
            '[[hole]]\nshape = "slot"\nfind = "left"\nlength_mm = 2\nwidth_mm = 3\n',
            "hole[1].length_mm: a slot of 2 mm is shorter",
        ),
    ],
)
def test_what_is_wrong_with_a_hole_is_told(tmp_path: Path, hole: str, told: str) -> None:
    """Each problem has its place and says what to do."""
    lines = problems_of(written(tmp_path / "t", HEAD + BASE + hole + TEXT))
    assert any(told in line for line in lines), lines
