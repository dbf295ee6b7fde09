"""Pictures made to do harm: a clear error, in bounded time and memory."""

import struct
import zlib
from io import BytesIO

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from namebatch.template import artwork
from namebatch.template.artwork import pixel_size, read_raster
from namebatch.template.model import RasterPicture
from namebatch.template.problems import FileProblem
from namebatch.template.trace import trace_artwork
from tests.template.images import gradient, saved

SIGNATURE = b"\x89PNG\r\n\x1a\n"
GOOD = saved(gradient(40, 30), "PNG")
GOOD_JPEG = saved(gradient(40, 30), "JPEG", progressive=True)


def chunk(kind: bytes, body: bytes) -> bytes:
    """A chunk of a PNG (ISO 15948)."""
    return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))


def bare_png(width: int, height: int, bits: int = 8, colours: int = 0, body: bytes = b"") -> bytes:
    """A PNG that says what it likes about its size."""
    head = struct.pack(">IIBBBBB", width, height, bits, colours, 0, 0, 0)
    parts = chunk(b"IHDR", head), chunk(b"IDAT", zlib.compress(body)), chunk(b"IEND", b"")
    return SIGNATURE + b"".join(parts)


def with_chunks(*chunks: bytes) -> bytes:
    """A good PNG with more chunks behind its head."""
    return GOOD[:33] + b"".join(chunks) + GOOD[33:]


@pytest.mark.parametrize(
    ("size", "told"),
    [
        ((60_000, 60_000), "has far too many pixels"),
        ((2**31 - 1, 2**31 - 1), "has far too many pixels"),
        ((11_000, 11_000), "has 11000 × 11000 pixels; 100 million are plenty"),
        ((100_000, 900), "is 100000 × 900 pixels; its sides can have 65535 at most"),
        ((1, 99_000_000), "is 1 × 99000000 pixels; its sides can have 65535 at most"),
        ((0, 10), "is not a PNG or JPEG picture"),
        ((0, 0), "is not a PNG or JPEG picture"),
    ],
)
def test_sizes_that_no_picture_has(size: tuple[int, int], told: str) -> None:
    """The head of a file alone decides; not one pixel is unpacked."""
    with pytest.raises(FileProblem, match=told):
        read_raster(bare_png(*size), "kite.png")
    with pytest.raises(FileProblem, match=told):
        pixel_size(bare_png(*size), "kite.png")


def test_passes_without_end() -> None:
    """A JPEG that draws the same pixels over and over is refused before it is unpacked."""
    last = GOOD_JPEG.rfind(b"\xff\xda")
    twice = GOOD_JPEG[:-2] + GOOD_JPEG[last:]
    assert read_raster(twice, "kite.jpg").size_px == (40, 30)
    many = GOOD_JPEG[:-2] + GOOD_JPEG[last:-2] * 100 + b"\xff\xd9"
    with pytest.raises(FileProblem, match=r"put together from too many passes; save it again"):
        read_raster(many, "kite.jpg")


def test_no_memory_left(monkeypatch: pytest.MonkeyPatch) -> None:
    """A picture that the memory does not hold is told as such, also when it is written anew."""

    def full(_: object) -> bytes:
        raise MemoryError

    monkeypatch.setattr(artwork, "encoded", full)
    with pytest.raises(FileProblem, match=r"needs more memory than there is; scale it down"):
        read_raster(GOOD, "kite.png")


@pytest.mark.parametrize(
    "data",
    [
        with_chunks(chunk(b"zTXt", b"a\0\0" + zlib.compress(b"b" * 20_000_000, 9))),
        with_chunks(chunk(b"iCCP", b"a\0\0" + zlib.compress(b"b" * 20_000_000, 9))),
        with_chunks(*[chunk(b"iTXt", b"a\0\1\0\0\0" + zlib.compress(b"b" * 900_000))] * 100),
    ],
    ids=["text", "profile", "many texts"],
)
def test_bombs_beside_the_pixels(data: bytes) -> None:
    """Packed remarks and profiles of many megabytes are not unfolded."""
    with pytest.raises(FileProblem, match="is not a PNG or JPEG picture that can be read"):
        read_raster(data, "kite.png")


