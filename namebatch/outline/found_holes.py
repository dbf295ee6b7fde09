"""Holes whose place is found for each piece: cut into a finished outline. Lengths in mm."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import shapely
from shapely import GeometryCollection, MultiPolygon, Polygon, box

from namebatch.finding import Finding, warn
from namebatch.outline.hairs import without_hairs
from namebatch.outline.hang import TILT_WARN_DEG, Hang
from namebatch.outline.mend import Mended
from namebatch.outline.mend_tab import mend_at_tab
from namebatch.outline.model import Letter, Limits, NamedHole, Order
from namebatch.outline.place_hole import PlacedHole, hang_about, place_hole
from namebatch.template.model import FoundHole

GAP_SHARE = 0.18
"""Gaps up to twice this share of the letters' height belong to the lettering."""

FIELD_MM = 0.05
"""As exact as the field of the lettering has to be."""
NEAR = 8.0
"""What is mended beside a tab lies within so many least widths and kerfs of it."""

FILLED_SHARE = 0.02
"""A letter is told if more than this share of what it takes up, gaps included, is filled."""


@dataclass(frozen=True, slots=True)
class Pierced:
    """An outline with its found holes.

    Attributes:
        made: the outline with tabs and holes, normalised, and what is known of it.
        hang: by the first of them; None where none was placed or where a fixed hole carries
            the piece.
        holes: those that were placed.
        findings: what there is to say about them.
    """

    made: Mended
    hang: Hang | None
    holes: tuple[NamedHole, ...]
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class _Lettering:
    """What a hole had better not be read as part of.

    Attributes:
        field: letters that are part of the outline, see `lettering_field`.
        hulls: those that stand on the piece, each with its hull.
    """

    field: shapely.Geometry
    hulls: Sequence[tuple[Letter, shapely.Geometry]]


def cut_found_holes(order: Order, made: Mended) -> Pierced:
    """Find a place for every hole that has none; the first carries the piece.

    A hole keeps its exact size. Where a tab has grown, slits and thin places beside it are
    mended before the hole is cut.

    Args:
        order: holes, limits and lettering.
        made: the outline, joined and mended; it is given back where no hole is cut.
    """
    if not order.found_holes:
        return Pierced(made, None, (), ())
    findings: list[Finding] = []
    done: list[NamedHole] = []
    carrier: tuple[NamedHole, FoundHole, Polygon] | None = None
    on = _Lettering(lettering_field(order), _hulls_of(order))
    for name, wanted in zip(names_of(order), order.found_holes, strict=True):
        others = [*order.holes, *(other.shape for other in done)]
        result = _cut(order, made.shape, wanted, name, on, others)
        if isinstance(result, Finding):
            findings.append(result)
            continue
        hole, after, told = result
        findings += told
        carrier = carrier or (hole, wanted, made.shape)
        done.append(hole)
        made = after
    if carrier is None or order.holes:
        return Pierced(made, None, tuple(done), tuple(findings))
    hole, wanted, before = carrier
    hang = hang_about(made.shape, hole.shape, wanted.near, before)
    if hang.tilt_deg > TILT_WARN_DEG:
        findings.append(_leaning(hole.name, wanted, hang.tilt_deg))
    return Pierced(made, hang, tuple(done), tuple(findings))


def names_of(order: Order) -> list[str]:
    """What the found holes are called in messages, for example ``the ring hole of 4 mm``.

    They are numbered, after the holes with a given place, if the template has several.
    """
    several = len(order.holes) + len(order.found_holes) > 1
    names = []
    for number, hole in enumerate(order.found_holes, len(order.holes) + 1):
        kind = (
            f"ring hole of {hole.width_mm:g} mm"
            if hole.shape == "round"
            else f"slot of {hole.length_mm:g} × {hole.width_mm:g} mm"
        )
        where = _where(hole)
        names.append(f"hole {number}, a {kind} {where}," if several else f"the {kind} {where}")
    return names


def wall_notes(holes: Sequence[FoundHole], limits: Limits) -> tuple[str, ...]:
    """A sentence if the material asks for thicker walls round found holes than the template."""
    least = min((hole.wall_mm for hole in holes), default=limits.required_mm)
    if least >= limits.required_mm:
        return ()
    return (
        f"The wall round a found hole is {limits.required_mm:g} mm instead of {least:g} mm: the "
        "material can be no narrower.",
    )


def _where(hole: FoundHole) -> str:
    if isinstance(hole.near, tuple):
        return f"near x {hole.near[0]:g}, y {hole.near[1]:g} mm"
    edge = hole.near.replace("-", " ")
    return f"near the {edge} corner" if "-" in hole.near else f"near the {edge}"


def lettering_field(order: Order) -> shapely.Geometry:
    """Letters that are part of the outline, with their counters and the gaps between them."""
    if order.rule != "weld" or order.text.is_empty:
        return Polygon()
    x0, y0, x1, y1 = order.text.bounds
    reach = GAP_SHARE * min(x1 - x0, y1 - y0)
    closed = shapely.buffer(shapely.buffer(order.text, reach, quad_segs=4), -reach, quad_segs=4)
    hulls = [shapely.convex_hull(letter.shape) for letter in order.letters]
    return shapely.simplify(shapely.union_all([closed, *hulls]), FIELD_MM)


