"""Artwork in SVG: flat shapes that stay vectors, or the reasons why they cannot."""

from collections import defaultdict
from dataclasses import dataclass
from typing import Literal, cast

from shapely import STRtree, box

from namebatch.curves import transform
from namebatch.template.model import PaintedPath, VectorPicture
from namebatch.template.problems import FileProblem, Problems
from namebatch.template.svg.colour import colour
from namebatch.template.svg.corners import MITRE_LIMIT, mitre_ratios
from namebatch.template.svg.extent import Bounds, reach, scales, stroke_width, within
from namebatch.template.svg.thick import line_area
from namebatch.template.svg.units import number
from namebatch.template.svg.walk import read_drawing
from namebatch.template.svg.walk_model import Drawn

FARTHEST_MM = 100_000.0
CAPS = ("butt", "round", "square")
JOINS = ("miter", "round", "bevel")
EVEN = 1.001
"""A map whose stretches differ by less scales a line evenly."""


@dataclass(frozen=True, slots=True)
class SvgArtwork:
    """An SVG picture, before its place on the base is known.

    Attributes:
        picture: its flat shapes; only to be used when `effects` is empty.
        effects: (place, what) that flat shapes cannot show.
        overflows: True if shapes reach out of the picture, where SVG would clip them.
    """

    picture: VectorPicture
    effects: tuple[tuple[str, str], ...]
    overflows: bool


def read_artwork(data: bytes, name: str, problems: Problems) -> SvgArtwork | None:
    """An SVG file as artwork; None with problems noted.

    Args:
        data: the file's bytes.
        name: of the file, for messages.
        problems: gets one line for each thing in the way.
    """
    before = len(problems)
    try:
        drawing = read_drawing(data, name, problems)
    except FileProblem as problem:
        problems.add(problem.place, problem.message)
        return None
    for place in drawing.texts:
        problems.add(
            place,
            "is text, and this machine's typefaces are not part of the template; turn the letters "
            'into outlines, or set them with a [[text]] that has a fixed "line".',
        )
    effects = list(drawing.effects)
    shapes: list[PaintedPath] = []
    groups: dict[int, list[Bounds]] = defaultdict(list)
    whole = (0.0, 0.0, *drawing.size_mm)
    overflows = False
    for drawn in drawing.shapes:
        try:
            painted = [] if _has_effect(drawn) else painted_paths(drawn)
            limits = reach(drawn)
            if _bevels(drawn):
                effects.append((drawn.place, "pointed corners past a mitre limit of their own"))
        except ValueError as error:
            problems.add(drawn.place, f"{error}.")
            continue
        if max(map(abs, limits)) > FARTHEST_MM:
            problems.add(drawn.place, "lies more than 100 m away; look at transform and viewBox.")
            continue
        overflows = overflows or (bool(painted) and not within(limits, whole))
        shapes += painted
        parts = len(painted) if len(painted) != 1 else _parts(painted[0])
        for group in drawn.groups:
            groups[group] += [limits] * parts
    if any(_overlap(boxes) for boxes in groups.values()):
        effects.append((name, "see-through groups whose shapes overlap"))
    if len(problems) > before:
        return None
    if not shapes and not effects:
        problems.add(name, "shows nothing; draw something in it or leave the artwork out.")
        return None
    return SvgArtwork(VectorPicture(tuple(shapes), drawing.size_mm), tuple(effects), overflows)


def _has_effect(drawn: Drawn) -> bool:
    """True for paint that is not a plain colour; the drawing's effects name it already."""
    return any(drawn.style[key].startswith(("url(", "context-")) for key in ("fill", "stroke"))


