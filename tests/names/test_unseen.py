"""Characters that are not seen: kept where they mean something, dropped and told elsewhere."""

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from namebatch.names.unseen import without_unseen

ENGLAND = "\U0001f3f4\U000e0067\U000e0062\U000e0065\U000e006e\U000e0067\U000e007f"

KEPT = {
    # Joiners in spelling: The Unicode Standard 15.0, sections 9.2, 12.1, 12.5, 13.2, 23.2.
    "Persian half space": "علی\u200cرضا",
    "Devanagari conjunct": "क्\u200dष",
    "Devanagari visible virama": "श्रेष्\u200cठ",
    "Sinhala touching letters": "ශ්\u200dරී",
    "Malayalam chillu": "അവന്\u200d",
    "Bengali ya-phalaa": "র\u200d্য",
    "Arabic letter in its first form": "ه\u200d",
    # UTS #51: sequences of one emoji.
    "family": "\U0001f469\u200d\U0001f467",
    "heart in colour": "❤\ufe0f",
    "rainbow flag": "\U0001f3f3\ufe0f\u200d\U0001f308",
    "skin tone and joiner": "\U0001f469\U0001f3fd\u200d\U0001f680",
    "keycap": "1\ufe0f\u20e3",
    "flag of England": ENGLAND,
    # Ideographic variation: UTS #37.
    "ideographic variant": "辻\U000e0100",
    "Mongolian variant": "ᠰ\u180b",
    "mark beside a name in two directions": "Ada \u200fשלום",
}

DROPPED = {
    "soft hyphen": "Teasel\u00admoor",
    "zero-width space": "Ada\u200b",
    "byte order mark": "\ufeffAda",
    "word joiner": "Ada\u2060Bo",
    "joiner in Latin": "Ada\u200dBo",
    "non-joiner in Cyrillic": "Ма\u200cша",
    "joiner at the start": "\u200dAda",
    "joiner twice": "क्\u200d\u200dष",
    "embedding round a Latin name": "\u202aAda\u202c",
    "isolate round a Hebrew name": "\u2067נועה\u2069",
    "direction mark behind a Latin name": "Ada\u200e",
    "variation selector behind a letter": "A\ufe0f",
    "ideographic selector behind a letter": "a\U000e0100",
    "hidden letters": "Ada\U000e0041\U000e0042",
    "combining grapheme joiner at the end": "Ada\u034f",
}


@pytest.mark.parametrize("text", KEPT.values(), ids=KEPT.keys())
def test_kept_where_it_means_something(text: str) -> None:
    """What belongs to the spelling of a script or an emoji stays."""
    assert without_unseen(text) == (text, ())


@pytest.mark.parametrize("text", DROPPED.values(), ids=DROPPED.keys())
def test_dropped_elsewhere(text: str) -> None:
    """What means nothing goes, and each kind is named with its code."""
    left, told = without_unseen(text)
    assert len(left) < len(text)
    gone = sorted(set(text) - set(left)) or ["\u200d"]
    assert all(
        any(f"U+{ord(sign):04X} (not seen) removed" in words for words in told) for sign in gone
    )


@pytest.mark.parametrize("text", ["Ada\u202eBo", "\u202dAda"])
def test_an_override_is_left_to_be_held(text: str) -> None:
    """What shows letters in another order than they were typed is never quietly dropped."""
    assert without_unseen(text) == (text, ())


SIGNS = st.sampled_from(
    "aЖ1 ।कمש山ᠰ❤\U0001f469\U0001f3f4\u200c\u200d\u200e\u202a\u202c\u00ad\u034f\u180b\ufe00\ufe0f"
    "\ufeff\u0301\u20e3\U000e0062\U000e007f\U000e0100"
)


@given(st.text(alphabet=SIGNS, max_size=12))
def test_idempotent(text: str) -> None:
    """What is left once is left again."""
    once, _ = without_unseen(text)
    assert without_unseen(once) == (once, ())


@given(st.text(max_size=30))
def test_only_unseen_characters_go(text: str) -> None:
    """No letter, digit or sign is ever dropped."""
    left, told = without_unseen(text)
    seen = [sign for sign in text if unicodedata.category(sign) not in ("Cf", "Mn")]
    assert [sign for sign in left if unicodedata.category(sign) not in ("Cf", "Mn")] == seen
    assert bool(told) == (left != text)