@pytest.mark.parametrize(
    "data",
    [
        with_chunks(*[chunk(b"tEXt", b"a\0b")] * 5_000),
        with_chunks(chunk(b"tEXt", b"a\0" + b"b" * 3_000_000)),
        with_chunks(chunk(b"acTL", b"\xff" * 4 + bytes(4))),
        bare_png(10, 10, body=bytes(20_000_000)),
        saved(gradient(40, 30), "PNG", icc_profile=bytes(range(256)) * 9),
        saved(gradient(40, 30), "PNG", dpi=(0, 0)),
    ],
    ids=["many texts", "a long text", "frames without end", "pixels left over", "profile", "dpi"],
)
def test_ballast_is_left_out(data: bytes) -> None:
    """What is not pixels neither hinders the reading nor gets into what is kept."""
    assert len(read_raster(data, "kite.png").data) < 20_000


@pytest.mark.parametrize("orientation", range(12))
def test_every_turn_of_a_camera(orientation: int) -> None:
    """All eight ways of EXIF 2.3 stand upright afterwards; numbers beyond them mean nothing."""
    exif = Image.Exif()
    exif[0x0112] = orientation
    read = read_raster(saved(gradient(40, 30), "PNG", exif=exif), "kite.png")
    assert read.size_px == ((30, 40) if 5 <= orientation <= 8 else (40, 30))


def test_sixteen_bits_become_eight() -> None:
    """Grey of 16 bits keeps its upper eight, the brightest and the darkest too."""
    values = np.array([[0, 255, 256], [32_768, 65_279, 65_535]], dtype=np.uint16)
    with Image.open(BytesIO(read_raster(saved(Image.fromarray(values), "PNG"), "x").data)) as out:
        assert np.asarray(out)[:, :, 0].tolist() == [[0, 0, 1], [128, 254, 255]]


def test_noise_is_not_traced() -> None:
    """A picture of nothing but edges is refused before any of them is followed."""
    chequer = (np.indices((800, 800)).sum(axis=0) % 2 * 255).astype(np.uint8)
    data = saved(Image.fromarray(np.dstack([chequer] * 4)), "PNG")
    found = trace_artwork(RasterPicture(data, "png", (800, 800)), (60, 60))
    assert found.shape is None
    assert "falls into thousands of specks; smooth it" in found.problems[-1]


@settings(max_examples=120)
@given(
    jpeg=st.booleans(),
    flips=st.lists(st.tuples(st.integers(0, 3_000), st.integers(0, 255)), max_size=4),
    cut=st.integers(0, 3_000),
    moved=st.tuples(st.integers(0, 3_000), st.integers(0, 64), st.integers(0, 3_000)),
    sound=st.booleans(),
)
def test_damage(
    jpeg: bool,
    flips: list[tuple[int, int]],
    cut: int,
    moved: tuple[int, int, int],
    sound: bool,
) -> None:
    """Bytes flipped, cut off and moved, sums put right again: a picture or a FileProblem."""
    data = bytearray(GOOD_JPEG if jpeg else GOOD)
    for where, value in flips:
        data[where % len(data)] = value
    start, length, to = moved[0] % len(data), moved[1], moved[2] % len(data)
    piece = data[start : start + length]
    data[start : start + length] = b""
    data[to:to] = piece
    data = data[: len(data) - cut % (4 * len(data)) // 4 % len(data)]
    if sound and not jpeg:
        data = bytearray(with_right_sums(bytes(data)))
    try:
        read = read_raster(bytes(data), "kite.png")
    except FileProblem as problem:
        assert problem.message.endswith(".")  # noqa: PT017 - both ways out are fine
        return
    assert min(read.size_px) > 0


def with_right_sums(data: bytes) -> bytes:
    """The same chunks with check sums that fit, so that damage gets past them."""
    out, at = data[:8], 8
    while at + 12 <= len(data):
        length = int.from_bytes(data[at : at + 4], "big")
        if at + 12 + length > len(data):
            break
        out += chunk(data[at + 4 : at + 8], data[at + 8 : at + 8 + length])
        at += 12 + length
    return out + data[at:]
