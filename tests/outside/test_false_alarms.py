"""Names that nobody here wrote, by the faker package: hardly any may be warned of, none held."""

import csv
from pathlib import Path

import pytest
from faker import Faker

from namebatch.finding import Severity
from namebatch.names import read_list

# Left out are locales whose data has the very slips that are looked for: a Latin a in Bulgarian
# names, a Greek ε in Twi, marks before their letter in Hindi, commas behind Tamil names, brackets
# in Nepali and some Arabic ones, surnames put first in Latvian and Lithuanian.
LOCALES = (
    "az_AZ", "bn_BD", "cs_CZ", "da_DK", "de_AT", "el_GR", "en_GB", "en_IE", "en_IN", "es_AR",
    "es_CA", "es_MX", "et_EE", "fa_IR", "fi_FI", "fr_FR", "ga_IE", "ar_SA", "he_IL", "hr_HR",
    "hu_HU", "hy_AM", "id_ID", "is_IS", "it_IT", "ja_JP", "ka_GE", "ko_KR", "nl_BE", "or_IN",
    "pl_PL", "pt_BR", "ro_RO", "ru_RU", "sk_SK", "sv_SE", "th_TH", "tr_TR", "uk_UA", "uz_UZ",
    "vi_VN", "yo_NG", "zh_CN", "zu_ZA",
)  # fmt: skip
EACH = 400
MOST = 0.005


@pytest.mark.parametrize("locale", LOCALES)
def test_real_names_raise_no_alarm(tmp_path: Path, locale: str) -> None:
    """Of a locale's names less than 0.5 % are warned of for anything in them, and none is held."""
    fake = Faker(locale)
    fake.seed_instance(4)
    path = tmp_path / "names.csv"
    with path.open("w", encoding="utf-8-sig", newline="") as stream:
        writer = csv.writer(stream)
        writer.writerow(["first name", "last name", "name"])
        writer.writerows((fake.first_name(), fake.last_name(), fake.name()) for _ in range(EACH))
    for fields in (("first name", "last name"), ("name",)):
        names = read_list(path, fields)
        assert len(names.rows) == EACH
        assert not [row for row in names.rows if row.held]
        warned = [
            found.message
            for row in names.rows
            for found in row.findings
            if found.severity is Severity.WARN
        ]
        assert len(warned) < MOST * EACH, warned
