"""Pictures in pixels: read with limits, made upright, and in a form that any PDF takes."""

import hashlib
import warnings
from io import BytesIO
from typing import Literal

import numpy as np
from PIL import Image, ImageOps

from namebatch.template.model import RasterPicture
from namebatch.template.problems import FileProblem

LARGEST_BYTES = 64 * 1024 * 1024
MOST_PIXELS = 100_000_000
LONGEST_SIDE = 65_535
"""In pixels; no JPEG can have more (ITU-T T.81)."""
MOST_PASSES = 64
"""Scans of a progressive JPEG, thumbnails included; programs write about ten."""
_PASS = b"\xff\xda"
_ORIENTATION = 0x0112
"""The EXIF tag that says which way up a camera was held."""


def read_raster(data: bytes, place: str) -> RasterPicture:
    """A PNG or JPEG as an upright picture of 8 bits a channel.

    A JPEG that is upright RGB or grey already keeps its bytes; everything else is written
    anew as PNG, without comments, times and profiles, so that equal pictures are equal bytes.

    Raises:
        FileProblem: too large, cut short, or no such picture.
    """
    if len(data) > LARGEST_BYTES:
        raise FileProblem(place, f"is larger than {LARGEST_BYTES >> 20} MiB; make it smaller.")
    picture = _opened(data, place)
    if picture.format == "JPEG" and data.count(_PASS) > MOST_PASSES:
        raise FileProblem(place, "is put together from too many passes; save it again as PNG.")
    try:
        picture.load()
        upright = picture.getexif().get(_ORIENTATION, 1) in (0, 1)
        if picture.format == "JPEG" and upright and picture.mode in ("RGB", "L"):
            return RasterPicture(data, "jpeg", picture.size)
        plain = _plain(ImageOps.exif_transpose(picture))
        return RasterPicture(encoded(plain), "png", plain.size)
    except MemoryError:
        raise FileProblem(place, "needs more memory than there is; scale it down.") from None
    except Exception as error:  # Pillow raises many kinds for broken files
        reason = "cut short" if "truncated" in str(error).lower() else "damaged"
        raise FileProblem(
            place, f"is {reason} and cannot be read to its end; save or copy it again."
        ) from None


def pixel_size(data: bytes, place: str) -> tuple[int, int]:
    """Width and height of a PNG or JPEG without decoding it.

    Raises:
        FileProblem: no such picture, or more pixels than are allowed.
    """
    return _opened(data, place).size


def _opened(data: bytes, place: str) -> Image.Image:
    """A picture whose header is fine and small enough to be decoded."""
    try:
        with warnings.catch_warnings():
            # The size is held against our own limit below; of frames only the first is used.
            warnings.simplefilter("ignore")
            picture = Image.open(BytesIO(data), formats=["PNG", "JPEG"])
    except Image.DecompressionBombError:
        raise FileProblem(place, _too_many("far too many")) from None
    except Exception:  # Pillow raises many kinds for broken headers
        raise FileProblem(
            place, "is not a PNG or JPEG picture that can be read; save it again as PNG."
        ) from None
    width, height = picture.size
    if width * height > MOST_PIXELS:
        raise FileProblem(place, _too_many(f"{width} × {height}"))
    if max(width, height) > LONGEST_SIDE:
        raise FileProblem(
            place,
            f"is {width} × {height} pixels; its sides can have {LONGEST_SIDE} at most, cut it off.",
        )
    return picture


def _too_many(size: str) -> str:
    return f"has {size} pixels; {MOST_PIXELS // 10**6} million are plenty, scale it down."


def _plain(picture: Image.Image) -> Image.Image:
    """RGB or RGBA with 8 bits a channel; a fully opaque alpha is dropped."""
    if picture.mode in ("I;16", "I;16B", "I;16L", "I"):
        picture = _eight_bits(picture)
    see_through = picture.mode in ("RGBA", "LA", "PA", "RGBa", "La")
    if see_through or "transparency" in picture.info:
        mixed = picture.convert("RGBA")
        lowest = mixed.getchannel("A").getextrema()[0]
        return mixed.convert("RGB") if lowest == 255 else mixed
    return picture.convert("RGB")


def _eight_bits(picture: Image.Image) -> Image.Image:
    """Grey of 16 bits in 8; Pillow would cut off bright values, and forget the see-through one."""
    values = np.asarray(picture)
    grey = Image.fromarray((np.clip(values, 0, 0xFFFF) >> 8).astype(np.uint8))
    clear = picture.info.get("transparency")
    if not isinstance(clear, int):
        return grey
    alpha = Image.fromarray(np.where(values == clear, 0, 255).astype(np.uint8))
    return Image.merge("LA", (grey, alpha))


def encoded(picture: Image.Image) -> bytes:
    """The picture as PNG, with nothing in the file but its pixels."""
    picture = picture.copy()
    picture.info.clear()
    out = BytesIO()
    picture.save(out, "PNG", compress_level=6)
    return out.getvalue()


def file_digest(data: bytes) -> str:
    """SHA-256 of a file, hexadecimal."""
    return hashlib.sha256(data).hexdigest()


def kind_of(name: str) -> Literal["svg", "raster"] | None:
    """How a file is read, by the end of its name."""
    end = name.lower().rpartition(".")[2]
    if end == "svg":
        return "svg"
    return "raster" if end in ("png", "jpg", "jpeg") else None
