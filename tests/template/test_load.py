"""Template folders: what is right is read whole, what is wrong is told all at once."""

from datetime import date
from math import pi
from pathlib import Path

import pytest
import tomlkit
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from namebatch.errors import TemplateError
from namebatch.resources import bundled
from namebatch.template import bundled_templates, find_template, load_template
from namebatch.template.model import RasterPicture, Template, VectorPicture
from tests.template.drawing import svg
from tests.template.folders import BASE, HEAD, TEXT, WHOLE, written
from tests.template.images import jpeg, png


def problems_of(folder: Path) -> tuple[str, ...]:
    """What loading the folder complains about."""
    with pytest.raises(TemplateError, match="Template") as caught:
        load_template(folder)
    return caught.value.problems


def test_a_whole_template_is_read_with_its_defaults(tmp_path: Path) -> None:
    """Every key that was left out has the value that the format promises."""
    found = load_template(written(tmp_path / "tag", WHOLE))
    assert (found.name, found.title, found.build, found.rule) == ("tag", "Bag tag", "faced", "base")
    assert found.faces == ("front", "back")
    assert (found.material, found.board) == ("card-160", "plywood-3")
    assert (found.bleed_mm, found.turns_deg) == (1.5, (0.0, 90.0))
    assert found.size_mm == (85.6, 53.98)
    (box,) = found.boxes
    assert (box.name, box.column, box.fixed, box.face) == ("name", "name", "", "front")
    assert (box.made, box.colour) == ("print", "#000000")
    assert (box.align, box.vertical, box.tracking, box.optional) == ("centre", "middle", 0.0, False)
    assert found.fields == ("name",)
    assert found.artwork == {}
    assert len(found.digest) == 64


def test_holes_are_cut_out_of_the_base(tmp_path: Path) -> None:
    """Base and hole together have the area of the shape without holes."""
    hole = '\n[[hole]]\nshape = "round"\nat_mm = [8, 27]\ndiameter_mm = 5\n'
    bare = load_template(written(tmp_path / "a", WHOLE))
    found = load_template(written(tmp_path / "b", WHOLE + hole))
    (ring,) = found.holes
    assert found.base.area + ring.area == pytest.approx(bare.base.area, abs=1e-9)
    assert ring.area == pytest.approx(pi * 6.25, abs=0.08)
    assert found.base.is_valid


def test_a_bare_piece_engraves_and_prints_nothing(tmp_path: Path) -> None:
    """With build bare the text is engraved, without colour and bleed."""
    toml = (
        'format = 1\ntitle = "Medal"\nbuild = "bare"\nmaterial = "plywood-3"\n'
        '[base]\nshape = "circle"\ndiameter_mm = 60\n'
    )
    text = TEXT.replace("[10, 10, 60, 20]", "[5, 20, 50, 20]")
    found = load_template(written(tmp_path / "medal", toml + text))
    assert (found.boxes[0].made, found.boxes[0].colour) == ("engrave", None)
    assert (found.bleed_mm, found.board) == (0.0, None)


def test_a_drawing_gives_base_and_artwork_lands_on_it(tmp_path: Path) -> None:
    """The default box of a picture covers base and bleed, keeps its proportions, is centred."""
    toml = (
        HEAD + '[base]\ndrawing = "base.svg"\n[artwork.front]\nfile = "front.svg"\n'
        '[artwork.back]\nfile = "back.png"\nbox_mm = [0, 0, 60, 40]\n' + TEXT
    )
    folder = written(
        tmp_path / "tag",
        toml.replace("[10, 10, 60, 20]", "[2, 2, 56, 20]"),
        base__svg=svg('<rect width="60" height="40" rx="4"/><circle cx="6" cy="20" r="2"/>'),
        front__svg=svg('<rect width="99" height="99" fill="teal"/>', 'viewBox="0 0 40 20"'),
        back__png=png(600, 400),
    )
    found = load_template(folder)
    assert found.size_mm == pytest.approx((60, 40), abs=1e-6)
    assert len(found.base.interiors) == 1
    front, back = found.artwork["front"], found.artwork["back"]
    # 63 × 43 mm are needed; a picture twice as wide as high is then 86 × 43.
    assert front.box_mm == pytest.approx((-1.5 - 11.5, -1.5, 86, 43), abs=1e-5)
    assert isinstance(front.picture, VectorPicture)
    assert isinstance(back.picture, RasterPicture)
    assert back.box_mm == (0, 0, 60, 40)


