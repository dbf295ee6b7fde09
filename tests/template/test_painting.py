"""Tables that paint letters: read whole, and every wrong one told."""

from pathlib import Path

import pytest

from namebatch.template import load_template
from namebatch.template.textbox import Gradient, Paint, Shadow, Stroke
from tests.template.folders import TEXT, WHOLE, problems_of, written

STYLE = """
[text.stroke]
colour = "#FDF7E9"
width_mm = 0.8
[text.shadow]
colour = "#07222a"
shift_mm = [0.5, -0.5]
"""
GRADIENT = """
[text.gradient]
start = "#fdf7e9"
end = "#e2a12c"
angle_deg = 270
"""
BY_LIST = WHOLE + 'colour_column = "team"\n'
BARE = 'format = 1\ntitle = "Plate"\nbuild = "bare"\nmaterial = "plywood-3"\n'
CIRCLE = '[base]\nshape = "circle"\ndiameter_mm = 90\n'


def test_stroke_shadow_and_gradient_are_read(tmp_path: Path) -> None:
    """Each with its sizes; colours in small letters."""
    found = load_template(written(tmp_path / "t", WHOLE + STYLE + GRADIENT))
    assert found.boxes[0].paint == Paint(
        Stroke("#fdf7e9", 0.8),
        Shadow("#07222a", (0.5, -0.5)),
        Gradient("#fdf7e9", "#e2a12c", 270.0),
    )


def test_words_for_colours_are_read(tmp_path: Path) -> None:
    """The list's field is known, and so is what its words mean."""
    colours = '[colours]\ngulls = "#2B6460"\n"sea holly" = "#1d5f80"\n'
    found = load_template(written(tmp_path / "t", BY_LIST + colours))
    assert found.colours == {"gulls": "#2b6460", "sea holly": "#1d5f80"}
    assert found.fields == ("name", "team")
    assert found.boxes[0].paint.colour_field == "team"


def test_without_a_table_no_word_is_known(tmp_path: Path) -> None:
    """A list may still give hexadecimal colours."""
    assert load_template(written(tmp_path / "t", BY_LIST)).colours == {}


@pytest.mark.parametrize(
    ("colours", "problem"),
    [
        ('colours = "red"\n', 'colours: needs a table of word and colour, not "red".'),
        (
            '[colours]\nred = "crimson"\n',
            'colours.red: needs a colour as "#rrggbb", for example "#17324d", not "crimson".',
        ),
        (
            "[colours]\nred = 7\n",
            'colours.red: needs a colour as "#rrggbb", for example "#17324d", not 7.',
        ),
        (
            '[colours]\nRed = "#a13420"\n',
            "colours.Red: needs a word in small letters; the list may use capitals as well.",
        ),
        (
            '[colours]\n"sea  holly" = "#a13420"\n',
            "colours.sea  holly: needs a word in small letters; the list may use capitals as well.",
        ),
        (
            '[colours]\n"#1" = "#a13420"\n',
            "colours.#1: needs a word of at most 60 characters that does not begin with #.",
        ),
        (
            "[colours]\n" + "".join(f'c{n} = "#a13420"\n' for n in range(101)),
            "colours: holds more than 100 words; take some out.",
        ),
    ],
)
def test_a_wrong_table_of_colours_is_told(tmp_path: Path, colours: str, problem: str) -> None:
    """With the word that is meant and what would be right."""
    toml = colours + BY_LIST if colours.startswith("colours") else BY_LIST + colours
    assert problems_of(written(tmp_path / "t", toml)) == (problem,)


def test_colours_that_no_text_takes_are_told(tmp_path: Path) -> None:
    """A table that does nothing is a key forgotten elsewhere."""
    [problem] = problems_of(written(tmp_path / "t", WHOLE + '[colours]\nred = "#a13420"\n'))
    assert problem.startswith("colours: is for texts with a colour_column, and none has one")


@pytest.mark.parametrize(
    ("more", "key"),
    [('colour = "#a13420"\n', "colour"), ('colour_column = "team"\n', "colour_column")],
)
def test_a_gradient_is_a_colour_already(tmp_path: Path, more: str, key: str) -> None:
    """Beside it neither a colour nor a column of colours makes sense."""
    [problem] = problems_of(written(tmp_path / "t", WHOLE + more + GRADIENT))
    assert problem == f"text[1].{key}: stands beside a gradient; keep one of them."


@pytest.mark.parametrize("made", ["engrave", "mark", "outline"])
def test_nothing_is_painted_where_nothing_is_printed(tmp_path: Path, made: str) -> None:
    """A bare piece has neither stroke nor shadow, whatever its letters are made by."""
    rule = 'rule = "weld"\n' if made == "outline" else ""
    toml = BARE + rule + CIRCLE + TEXT + f'made = "{made}"\n' + STYLE
    assert problems_of(written(tmp_path / "t", toml)) == (
        "text[1].stroke: is printed, and nothing is printed here; leave it out.",
        "text[1].shadow: is printed, and nothing is printed here; leave it out.",
    )


def test_a_stroke_round_letters_without_colour_is_told(tmp_path: Path) -> None:
    """Letters of the outline are printed only if they have a colour."""
    welded = WHOLE.replace('title = "Bag tag"', 'title = "Bag tag"\nrule = "weld"')
    [problem] = problems_of(written(tmp_path / "t", welded + 'made = "outline"\n' + STYLE))
    assert problem.startswith("text[1].colour: is missing; letters that are cut out are printed")
    for more in ('colour = "#a13420"\n' + STYLE, STYLE + GRADIENT):
        found = load_template(written(tmp_path / "u", welded + 'made = "outline"\n' + more))
        assert found.boxes[0].paint.stroke is not None


@pytest.mark.parametrize(
    ("style", "place"),
    [
        ('[text.stroke]\ncolour = "#fdf7e9"\nwidth_mm = 0\n', "text[1].stroke.width_mm"),
        ("[text.stroke]\nwidth_mm = 1\n", "text[1].stroke.colour"),
        ('[text.shadow]\ncolour = "#07222a"\nshift_mm = [1]\n', "text[1].shadow.shift_mm"),
        ('[text.gradient]\nstart = "#fdf7e9"\n', "text[1].gradient.end"),
        (
            '[text.gradient]\nstart = "#fdf7e9"\nend = "#07222a"\nturn = 3\n',
            "text[1].gradient.turn",
        ),
    ],
)
def test_a_wrong_style_is_told_with_its_place(tmp_path: Path, style: str, place: str) -> None:
    """Each key is checked as everywhere else in the file."""
    [problem] = problems_of(written(tmp_path / "t", WHOLE + style))
    assert problem.startswith(f"{place}: ")
