"""Pictures in pixels: every kind ends upright, in 8 bits, as PNG or untouched JPEG."""

from io import BytesIO

import numpy as np
import pytest
from PIL import Image

from namebatch.template.artwork import MOST_PIXELS, kind_of, read_raster
from namebatch.template.problems import FileProblem
from tests.template.images import bare_png, gradient, jpeg, png, saved


def opened(data: bytes) -> Image.Image:
    """A picture's pixels."""
    picture = Image.open(BytesIO(data))
    picture.load()
    return picture


def test_png_keeps_its_pixels() -> None:
    """Reading and writing again changes no pixel, and is the same every time."""
    found = read_raster(png(40, 30), "a.png")
    assert (found.kind, found.size_px) == ("png", (40, 30))
    assert np.array_equal(np.asarray(opened(found.data)), np.asarray(gradient(40, 30)))
    assert read_raster(png(40, 30), "a.png") == found


def test_comments_and_profiles_do_not_count() -> None:
    """Two files with the same pixels and different notes become the same bytes."""
    noted = saved(gradient(40, 30), "PNG", icc_profile=b"x" * 200, dpi=(72, 72))
    assert read_raster(noted, "a.png").data == read_raster(png(40, 30), "a.png").data


@pytest.mark.parametrize("turn", range(1, 9))
def test_cameras_are_held_any_way_up(turn: int) -> None:
    """After all eight EXIF orientations (EXIF 2.3, tag 0x0112) the same corner is top left."""
    methods = {
        2: Image.Transpose.FLIP_LEFT_RIGHT,
        3: Image.Transpose.ROTATE_180,
        4: Image.Transpose.FLIP_TOP_BOTTOM,
        5: Image.Transpose.TRANSPOSE,
        6: Image.Transpose.ROTATE_90,
        7: Image.Transpose.TRANSVERSE,
        8: Image.Transpose.ROTATE_270,
    }
    picture = gradient(48, 32)
    stored = picture.transpose(methods[turn]) if turn in methods else picture
    exif = Image.Exif()
    exif[0x0112] = turn
    found = read_raster(saved(stored, "JPEG", quality=95, subsampling=0, exif=exif), "a.jpg")
    assert found.kind == ("jpeg" if turn == 1 else "png")
    assert found.size_px == (48, 32)
    ours = np.asarray(opened(found.data)).astype(int)
    assert np.abs(ours - np.asarray(picture).astype(int)).mean() < 4


def test_every_mode_becomes_rgb_or_rgba() -> None:
    """CMYK, palettes, grey, one bit, sixteen bits and alpha all end in 8 bit colour."""
    picture = gradient(20, 10)
    see_through = picture.convert("RGBA")
    see_through.paste((0, 0, 0, 0), (0, 0, 10, 10))
    cases = {
        saved(picture.convert("CMYK"), "JPEG", quality=95): "RGB",
        saved(picture.quantize(16), "PNG"): "RGB",
        saved(see_through.quantize(16), "PNG"): "RGBA",
        saved(picture.convert("L"), "PNG"): "RGB",
        saved(picture.convert("1"), "PNG"): "RGB",
        saved(picture.convert("LA"), "PNG"): "RGB",
        saved(see_through, "PNG"): "RGBA",
        saved(picture, "PNG", transparency=(0, 0, 60)): "RGBA",
    }
    for data, mode in cases.items():
        found = read_raster(data, "a.png")
        assert (found.kind, opened(found.data).mode) == ("png", mode)


def test_sixteen_bits_are_scaled_not_cut_off() -> None:
    """Grey 32768 of 65535 is middle grey, 65535 is white."""
    values = np.array([[0, 32768, 65535]], dtype=np.uint16)
    found = read_raster(saved(Image.fromarray(values), "PNG"), "a.png")
    assert np.asarray(opened(found.data))[0, :, 0].tolist() == [0, 128, 255]


@pytest.mark.parametrize("make", [png, jpeg])
def test_cut_short_files_are_told(make: object) -> None:
    """A picture whose copying broke off is refused, whichever part is missing."""
    data = png(300, 200) if make is png else jpeg(300, 200)
    for share in (0.02, 0.3, 0.9):
        with pytest.raises(FileProblem, match=r"front: is (cut short|damaged|not a PNG)"):
            read_raster(data[: int(len(data) * share)], "front")


def test_bombs_are_refused_by_their_head() -> None:
    """A file that claims too many pixels is refused before a pixel is made."""
    for width, height in ((10_001, 10_000), (60_000, 60_000), (2**31 - 1, 1)):
        assert width * height > MOST_PIXELS
        with pytest.raises(FileProblem, match=r"front: has .* pixels"):
            read_raster(bare_png(width, height), "front")


def test_other_files_are_no_pictures() -> None:
    """GIF, text and nothing at all are refused with what to do."""
    gif = saved(gradient(9, 9), "GIF")
    for data in (gif, b"kite", b""):
        with pytest.raises(FileProblem, match="save it again as PNG"):
            read_raster(data, "front")


def test_kinds_go_by_the_end_of_the_name() -> None:
    """Capital letters do not matter, other ends are not known."""
    assert [kind_of(n) for n in ("a.SVG", "a.Png", "b.jpeg", "b.JPG", "c.gif", "svg")] == [
        "svg", "raster", "raster", "raster", None, "svg",
    ]  # fmt: skip
