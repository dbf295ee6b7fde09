"""What is wrong in a template.toml is told all at once, each thing at its place."""

from datetime import date
from pathlib import Path

import pytest
import tomlkit
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from namebatch.errors import TemplateError
from namebatch.template import load_template
from tests.template.drawing import svg
from tests.template.folders import BASE, HEAD, TEXT, WHOLE, problems_of, written
from tests.template.images import png

SLOT = '[[hole]]\nshape = "slot"\nat_mm = [9, 27]\nlength_mm = 8\nwidth_mm = 4\n'
FRONT = '[artwork.front]\nfile = "blur.png"\n'


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
        (
            WHOLE.replace('"faced"', '"bare"'),
            'faces: a back goes only with build = "faced" or "printed"',
        ),
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
        (WHOLE + 'line = "x"\n', "text[1]: has column and line"),
        (WHOLE + 'face = "bak"\n', 'text[1].face: must be one of front, back, not "bak"'),
        (WHOLE + TEXT, 'text[2]: "name" is the name of text[1] already'),
        (WHOLE.replace('column = "name"', 'line = "Tide"'), "text: none takes a column"),
        (WHOLE.replace("_mm = 9", "_mm = 3"), "text[1].min_height_mm: 3.5 mm is more than max"),
        (WHOLE.replace("60, 20]", "60, 3]"), "text[1].min_height_mm: 3.5 mm is more than the box"),
        (WHOLE.replace("60, 20]", "76, 20]"), "text[1].box_mm: reaches from 10, 10 to 86, 30"),
        (WHOLE.replace("60, 20]", "-6, 20]"), "text[1].box_mm: has a width of -6 mm"),
        (WHOLE.replace('"Pacifico"', '"my.ttf"'), 'text[1].fonts[1]: there is no file "my.ttf"'),
        (
            WHOLE.replace('["Pacifico"]', "[]"),
            "text[1].fonts: is empty; name at least one typeface",
        ),
        (HEAD + BASE, "[[text]]: is missing"),
        (HEAD + TEXT, "[base]: is missing"),
        (WHOLE + '[samples]\nnam = "x"\n', "samples.nam: no text takes this column; did you mean"),
        (WHOLE + "[samples]\nname = 3\n", "samples.name: needs a short text in quotes, not 3"),
        (WHOLE.replace("corner_mm = 3.18", "corner_mm = 30"), "base.corner_mm: corners of 30 mm"),
        (WHOLE.replace("corner_mm = 3.18", 'drawing = "a.svg"'), "base: has both a drawing and"),
        (WHOLE.replace("width_mm = 85.6", "width_mm = 1"), "base.corner_mm: corners"),
        (WHOLE.replace("height_mm = 53.98", ""), "base.height_mm: is missing"),
        (
            WHOLE.replace('shape = "rounded-rectangle"', 'drawing = "a.png"'),
            "base.width_mm: there is no",
        ),
        (HEAD + '[base]\ndrawing = "a.png"\n' + TEXT, 'base.drawing: "a.png" must be an .svg'),
        (HEAD + '[base]\nshape = "circle"\ndiameter_mm = 1\n' + TEXT, "base: is 1 × 1 mm; its"),
        (HEAD + "base = 3\n" + TEXT, "[base]: is missing"),
        ("text = []\n" + HEAD + BASE, "[[text]]: is missing"),
        (WHOLE + SLOT.replace("8", "3"), "hole[1].length_mm: a slot of 3 mm is shorter"),
        (WHOLE + "[[hole]]\nx = 1\n", "hole[1].shape: is missing; right would be round, slot"),
        (WHOLE + SLOT * 501, "hole: there are more than 500"),
        (WHOLE + TEXT * 51, "text: there are more than 50"),
        (WHOLE.replace('"faced"', '"printed"'), 'board: goes only with build = "faced"'),
        (WHOLE.replace('"faced"', '"bare"') + FRONT, "artwork: nothing is printed"),
        ("bleed_mm = 1\n" + WHOLE.replace('"faced"', '"bare"'), "bleed_mm: nothing is printed"),
        (WHOLE.replace('"faced"', '"bare"') + 'colour = "#000000"\n', "text[1].colour: is not"),
        (WHOLE.replace('"faced"', '"bare"') + 'made = "print"\n', "text[1].made: nothing is"),
        (
            'rule = "weld"\n' + WHOLE + 'made = "outline"\nface = "back"\n',
            "text[1].face: an outline is seen from the front",
        ),
        (
            WHOLE.replace('["front", "back"]', '["front"]') + FRONT.replace(".front", ".back"),
            'artwork.back: "back" is not in faces',
        ),
        ("artwork = 3\n" + WHOLE, "artwork: must be written as [artwork.front]"),
        ("samples = 3\n" + WHOLE, "samples: needs a table"),
        (
            WHOLE + "[samples]\n" + "".join(f'a{i} = "x"\n' for i in range(101)),
            "samples: holds more than 100 entries",
        ),
        (WHOLE.replace('"Bag tag"', f'"{"x" * 121}"'), "title: must be at most 120 characters"),
        (WHOLE.replace('"Bag tag"', '" "'), "title: is empty"),
        (WHOLE.replace('"Bag tag"', "2026-06-01"), "title: needs text in quotes, not 2026-06-01"),
        (WHOLE.replace("[10, 10, 60", "[10, 10, 1e999"), "text[1].box_mm[3]:"),
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


@pytest.mark.parametrize(
    ("sign", "name"),
    [
        ("\\u202E", "U+202E right-to-left override"),
        ("\\u200B", "U+200B zero width space"),
        ("\\u2066", "U+2066 left-to-right isolate"),
    ],
)
@pytest.mark.parametrize("key", ["line", "formula"])
def test_unseen_signs_in_words_are_told(tmp_path: Path, key: str, sign: str, name: str) -> None:
    """What turns the reading direction or is not seen may not stand in a line or a formula."""
    toml = WHOLE.replace('column = "name"', f'{key} = "Kite {sign}{{name}}"')
    told = problems_of(written(tmp_path / "tag", toml))
    assert any(
        problem.startswith(f"text[1].{key}: holds {name}, which is not seen") for problem in told
    )


def test_no_typeface(tmp_path: Path) -> None:
    """An empty list of typefaces is told in words, with what to write."""
    toml = WHOLE.replace('fonts = ["Pacifico"]', "fonts = []")
    assert problems_of(written(tmp_path / "tag", toml)) == (
        'text[1].fonts: is empty; name at least one typeface, as in fonts = ["Noto Sans SemiBold"] '
        '("namebatch fonts" lists them).',
    )