def _cut(
    order: Order,
    shape: Polygon,
    wanted: FoundHole,
    name: str,
    on: _Lettering,
    others: Sequence[Polygon],
) -> tuple[NamedHole, Mended, list[Finding]] | Finding:
    """One hole, the outline with it, and what there is to say; or why it has no place."""
    result = _placed(order, shape, wanted, name, on)
    if isinstance(result, Finding):
        return result
    after = Mended(shapely.normalize(result.shape))
    told = [_over_ink(name)] if result.over_ink else _in_letters(on, name, result.hole)
    if result.tab is not None:
        after, sound = _mended(order, after.shape, result.tab, [result.hole, *others])
        if not sound:
            # refused: without a tab the hole may lean, but nothing gets thin
            plain = _placed(order, shape, replace(wanted, tab=False), name, on)
            if isinstance(plain, PlacedHole) and not plain.over_ink:
                return NamedHole(name, plain.hole), Mended(shapely.normalize(plain.shape)), []
            told.append(_not_mended(name))
        told += _over_letters(order, name, (shape, after.shape), on.field, result.tab)
    return NamedHole(name, result.hole), after, told


def _placed(
    order: Order, shape: Polygon, wanted: FoundHole, name: str, on: _Lettering
) -> PlacedHole | Finding:
    return place_hole(
        shape,
        wanted.shape,
        wanted.width_mm,
        wanted.near,
        max(wanted.wall_mm, order.limits.required_mm),
        length_mm=wanted.length_mm,
        tab=wanted.tab,
        avoid=order.avoid,
        spare=order.picture,
        field=on.field,
        letters=GeometryCollection([hull for _, hull in on.hulls]),
        bare=_alike(order),
        name=name,
    )


def _alike(order: Order) -> Polygon | None:
    """The base where pieces differ by what stands out of it or is cut through it."""
    return order.base if order.rule in ("weld", "open") and not order.base.is_empty else None


def _hulls_of(order: Order) -> list[tuple[Letter, shapely.Geometry]]:
    """Letters that stand on a piece whose lines they do not make, with their hulls."""
    letters = order.letters if order.rule in ("contour", "open") else ()
    hulls = shapely.convex_hull([letter.shape for letter in letters])
    return list(zip(letters, hulls, strict=True))


def _mended(
    order: Order, shape: Polygon, tab: Polygon | MultiPolygon, holes: Sequence[Polygon]
) -> tuple[Mended, bool]:
    """A piece mended beside its new tab; its holes keep their exact size."""
    made, sound = mend_at_tab(shape, tab, order.limits, MultiPolygon(list(holes)))
    if made.shape is shape:
        return made, sound
    cut = shapely.difference(without_hairs(made.shape), shapely.union_all(list(holes)))
    largest = max(shapely.get_parts(cut), key=lambda part: part.area)
    return Mended(shapely.normalize(largest)), sound


def _over_letters(
    order: Order,
    name: str,
    shapes: tuple[Polygon, Polygon],
    field: shapely.Geometry,
    tab: Polygon | MultiPolygon,
) -> list[Finding]:
    """Name the letters whose counters or gaps a tab fills; shapes before and after it grew."""
    if field.is_empty:
        return []
    x0, y0, x1, y1 = tab.bounds
    far = NEAR * (order.limits.required_mm + order.limits.kerf_mm)
    near = box(x0 - far, y0 - far, x1 + far, y1 + far)
    field = shapely.intersection(field, near)
    lost = shapely.difference(shapely.intersection(shapes[1], field), shapes[0])
    x0, y0, x1, y1 = order.text.bounds
    around = GAP_SHARE / 2 * min(x1 - x0, y1 - y0)
    letters = []
    for letter in order.letters:
        own = shapely.buffer(shapely.convex_hull(letter.shape), around, quad_segs=4)
        if shapely.intersection(lost, own).area > FILLED_SHARE * own.area:
            letters.append(f'"{letter.text}"')
    if not letters:
        return []
    return [
        warn(
            "tab-over-letters",
            f"The tab of {name} fills part of {', '.join(letters)} or the gap beside; "
            "there was no clearer place. Look whether the name can still be read, or take another "
            "edge or a smaller hole.",
        )
    ]


def _in_letters(on: _Lettering, name: str, hole: Polygon) -> list[Finding]:
    """Name the letters in whose counters a hole lies."""
    inside = [
        f'"{letter.text}"'
        for letter, hull in on.hulls
        if shapely.intersection(hull, hole).area > hole.area / 4
    ]
    if not inside:
        return []
    return [
        warn(
            "hole-in-letter",
            f"{_capital(name)} lies inside {', '.join(inside)} and may be read as part of it; no "
            "other place was found where the piece hangs straight. Take another edge or a smaller "
            "hole, or allow a tab.",
        )
    ]


def _not_mended(name: str) -> Finding:
    return warn(
        "tab-not-mended",
        f"Beside the tab of {name} thin or slit places may be left. Take another edge or a "
        "smaller hole.",
    )


def _over_ink(name: str) -> Finding:
    return warn(
        "hole-over-text",
        f"{_capital(name)} lies over a text; there was no other place. Take another edge or a "
        "smaller hole, or allow a tab.",
    )


def _leaning(name: str, wanted: FoundHole, tilt_deg: float) -> Finding:
    tab = "" if wanted.tab else ", or allow a tab"
    return warn(
        "hangs-askew",
        f"Hung by {name} the piece leans by {tilt_deg:.1f}°; no place was found where it hangs "
        f"straighter. Take another edge or a smaller hole{tab}.",
    )


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
