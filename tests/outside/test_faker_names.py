"""Lists that nobody here wrote: names by the faker package in every locale that it has."""

import csv
import os
from pathlib import Path

import pytest
from faker import Faker
from faker.config import AVAILABLE_LOCALES

from namebatch.finding import Severity
from namebatch.job import Job
from namebatch.pipeline import Settings, check_rows, make_job, plan_job
from namebatch.text import load_catalogue
from namebatch.text.chain import lacking
from namebatch.text.fallback import fallback_for
from tests.conftest import silent

LOCALES = (
    "en_GB", "de_DE", "fr_FR", "pl_PL", "cs_CZ", "tr_TR", "vi_VN", "el_GR", "uk_UA", "sv_SE",
    "es_ES", "ar_SA", "fa_IR", "he_IL", "hi_IN", "th_TH", "ja_JP", "ka_GE",
)  # fmt: skip
EACH = int(os.environ.get("NAMEBATCH_FAKER", "8"))
"""Names of each locale in the test of all; set to 50 for the figures in the documents."""


def _list_of(folder: pytest.TempPathFactory, locales: tuple[str, ...], each: int) -> Path:
    path = folder.mktemp("faker") / "names.csv"
    with path.open("w", encoding="utf-8-sig", newline="") as stream:
        writer = csv.writer(stream, delimiter=";")
        writer.writerow(["Name", "table", "locale"])
        for locale in locales:
            fake = Faker(locale)
            fake.seed_instance(20270)
            writer.writerows([fake.name(), "7", locale] for _ in range(each))
    return path


@pytest.fixture(scope="module")
def job(tmp_path_factory: pytest.TempPathFactory) -> Job:
    """Place cards for 30 names of each of 18 locales, from a CSV as a spreadsheet writes it."""
    path = _list_of(tmp_path_factory, LOCALES, 30)
    return make_job(plan_job(path, Settings("place-card")), silent)


def test_none_is_lost(job: Job) -> None:
    """Rows in are rows made and rows held, each line once."""
    assert job.totals.rows == 30 * len(LOCALES)
    assert job.totals.made + job.totals.held == job.totals.rows
    made = {piece.line for piece in job.pieces}
    held = {row.line for row in job.rows if row.held}
    assert made.isdisjoint(held)
    assert made | held == set(range(2, job.totals.rows + 2))


def test_other_typefaces_help_out_only_where_they_must(job: Job) -> None:
    """A name is set in a spare face if and only if the template's own lack a sign of it."""
    catalogue = load_catalogue()
    fonts = next(box.fonts for box in job.template.boxes if box.name == "name")
    own = [catalogue.open(name) for name in fonts]
    for row in job.rows:
        codes = {finding.code for finding in row.findings}
        if not row.held:
            assert ("other-typeface" in codes) == bool(lacking(row.fields["name"], own)), row


def test_every_locale_is_made_or_held_for_a_right_reason(
    tmp_path_factory: pytest.TempPathFactory,
) -> None:
    """No name of any locale is lost, and only size or a sign that no face has holds one."""
    locales = tuple(sorted(set(AVAILABLE_LOCALES) - {"fr_QC"}))  # deprecated for fr_CA
    path = _list_of(tmp_path_factory, locales, EACH)
    rows, pieces = check_rows(plan_job(path, Settings("place-card")), silent)
    held = [row for row in rows if row.held]
    assert len(rows) == EACH * len(locales)
    assert len(pieces) + len(held) == len(rows)
    catalogue = load_catalogue()
    for row in held:
        codes = {f.code for f in row.findings if f.severity is Severity.HOLD}
        if "no-glyph" in codes:
            text = row.fields["name"]
            spare = [catalogue.open(name) for name in fallback_for(text, catalogue)]
            assert lacking(text, spare), row
        # marks before their letter are slips of the data (hi_IN)
        assert codes <= {"no-glyph", "text-too-small", "place-too-low", "mark-without-letter"}, row
    assert len(held) < 0.02 * len(rows)
