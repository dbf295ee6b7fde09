"""The language of a text's names, as a tag of BCP 47."""

import re
from typing import Final

from namebatch.template.languagecodes import TWO_LETTERS

_TAG: Final = re.compile(r"[A-Za-z]{2,3}(?:-[A-Za-z0-9]{2,8}){0,3}")
_NAMES: Final = {
    "arabic": "ar", "armenian": "hy", "azerbaijani": "az", "azeri": "az", "catalan": "ca",
    "chinese": "zh", "croatian": "hr", "czech": "cs", "danish": "da", "dutch": "nl",
    "english": "en", "estonian": "et", "finnish": "fi", "french": "fr", "georgian": "ka",
    "german": "de", "greek": "el", "hawaiian": "haw", "hebrew": "he", "hindi": "hi",
    "hungarian": "hu", "icelandic": "is", "irish": "ga", "italian": "it", "japanese": "ja",
    "korean": "ko", "latvian": "lv", "lithuanian": "lt", "norwegian": "nb", "persian": "fa",
    "polish": "pl", "portuguese": "pt", "romanian": "ro", "russian": "ru", "serbian": "sr",
    "slovak": "sk", "slovene": "sl", "spanish": "es", "swedish": "sv", "thai": "th",
    "turkish": "tr", "ukrainian": "uk", "urdu": "ur", "uzbek": "uz", "vietnamese": "vi",
    "welsh": "cy", "deutsch": "de", "nederlands": "nl", "türkçe": "tr", "français": "fr",
    "español": "es", "italiano": "it", "polski": "pl", "svenska": "sv", "ελληνικά": "el",
}  # fmt: skip
"""What people write instead of a tag: names of languages (tags of ISO 639, from memory)."""

_COUNTRIES: Final = {
    "gr": "el", "cz": "cs", "dk": "da", "jp": "ja", "kr": "ko", "cn": "zh", "ua": "uk",
    "gb": "en-GB", "us": "en-US", "at": "de-AT", "au": "en-AU", "mx": "es-MX",
}  # fmt: skip
"""Codes of countries (ISO 3166-1) that are no language's code (ISO 639-1); from memory."""


_KNOWN: Final = frozenset(TWO_LETTERS.values())
"""Codes of two letters that are some language's."""


def language_tag(text: str) -> str:
    """A language tag, checked in its form; a language's code of three letters becomes that of two.

    BCP 47 wants the shortest code that there is (RFC 5646, section 2.2.1), and no rule knows
    another.

    Raises:
        ValueError: with a sentence that says what is wrong, and the tag that was likely meant.
    """
    small = text.strip().casefold()
    meant = _NAMES.get(small) or _COUNTRIES.get(small)
    if meant is None and _TAG.fullmatch(text):
        language, *rest = text.split("-")
        if len(language) == 3 or language.lower() in _KNOWN:
            return "-".join([TWO_LETTERS.get(language.lower(), language), *rest])
    nearly = text.strip().replace("_", "-")
    if meant is None and nearly != text and _TAG.fullmatch(nearly):
        meant = nearly
    shown = "".join(c if c.isprintable() else "\N{REPLACEMENT CHARACTER}" for c in text[:40])
    what = "a country's code, not a language's" if small in _COUNTRIES else "no language tag"
    remedy = f'Write "{meant}".' if meant else "Leave it out if the language is not known."
    raise ValueError(
        f'is "{shown}", {what}. {remedy} A tag has two or three letters, and more behind a hyphen '
        'only where that matters, as in "tr", "nl" or "de-AT".'
    )
