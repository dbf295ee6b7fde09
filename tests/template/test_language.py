"""The language of a text's names."""

import json
from pathlib import Path

import pytest

from namebatch.template.language import language_tag
from namebatch.template.languagecodes import TWO_LETTERS
from tests.template.folders import WHOLE, problems_of, written


@pytest.mark.parametrize("tag", ["tr", "nl", "de-AT", "haw", "TR", "zh-Hant-TW", "sr-Latn"])
def test_tags_are_taken_as_written(tag: str) -> None:
    """Language, script and region in the form of BCP 47."""
    assert language_tag(tag) == tag


@pytest.mark.parametrize(
    ("tag", "meant"),
    [
        ("tur", "tr"),
        ("nld", "nl"),
        ("dut", "nl"),
        ("AZE", "az"),
        ("azj", "az"),
        ("deu-AT", "de-AT"),
    ],
)
def test_three_letters_become_two(tag: str, meant: str) -> None:
    """The rules of a language go by its shortest code, however it was given (BCP 47)."""
    assert language_tag(tag) == meant


def test_codes_are_those_of_the_standard() -> None:
    """All pairs of ISO 639-2 and 639-3, as Debian's package iso-codes lists them."""
    home = Path("/usr/share/iso-codes/json")
    if not home.is_dir():
        pytest.skip("the Debian package iso-codes is not installed")
    for part in ("639-2", "639-3"):
        entries = json.loads((home / f"iso_{part}.json").read_text("utf-8"))[part]
        for entry in entries:
            for kind in ("alpha_3", "bibliographic"):
                if "alpha_2" in entry and kind in entry:
                    assert TWO_LETTERS[entry[kind]] == entry["alpha_2"]


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ("Turkish", 'is "Turkish", no language tag. Write "tr".'),
        ("tr_TR", 'is "tr_TR", no language tag. Write "tr-TR".'),
        (" nl", 'Write "nl".'),
        ("gr", 'is "gr", a country\'s code, not a language\'s. Write "el".'),
        ("qq", 'is "qq", no language tag. Leave it out'),
        ("", "Leave it out if the language is not known."),
        ("the usual", "Leave it out if the language is not known."),
        ("t\u202er", 'is "t\ufffdr", no language tag.'),
    ],
)
def test_what_is_no_tag(said: str, words: str) -> None:
    """The message says what it is instead, what to write, and what tags look like."""
    with pytest.raises(ValueError, match="A tag has two or three letters") as caught:
        language_tag(said)
    assert words in str(caught.value)


def test_the_template_says_where(tmp_path: Path) -> None:
    """The problem stands at the key of its text."""
    toml = WHOLE.replace("max_height_mm = 9", 'max_height_mm = 9\nlanguage = "turkish"')
    [problem] = problems_of(written(tmp_path, toml))
    assert problem.startswith('text[1].language: is "turkish", no language tag. Write "tr".')
