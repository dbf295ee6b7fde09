"""The outline room's front door: an order in, one cuttable outline with its proof out."""

from collections.abc import Sequence
from dataclasses import dataclass

import shapely
from shapely import Polygon

from namebatch.curves import Point
from namebatch.finding import Finding, hold, is_held, note, warn
from namebatch.outline.chords import BULGE_MM
from namebatch.outline.contour import TooIntricateError
from namebatch.outline.filled import what_is_filled
from namebatch.outline.found_holes import cut_found_holes
from namebatch.outline.gaps import survives_kerf
from namebatch.outline.hang import TILT_WARN_DEG, Hang, hang_by_holes
from namebatch.outline.leaving import leaving
from namebatch.outline.legible import what_letters_lose
from namebatch.outline.mend import Mended, mended
from namebatch.outline.model import Bridge, NamedHole, Order
from namebatch.outline.necks import Neck
from namebatch.outline.rules import RULES
from namebatch.outline.seen import what_is_hidden
from namebatch.outline.tails import thin_tips
from namebatch.outline.thickness import holds_together, narrowest
from namebatch.outline.undersides import what_is_sunk
from namebatch.outline.wide_bridges import with_wide_bridges
from namebatch.template.model import Rule

TOLERANCE_MM = 0.02
LOOK_UP_TO = 4.0
"""Necks are searched up to this many times the least width first."""
WIDEST_MM = 500.0
TAIL_REACH = 4.0
"""A tail thinner than the least width over more than this many widths is told."""
NOTED_MM2 = 0.05
OTHER_FACE = 0.25
"""Thickening that adds more than this share of the letters' area is another typeface."""


@dataclass(frozen=True, slots=True)
class Outline:
    """A finished outline and what was measured on it.

    Attributes:
        shape: valid, one part; the largest part when it falls into several.
        parts: how many parts were left.
        neck: the narrowest place of `shape`.
        required_mm: least width of the material.
        bridges: bars that keep it together.
        added_mm2: what thickening added.
        hang: by its hole, or by two that carry it together; None without.
        findings: holds when the outline must not be cut.
        found_holes: those whose place was found, by name.
    """

    shape: Polygon
    parts: int
    neck: Neck
    required_mm: float
    bridges: tuple[Bridge, ...]
    added_mm2: float
    hang: Hang | None
    findings: tuple[Finding, ...]
    found_holes: tuple[NamedHole, ...] = ()

    @property
    def hang_tilt_deg(self) -> float | None:
        """How far it leans when it hangs; None without a hole."""
        return self.hang.tilt_deg if self.hang else None


def finish(order: Order) -> Outline:
    """Join base and text by a rule, mend what is loose or thin, and prove the result."""
    try:
        joined = with_wide_bridges(order, RULES[order.rule](order))
    except TooIntricateError as error:
        return _nothing(order, hold("outline-too-intricate", str(error)))
    parts = _parts(joined.shape)
    findings: list[Finding] = []
    if not parts:
        empty = "Nothing is left to cut: the text and the base are empty."
        return _nothing(order, hold("no-outline", empty))
    if len(parts) > 1:
        findings.append(_loose(order.rule, parts))
    if order.rule == "open":
        findings += leaving(order.base, order.text, order.limits.required_mm)
    if order.rule == "weld":
        findings += _of_hidden(order)
    made, added = Mended(shapely.normalize(parts[0])), 0.0
    if order.rule != "base" and len(parts) == 1:
        made = mended(order, parts[0])
        added = max(made.shape.area - joined.plain_mm2 - order.base_gain_mm2, 0.0)
        if order.rule == "open":
            findings += what_letters_lose(order, made.shape, added)
        else:
            findings += _of_thickening(order, added)
        if order.rule == "weld":
            findings += what_is_filled(order, made.shape, added)
    pierced = cut_found_holes(order, made)
    findings += pierced.findings
    made, shape, hang = pierced.made, pierced.made.shape, pierced.hang
    neck = _neck(shape, order.limits.required_mm)
    findings += _measured(order, made, neck)
    if order.holes:
        hang = hang_by_holes(shape, order.holes)
        if hang.tilt_deg > TILT_WARN_DEG:
            findings.append(_leaning(hang.tilt_deg))
    if joined.bridges and len(parts) == 1:
        findings.append(_of_bridges(order.rule, len(joined.bridges)))
    return Outline(
        shape,
        len(parts),
        neck,
        order.limits.required_mm,
        joined.bridges,
        added,
        hang,
        tuple(findings),
        pierced.holes,
    )


def _parts(shape: shapely.Geometry) -> list[Polygon]:
    found = [p for p in shapely.get_parts(shape) if isinstance(p, Polygon) and p.area > 0]
    return sorted(found, key=lambda part: (-part.area, part.bounds))