def test_shapes_past_a_small_picture_are_clipped_as_svg_does(tmp_path: Path) -> None:
    """Where a picture ends on the piece, what reaches out of it must not be printed."""
    toml = HEAD + BASE + '[artwork.front]\nfile = "a.svg"\nbox_mm = [5, 5, 8, 6]\n' + TEXT
    inside = written(tmp_path / "in", toml, a__svg=svg('<circle cx="40" cy="30" r="30"/>'))
    beyond = written(tmp_path / "out", toml, a__svg=svg('<circle cx="40" cy="30" r="50"/>'))
    assert isinstance(load_template(inside).artwork["front"].picture, VectorPicture)
    assert isinstance(load_template(beyond).artwork["front"].picture, RasterPicture)


def test_the_digest_follows_every_file(tmp_path: Path) -> None:
    """The same files give the same digest wherever they lie; one byte more gives another."""
    first = load_template(written(tmp_path / "a" / "tag", WHOLE, note__txt="x"))
    again = load_template(written(tmp_path / "b" / "tag", WHOLE, note__txt="x"))
    other = load_template(written(tmp_path / "c" / "tag", WHOLE, note__txt="xy"))
    hidden = load_template(written(tmp_path / "d" / "tag", WHOLE, note__txt="x", __DS="?"))
    assert first.digest == again.digest == hidden.digest
    assert first.digest != other.digest


def test_every_problem_is_told_at_once_with_its_place(tmp_path: Path) -> None:
    """One look at the list is enough to mend a thoroughly wrong file."""
    toml = """
formt = 1
title = "a\\u0001"
build = "facd"
faces = ["front", "bak"]
[base]
shape = "cirle"
[[hole]]
shape = "slt"
[artwork.frnt]
file = "front.svg"
[artwork.front]
fil = "front.svg"
[[text]]
column = "name"
box_mm = [10, 10, 50]
fonts = "Pacifico"
min_height_mm = "3"
max_height_mm = inf
bleed_mm = 3
allign = "left"
"""
    found = problems_of(written(tmp_path / "tag", toml))
    expected = [
        'formt: there is no such key here; did you mean "format"?',
        "format: is missing",
        "title: holds a control character (U+0001)",
        'build: must be one of faced, printed, bare, not "facd". Did you mean "faced"?',
        'faces[2]: must be one of front, back, not "bak"',
        "material: is missing",
        'base.shape: "cirle" is not a shape known here; did you mean "circle"?',
        'hole[1].shape: "slt" is not a hole known here; did you mean "slot"?',
        'artwork.frnt: there is no such face; did you mean "front"?',
        "artwork.front.file: is missing",
        'artwork.front.fil: there is no such key here; did you mean "file"?',
        "text[1].bleed_mm: belongs at the top of the file",
        "text[1].box_mm: needs 4 numbers, [x, y, width, height], not 3",
        "text[1].fonts: needs a list in square brackets",
        'text[1].min_height_mm: needs a number without quotes, not "3"',
        "text[1].max_height_mm: needs a finite number",
        'text[1].allign: there is no such key here; did you mean "align"?',
    ]
    for start in expected:
        assert any(line.startswith(start) for line in found), (start, found)
    assert len(found) == len(expected)


