"""From bytes to text: the encodings that spreadsheets write, and what was assumed."""

import codecs
import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from charset_normalizer import from_bytes

from namebatch.names.latin import latin_page
from namebatch.names.tidy import tidy_start

_MARKS: Final = (
    (codecs.BOM_UTF8, "utf-8", "UTF-8"),
    (codecs.BOM_UTF32_LE, "utf-32-le", "UTF-32"),
    (codecs.BOM_UTF32_BE, "utf-32-be", "UTF-32"),
    (codecs.BOM_UTF16_LE, "utf-16-le", "UTF-16"),
    (codecs.BOM_UTF16_BE, "utf-16-be", "UTF-16"),
)
# What spreadsheets and editors of other regions write; a short list keeps guesses sane.
_CANDIDATES: Final = (
    *("cp1250", "cp1251", "cp1253", "cp1254", "cp1255", "cp1256", "cp1257", "cp1258", "cp874"),
    *("iso8859_2", "mac_roman", "koi8_r", "cp932", "gb18030", "big5", "cp949"),
)
_LABELS: Final = {"iso8859_2": "ISO 8859-2", "mac_roman": "Mac Roman", "koi8_r": "KOI8-R"}
_SAMPLE_BYTES: Final = 65_536
_BREAK: Final = re.compile(rb"[\r\n]+")
_DELIMITERS: Final = re.compile(r"[,;\t]")


@dataclass(frozen=True, slots=True)
class Decoded:
    """A text and how it was come by.

    Attributes:
        text: without a byte order mark.
        label: name of the encoding, for people.
        guessed: True when the bytes do not say for certain.
        damaged: how many places could not be read and stand as U+FFFD.
    """

    text: str
    label: str
    guessed: bool = False
    damaged: int = 0


def decode(data: bytes, known: Callable[[str], bool]) -> Decoded:
    """Decode a text file: byte order mark, then UTF-8, then what is likeliest.

    Bytes that fit nowhere become U+FFFD, which holds their row later; nothing is dropped.

    Args:
        data: the file.
        known: tells whether a cell is a header that the job can use; words of a header line
            say more about an encoding than a few names do.
    """
    for mark, codec, label in _MARKS:
        if data.startswith(mark):
            return _decoded(data[len(mark) :], codec, label)
    unmarked = _unmarked_utf16(data)
    if unmarked:
        return _decoded(data, unmarked, "UTF-16", guessed=True)
    try:
        return Decoded(data.decode("utf-8"), "UTF-8")
    except UnicodeDecodeError:
        return _eight_bit(data, known)


def _decoded(data: bytes, codec: str, label: str, *, guessed: bool = False) -> Decoded:
    text = data.decode(codec, "replace")
    return Decoded(text, label, guessed, text.count("\ufffd"))


def _unmarked_utf16(data: bytes) -> str | None:
    """UTF-16 without a mark shows by its zero bytes, all on one side of the pairs."""
    sample = data[: _SAMPLE_BYTES & ~1]
    if len(sample) < 4:
        return None
    even, odd, half = sample[0::2].count(0), sample[1::2].count(0), len(sample) / 2
    if odd > 0.4 * half and even < 0.05 * half:
        return "utf-16-le"
    if even > 0.4 * half and odd < 0.05 * half:
        return "utf-16-be"
    return None


def _eight_bit(data: bytes, known: Callable[[str], bool]) -> Decoded:
    mended = _decoded(data, "utf-8", "UTF-8", guessed=True)
    good = sum(1 for character in mended.text if not character.isascii()) - mended.damaged
    # Chance rarely makes 8-bit text look like UTF-8: mostly good means a few damaged bytes.
    if good >= 3 * mended.damaged:
        return mended
    by_header = _by_header(data, known)
    if by_header:
        return _decoded(data, by_header, _label(by_header), guessed=True)
    telling = _telling_lines(data)
    latin = latin_page(telling)
    if latin:
        return _decoded(data, latin, _label(latin), guessed=True)
    best = from_bytes(telling, cp_isolation=list(_CANDIDATES)).best()
    if best is None:
        return _decoded(data, "cp1252", "Windows-1252", guessed=True)
    return _decoded(data, best.encoding, _label(best.encoding), guessed=True)


def _by_header(data: bytes, known: Callable[[str], bool]) -> str | None:
    """The encoding in which more headers are known than in Windows-1252, if there is one."""
    first = next((line for line in _BREAK.split(data[:_SAMPLE_BYTES]) if line.strip(b" \t,;")), b"")
    if first.isascii():
        return None

    def matches(codec: str) -> int:
        cells = _DELIMITERS.split(first.decode(codec, "replace"))
        return sum(known(tidy_start(cell.strip('"'))) for cell in cells)

    best = max(("cp1252", *_CANDIDATES), key=matches)
    return best if matches(best) > matches("cp1252") else None


def _label(codec: str) -> str:
    if codec.startswith("cp125"):
        return f"Windows-{codec[2:]}"
    return _LABELS.get(codec, codec.replace("_", "-").upper())


def _telling_lines(data: bytes) -> bytes:
    """The lines that have other than ASCII bytes: the rest says nothing about the encoding."""
    lines = (line for line in data.splitlines(keepends=True) if not line.isascii())
    return b"".join(lines)[:_SAMPLE_BYTES]
