"""What a printed text covers with its stroke and its shadow, and whether the cut spares them.

Half of a stroke's width lies outside of the letters, round at every corner; the shadow is that
of the letters with their stroke. Letters that are part of the outline are not looked at here:
they are cut along their own edge, and what lies beyond it is cut away on purpose.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import shapely
from shapely import MultiPolygon, affinity

from namebatch.finding import Finding, warn
from namebatch.outline.contour import quarter_chords
from namebatch.piece import Lettering
from namebatch.template.model import FaceName
from namebatch.text.glyphs import as_multipolygon

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
        parts = {"stroke": ground.stroke, "shadow": ground.shadow}
        lost = {name: shapely.difference(part, seen[text.face]) for name, part in parts.items()}
        lost = {name: part for name, part in lost.items() if not part.is_empty}
        if lost:
            findings.append(_warning(text, lost))
    return tuple(findings)


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