@pytest.mark.parametrize(
    ("toml", "message"),
    [
        (WHOLE.replace('board = "plywood-3"\n', ""), "board: is missing"),
        (WHOLE.replace('"faced"', '"printed"'), 'faces: a back goes only with build = "faced"'),
        (WHOLE.replace('["front", "back"]', '["back"]'), 'faces: must be ["front"]'),
        (
            WHOLE.replace("format = 1", "format = 2"),
            "format: is 2; this version",
        ),
        (WHOLE.replace("format = 1", "format = true"), "format: needs a whole number, not true"),
        ("turns_deg = [45]\n" + WHOLE, "turns_deg: takes each of 0, 90, 180 and 270"),
        ("bleed_mm = -1\n" + WHOLE, "bleed_mm: must be at least 0, not -1"),
        ("bleed_mm = nan\n" + WHOLE, "bleed_mm: needs a finite number, not nan"),
        ('rule = "weld"\n' + WHOLE, 'text: rule = "weld" needs a text with made = "outline"'),
        (WHOLE + 'made = "outline"\n', 'text[1].made: "outline" needs rule'),
        (WHOLE + 'made = "engrave"\n', 'text[1].made: "engrave" goes only with build = "bare"'),
        (WHOLE + 'colour = "blue"\n', 'text[1].colour: must be a colour as "#rrggbb"'),
        (WHOLE + "tracking = 2\n", "text[1].tracking: must be at most 1, not 2"),
        (WHOLE + "optional = 1\n", "text[1].optional: needs true or false, not 1"),
        (WHOLE + "baseline_mm = 2\n", "text[1].baseline_mm: counts only with vertical"),
        (WHOLE + 'line = "x"\n', "text[1]: has both column and line"),
        (WHOLE + 'face = "bak"\n', 'text[1].face: must be one of front, back, not "bak"'),
        (WHOLE + TEXT, 'text[2]: "name" is the name of text[1] already'),
        (WHOLE.replace('column = "name"', 'line = "Tide"'), "text: none takes a column"),
        (WHOLE.replace("_mm = 9", "_mm = 3"), "text[1].min_height_mm: 3.5 mm is more than max"),
        (WHOLE.replace("60, 20]", "60, 3]"), "text[1].min_height_mm: 3.5 mm is more than the box"),
        (WHOLE.replace("60, 20]", "76, 20]"), "text[1].box_mm: reaches from 10, 10 to 86, 30"),
        (WHOLE.replace("60, 20]", "-6, 20]"), "text[1].box_mm: has a width of -6 mm"),
        (WHOLE.replace('"Pacifico"', '"my.ttf"'), 'text[1].fonts[1]: there is no file "my.ttf"'),
        (WHOLE.replace('["Pacifico"]', "[]"), "text[1].fonts: must be a list of at least 1"),
        (HEAD + BASE, "[[text]]: is missing"),
        (HEAD + TEXT, "[base]: is missing"),
        (WHOLE + '[samples]\nnam = "x"\n', "samples.nam: no text takes this column; did you mean"),
        (WHOLE + "[samples]\nname = 3\n", "samples.name: needs a short text in quotes, not 3"),
        (WHOLE.replace("corner_mm = 3.18", "corner_mm = 30"), "base.corner_mm: corners of 30 mm"),
        (WHOLE.replace("corner_mm = 3.18", 'drawing = "a.svg"'), "base: has both a drawing and"),
        (WHOLE.replace("width_mm = 85.6", "width_mm = 1"), "base.corner_mm: corners"),
        (WHOLE.replace("height_mm = 53.98", ""), "base.height_mm: is missing"),
        (WHOLE + "[hole]\nx = 1\n", "hole: must be written as [[hole]]"),
        (WHOLE + '[artwork]\nfront = "a.svg"\n', "artwork.front: needs a table"),
        (WHOLE + '[artwork.front]\nfile = "a.gif"\n', 'artwork.front.file: "a.gif" must be an'),
        (
            WHOLE + '[artwork.front]\nfile = "blur.png"\n',
            "blur.png: has only 20 pixels an inch at 101.3 × 57.0 mm",
        ),
        (
            WHOLE + '[artwork.front]\nfile = "blur.png"\nbox_mm = [0, 0, 20, 20]\n',
            "artwork.front.box_mm: 20 × 20 mm would stretch the picture; at this width its "
            "height is 11.25 mm",
        ),
    ],
)
def test_what_does_not_go_together_is_told(tmp_path: Path, toml: str, message: str) -> None:
    """Each rule of the format, broken alone, gives its own problem at its own place."""
    found = problems_of(written(tmp_path / "tag", toml, blur__png=png(80, 45)))
    assert any(line.startswith(message) for line in found), found


