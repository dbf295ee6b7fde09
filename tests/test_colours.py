"""Colours from the list, from its column to the printed sheet."""

from collections.abc import Callable
from pathlib import Path

import pytest

from namebatch.job import Job
from namebatch.output.printpdf import print_pdf
from namebatch.resources import bundled
from tests.output.pdfreader import Window
from tests.template.folders import BASE, HEAD, TEXT, written

JobOf = Callable[..., Job]
RED, TEAL, PLUM, TEMPLATES_OWN = "#a13420", "#2b6460", "#6b2d5c", "#123a44"
TOML = (
    HEAD.replace('["front", "back"]', '["front"]')
    + BASE
    + TEXT
    + f'colour = "{TEMPLATES_OWN}"\ncolour_column = "team"\n'
    + f'[colours]\ngulls = "{TEAL}"\n"sea holly" = "{RED}"\n'
)
LIST = f"name,team\nMarlo,gulls\nBruna,Sea Holly\nIda,{PLUM.upper()}\nOtis,\n"


@pytest.fixture
def template(tmp_path: Path) -> str:
    """A tag whose name has the colour of its team."""
    return str(written(tmp_path / "t", TOML))


def test_the_list_gives_the_colour(job_of: JobOf, template: str) -> None:
    """A word, a word with capitals, six digits, and the template's own where there is nothing."""
    job = job_of(LIST, template)
    colours = [piece.letterings[0].colour for piece in job.pieces]
    assert colours == [TEAL, RED, PLUM, TEMPLATES_OWN]
    assert [row.findings for row in job.rows] == [()] * 4


def test_the_colour_is_what_is_printed(job_of: JobOf, template: str) -> None:
    """Every name on the page is in its own colour."""
    job = job_of(LIST, template)
    [sheet] = [sheet for sheet in job.sheets if sheet.kind == "face"]
    page = Window(print_pdf(job, lambda done, total: None), (0, 0, *sheet.size_mm), 300)
    pieces = {piece_id: piece for piece in job.pieces for piece_id in piece.ids}
    for placement in sheet.placements:
        [text] = pieces[placement.piece].letterings
        a, b, c, d, e, f = placement.view_affine(85.6)
        at = max(text.shape.geoms, key=lambda part: part.area).representative_point()
        found = page.colour(a * at.x + c * at.y + e, b * at.x + d * at.y + f)
        assert "#{:02x}{:02x}{:02x}".format(*found) == text.colour


def test_a_list_may_do_without_the_column(job_of: JobOf, template: str) -> None:
    """All names are then in the template's colour."""
    job = job_of("name\nMarlo\n", template)
    assert [piece.letterings[0].colour for piece in job.pieces] == [TEMPLATES_OWN]
    [told] = job.names.findings
    assert (told.code, told.severity) == ("column-missing", "note")
    assert told.message == (
        'The list has no column for "team"; on every piece "name" is printed in #123a44.'
    )


@pytest.mark.parametrize("said", ["mauve", "#12345", "#12345g"])
def test_an_unknown_colour_holds_its_row(job_of: JobOf, template: str, said: str) -> None:
    """The line, the word and the words that are known are told; the other rows are made."""
    job = job_of(f"name,team\nMarlo,{said}\nBruna,gulls\n", template)
    assert (job.totals.made, job.totals.held) == (1, 1)
    [finding] = [f for f in job.rows[0].findings if f.severity == "hold"]
    assert finding.code == "colour-unknown"
    assert finding.message == (
        f'Line 2: The colour "{said}" is not known. This template knows gulls, sea holly; give '
        'one of those or six hexadecimal digits as in "#17324d".'
    )


def test_another_header_may_be_said(job_of: JobOf, template: str) -> None:
    """The field is matched to a column as every field is."""
    job = job_of("name,Gruppenfarbe\nMarlo,gulls\n", template, columns={"team": "Gruppenfarbe"})
    assert [piece.letterings[0].colour for piece in job.pieces] == [TEAL]


def test_a_gradient_needs_no_colour(job_of: JobOf, tmp_path: Path) -> None:
    """Welded letters with a gradient are printed, without any other colour."""
    toml = HEAD.replace('"faced"', '"faced"\nrule = "weld"') + BASE + TEXT
    toml += 'made = "outline"\n[text.gradient]\nstart = "#a13420"\nend = "#e2a12c"\n'
    toml = toml.replace("[10, 10, 60, 20]", "[10, 49, 60, 24]")
    job = job_of("name\nMarlo\n", str(written(tmp_path / "w", toml)))
    assert job.pieces[0].letterings[0].colour == RED


def test_every_colour_of_the_example_list_is_known(job_of: JobOf) -> None:
    """The place cards' tables have five colours, and the guest without a table none."""
    text = (bundled("examples") / "place-card.csv").read_text(encoding="utf-8")
    job = job_of(text, "place-card")
    assert job.totals.held == 0
    tables = [text for piece in job.pieces for text in piece.letterings if text.box == "table"]
    assert len({text.colour for text in tables}) == 5
