"""The likely language of a text."""

import pytest
from faker import Faker

from namebatch.text.catalogue import Catalogue
from namebatch.text.languages import leaves_open, likely_language, list_language


# Names and characters in common use, written from memory.
@pytest.mark.parametrize(
    ("text", "language"),
    [
        ("谢璐", "zh-Hans"),  # 谢 is simplified only
        ("許淑娟 謝", "und"),  # in use in Taiwan and in Japan
        ("妳", "zh-Hant"),
        ("斎藤", "ja"),  # 斎 is in everyday use in Japan only
        ("木村めぐみ", "ja"),
        ("김 民瑞", "ko"),
        ("王", "und"),
        ("Ana 谢", "zh-Hans"),
    ],
)
def test_han_characters_tell_their_language_where_only_one_has_them(
    text: str, language: str
) -> None:
    """What one country alone writes settles it, what several write does not."""
    assert likely_language("Hani", text) == language


def test_other_scripts_go_by_their_usual_language() -> None:
    """Han beside it or not, a stretch of Thai is Thai; Latin is anything."""
    assert likely_language("Thai", "อรุณี 谢") == "th"
    assert likely_language("Latn", "Ana 谢") == "und"


def test_a_simplified_name_has_chinese_forms(catalogue: Catalogue) -> None:
    """直 is drawn otherwise in China than in Japan: the name beside it settles which."""
    face = catalogue.open("Noto Sans CJK SemiBold")

    def forms(text: str, language: str = "") -> list[int]:
        return [glyph.gid for glyph in face.shape(text, language=language).glyphs]

    assert forms("谢直") == forms("谢直", "zh-CN")
    assert forms("谢直")[1] != forms("木村めぐみ直")[-1]
    assert forms("直") == forms("直", "ja")


@pytest.mark.parametrize(
    ("locale", "wrong"), [("ja_JP", {"zh-Hans", "zh-Hant", "ko"}), ("zh_CN", {"ja", "ko"})]
)
def test_no_name_is_taken_for_the_neighbours(locale: str, wrong: set[str]) -> None:
    """Of 300 invented names none is given the other country's forms."""
    fake = Faker(locale)
    fake.seed_instance(20270)
    found = [likely_language("Hani", fake.name()) for _ in range(300)]
    assert not wrong & set(found)
    if locale == "zh_CN":
        assert found.count("zh-Hans") > 150


@pytest.mark.parametrize(
    ("texts", "language"),
    [
        (["谢璐", "王", "Ana"], "zh-Hans"),
        (["斎藤", "木村めぐみ", "王"], "ja"),
        (["王", "Ana"], ""),
        (["谢璐", "斎藤"], ""),
        (["谢璐"] * 9 + ["斎藤"], "zh-Hans"),
        ([], ""),
    ],
)
def test_a_list_goes_by_nearly_all_that_tell(texts: list[str], language: str) -> None:
    """Names that tell nothing do not count, and half against half settles nothing."""
    assert list_language(texts) == language


def test_what_is_left_open() -> None:
    """Only Han characters that several countries write."""
    assert leaves_open("王")
    assert not leaves_open("谢")
    assert not leaves_open("Ana")


def test_chinese_is_not_said_of_other_scripts() -> None:
    """A list said to be Chinese does not take from Arabic its own language."""
    assert likely_language("Arab", "عائشة", "zh-Hans") == "ar"
    assert likely_language("Hani", "王", "zh-Hans") == "zh-Hans"
    assert likely_language("Latn", "Ilkin", "tr") == "tr"