@pytest.mark.parametrize(
    ("holes", "message"),
    [
        ([(1, 27, 5)], "hole[1]: reaches the edge"),
        ([(2.5, 27, 5)], "hole[1]: reaches the edge"),
        ([(200, 27, 5)], "hole[1]: lies outside the base"),
        ([(20, 27, 5), (24, 27, 5)], "hole[2]: runs into hole[1]"),
        ([(20, 27, 5), (25, 27, 5)], "hole[2]: runs into hole[1]"),
    ],
)
def test_holes_lie_well_inside_and_apart(
    tmp_path: Path, holes: list[tuple[float, float, float]], message: str
) -> None:
    """A hole at the edge, outside, or at another hole is a problem."""
    extra = "".join(
        f'[[hole]]\nshape = "round"\nat_mm = [{x}, {y}]\ndiameter_mm = {d}\n' for x, y, d in holes
    )
    found = problems_of(written(tmp_path / "tag", WHOLE + extra))
    assert len(found) == 1
    assert found[0].startswith(message)


@pytest.mark.parametrize(
    "name", ["../a.svg", "/etc/hostname", "C:/a.svg", "a\\\\b.svg", "x/../../a.svg", "C:a.svg"]
)
def test_names_that_lead_out_of_the_folder_are_refused(tmp_path: Path, name: str) -> None:
    """No way of writing a path reaches a file beside the template."""
    written(tmp_path, "", a__svg=svg('<rect width="30" height="20"/>'))
    for toml in (
        HEAD + f'[base]\ndrawing = "{name}"\n' + TEXT,
        WHOLE + f'[artwork.front]\nfile = "{name.replace("hostname", "hostname.png")}"\n',
    ):
        found = problems_of(written(tmp_path / "tag", toml))
        assert any("must be a" in line for line in found), found


def test_links_out_of_the_folder_are_refused(tmp_path: Path) -> None:
    """A symbolic link is followed only inside the template's folder."""
    written(tmp_path, "", secret__svg=svg('<rect width="30" height="20"/>'))
    folder = written(tmp_path / "tag", HEAD + '[base]\ndrawing = "base.svg"\n' + TEXT)
    for target in (tmp_path / "secret.svg", tmp_path / "none.svg", folder / "base.svg"):
        (folder / "base.svg").unlink(missing_ok=True)
        (folder / "base.svg").symlink_to(target)
        with pytest.raises(TemplateError, match="a link that leads out of the template's folder"):
            load_template(folder)
    (folder / "base.svg").unlink()
    (folder / "real.svg").write_text(svg('<rect width="80" height="40"/>'))
    (folder / "base.svg").symlink_to(folder / "real.svg")
    assert load_template(folder).size_mm == (80.0, 40.0)


@pytest.mark.parametrize(
    ("data", "message"),
    [
        (b"format = 1\nbuild = =", r"stops making sense: .*line 2, column 9"),
        (b"a = 1\n\xff", "template.toml line 2: is not UTF-8 text"),
        (b"x = " + b"[" * 50_000, "template.toml: has brackets nested too deeply"),
        (b"#" * 300_000, "template.toml: is larger than 256 KiB"),
        (b"format = 1" + b"0" * 5000, "template.toml: stops making sense"),
    ],
)
def test_files_that_are_no_toml_are_told(tmp_path: Path, data: bytes, message: str) -> None:
    """Broken, oversized and nested files end in one sentence with the place."""
    with pytest.raises(TemplateError, match=message):
        load_template(written(tmp_path / "tag", data))


