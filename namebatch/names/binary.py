"""Telling files that are no lists, so that a message can say what they seem to be.

The signatures are those that the formats' own specifications give for their first bytes.
"""

from typing import Final

_BEGINNINGS: Final = (
    (b"\x89PNG\r\n\x1a\n", "a PNG picture"),
    (b"\xff\xd8\xff", "a JPEG picture"),
    (b"GIF87a", "a GIF picture"),
    (b"GIF89a", "a GIF picture"),
    (b"II*\x00", "a TIFF picture"),
    (b"MM\x00*", "a TIFF picture"),
    (b"BM", "a BMP picture"),
    (b"%PDF-", "a PDF document"),
    (b"{\\rtf", "a text document with formatting (RTF)"),
    (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", "an old XLS or DOC file, or one with a password"),
    (b"PK\x03\x04", "a ZIP archive"),
    (b"PK\x05\x06", "an empty ZIP archive"),
    (b"\x1f\x8b", "a GZIP archive"),
    (b"7z\xbc\xaf\x27\x1c", "a 7z archive"),
    (b"Rar!\x1a\x07", "a RAR archive"),
    (b"SQLite format 3\x00", "an SQLite database"),
    (b"\x7fELF", "a program"),
    (b"MZ", "a program"),
    (b"\x00\x01\x00\x00\x00", "a TrueType font"),
    (b"OTTO", "an OpenType font"),
    (b"wOFF", "a web font"),
    (b"wOF2", "a web font"),
)
_MARKUP: Final = (
    (b"<!doctype html", "a web page (HTML)"),
    (b"<html", "a web page (HTML)"),
    (b"<svg", "an SVG drawing"),
    (b"<?xml", "an XML file"),
)
# Two letters begin names too ("BM", "MZ"); then only control bytes nearby tell.
_SURE_LENGTH: Final = 3


def seems(data: bytes) -> str | None:
    """What a file that is not a list seems to be, in words; None if it may be text."""
    for beginning, kind in _BEGINNINGS:
        sure = len(beginning) >= _SURE_LENGTH or b"\x00" in data[:64]
        if data.startswith(beginning) and sure:
            return kind
    if data[:4] == b"RIFF" and data[8:12] == b"WEBP":
        return "a WebP picture"
    start = data[:512].removeprefix(b"\xef\xbb\xbf").lstrip().lower()
    return next((kind for beginning, kind in _MARKUP if start.startswith(beginning)), None)
