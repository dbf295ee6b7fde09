"""From bytes to text: the encodings that spreadsheets write, and what was assumed."""

import codecs
import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from charset_normalizer import from_bytes

from namebatch.names.latin import fits_page, latin_page, nearest_latin_page, one_script
from namebatch.names.tidy import tidy_start

_MARKS: Final = (
    (codecs.BOM_UTF8, "utf-8", "UTF-8"),
    (codecs.BOM_UTF32_LE, "utf-32-le", "UTF-32"),
    (codecs.BOM_UTF32_BE, "utf-32-be", "UTF-32"),
    (codecs.BOM_UTF16_LE, "utf-16-le", "UTF-16"),
    (codecs.BOM_UTF16_BE, "utf-16-be", "UTF-16"),
)
# What spreadsheets and editors of other regions write; a short list keeps guesses sane.
_SCRIPTS: Final = (
    *("cp1251", "cp1253", "cp1255", "cp1256", "cp874"),
    *("koi8_r", "cp932", "gb18030", "big5", "cp949"),
)
_CANDIDATES: Final = (
    *("cp1250", "cp1254", "cp1257", "cp1258", "iso8859_2", "mac_roman"),
    *_SCRIPTS,
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
        page: name of the 8-bit code page that was guessed; empty if none was.
        lines: numbers of the lines that were read in `page`, from 1, where the others are in
            `label`'s first encoding; None when all lines were.
    """

    text: str
    label: str
    guessed: bool = False
    damaged: int = 0
    page: str = ""
    lines: frozenset[int] | None = None

    def doubtful(self, first: int, last: int) -> str:
        """The code page that letters of these lines were guessed to be in, or nothing."""
        if self.lines is None or not self.lines.isdisjoint(range(first, last + 1)):
            return self.page
        return ""


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
        # Some databases write signs beyond U+FFFF as two halves, each in UTF-8 of its own
        # (CESU-8, Unicode Technical Report #26); tidying joins them.
        return Decoded(data.decode("utf-8", "surrogatepass"), "UTF-8")
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
    """Bytes that are not UTF-8 throughout: some of the lines, or none."""
    lines = data.splitlines(keepends=True)
    telling = [line for line in lines if not line.isascii()]
    strange = [line for line in telling if not _is_utf8(line)]
    sample = b"".join(strange)[:_SAMPLE_BYTES]
    page = _page(data, sample, known)
    utf8 = len(telling) - len(strange)
    # Lines in Chinese pages look like UTF-8 now and then by chance, western ones never do.
    if utf8 and (3 * utf8 >= len(strange) or latin_page(sample)):
        return _mixed(lines, page)
    if _mostly_utf8(data):
        return _decoded(data, "utf-8", "UTF-8", guessed=True)
    text = data.decode(page, "replace")
    return Decoded(text, _label(page), True, text.count("\ufffd"), page=_label(page))


def _is_utf8(line: bytes) -> bool:
    try:
        line.decode("utf-8")
    except UnicodeDecodeError:
        return False
    return True


def _mostly_utf8(data: bytes) -> bool:
    """Chance rarely makes 8-bit text look like UTF-8: mostly good means damaged bytes."""
    text = data.decode("utf-8", "replace")
    damaged = text.count("\ufffd")
    good = sum(1 for character in text if not character.isascii()) - damaged
    return good >= 3 * damaged


def _mixed(lines: list[bytes], page: str) -> Decoded:
    """UTF-8 with lines in another encoding among it: put together from two lists.

    A line whose words make no sense in the other one is UTF-8 with damaged bytes.
    """
    texts: list[str] = []
    numbers: set[int] = set()
    for number, line in enumerate(lines, start=1):
        if _is_utf8(line) or not fits_page(line, page):
            texts.append(line.decode("utf-8", "replace"))
        else:
            texts.append(line.decode(page, "replace"))
            numbers.add(number)
    text = "".join(texts)
    damaged = text.count("\ufffd")
    if not numbers:
        return Decoded(text, "UTF-8", True, damaged)
    label = _label(page)
    return Decoded(text, f"UTF-8 and {label}", True, damaged, label, frozenset(numbers))


def _page(data: bytes, sample: bytes, known: Callable[[str], bool]) -> str:
    """The likeliest code page of lines that are not UTF-8."""
    page = _by_header(data, known) or latin_page(sample)
    if page:
        return page
    matches = from_bytes(sample, cp_isolation=list(_SCRIPTS))
    for match in matches:
        if one_script(sample.decode(match.encoding, "replace")):
            return match.encoding
    return nearest_latin_page(sample)


def _by_header(data: bytes, known: Callable[[str], bool]) -> str | None:
    """The encoding in which more headers are known than in Windows-1252, if there is one."""
    first = next((line for line in _BREAK.split(data[:_SAMPLE_BYTES]) if line.strip(b" \t,;")), b"")
    if first.isascii() or _is_utf8(first):
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
