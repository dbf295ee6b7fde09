"""Texts that some program before us read in the wrong encoding: ``ZoÃ«`` for ``Zoë``."""

from collections.abc import Iterator

from namebatch.finding import Finding, warn
from namebatch.names.characters import shown

PAGES = ("cp1252", "cp1250", "cp1251", "latin-1")
"""Code pages in which UTF-8 is usually misread (common practice, no source)."""

BEYOND = "\u0700"
"""Letters up to here take two bytes in UTF-8; longer sequences can be small letters by chance."""


def reading(text: str) -> str | None:
    """What a text says when its misreading is undone, or None if it was not misread.

    The letters of a text that was encoded as UTF-8 and read in an older code page form whole
    UTF-8 sequences when they are put back. Chance does that to a pair of real letters hardly
    ever: the first must be one of a few capitals and the second a sign or a rare letter.
    """
    if text.isascii():
        return None
    for page in PAGES:
        try:
            undone = text.encode(page).decode("utf-8")
        except UnicodeError:
            continue
        if max(undone) >= BEYOND:
            continue
        if undone != text and undone.isprintable() and any(c.isalpha() for c in undone):
            return undone
    return None


def check_misread(text: str, where: str) -> Iterator[Finding]:
    """A warning with the likely reading; nothing is changed.

    Args:
        text: tidied.
        where: line and column, the beginning of the message.
    """
    likely = reading(text)
    if likely is not None:
        yield warn(
            "misread-letters",
            f'{where}: "{shown(text)}" looks like "{shown(likely)}" read in the wrong encoding '
            "before it came here. Retype it, or have the list saved again as UTF-8.",
        )
