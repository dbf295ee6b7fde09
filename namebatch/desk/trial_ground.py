"""The shape of a template with its picture, drawn to be seen behind its text boxes."""

from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from shapely import Polygon, box

from namebatch.output.picture import CUT_COLOUR
from namebatch.output.picture_data import svg_path
from namebatch.output.preview import artwork_svg
from namebatch.template import pictures
from namebatch.template.base import read_base
from namebatch.template.folder import TOML_NAME, listed
from namebatch.template.load import BLEED_MM
from namebatch.template.model import Artwork
from namebatch.template.problems import FileProblem, Problems
from namebatch.template.toml_file import read_toml
from namebatch.template.traced import read_traced

_ROUND_MM: Final = 4.0
"""Of a picture that is larger than its base, so much is seen beyond it."""


@dataclass(frozen=True, slots=True)
class Ground:
    """The shape with its picture, to be seen behind the text boxes.

    Attributes:
        svg: the document.
        view_mm: x, y, width, height of what it shows, in the template's coordinates (y up).
        size_mm: of the base.
    """

    svg: str
    view_mm: tuple[float, float, float, float]
    size_mm: tuple[float, float]


def ground_alone(folder: Path, tint: str) -> Ground | None:
    """The shape of a template that cannot be read yet, if that much of it can."""
    problems = Problems()
    try:
        tables, _ = read_toml(folder / TOML_NAME)
        files = listed(folder)
        traced = None
        art: dict[str, Any] = tables.get("artwork", {})
        if "trace" in tables["base"]:
            traced = read_traced(tables["base"], art, files, problems)
            base = traced.base if traced else None
        else:
            base = read_base(tables["base"], files, problems)
        if base is None:
            return None
        size = (base.bounds[2], base.bounds[3])
        found = pictures.read_all(art, None, size, BLEED_MM, files, problems, traced)
    except (FileProblem, KeyError):
        return None
    return ground_of(base, found.get("front"), tint)


def ground_of(base: Polygon, artwork: Artwork | None, tint: str) -> Ground:
    """The base with its picture: whole inside of the line, pale beyond it."""
    x0, y0, x1, y1 = base.bounds
    if artwork is not None:
        x, y, width, height = artwork.box_mm
        reach = box(x, y, x + width, y + height).union(base).bounds
        x0, y0 = max(x0 - _ROUND_MM, reach[0]), max(y0 - _ROUND_MM, reach[1])
        x1, y1 = min(x1 + _ROUND_MM, reach[2]), min(y1 + _ROUND_MM, reach[3])
    line = 0.004 * max(x1 - x0, y1 - y0)
    x0, y0, x1, y1 = x0 - 2 * line, y0 - 2 * line, x1 + 2 * line, y1 + 2 * line
    path = svg_path(base, 0.02)
    art = "" if artwork is None else artwork_svg(artwork)
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{x1 - x0:.3f}mm" '
        f'height="{y1 - y0:.3f}mm" viewBox="0 0 {x1 - x0:.3f} {y1 - y0:.3f}">'
        f'<g transform="matrix(1 0 0 -1 {-x0:.3f} {y1:.3f})"><defs>'
        f'<path id="line" d="{path}" fill-rule="evenodd" clip-rule="evenodd"/>'
        f'<clipPath id="base"><use href="#line"/></clipPath><g id="art">{art}</g></defs>'
        f'<use href="#art" opacity="0.25"/>'
        f'<use href="#line" fill="{tint}" stroke="#fff" stroke-width="{2.4 * line:.3g}"/>'
        f'<use href="#line" fill="{tint}"/><g clip-path="url(#base)"><use href="#art"/></g>'
        f'<use href="#line" fill="none" stroke="{CUT_COLOUR}" stroke-width="{line:.3g}"/>'
        "</g></svg>"
    )
    return Ground(svg, (x0, y0, x1 - x0, y1 - y0), (base.bounds[2], base.bounds[3]))