def _of_hidden(order: Order) -> list[Finding]:
    """What of a name that can be read at all the base hides."""
    hidden = what_is_hidden(order)
    return hidden if is_held(hidden) else [*hidden, *what_is_sunk(order)]


def _neck(shape: Polygon, required_mm: float) -> Neck:
    """The narrowest place; looked for near the limit first, then everywhere."""
    neck = narrowest(shape, required_mm, LOOK_UP_TO * required_mm)
    return neck if neck.at is not None else narrowest(shape, required_mm, WIDEST_MM)


def _measured(order: Order, made: Mended, neck: Neck) -> list[Finding]:
    """What the finished shape fails in; what mending has shown already is not asked again."""
    shape = made.shape
    required, kerf = order.limits.required_mm, order.limits.kerf_mm
    findings: list[Finding] = []
    if not shapely.is_valid(shape):
        findings.append(
            hold(
                "outline-not-valid",
                f"The outline crosses itself ({shapely.is_valid_reason(shape)}). "
                "Choose another typeface.",
            )
        )
    if not made.is_open and not survives_kerf(shape, kerf):
        findings.append(
            hold(
                "gap-narrower-than-kerf",
                f"A hole, a slot or a gap between letters is narrower than the kerf of {kerf:g} mm "
                "and would close up. Make it wider, choose another typeface or correct the kerf "
                "in the workshop file.",
            )
        )
    if neck.width_mm < required - TOLERANCE_MM and not holds_together(
        shape, neck.width_mm + BULGE_MM / 2
    ):
        findings.append(_narrow(neck, required))
    tails = [] if made.is_firm else _tails(shape, required)
    if tails:
        where = ", ".join(f"x {x:.1f}, y {y:.1f}" for x, y in tails[:3])
        findings.append(
            warn(
                "thin-tail",
                f"A part that hangs by one end is thinner than {required:g} mm over more than "
                f"{TAIL_REACH * required:g} mm (at {where} mm) and breaks off easily.",
            )
        )
    return findings


def _tails(shape: Polygon, required_mm: float) -> list[Point]:
    return thin_tips(shape, required_mm - TOLERANCE_MM, TAIL_REACH * required_mm)


def _of_thickening(order: Order, added_mm2: float) -> list[Finding]:
    if added_mm2 < NOTED_MM2:
        return []
    share = added_mm2 / max(order.text.area, 1e-9)
    if share > OTHER_FACE:
        return [
            warn(
                "thickened-much",
                f"Thin strokes were made {order.limits.required_mm:g} mm wide, which adds "
                f"{100 * share:.0f} % to the letters: look whether it still is that typeface. A "
                "heavier one, or a larger size, needs less.",
            )
        ]
    return [
        note(
            "thickened",
            f"Places thinner than {order.limits.required_mm:g} mm and slits narrower than the kerf "
            f"were filled out ({added_mm2:.1f} mm² added).",
        )
    ]


def _of_bridges(rule: Rule, count: int) -> Finding:
    bridges = "1 bridge" if count == 1 else f"{count} bridges"
    verb = "ties" if count == 1 else "tie"
    if rule == "open":
        return note("bridges", f"{bridges} {verb} the insides of letters to the plate.")
    return note("bridges", f"{bridges} {verb} loose dots, accents or letters to the rest.")


def _leaning(tilt_deg: float) -> Finding:
    return warn(
        "hangs-askew",
        f"Hung by its hole the piece leans by {tilt_deg:.1f}°. Move the hole above the middle of "
        "its weight, or let its place be found.",
    )


def _nothing(order: Order, finding: Finding) -> Outline:
    """What there is where nothing can be cut, and why."""
    required = order.limits.required_mm
    return Outline(Polygon(), 0, Neck(0.0, None), required, (), 0.0, None, (finding,))


def _loose(rule: Rule, parts: Sequence[Polygon]) -> Finding:
    """Say how many parts are loose and where they are."""
    centres = [part.representative_point() for part in parts[1:4]]
    where = ", ".join(f"x {p.x:.1f}, y {p.y:.1f}" for p in centres)
    count = len(parts) - 1
    are = "part is" if count == 1 else "parts are"
    if rule == "open":
        return hold(
            "islands-fall-out",
            f"{count} {are} cut free and cannot be tied back (at {where} mm). Choose a stencil "
            "typeface or a larger size.",
        )
    return hold(
        "parts-not-joined",
        f"{count} {are} not joined to the rest, and no bridge can reach (at {where} mm). Choose "
        "another typeface or spelling, or move the holes.",
    )


def _narrow(neck: Neck, required_mm: float) -> Finding:
    x, y = neck.at or (0.0, 0.0)
    where = f" at x {x:.1f}, y {y:.1f} mm" if neck.at else ""
    return hold(
        "too-narrow",
        f"The narrowest place is {neck.width_mm:.2f} mm{where}; this material needs "
        f"{required_mm:g} mm. Choose a heavier typeface, a larger size or a thinner material.",
    )
