"""Artwork that uses more than flat shapes, as pixels, through resvg."""

import base64
import binascii
import os
import re
import subprocess
import sys
from math import floor, sqrt
from pathlib import Path
from typing import NoReturn
from xml.etree.ElementTree import tostring

from defusedxml.ElementTree import fromstring

from namebatch.template.artwork import pixel_size, read_raster
from namebatch.template.model import RasterPicture
from namebatch.template.problems import FileProblem
from namebatch.template.svg.node import parse
from namebatch.template.svg.units import view_box
from namebatch.template.svg.walk import root_size

DPI = 600.0
LEAST_DPI = 150.0
MOST_PIXELS = 40_000_000
MOST_SECONDS = 60
"""A picture of so many pixels with a few wide blurs takes a tenth of that."""
MOST_MEMORY = 3 * 1024**3
"""Address space for drawing it: each see-through group and filter has a layer of its own."""
SAME_SHAPE = 1e-4
"""A view box that differs less from its drawing's proportions is meant to fill it."""
_DATA = re.compile(r"\s*data:image/\w+;base64,(.*)", re.IGNORECASE | re.DOTALL)


def rasterise(data: bytes, name: str, size_mm: tuple[float, float]) -> RasterPicture:
    """An SVG file as pixels at 600 dpi of its final size; fewer if that would be too many.

    Nothing is read from outside the file: `references.check` has refused such files, and
    resvg gets neither folders nor typefaces. It works in a process of its own with bounded time
    and memory: few lines can ask for filters and patterns that take for ever.

    Args:
        data: the file's bytes, checked already.
        name: of the file, for messages.
        size_mm: width and height at which it is printed.

    Raises:
        FileProblem: it cannot be drawn.
    """
    _check_embedded(data, name)
    dpi = resolution(size_mm)
    if dpi < LEAST_DPI:
        raise FileProblem(
            name,
            f"would be {size_mm[0]:.0f} × {size_mm[1]:.0f} mm of pixels, too large to be sharp; "
            "use flat shapes without gradients and effects.",
        )
    width, height = (max(1, round(side / 25.4 * dpi)) for side in size_mm)
    return read_raster(_drawn(_in_pixels(data, name, (width, height)), name, width, height), name)


def _drawn(text: str, name: str, width: int, height: int) -> bytes:
    """A drawing as PNG, made in a process of its own."""
    drawer = str(Path(__file__).with_name("drawer.py"))
    limits = (width, height, MOST_SECONDS, MOST_MEMORY)
    paths = os.pathsep.join(path for path in sys.path if path)
    try:
        done = subprocess.run(
            [sys.executable, "-P", drawer, *map(str, limits)],
            input=text.encode(),
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            timeout=MOST_SECONDS,
            env={**os.environ, "PYTHONPATH": paths},
            check=False,
        )
    except subprocess.TimeoutExpired:
        _refuse(name, f"takes more than {MOST_SECONDS} seconds to draw")
    except OSError as error:
        _refuse(name, f"cannot be drawn here ({error.strerror})")
    if done.returncode != 0 or not done.stdout:
        _refuse(name, "cannot be drawn, or takes too much memory or time")
    return done.stdout


def _refuse(name: str, what: str) -> NoReturn:
    raise FileProblem(
        name, f"{what}; save it as plain SVG without effects, or export a PNG at 300 dpi."
    ) from None


def resolution(size_mm: tuple[float, float]) -> float:
    """Dots an inch for a size: 600, or what 40 megapixels allow."""
    square_inches = size_mm[0] / 25.4 * size_mm[1] / 25.4
    return min(DPI, floor(sqrt(MOST_PIXELS / square_inches)))


def _in_pixels(data: bytes, name: str, size_px: tuple[int, int]) -> str:
    """The file with the size of its root in whole pixels.

    resvg rounds any other size to whole pixels of 96 dpi before it scales, which stretches
    the drawing and cuts its edge by up to half a percent.
    """
    root = fromstring(_text(data, name), forbid_dtd=True)
    width, height, _ = root_size(parse(data, name))
    text = (root.get("viewBox") or "").strip()
    box = view_box(text) if text else (0.0, 0.0, width, height)
    if abs(box[2] * height / (box[3] * width) - 1) < SAME_SHAPE:
        # Half a pixel of another shape is better stretched away than left as a margin.
        root.set("preserveAspectRatio", "none")
    root.set("viewBox", " ".join(f"{value:.9g}" for value in box))
    root.set("width", str(size_px[0]))
    root.set("height", str(size_px[1]))
    return tostring(root, encoding="unicode")


def _text(data: bytes, name: str) -> str:
    """The file as text, as resvg wants it."""
    try:
        if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
            return data.decode("utf-16")
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise FileProblem(name, "is not in UTF-8; save it as plain SVG in UTF-8.") from None


def _check_embedded(data: bytes, name: str) -> None:
    """Refuse embedded pictures whose decoding would be a burden."""
    for node in parse(data, name).walk():
        match = _DATA.match(node.get("href") or "") if node.tag in ("image", "feImage") else None
        if match:
            place = f"{name} {node.label}"
            try:
                picture = base64.b64decode("".join(match[1].split()), validate=True)
            except (binascii.Error, ValueError):
                raise FileProblem(place, "holds a damaged picture; embed it again.") from None
            pixel_size(picture, place)
