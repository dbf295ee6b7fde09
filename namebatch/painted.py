"""What a printed text covers with its stroke and its shadow, and what is in its way.

Half of a stroke's width lies outside of the letters, round at every corner; the shadow is that
of the letters with their stroke. Letters that are part of the outline are not looked at here:
they are cut along their own edge, and what lies beyond it is cut away on purpose.
"""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from itertools import combinations

import shapely
from shapely import MultiPolygon, affinity

from namebatch.finding import Finding, warn
from namebatch.outline.contour import quarter_chords
from namebatch.piece import Lettering
from namebatch.template.model import FaceName
from namebatch.text.glyphs import as_multipolygon

CLOSED = 0.5
"""Width of a stroke, in capitals' heights, from which half of it fills the insides of letters from
both sides: those of o and e in six bundled faces take circles of 0.11 to 0.38 (measured)."""
ROUNDING_MM = 0.02
CHORD_MM = 0.005
"""Round corners of a stroke are this exact: a quarter of a dot at 1,200 dpi."""


@dataclass(frozen=True, slots=True)
class Ground:
    """What lies beneath the letters of a text, each in mm as the letters are, or empty.

    Attributes:
        shadow: of the letters with their stroke.
        stroke: the letters grown by half of its width.
    """

    shadow: MultiPolygon
    stroke: MultiPolygon


def ground_of(text: Lettering) -> Ground:
    """Shadow and stroke of a text."""
    stroke, shadow = text.paint.stroke, text.paint.shadow
    grown = text.shape
    if stroke is not None:
        reach = stroke.width_mm / 2
        arc = quarter_chords(reach, CHORD_MM)
        grown = as_multipolygon(text.shape.buffer(reach, quad_segs=arc))
    return Ground(
        affinity.translate(grown, *shadow.shift_mm) if shadow is not None else MultiPolygon(),
        grown if stroke is not None else MultiPolygon(),
    )


def covered(text: Lettering) -> MultiPolygon:
    """All that is printed of a text, mm: letters, stroke and shadow."""
    if text.paint.stroke is None and text.paint.shadow is None:
        return text.shape
    ground = ground_of(text)
    return as_multipolygon(shapely.union_all([text.shape, ground.stroke, ground.shadow]))


def cut_off(
    texts: Iterable[Lettering], seen: Mapping[FaceName, shapely.Geometry]
) -> tuple[Finding, ...]:
    """A warning for each printed text whose stroke or shadow the cut would take a part of.

    Args:
        texts: of a piece, all letters inside of it.
        seen: face → the piece as one sees that face, a hair larger than it is.
    """
    findings = []
    for text in texts:
        if text.made != "print" or text.shape.is_empty:
            continue
        ground = ground_of(text)
        lost = {}
        for name, part in (("stroke", ground.stroke), ("shadow", ground.shadow)):
            beyond = part if part.is_empty else shapely.difference(part, seen[text.face])
            if not beyond.is_empty:
                lost[name] = beyond
        if lost:
            findings.append(_warning(text, lost))
    return tuple(findings)


def run_together(texts: Iterable[Lettering], known: Collection[str] = ()) -> tuple[Finding, ...]:
    """A warning for each two texts on one face whose letters or strokes touch or overlap.

    Shadows may lie beneath another text. Letters that are cut belong together where they touch,
    and those without a print of their own hide nothing.

    Args:
        texts: of a piece.
        known: text boxes whose letters are the same on every piece; two of them are not compared.
    """
    seen = [text for text in texts if _is_seen(text)]
    findings = []
    for one, other in combinations(seen, 2):
        cut = one.made == other.made == "outline"
        if one.face != other.face or cut or (one.box in known and other.box in known):
            continue
        reach = _stroke_mm(one) + _stroke_mm(other)
        if shapely.dwithin(one.shape, other.shape, reach):
            findings.append(_collision(one, other))
    return tuple(findings)


def too_thick(texts: Iterable[Lettering]) -> tuple[Finding, ...]:
    """A warning for each printed text whose stroke closes its letters up."""
    findings = []
    for text in texts:
        stroke = text.paint.stroke
        if stroke is None or text.shape.is_empty or stroke.width_mm <= CLOSED * text.height_mm:
            continue
        findings.append(
            warn(
                "stroke-too-thick",
                f'The stroke of "{text.text}" is {stroke.width_mm:g} mm wide round letters '
                f"{text.height_mm:.1f} mm high, and fills them and the gaps between them (text "
                f'"{text.box}"). Take {CLOSED * text.height_mm / 2:.1f} mm or less in the '
                "template.",
            )
        )
    return tuple(findings)


def near_edge(
    texts: Iterable[Lettering], outlines: Mapping[FaceName, shapely.Geometry], least_mm: float
) -> tuple[Finding, ...]:
    """A warning for each engraved or marked text that comes too near a cut.

    Args:
        texts: of a piece, all letters inside of it.
        outlines: face → the piece as one sees that face.
        least_mm: what the material wants between two cuts.
    """
    findings = []
    for text in texts:
        if text.made not in ("engrave", "mark") or text.shape.is_empty:
            continue
        edge = outlines[text.face].boundary
        if shapely.dwithin(text.shape, edge, least_mm - ROUNDING_MM):
            near = shapely.shortest_line(text.shape, edge)
            at = shapely.get_point(near, 0)
            findings.append(
                warn(
                    "text-near-edge",
                    f'"{text.text}" comes within {near.length:.1f} mm of a cut edge at x '
                    f'{at.x:.1f}, y {at.y:.1f} mm (text "{text.box}"), nearer than the '
                    f"{least_mm:g} mm below which the material chars or breaks. Draw the text's "
                    "place farther inside in the template.",
                )
            )
    return tuple(findings)


def _is_seen(text: Lettering) -> bool:
    printed = text.colour is not None or text.paint.gradient is not None
    return not text.shape.is_empty and (text.made != "outline" or printed)


def _stroke_mm(text: Lettering) -> float:
    """How far the stroke reaches beyond the letters."""
    return text.paint.stroke.width_mm / 2 if text.paint.stroke else 0.0


def _collision(one: Lettering, other: Lettering) -> Finding:
    near = shapely.shortest_line(one.shape, other.shape)
    at = near.interpolate(0.5, normalized=True)
    if shapely.intersects(one.shape, other.shape):
        at = shapely.intersection(one.shape, other.shape).representative_point()
    return warn(
        "texts-overlap",
        f'"{one.text}" and "{other.text}" run into each other on the {one.face} at x {at.x:.1f}, '
        f'y {at.y:.1f} mm (texts "{one.box}" and "{other.box}"). Draw their places farther apart '
        "in the template, or take a smaller max_height_mm for one.",
    )


def _warning(text: Lettering, lost: Mapping[str, shapely.Geometry]) -> Finding:
    """One finding for stroke and shadow of a text."""
    at = next(iter(lost.values())).representative_point()
    what = " and the ".join(lost)
    reach, are = ("reach", "are") if len(lost) > 1 else ("reaches", "is")
    less = {"stroke": "a thinner stroke", "shadow": "a smaller shift of the shadow"}
    return warn(
        "paint-leaves-piece",
        f'The {what} of "{text.text}" {reach} over the edge of the piece or into a hole (text '
        f'"{text.box}", {text.face}, at x {at.x:.1f}, y {at.y:.1f} mm) and {are} cut off there. '
        f"Draw the text's box smaller in the template, or take "
        f"{' and '.join(less[name] for name in lost)}.",
    )