def test_a_folder_without_template_is_told(tmp_path: Path) -> None:
    """An empty, missing or impossible folder says what is looked for."""
    for folder in (tmp_path, tmp_path / "none", Path("a\0b"), Path("x" * 5000)):
        with pytest.raises(TemplateError, match=r"template\.toml|cannot be read"):
            load_template(folder)


def test_find_template_takes_names_and_folders(tmp_path: Path) -> None:
    """A folder, its template.toml, or a bundled name lead to the folder."""
    folder = written(tmp_path / "tag", WHOLE)
    assert find_template(str(folder)) == folder
    assert find_template(str(folder / "template.toml")) == folder
    for name in bundled_templates():
        assert find_template(name) == bundled("templates") / name
    with pytest.raises(TemplateError, match="There is no template"):
        find_template("no-such-template-anywhere")
    with pytest.raises(TemplateError, match=r"holds no template\.toml"):
        find_template(str(tmp_path))
    with pytest.raises(TemplateError, match="There is no template"):
        find_template("a\0b")


@pytest.mark.parametrize("name", bundled_templates())
def test_bundled_templates_load(name: str) -> None:
    """Every template that comes with the program is without a problem."""
    assert isinstance(load_template(find_template(name)), Template)


def test_bundled_knows_three_kinds() -> None:
    """Asking for anything else is a mistake of the program, not of a user."""
    with pytest.raises(ValueError, match="templates, fonts, examples"):
        bundled("secrets")


def test_wide_jpeg_keeps_its_bytes(tmp_path: Path) -> None:
    """A plain photograph goes into the print as it is."""
    data = jpeg(900, 600)
    toml = WHOLE + '[artwork.front]\nfile = "photo.JPG"\n'
    found = load_template(written(tmp_path / "tag", toml, photo__JPG=data))
    picture = found.artwork["front"].picture
    assert isinstance(picture, RasterPicture)
    assert (picture.kind, picture.data) == ("jpeg", data)


KEYS = st.sampled_from(
    ["format", "title", "build", "faces", "rule", "base", "hole", "text", "artwork", "samples",
     "shape", "drawing", "front", "file", "box_mm", "at_mm", "column", "fonts", "width_mm",
     "diameter_mm", "min_height_mm", "colour", "turns_deg", "bleed_mm"]
) | st.text(max_size=6)  # fmt: skip
LEAVES = (
    st.integers(min_value=-(2**63), max_value=2**63 - 1)
    | st.integers(min_value=-5, max_value=100)
    | st.floats()
    | st.booleans()
    | st.text(max_size=8)
    | st.just(date(2026, 6, 1))
    | st.sampled_from(
        ["circle", "round", "slot", "faced", "bare", "front", "base", "weld", "a.svg", "b.png",
         "ellipse", "regular-polygon", "luggage-tag", "rounded-rectangle", "outline", "#123456"]
    )
)  # fmt: skip
JUNK = st.dictionaries(
    KEYS,
    st.recursive(
        LEAVES,
        lambda inner: st.lists(inner, max_size=4) | st.dictionaries(KEYS, inner, max_size=6),
        max_leaves=20,
    ),
    max_size=10,
)


@settings(
    max_examples=60,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
@given(junk=JUNK)
def test_any_toml_gives_a_template_or_its_problems(tmp_path: Path, junk: dict[str, object]) -> None:
    """Whatever a file says, nothing but TemplateError comes out."""
    sound = tomlkit.parse(WHOLE).unwrap()
    for content in (junk, {**sound, **junk}):
        toml = tomlkit.dumps(content)
        folder = written(tmp_path / "junk", toml, a__svg=svg('<rect width="9" height="9"/>'))
        try:
            found = load_template(folder)
        except TemplateError:
            continue
        assert found.base.is_valid
