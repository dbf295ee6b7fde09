"""The outline room's front door: shapes in, one cuttable outline with its proof out."""

from collections.abc import Sequence
from dataclasses import dataclass

import shapely
from shapely import MultiPolygon, Polygon

from namebatch.finding import Finding, hold
from namebatch.outline.gaps import close_gaps, survives_kerf
from namebatch.outline.hang import hang_tilt_deg
from namebatch.outline.model import Limits
from namebatch.outline.necks import Neck, narrowest_neck
from namebatch.outline.rules import RULES
from namebatch.template.model import Rule

TOLERANCE_MM = 0.02
LOOK_UP_TO = 4.0
"""Necks are searched up to this many times the least width."""


@dataclass(frozen=True, slots=True)
class Outline:
    """A finished outline and what was measured on it.

    Attributes:
        shape: valid, one part; the largest part when it falls into several.
        parts: how many parts the rule gave.
        neck: the narrowest place of `shape`.
        required_mm: least width of the material.
        hang_tilt_deg: by the first hole, None without.
        findings: holds when the outline must not be cut.
    """

    shape: Polygon
    parts: int
    neck: Neck
    required_mm: float
    hang_tilt_deg: float | None
    findings: tuple[Finding, ...]


def finish(
    rule: Rule,
    base: Polygon,
    text: MultiPolygon,
    holes: Sequence[Polygon],
    limits: Limits,
) -> Outline:
    """Join base and text by a rule and prove the result.

    Args:
        rule: name of the outline rule.
        base: the fixed shape, holes already cut out.
        text: ink that takes part in the outline; empty for ``base``.
        holes: round holes and slots that must stay open, the carrying hole first.
        limits: what the material and the cutter ask for.
    """
    required_mm = limits.required_mm
    joined = RULES[rule](base, text, MultiPolygon(list(holes)))
    parts = sorted(
        (part for part in shapely.get_parts(joined) if isinstance(part, Polygon) and part.area > 0),
        key=lambda part: -part.area,
    )
    findings: list[Finding] = []
    shape = parts[0] if rule == "base" else close_gaps(parts[0], limits.kerf_mm)
    shape = shapely.normalize(shape)
    if not survives_kerf(shape, limits.kerf_mm):
        findings.append(
            hold(
                "gap-narrower-than-kerf",
                "A hole, a slot or a gap between letters is narrower than the kerf of "
                f"{limits.kerf_mm:g} mm and would close up. Make it wider, choose another "
                "typeface or correct the kerf in the workshop file.",
            )
        )
    if len(parts) > 1:
        findings.append(_loose(rule, parts))
    if rule == "open" and not shapely.contains_properly(Polygon(base.exterior), text):
        findings.append(
            hold("text-leaves-base", "The letters reach over the edge of the base. Shorten it.")
        )
    if not shapely.is_valid(shape):
        findings.append(
            hold(
                "outline-not-valid",
                f"The outline crosses itself ({shapely.is_valid_reason(shape)}). "
                "Choose another typeface.",
            )
        )
    neck = narrowest_neck(shape, LOOK_UP_TO * required_mm)
    if neck.at is None:
        neck = narrowest_neck(shape)  # no letters or walls near the limit: measure it all
    if neck.width_mm < required_mm - TOLERANCE_MM:
        findings.append(_narrow(neck, required_mm))
    tilt = hang_tilt_deg(shape, holes[0]) if holes else None
    return Outline(shape, len(parts), neck, required_mm, tilt, tuple(findings))


def _loose(rule: Rule, parts: Sequence[Polygon]) -> Finding:
    """Say how many parts are loose and where they are."""
    centres = [part.representative_point() for part in parts[1:4]]
    where = ", ".join(f"x {p.x:.1f}, y {p.y:.1f}" for p in centres)
    count = len(parts) - 1
    are = "part is" if count == 1 else "parts are"
    if rule == "open":
        return hold(
            "islands-fall-out",
            f"{count} {are} cut free and would fall out (at {where} mm). Choose a stencil "
            "typeface or another spelling.",
        )
    return hold(
        "parts-not-joined",
        f"{count} {are} not joined to the rest: letters, dots or accents that stand alone "
        f"(at {where} mm). Choose a typeface that joins them or another spelling.",
    )


def _narrow(neck: Neck, required_mm: float) -> Finding:
    x, y = neck.at or (0.0, 0.0)
    where = f" at x {x:.1f}, y {y:.1f} mm" if neck.at else ""
    return hold(
        "too-narrow",
        f"The narrowest place is {neck.width_mm:.2f} mm{where}; this material needs "
        f"{required_mm:g} mm. Choose a heavier typeface, a larger size or a thinner material.",
    )
