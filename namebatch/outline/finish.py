"""The outline room's front door: an order in, one cuttable outline with its proof out."""

from collections.abc import Sequence
from dataclasses import dataclass

import shapely
from shapely import MultiPolygon, Polygon

from namebatch.finding import Finding, hold, note, warn
from namebatch.outline.gaps import close_gaps, survives_kerf
from namebatch.outline.hang import hang_tilt_deg
from namebatch.outline.join import join_parts
from namebatch.outline.model import Bridge, Order
from namebatch.outline.necks import Neck
from namebatch.outline.place_hole import place_hole, tilt_about
from namebatch.outline.rules import RULES
from namebatch.outline.thicken import thicken
from namebatch.outline.thickness import narrowest
from namebatch.outline.tips import thin_tips
from namebatch.template.model import FoundHole, Rule

TOLERANCE_MM = 0.02
LOOK_UP_TO = 4.0
"""Necks are searched up to this many times the least width first."""
WIDEST_MM = 500.0
ROUNDS = 6
OPEN_BEYOND_KERF_MM = 0.1
"""Thickening leaves gaps this much wider than the kerf."""
TAIL_REACH = 4.0
"""A tail thinner than the least width over more than this many widths is told."""
LEAST_SEEN = 0.02
"""Share of its ink that a welded letter must show outside the base."""
TILT_WARN_DEG = 5.0
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
        hang_tilt_deg: by the first hole, None without.
        findings: holds when the outline must not be cut.
    """

    shape: Polygon
    parts: int
    neck: Neck
    required_mm: float
    bridges: tuple[Bridge, ...]
    added_mm2: float
    hang_tilt_deg: float | None
    findings: tuple[Finding, ...]


def finish(order: Order) -> Outline:
    """Join base and text by a rule, mend what is loose or thin, and prove the result."""
    joined = RULES[order.rule](order)
    parts = _parts(joined.shape)
    findings: list[Finding] = []
    if not parts:
        return _nothing(order)
    if len(parts) > 1:
        findings.append(_loose(order.rule, parts))
    if order.rule == "open" and not _inside(order):
        findings.append(
            hold("text-leaves-base", "The letters reach over the edge of the base. Shorten it.")
        )
    if order.rule == "weld":
        findings += _drowned(order)
    shape, added = parts[0], 0.0
    open_enough = False
    if order.rule != "base" and len(parts) == 1:
        shape, open_enough = _mended(order, shape)
        added = max(shape.area - joined.plain_mm2, 0.0)
        findings += _of_thickening(order, added)
    shape, tilt = _with_holes(order, shape, findings)
    shape = shapely.normalize(shape)
    neck = _neck(shape, order.limits.required_mm)
    findings += _measured(order, shape, neck, open_enough and not order.found_holes)
    if order.holes:
        tilt = hang_tilt_deg(shape, order.holes[0])
    if tilt is not None and tilt > TILT_WARN_DEG:
        findings.append(_leaning(tilt))
    if joined.bridges and len(parts) == 1:
        findings.append(_of_bridges(order.rule, len(joined.bridges)))
    return Outline(
        shape,
        len(parts),
        neck,
        order.limits.required_mm,
        joined.bridges,
        added,
        tilt,
        tuple(findings),
    )


def _parts(shape: shapely.Geometry) -> list[Polygon]:
    found = [p for p in shapely.get_parts(shape) if isinstance(p, Polygon) and p.area > 0]
    return sorted(found, key=lambda part: (-part.area, part.bounds))


def _drowned(order: Order) -> list[Finding]:
    """Letters that lie in the base cannot be seen on a welded piece: it would be a blank."""
    ground = shapely.union_all([order.base, *order.holes])
    if shapely.difference(order.text, ground).area < LEAST_SEEN * order.text.area:
        return [
            hold(
                "text-in-base",
                "The name lies inside the base and would not be seen on the piece. Move the text "
                "box so that the letters stand out of the base, or engrave the name.",
            )
        ]
    lost = [
        letter.text
        for letter in order.letters
        if shapely.difference(letter.shape, ground).area < LEAST_SEEN * letter.shape.area
    ]
    if not lost:
        return []
    which = ", ".join(f'"{text}"' for text in lost)
    return [
        warn(
            "letters-in-base",
            f"{which} of the name lies inside the base and is not seen. Move the text box up, or "
            "look whether the name can still be read.",
        )
    ]


def _inside(order: Order) -> bool:
    """The letters lie inside the base and leave its own holes alone."""
    return bool(shapely.contains_properly(order.base, order.text))


def _mended(order: Order, shape: Polygon) -> tuple[Polygon, bool]:
    """Fill what the kerf would swallow, thicken what is thin, until it holds.

    Returns:
        The shape, and whether it is known to survive the kerf.
    """
    limits = order.limits
    keep_open = MultiPolygon(list(order.holes))
    for _ in range(ROUNDS):
        closed, open_enough = close_gaps(shape, limits.kerf_mm)
        grown = thicken(
            closed, limits.required_mm, keep_open, open_mm=limits.kerf_mm + OPEN_BEYOND_KERF_MM
        )
        shape = grown.shape
        if grown.added_mm2 == 0.0:
            return shape, open_enough
        again = join_parts(shape, limits.required_mm, order.letters, keep_open)
        if isinstance(again.shape, Polygon):
            shape = again.shape
    return shape, False


def _with_holes(
    order: Order, shape: Polygon, findings: list[Finding]
) -> tuple[Polygon, float | None]:
    """Find a place for every hole that has none; the first carries the piece."""
    carrier: tuple[FoundHole, Polygon, Polygon] | None = None
    for wanted in order.found_holes:
        result = place_hole(
            shape,
            wanted.shape,
            wanted.width_mm,
            wanted.near,
            max(wanted.wall_mm, order.limits.required_mm),
            length_mm=wanted.length_mm,
            tab=wanted.tab,
            avoid=order.avoid,
        )
        if isinstance(result, Finding):
            findings.append(result)
            continue
        if result.over_ink:
            findings.append(
                warn("hole-over-text", "The hole lies over a text; there was no other place.")
            )
        carrier = carrier or (wanted, result.hole, shape)
        shape = result.shape
    if carrier is None or order.holes:
        return shape, None
    wanted, hole, before = carrier
    return shape, tilt_about(shape, hole, wanted.near, before)


def _neck(shape: Polygon, required_mm: float) -> Neck:
    """The narrowest place; looked for near the limit first, then everywhere."""
    neck = narrowest(shape, required_mm, LOOK_UP_TO * required_mm)
    return neck if neck.at is not None else narrowest(shape, required_mm, WIDEST_MM)


def _measured(order: Order, shape: Polygon, neck: Neck, open_enough: bool) -> list[Finding]:
    """What the finished shape fails in."""
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
    if not open_enough and not survives_kerf(shape, kerf):
        findings.append(
            hold(
                "gap-narrower-than-kerf",
                f"A hole, a slot or a gap between letters is narrower than the kerf of {kerf:g} mm "
                "and would close up. Make it wider, choose another typeface or correct the kerf "
                "in the workshop file.",
            )
        )
    if neck.width_mm < required - TOLERANCE_MM:
        findings.append(_narrow(neck, required))
    tails = thin_tips(shape, required - TOLERANCE_MM, TAIL_REACH * required)
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


def _nothing(order: Order) -> Outline:
    finding = hold("no-outline", "Nothing is left to cut: the text and the base are empty.")
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
