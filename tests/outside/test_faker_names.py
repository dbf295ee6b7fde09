"""A list that nobody here wrote: names by the faker package in many locales."""

import csv

import pytest
from faker import Faker

from namebatch.job import Job
from namebatch.pipeline import Settings, make_job, plan_job
from namebatch.text import load_catalogue
from tests.conftest import silent

LOCALES = (
    "en_GB", "de_DE", "fr_FR", "pl_PL", "cs_CZ", "tr_TR", "vi_VN", "el_GR", "uk_UA", "sv_SE",
    "es_ES", "ar_SA", "fa_IR", "he_IL", "hi_IN", "th_TH", "ja_JP", "ka_GE",
)  # fmt: skip
EACH = 30


@pytest.fixture(scope="module")
def job(tmp_path_factory: pytest.TempPathFactory) -> Job:
    """Place cards for 30 names of each locale, from a CSV as a spreadsheet writes it."""
    path = tmp_path_factory.mktemp("faker") / "names.csv"
    with path.open("w", encoding="utf-8-sig", newline="") as stream:
        writer = csv.writer(stream, delimiter=";")
        writer.writerow(["Name", "table", "locale"])
        for locale in LOCALES:
            fake = Faker(locale)
            fake.seed_instance(20270)
            writer.writerows([fake.name(), "7", locale] for _ in range(EACH))
    return make_job(plan_job(path, Settings("place-card")), silent)


def test_none_is_lost(job: Job) -> None:
    """Rows in are rows made and rows held, each line once."""
    assert job.totals.rows == EACH * len(LOCALES)
    assert job.totals.made + job.totals.held == job.totals.rows
    made = {piece.line for piece in job.pieces}
    held = {row.line for row in job.rows if row.held}
    assert made.isdisjoint(held)
    assert made | held == set(range(2, job.totals.rows + 2))


def test_held_rows_have_a_reason_that_is_right(job: Job) -> None:
    """A name is held for a sign only if no typeface of the template has it."""
    catalogue = load_catalogue()
    fonts = next(box.fonts for box in job.template.boxes if box.name == "name")
    faces = [catalogue.open(name) for name in fonts]
    for row in job.rows:
        codes = {finding.code for finding in row.findings if row.held}
        able = any(face.can_set(row.fields["name"]) for face in faces)
        if codes & {"no-glyph", "no-single-face"}:
            assert not able, row
        elif row.held:
            assert codes <= {"text-too-small", "mixed-direction"}, row
        else:
            assert able, row


def test_scripts_in_hand_are_made(job: Job) -> None:
    """No Latin, Greek, Cyrillic, Hebrew, Devanagari or Thai name lacks a sign.

    A very long one may still be held for its size.
    """
    without = {"ar_SA", "fa_IR", "ja_JP", "ka_GE"}
    held = [row for row in job.rows if row.held and row.values["locale"] not in without]
    assert {finding.code for row in held for finding in row.findings} <= {"text-too-small"}
    assert len(held) <= 3
