"""Typefaces that are tried after a template's own."""

import pytest

from namebatch.text.catalogue import AbsentFace, Catalogue
from namebatch.text.chain import chain_for, stretches
from namebatch.text.face import Face
from namebatch.text.fallback import BY_SCRIPT, FALLBACK, fallback_for, remedies_for, scripts_of


@pytest.fixture
def without_cjk(catalogue: Catalogue) -> Catalogue:
    """What is there without the extra."""
    name = "Noto Sans CJK"
    info = catalogue.info(name)
    absent = AbsentFace(name, info.scripts, info.package, "cjk")
    return Catalogue([i for i in catalogue.infos if i.name != name], absent=[absent])


@pytest.mark.parametrize(
    ("text", "scripts"),
    [
        ("Marlo", {"Latn"}),
        ("7-9", {"Latn"}),
        ("ქეთი 7", {"Geor", "Latn"}),
        ("木村めぐみ", {"Hani", "Hira"}),
        ("🪁", {"Latn", "Zsye", "Zsym"}),
        ("🇳🇴", {"Latn", "Zsye", "Zsym"}),
        ("★", {"Latn", "Zsym"}),
        ("", set()),
    ],
)
def test_scripts(text: str, scripts: set[str]) -> None:
    """Letters give their script; digits, signs, pictures and symbols say where to look."""
    assert scripts_of(text) == scripts


# Names of letters and words in common use, written from memory.
@pytest.mark.parametrize(
    ("text", "face"),
    [
        ("Ångström", "Noto Sans SemiBold"),
        ("Αλκυόνη", "Noto Sans SemiBold"),
        ("Тамара", "Noto Sans SemiBold"),
        ("عائشة", "Noto Sans Arabic SemiBold"),
        ("שלום", "Noto Sans Hebrew SemiBold"),
        ("Անահիտ", "Noto Sans Armenian SemiBold"),
        ("ქეთევან", "Noto Sans Georgian SemiBold"),
        ("ሰላም", "Noto Sans Ethiopic SemiBold"),
        ("क्षितिज", "Noto Sans Devanagari SemiBold"),
        ("শ্রাবণী", "Noto Sans Bengali SemiBold"),
        ("ਗੁਰਪ੍ਰੀਤ", "Noto Sans Gurmukhi SemiBold"),
        ("ગુજરાત", "Noto Sans Gujarati SemiBold"),
        ("ଓଡ଼ିଆ", "Noto Sans Oriya SemiBold"),
        ("தமிழ்", "Noto Sans Tamil SemiBold"),
        ("తెలుగు", "Noto Sans Telugu SemiBold"),
        ("ಕನ್ನಡ", "Noto Sans Kannada SemiBold"),
        ("മലയാളം", "Noto Sans Malayalam SemiBold"),
        ("ශ්‍රී", "Noto Sans Sinhala SemiBold"),
        ("อรุณี", "Noto Sans Thai SemiBold"),
        ("ລາວ", "Noto Sans Lao SemiBold"),
        ("ខ្មែរ", "Noto Sans Khmer SemiBold"),
        ("မြန်မာ", "Noto Sans Myanmar SemiBold"),
        ("木村めぐみ", "Noto Sans CJK"),
        ("メアリー", "Noto Sans CJK"),
        ("한글", "Noto Sans CJK"),
        ("🪁", "Noto Emoji Bold"),
        ("👩‍👧", "Noto Emoji Bold"),
        ("♥", "Noto Emoji Bold"),
        ("♪", "Noto Sans Symbols SemiBold"),
        ("★", "Noto Sans CJK"),
    ],
)
def test_the_first_face_that_sets_it(catalogue: Catalogue, text: str, face: str) -> None:
    """A word of each script is set whole, by the face that is meant for it."""
    able = [name for name in fallback_for(text, catalogue) if catalogue.open(name).can_set(text)]
    assert able[0] == face


def test_latin_needs_one_face(catalogue: Catalogue) -> None:
    """A Latin text does not open every face that has some Latin."""
    assert fallback_for("Marlo Teasel 7", catalogue) == ("Noto Sans SemiBold",)


def test_every_face_is_in_the_catalogue_for_its_scripts(catalogue: Catalogue) -> None:
    """The chain and the catalogue agree, and no script of the catalogue is forgotten."""
    infos = {info.name: info for info in catalogue.infos}
    symbols = {("Zsym", "Noto Emoji Bold"), ("Zsym", "Noto Sans CJK")}
    wrong = [
        (tag, name)
        for tag, names in BY_SCRIPT.items()
        for name in names
        if tag not in infos[name].scripts
    ]
    assert set(wrong) == symbols
    assert {tag for info in catalogue.infos for tag in info.scripts} == set(BY_SCRIPT)
    assert {name for names in BY_SCRIPT.values() for name in names} == set(FALLBACK)


def test_what_is_not_installed_is_left_out_and_told(
    catalogue: Catalogue, without_cjk: Catalogue
) -> None:
    """Without the extra the chain is shorter, and what to install is said."""
    assert fallback_for("木村", without_cjk) == ()
    assert remedies_for("木村", without_cjk) == (
        'The typeface "Noto Sans CJK" needs the extra "cjk": pip install "namebatch[cjk]"',
    )
    assert remedies_for("木村", catalogue) == ()
    assert remedies_for("Marlo", without_cjk) == ()


def test_a_spare_face_sets_only_what_is_lacking(catalogue: Catalogue) -> None:
    """One sign that a face lacks does not take the letters from it, nor part joined ones."""
    own = [catalogue.open("Vollkorn SemiBold")]

    def spare(text: str) -> list[Face]:
        return [catalogue.open_spare(name) for name in fallback_for(text, catalogue)]

    for text, fonts in (
        ("Ada ♪", ["Vollkorn SemiBold", "Noto Sans Symbols SemiBold"]),
        ("Zoë 王", ["Vollkorn SemiBold", "Noto Sans CJK"]),
        ("محمد", ["Noto Sans Arabic SemiBold"]),
        ("Ada", ["Vollkorn SemiBold"]),
    ):
        chain = chain_for(text, own, spare)
        assert chain is not None
        found = stretches(text, chain)
        assert found is not None
        assert list(dict.fromkeys(stretch.face.name for stretch in found)) == fonts
