"""Typefaces that are tried after a template's own."""

import tomllib
from pathlib import Path

import pytest

from namebatch.resources import bundled
from namebatch.text.catalogue import AbsentFace, Catalogue, own_file
from namebatch.text.chain import chain_for, stretches
from namebatch.text.face import Face
from namebatch.text.fallback import BY_SCRIPT, FALLBACK, fallback_for, remedies_for, scripts_of


@pytest.fixture
def without_cjk(catalogue: Catalogue) -> Catalogue:
    """What is there without the extra."""
    listed = tomllib.loads((bundled("fonts") / "fonts.toml").read_text(encoding="utf-8"))["face"]
    absent = [
        AbsentFace(face["name"], tuple(face["scripts"]), face["package"], "cjk", face["signs"])
        for face in listed
        if face.get("extra") == "cjk"
    ]
    names = {face.name for face in absent}
    return Catalogue([i for i in catalogue.infos if i.name not in names], absent=absent)


@pytest.mark.parametrize(
    ("text", "scripts"),
    [
        ("Marlo", {"Latn"}),
        ("7-9", {"Latn"}),
        ("ქეთი 7", {"Geor", "Latn"}),
        ("木村めぐみ", {"Hani", "Hira"}),
        ("🪁", {"Latn", "Zsye", "Zsym"}),
        ("🇳🇴", {"Latn", "Zsye", "Zsym"}),
        ("☆", {"Latn", "Zsym"}),  # ★ was a picture in older Unicode
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
        ("木村めぐみ", "Noto Sans CJK SemiBold"),
        ("メアリー", "Noto Sans CJK SemiBold"),
        ("한글", "Noto Sans CJK SemiBold"),
        ("ＡＮＡ", "Noto Sans CJK SemiBold"),
        ("🪁", "Noto Emoji Bold"),
        ("👩‍👧", "Noto Emoji Bold"),
        ("♥", "Inter SemiBold"),
        ("❤️", "Inter SemiBold"),
        ("❤️‍🔥", "Noto Emoji Bold"),
        ("♪", "Noto Sans Symbols SemiBold"),
        ("★", "Inter SemiBold"),
        ("①", "Inter SemiBold"),
        ("✿", "Noto Sans CJK SemiBold"),
    ],
)
def test_the_first_face_that_sets_it(catalogue: Catalogue, text: str, face: str) -> None:
    """A word of each script is set whole, by the face that is meant for it."""
    able = [name for name in fallback_for(text, catalogue) if catalogue.open(name).can_set(text)]
    assert able[0] == face


@pytest.mark.parametrize("text", ["1️⃣", "#️⃣", "*️⃣", "Ⅳ", "ⅻ", "ↈ", "❶", "㊗", "🄰", "𝟙", "﹏"])
def test_faces_are_asked_and_not_categories(catalogue: Catalogue, text: str) -> None:
    """What some face of the catalogue sets is set, whatever kind of sign it is."""
    anywhere = [info.name for info in catalogue.infos if catalogue.open(info.name).can_set(text)]
    able = [name for name in fallback_for(text, catalogue) if catalogue.open(name).can_set(text)]
    assert bool(able) == bool(anywhere)
    assert text not in ("1️⃣", "#️⃣", "*️⃣", "Ⅳ", "ⅻ", "ↈ") or able


def test_a_face_that_is_not_among_the_spare_ones_helps_out(catalogue: Catalogue) -> None:
    """A sign that only a workshop's own file has is set in that; a broken file is passed over."""
    latin = [info for info in catalogue.infos if info.name == "Noto Sans SemiBold"]
    (emoji,) = (info for info in catalogue.infos if info.name == "Noto Emoji Bold")
    own = own_file(emoji.path, "Our pictures")
    broken = own_file(Path(__file__), "A broken one")
    few = Catalogue([*latin, own, broken])
    assert fallback_for("Ada 🪁", few) == ("Noto Sans SemiBold", "Our pictures")
    assert fallback_for("Ada ✘", few) == ("Noto Sans SemiBold",)


def test_latin_needs_one_face(catalogue: Catalogue) -> None:
    """A Latin text does not open every face that has some Latin."""
    assert fallback_for("Marlo Teasel 7", catalogue) == ("Noto Sans SemiBold",)


