"""Pictures as cameras and programs save them: each is traced and printed as one sees it."""

import struct
import zlib
from collections.abc import Callable
from io import BytesIO
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from namebatch.template import load_template
from namebatch.template.model import RasterPicture
from tests.template.cutouts import RED, cover, cut_out, disc, on_ground
from tests.template.folders import written
from tests.template.images import saved

TOML = """\
format = 1
title = "Kite"
build = "printed"
material = "card-160"
[base]
trace = "front"
width_mm = 60
inset_mm = 0
[artwork.front]
file = "kite.KIND"
[[text]]
column = "name"
box_mm = [5, 5, 10, 8]
fonts = ["Noto Sans SemiBold"]
min_height_mm = 1
max_height_mm = 4
"""
# off the middle, so that a picture left lying on its side is noticed
SHARE = cover(disc(20, 15, 10), (60, 40), 160)
ON_WHITE = on_ground(SHARE)
CLEAR = cut_out(SHARE)
GREY = Image.fromarray(np.rint(255 - 195 * SHARE).astype(np.uint8))


def _png16(channels: np.ndarray, colour_type: int, *chunks: tuple[bytes, bytes]) -> bytes:
    """A PNG of 16 bits a channel, written here from the PNG specification (ISO 15948)."""

    def chunk(kind: bytes, body: bytes) -> bytes:
        crc = struct.pack(">I", zlib.crc32(kind + body))
        return struct.pack(">I", len(body)) + kind + body + crc

    rows, columns = channels.shape[:2]
    head = struct.pack(">IIBBBBB", columns, rows, 16, colour_type, 0, 0, 0)
    lines = channels.astype(">u2").reshape(rows, -1)
    body = zlib.compress(b"".join(b"\0" + line.tobytes() for line in lines))
    parts = [(b"IHDR", head), *chunks, (b"IDAT", body), (b"IEND", b"")]
    return b"\x89PNG\r\n\x1a\n" + b"".join(chunk(kind, data) for kind, data in parts)


def _wide(picture: Image.Image) -> np.ndarray:
    """8 bits as 16."""
    return np.asarray(picture).astype(np.uint16) * 257


def _turned(kind: str) -> bytes:
    """A camera held on its side: pixels a quarter turn off, and the tag that says so."""
    exif = Image.Exif()
    exif[0x0112] = 6  # turn by 90° clockwise to see it upright (EXIF 2.3, table of orientation)
    lying = ON_WHITE.transpose(Image.Transpose.ROTATE_90)
    return saved(lying, kind, exif=exif, **({"quality": 95} if kind == "JPEG" else {}))


def _palette(clear: bool) -> bytes:
    """Few colours; the ground see-through or white."""
    picture = ON_WHITE.quantize(32, dither=Image.Dither.NONE)
    if not clear:
        return saved(picture, "PNG")
    white = picture.getpixel((0, 0))
    return saved(picture, "PNG", transparency=white)


def _grey16_clear() -> bytes:
    """16 bit grey whose ground is named as the see-through value."""
    return _png16(_wide(GREY), 0, (b"tRNS", struct.pack(">H", 65535)))


KINDS: dict[str, Callable[[], bytes]] = {
    "jpg cmyk": lambda: saved(ON_WHITE.convert("CMYK"), "JPEG", quality=95),
    "jpg grey": lambda: saved(GREY, "JPEG", quality=95),
    "jpg progressive": lambda: saved(ON_WHITE, "JPEG", quality=95, progressive=True),
    "jpg turned": lambda: _turned("JPEG"),
    "png turned": lambda: _turned("PNG"),
    "png palette": lambda: _palette(clear=False),
    "png palette clear": lambda: _palette(clear=True),
    "png grey": lambda: saved(GREY, "PNG"),
    "png grey clear": lambda: saved(Image.merge("LA", (GREY, CLEAR.getchannel("A"))), "PNG"),
    "png one bit": lambda: saved(GREY.convert("1", dither=Image.Dither.NONE), "PNG"),
    "png one bit clear": lambda: saved(
        GREY.convert("1", dither=Image.Dither.NONE), "PNG", transparency=255
    ),
    "png 16 grey": lambda: _png16(_wide(GREY), 0),
    "png 16 grey named clear": _grey16_clear,
    "png 16 grey clear": lambda: _png16(_wide(Image.merge("LA", (GREY, CLEAR.getchannel("A")))), 4),
    "png 16 rgb": lambda: _png16(_wide(ON_WHITE), 2),
    "png 16 rgb named clear": lambda: _png16(
        _wide(ON_WHITE), 2, (b"tRNS", struct.pack(">HHH", 65535, 65535, 65535))
    ),
    "png 16 rgba": lambda: _png16(_wide(CLEAR), 6),
    "png interlaced": lambda: saved(ON_WHITE, "PNG", interlace=1),
}


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_of_picture_is_traced(tmp_path: Path, kind: str) -> None:
    """The disc is found with its size and in its place, and keeps its colour in the print."""
    data = KINDS[kind]()
    end = kind.split()[0]
    folder = written(tmp_path / "t", TOML.replace("KIND", end), **{f"kite__{end}": data})
    found = load_template(folder)
    # a colour named as see-through knows no half covered pixels: up to one more on each side
    pixel = 25.4 / 160
    hard = kind.endswith(("named clear", "palette clear"))
    assert found.size_mm == pytest.approx((20, 20), abs=2 * pixel if hard else pixel)
    artwork = found.artwork["front"]
    x, y, width, height = artwork.box_mm
    assert (x, y) == pytest.approx((-10, -5), abs=0.12)
    assert (width, height) == pytest.approx((60, 40), abs=0.2)
    assert isinstance(artwork.picture, RasterPicture)
    with Image.open(BytesIO(artwork.picture.data)) as image:
        assert image.mode in ("L", "RGB", "RGBA")
        assert image.size == artwork.picture.size_px
        at = round(20 / 60 * image.width), round(25 / 40 * image.height)
        colour = image.convert("RGB").getpixel(at)
    grey = any(word in kind for word in ("grey", "bit"))
    expected = ((60,) * 3 if "grey" in kind else (0,) * 3) if grey else RED
    assert colour == pytest.approx(expected, abs=8)
    clear = "clear" in kind or "rgba" in kind
    assert (artwork.seen is None) == clear