def painted_paths(drawn: Drawn) -> list[PaintedPath]:
    """A shape as flat paint, in mm: nothing, one, or its fill and its thickened line apart.

    Raises:
        ValueError: a colour, opacity or width that is none.
    """
    fill, fill_opacity = _paint(drawn, "fill")
    stroke, stroke_opacity = _paint(drawn, "stroke")
    width = stroke_width(drawn)
    least, most = scales(drawn.affine)
    if least == 0 or (fill is None and (stroke is None or width == 0)):
        return []
    rule: Literal["nonzero", "evenodd"] = (
        "evenodd" if drawn.style["fill-rule"] == "evenodd" else "nonzero"
    )
    path = transform(drawn.path, drawn.affine)
    cap, join = _word(drawn, "stroke-linecap", CAPS), _word(drawn, "stroke-linejoin", JOINS)
    plain = stroke is None or width == 0
    if plain or (most <= least * EVEN and not _own_mitres(drawn)):
        return [
            PaintedPath(
                path,
                fill,
                rule,
                fill_opacity,
                None if plain else stroke,
                0.0 if plain else width * (least + most) / 2,
                stroke_opacity,
                cast(Literal["butt", "round", "square"], cap),
                cast(Literal["miter", "round", "bevel"], join),
            )
        ]
    # A line stretched more one way than the other, or with mitres longer than later rooms
    # draw them, is handed over as the area that it inks.
    flat: list[PaintedPath] = []
    if fill is not None:
        flat.append(PaintedPath(path, fill, rule, fill_opacity, None, 0.0, 1.0, "butt", "miter"))
    area = line_area(drawn, width, cap, join)
    if area:
        flat.append(
            PaintedPath(area, stroke, "evenodd", stroke_opacity, None, 0.0, 1.0, "butt", "miter")
        )
    return flat


def _own_mitres(drawn: Drawn) -> bool:
    """True if a corner looks different under the line's own mitre limit than under SVG's."""
    limit = number(drawn.style["stroke-miterlimit"])
    if limit == MITRE_LIMIT or _word(drawn, "stroke-linejoin", JOINS) != "miter":
        return False
    low, high = sorted((limit, MITRE_LIMIT))
    return any(low < ratio <= high for ratio in mitre_ratios(drawn.path))


def _bevels(drawn: Drawn) -> bool:
    """True if a line that is handed over as an area has corners past its limit.

    There SVG bevels, and thickening a line cuts the mitre short instead.
    """
    if stroke_width(drawn) == 0 or _word(drawn, "stroke-linejoin", JOINS) != "miter":
        return False
    least, most = scales(drawn.affine)
    limit = number(drawn.style["stroke-miterlimit"])
    thick = most > least * EVEN or _own_mitres(drawn)
    return thick and any(ratio > limit for ratio in mitre_ratios(drawn.path))


def _paint(drawn: Drawn, key: Literal["fill", "stroke"]) -> tuple[str | None, float]:
    """A plain colour, or None, and its opacity with everything above it."""
    text = drawn.style[key]
    found = colour(drawn.style["color"] if text.lower() == "currentcolor" else text)
    share = drawn.style[f"{key}-opacity"]
    own = number(share[:-1]) / 100 if share.endswith("%") else number(share)
    opacity = min(1.0, max(0.0, own)) * drawn.opacity
    if found is None or opacity == 0:
        return None, 1.0
    return found[0], round(opacity * found[1], 6)


def _word(drawn: Drawn, key: str, words: tuple[str, str, str]) -> str:
    """A keyword; what SVG has more of than we draw falls back to the first."""
    return drawn.style[key] if drawn.style[key] in words else words[0]


def _parts(painted: PaintedPath) -> int:
    """How often one shape paints over itself."""
    return 2 if painted.fill is not None and painted.stroke is not None else 1


def _overlap(boxes: list[Bounds]) -> bool:
    """True if two of the boxes meet."""
    if len(boxes) < 2:
        return False
    shapes = [box(*limits) for limits in boxes]
    tree = STRtree(shapes)
    # One at a time: the first meeting ends it, all pairs at once could be millions.
    return any(len(tree.query(shape, predicate="intersects")) > 1 for shape in shapes)