def test_every_face_is_in_the_catalogue_for_its_scripts(catalogue: Catalogue) -> None:
    """The chain and the catalogue agree, and no script of the catalogue is forgotten."""
    infos = {info.name: info for info in catalogue.infos}
    symbols = {("Zsym", "Noto Emoji Bold"), ("Zsym", "Noto Sans CJK SemiBold")}
    wrong = [
        (tag, name)
        for tag, names in BY_SCRIPT.items()
        for name in names
        if tag not in infos[name].scripts
    ]
    assert set(wrong) == symbols
    assert {tag for info in catalogue.infos for tag in info.scripts} == set(BY_SCRIPT)
    assert {name for names in BY_SCRIPT.values() for name in names} == set(FALLBACK)


def test_signs_of_an_extra_are_those_that_it_adds(
    catalogue: Catalogue, without_cjk: Catalogue
) -> None:
    """Every sign listed for an extra is in its face and in none that is tried without it."""
    for face in without_cjk.absent:
        for sign in face.signs:
            assert catalogue.open(face.name).can_set(sign)
            others = fallback_for(sign, without_cjk)
            assert not [name for name in others if catalogue.open(name).can_set(sign)], sign


# Seventy symbols likely beside a name: hearts, stars, notes, ticks, crosses, flowers, marks
# of trade, weather, cards, arrows. A choice of our own, no source.
WITH_EVERY_INSTALLATION = "★☆⭐♥♡❤❣♪♫♬♩♭♯✓✔✗✖×●○■□▲△▼◆◇☘☀☁☂☃☾☽⚡⚓☮☯✝♠♣♦☺☹©®™№←→↑↓↔⇒∞♀♂❄"
WITH_THE_EXTRA = "✿❀♢✚☞☜"
WITHOUT_A_FACE = "✘✕✦✧✩❁"


def test_symbols_that_every_installation_sets(catalogue: Catalogue, without_cjk: Catalogue) -> None:
    """Likely symbols are set without extras, a few more with one; some no face has."""

    def able(sign: str, among: Catalogue) -> list[str]:
        return [name for name in fallback_for(sign, among) if catalogue.open(name).can_set(sign)]

    for sign in WITH_EVERY_INSTALLATION:
        assert able(sign, without_cjk), sign
    for sign in WITH_THE_EXTRA:
        assert not able(sign, without_cjk), sign
        assert remedies_for(sign, without_cjk), sign
        assert able(sign, catalogue), sign
    for sign in WITHOUT_A_FACE:
        assert not able(sign, catalogue), sign
        assert not remedies_for(sign, without_cjk), sign


def test_what_is_not_installed_is_left_out_and_told(
    catalogue: Catalogue, without_cjk: Catalogue
) -> None:
    """Without the extra the chain is shorter, and what to install is said."""
    assert fallback_for("木村", without_cjk) == ()
    assert remedies_for("木村", without_cjk) == (
        'The typeface "Noto Sans CJK SemiBold" needs the extra "cjk": pip install "namebatch[cjk]"',
    )
    assert remedies_for("Ada ✿", without_cjk) == remedies_for("木村", without_cjk)
    assert remedies_for("Ada ✘", without_cjk) == ()
    assert remedies_for("木村", catalogue) == ()
    assert remedies_for("Marlo", without_cjk) == ()


def test_a_spare_face_sets_only_what_is_lacking(catalogue: Catalogue) -> None:
    """One sign that a face lacks does not take the letters from it, nor part joined ones."""
    own = [catalogue.open("Vollkorn SemiBold")]

    def spare(text: str) -> list[Face]:
        return [catalogue.open_spare(name) for name in fallback_for(text, catalogue)]

    for text, fonts in (
        ("Ada ♪", ["Vollkorn SemiBold", "Noto Sans Symbols SemiBold"]),
        ("Zoë 王", ["Vollkorn SemiBold", "Noto Sans CJK SemiBold"]),
        ("محمد", ["Noto Sans Arabic SemiBold"]),
        ("Ada", ["Vollkorn SemiBold"]),
    ):
        chain = chain_for(text, own, spare)
        assert chain is not None
        found = stretches(text, chain)
        assert found is not None
        assert list(dict.fromkeys(stretch.face.name for stretch in found)) == fonts


@pytest.mark.parametrize("text", ["Ada 🎪 🪁", "🎪 🪁", "🎪 Ada"])
def test_spaces_beside_pictures_are_those_of_letters(catalogue: Catalogue, text: str) -> None:
    """A picture's face has spaces as wide as pictures; where letters have one, theirs is taken."""
    own = catalogue.open("Vollkorn SemiBold")
    chain = (own, *(catalogue.open_spare(name) for name in fallback_for(text, catalogue)))
    found = stretches(text, chain)
    assert found is not None
    for stretch in found:
        if " " in text[stretch.item.start : stretch.item.end]:
            assert stretch.face is own
    assert sum(stretch.item.end - stretch.item.start for stretch in found) == len(text)
