"""Helpers: small encoded pictures."""

import struct
import zlib
from io import BytesIO

import numpy as np
from PIL import Image


def gradient(width: int, height: int) -> Image.Image:
    """A picture whose every corner has its own colour."""
    y, x = np.mgrid[0:height, 0:width]
    red, green = x * 255 // max(1, width - 1), y * 255 // max(1, height - 1)
    return Image.fromarray(np.dstack([red, green, np.full_like(red, 60)]).astype(np.uint8))


def saved(picture: Image.Image, kind: str, **options: object) -> bytes:
    """A picture as a file's bytes."""
    out = BytesIO()
    picture.save(out, kind, **options)
    return out.getvalue()


def png(width: int, height: int) -> bytes:
    """An RGB PNG."""
    return saved(gradient(width, height), "PNG")


def jpeg(width: int, height: int) -> bytes:
    """An RGB JPEG."""
    return saved(gradient(width, height), "JPEG", quality=90)


def bare_png(width: int, height: int) -> bytes:
    """The head of a PNG that claims a size and holds no pixels."""

    def chunk(kind: bytes, body: bytes) -> bytes:
        return (
            struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))
        )

    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", b"") + chunk(b"IEND", b"")
