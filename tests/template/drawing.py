"""Helpers: pictures of SVG text by resvg, and our own reading of it written out again."""

from io import BytesIO

import numpy as np
import resvg_py
from numpy.typing import NDArray
from PIL import Image

from namebatch.curves import Path
from namebatch.template.model import VectorPicture
from namebatch.template.problems import Problems
from namebatch.template.svg.picture import SvgArtwork, read_artwork

NS = 'xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"'


def svg(body: str, head: str = 'width="80mm" height="60mm" viewBox="0 0 80 60"') -> str:
    """A whole SVG file around some elements."""
    return f"<svg {NS} {head}>{body}</svg>"


def pixels(text: str, width: int) -> NDArray[np.int16]:
    """The picture that resvg makes of SVG text on white: rows, columns, red-green-blue."""
    data = resvg_py.svg_to_bytes(
        svg_string=text, width=width, dpi=96, background="#ffffff", skip_system_fonts=True
    )
    return np.asarray(Image.open(BytesIO(bytes(data))).convert("RGB")).astype(np.int16)


def artwork(text: str) -> tuple[SvgArtwork | None, tuple[str, ...]]:
    """SVG text read as artwork, and the problems."""
    problems = Problems()
    return read_artwork(text.encode("utf-8", "replace"), "art.svg", problems), problems.told()


def path_text(path: Path) -> str:
    """A path as path data."""
    parts: list[str] = []
    for segment in path:
        parts.append(segment.verb)
        parts += [f"{x:.6f},{y:.6f}" for x, y in segment.points]
    return " ".join(parts)


def written_again(picture: VectorPicture) -> str:
    """A vector picture as the plainest SVG: y turned over once, nothing but paths."""
    width, height = picture.size_mm
    shapes = "".join(
        f'<path d="{path_text(s.path)}" fill="{s.fill or "none"}" fill-rule="{s.fill_rule}" '
        f'fill-opacity="{s.fill_opacity}" stroke="{s.stroke or "none"}" '
        f'stroke-width="{s.stroke_width}" stroke-opacity="{s.stroke_opacity}" '
        f'stroke-linecap="{s.line_cap}" stroke-linejoin="{s.line_join}"/>'
        for s in picture.shapes
    )
    head = f'width="{width}mm" height="{height}mm" viewBox="0 0 {width} {height}"'
    return svg(f'<g transform="matrix(1 0 0 -1 0 {height})">{shapes}</g>', head)
