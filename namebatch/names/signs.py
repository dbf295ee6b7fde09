"""Signs typed for want of the right key: accents for apostrophes, hyphens that look alike."""

import re
from typing import Final

# Grave and acute accent, prime, reversed prime, full-width apostrophe: between two letters none
# of them can mean anything else. Straight and curly apostrophes stay as they were typed, and so
# do the letters that look like one (ʻokina U+02BB, modifier apostrophe U+02BC).
_APOSTROPHE: Final = re.compile(r"(?<=[^\W\d_])[`´′‵＇](?=[^\W\d_])")
_NAMES: Final = {
    "`": "grave accent",
    "´": "acute accent",
    "′": "prime",
    "‵": "reversed prime",
    "＇": "full-width apostrophe",
}
_HYPHENS: Final = re.compile("[\u2010\u2011]")


def with_usual_signs(text: str) -> tuple[str, tuple[str, ...]]:
    """A text with apostrophes and hyphens in the characters that every face has.

    Args:
        text: in Unicode Normalization Form C.

    Returns:
        The text, and what was changed in words; doing it again changes nothing.
    """
    if text.isascii() and "`" not in text:
        return text, ()
    told = dict.fromkeys(
        f"{_NAMES[found]} made an apostrophe (’)" for found in _APOSTROPHE.findall(text)
    )
    if _HYPHENS.search(text):
        told["special hyphen made a plain one"] = None
    return _HYPHENS.sub("-", _APOSTROPHE.sub("’", text)), tuple(told)
