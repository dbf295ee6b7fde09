"""The words of a row: formulas, letter case, one size, colours, faces that help out."""

from collections.abc import Callable
from pathlib import Path

import pytest

from namebatch.errors import ListError, TemplateError
from namebatch.job import Job
from namebatch.piece import Lettering
from tests.plates import PLATE

JobOf = Callable[..., Job]

TEMPLATE = (
    PLATE
    + """
{colours}
[[text]]
name = "who"
box_mm = [5, 5, 50, 20]
fonts = ["Fredoka SemiBold"]
min_height_mm = 3
max_height_mm = 12
{text}
"""
)


def _template(folder: Path, text: str, colours: str = "") -> str:
    folder.mkdir(exist_ok=True)
    (folder / "template.toml").write_text(
        TEMPLATE.format(text=text, colours=colours), encoding="utf-8"
    )
    return str(folder)


def _who(job: Job) -> list[Lettering]:
    return [part for piece in job.pieces for part in piece.letterings if part.box == "who"]


def test_a_formula_takes_several_columns(job_of: JobOf, tmp_path: Path) -> None:
    """First and last name and a number make one line; the piece says what was set."""
    job = job_of(
        "first,last,crew\nAda,Marsh,7\nBo,,\n,,\n,, \nCy,,4\n",
        _template(tmp_path / "t", 'formula = "{first} {last} {crew}"'),
    )
    assert [part.text for part in _who(job)] == ["Ada Marsh 7", "Bo", "Cy 4"]
    assert [f.message for f in job.rows[1].findings] == [
        'Line 3: "last" and "crew" are empty; the piece says "Bo".'
    ]


def test_letter_case_knows_the_language(job_of: JobOf, tmp_path: Path) -> None:
    """Turkish i keeps its dot in capitals."""
    job = job_of(
        "name\nilkin\n",
        _template(tmp_path / "t", 'column = "name"\ncase = "capitals"\nlanguage = "tr"'),
    )
    assert [part.text for part in _who(job)] == ["İLKİN"]
    assert [piece.text["who"] for piece in job.pieces] == ["İLKİN"]


def test_one_size_for_all(job_of: JobOf, tmp_path: Path) -> None:
    """Every name has the height of the longest, whether one process makes them or two."""
    names = "name\n" + "".join(f"{name}\n" for name in ("Ann", "Bartholomew", "Jgy", "ace") * 20)
    folder = _template(tmp_path / "t", 'column = "name"\none_size = true')
    heights = {part.height_mm for part in _who(job_of(names, folder))}
    assert len(heights) == 1
    assert {part.height_mm for part in _who(job_of(names, folder, workers=2))} == heights


def test_a_face_that_helps_out_is_told_and_recorded(job_of: JobOf, tmp_path: Path) -> None:
    """A Tamil name in a Latin template is made, with a warning, and the face's digest is kept."""
    job = job_of("name\nநிலா\nAnn\n", _template(tmp_path / "t", 'column = "name"'))
    assert job.totals.made == 2
    assert [f.code for f in job.rows[0].findings] == ["other-typeface"]
    assert job.rows[1].findings == ()
    assert _who(job)[0].font == "Noto Sans Tamil SemiBold"
    fonts = job.settings["fonts_sha256"]
    assert isinstance(fonts, dict)
    assert set(fonts) >= {"Fredoka SemiBold", "Noto Sans Tamil SemiBold"}


def test_colours_come_from_the_list(job_of: JobOf, tmp_path: Path) -> None:
    """A word of the template or six digits; a word that is not known holds the row."""
    job = job_of(
        "name,team\nAnn,Gull\nBo,#112233\nCas,\nDee,mauve-ish\n",
        _template(
            tmp_path / "t",
            'column = "name"\ncolour = "#000000"\ncolour_column = "team"',
            '[colours]\ngull = "#17324d"\n',
        ),
    )
    assert [part.colour for part in _who(job)] == ["#17324d", "#112233", "#000000"]
    held = job.rows[3]
    assert held.held
    assert 'The colour "mauve-ish" is not known' in held.findings[-1].message
    assert "gull" in held.findings[-1].message


def test_a_formula_with_more_than_names_is_refused(job_of: JobOf, tmp_path: Path) -> None:
    """The place in the template is named."""
    with pytest.raises(TemplateError, match="has one problem") as told:
        job_of("name\nAnn\n", _template(tmp_path / "t", 'formula = "{name.real}"'))
    assert any("text[1].formula" in line for line in told.value.problems)


def test_remarks_on_capitals_are_for_templates_that_leave_them(
    job_of: JobOf, tmp_path: Path
) -> None:
    """A list in capitals is remarked on only where the template takes it as it is typed."""
    names = "name\n" + "".join(f"{name}\n" for name in ("ANNA", "BERTA", "CASIM", "DORA", "ELSE"))
    codes = []
    for number, case in enumerate(("as-typed", "title")):
        folder = _template(tmp_path / f"t{number}", f'column = "name"\ncase = "{case}"')
        codes.append({finding.code for finding in job_of(names, folder).names.findings})
    assert codes == [{"list-in-capitals"}, set()]


def test_a_formula_that_no_column_feeds_is_refused(job_of: JobOf, tmp_path: Path) -> None:
    """The headers that there are are named, before every row would be held."""
    folder = _template(tmp_path / "t", 'formula = "{berth} {pier}"')
    with pytest.raises(ListError, match="alpha"):
        job_of("alpha,beta\nx,y\n", folder)


def test_usual_headers_feed_first_and_last(job_of: JobOf, tmp_path: Path) -> None:
    """The fields of the documents' formula find the columns of usual lists."""
    folder = _template(tmp_path / "t", 'formula = "{first} {last}"')
    for heads in ("First name,Last name", "Vorname,Nachname", "prénom,nom de famille"):
        assert [part.text for part in _who(job_of(f"{heads}\nAda,Marsh\n", folder))] == [
            "Ada Marsh"
        ]
