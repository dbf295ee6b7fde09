"""Pieces that are larger than a sheet, split into parts that fit. Lengths in mm."""

from collections.abc import Sequence
from dataclasses import replace
from itertools import product

import shapely
from shapely import Polygon, affinity

from namebatch.errors import OutlineError
from namebatch.finding import Finding, hold, note, warn
from namebatch.outline import Bridge
from namebatch.outline.found_joints import Size, fewest, found_split
from namebatch.outline.joint import BEYOND_MM, JointLine, JointOrder
from namebatch.outline.split import TOLERANCE_MM, CutPart, Split, part_alike, split
from namebatch.painted import covered
from namebatch.piece import BoardPart, Lettering, Part, Piece
from namebatch.sheet import Stock, fits
from namebatch.template.model import JointRule, Template
from namebatch.text.glyphs import as_multipolygon

ROUNDED_MM = 0.01
"""Arcs and the grid of placements may make a cut line longer than its part by less than this."""
SMALL_MM = 15.0
"""A part no longer than this is told; common practice, no source."""
WITHOUT_KEY = "joint-without-key"
"""Code of the finding about a keyed joint that has a stretch without a key."""


def in_parts(
    piece: Piece, template: Template, stocks: Sequence[Stock]
) -> tuple[Piece, tuple[Finding, ...]]:
    """A piece with its parts, if the template says how pieces are joined.

    With lines given every piece is split along those that cross it; else a piece that does not
    fit a sheet along the shortest lines that cross no lettering.

    Args:
        piece: as it was made.
        template: its joint and the size of its base are read.
        stocks: what the parts have to fit on; faces and boards are split along the same lines.

    Returns:
        The piece, with parts or as it was, and what there is to say, a hold if it cannot be
        split.
    """
    rule = template.joint
    if rule is None:
        return piece, ()
    order = joint_order(piece, rule, template.size_mm[0], stocks)
    if rule.is_given:
        return _given(piece, rule, order)
    try:
        if all(fits(piece, stock) for stock in stocks):
            return piece, ()
    except OutlineError:  # its lines close up at the kerf, and it is held for that
        return piece, ()
    sizes = part_sizes(piece, stocks)
    found = found_split(piece.outline, sizes, order)
    if found is None:
        return piece, (_not_found(piece, sizes, order),)
    return _settled(piece, found, _told(found, rule))


def _settled(
    piece: Piece, found: Split, told: tuple[Finding, ...]
) -> tuple[Piece, tuple[Finding, ...]]:
    """The piece with its parts; as it was, with a hold, if its own board cannot be split so."""
    whole = replace(
        piece, parts=tuple(_part(piece, part) for part in found.parts), joints=found.joints
    )
    if piece.board is None:
        return whole, told
    for number, part in enumerate(whole.parts, start=1):
        least = piece.board.proof.required_mm - TOLERANCE_MM
        if part.board is None or part.board.proof.narrowest_mm < least:
            return piece, (_no_board(number),)
    return whole, told


def _no_board(number: int) -> Finding:
    return hold(
        "joint-leaves-thin-part",
        f"Below part {number} the board, which has an outline of its own, would be missing or "
        "thinner than its material may be. Move the lines in the template's [joint], or let print "
        "and board have one outline.",
    )


def part_sizes(piece: Piece, stocks: Sequence[Stock]) -> tuple[Size, ...]:
    """Widths and heights that a part may have to fit every stock, in the piece's own axes.

    Args:
        piece: a board of its own may be larger than the print and leave less.
        stocks: what parts have to fit on.
    """
    ways = [_sizes(stock, _beyond(piece, stock)) for stock in stocks]
    found = {(min(w for w, _ in some), min(h for _, h in some)) for some in product(*ways)}
    return tuple(
        sorted(
            size
            for size in found
            if min(size) > 0.0 and not any(w >= size[0] and h >= size[1] for w, h in found - {size})
        )
    )


def _beyond(piece: Piece, stock: Stock) -> Size:
    """How much wider and higher the piece is on a stock than its outline."""
    own, print_mm = piece.cut_from(stock.kind).size_mm, piece.size_mm
    return max(own[0] - print_mm[0], 0.0), max(own[1] - print_mm[1], 0.0)


def _sizes(stock: Stock, beyond: Size) -> list[Size]:
    """One for each way of lying."""
    _, _, width, height = stock.page.usable_mm
    kerf = stock.material.kerf_mm
    across, up = width - kerf[0] - ROUNDED_MM, height - kerf[1] - ROUNDED_MM
    ways = [(up, across) if turn % 180.0 else (across, up) for turn in stock.turns_deg]
    return [(width - beyond[0], height - beyond[1]) for width, height in ways]


def joint_order(
    piece: Piece, rule: JointRule, base_width_mm: float, stocks: Sequence[Stock]
) -> JointOrder:
    """What is asked of the joints of a piece.

    Args:
        piece: its lettering, of both faces, and its bridges are kept clear of.
        rule: the template's.
        base_width_mm: of the template, to turn the back over.
        stocks: for the kerf.
    """
    inks = [_from_front(text, base_width_mm) for text in piece.letterings]
    inks += [bridge.shape for bridge in piece.bridges]
    return JointOrder(
        kind=rule.kind,
        fit_mm=rule.fit_mm,
        required_mm=piece.proof.required_mm,
        kerf_mm=max(max(stock.material.kerf_mm) for stock in stocks),
        key_mm=rule.key_mm,
        board_mm=piece.board.proof.required_mm if piece.board else 0.0,
        ink=as_multipolygon(shapely.union_all(inks)),
    )


def _from_front(text: Lettering, base_width_mm: float) -> shapely.Geometry:
    shape = covered(text)
    if text.face == "front":
        return shape
    return affinity.affine_transform(shape, (-1, 0, 0, 1, base_width_mm, 0))


def _given(piece: Piece, rule: JointRule, order: JointOrder) -> tuple[Piece, tuple[Finding, ...]]:
    """Split along the template's own lines."""
    lines = _given_lines(piece.outline, rule)
    found = split(piece.outline, lines, order)
    if len(found.parts) < 2:
        return piece, ()
    thin = [part for part in found.parts if not part.is_sound(order.required_mm)]
    if thin:
        return piece, (_too_thin(thin[0], order.required_mm),)
    crossed = tuple(
        told for text in piece.letterings if (told := _crossing(text, lines, piece, order))
    )
    return _settled(piece, found, (*_told(found, rule), *crossed))


def _given_lines(outline: Polygon, rule: JointRule) -> list[JointLine]:
    """The template's lines right across a piece."""
    x0, y0, x1, y1 = outline.bounds
    low, high = (x0 - BEYOND_MM, y0 - BEYOND_MM), (x1 + BEYOND_MM, y1 + BEYOND_MM)
    upright = [JointLine((x, low[1]), (x, high[1])) for x in rule.at_x_mm]
    level = [JointLine((high[0], y), (low[0], y)) for y in rule.at_y_mm]
    return [*upright, *level]


def _part(piece: Piece, part: CutPart) -> Part:
    """A part with its own measures."""
    own = tuple(bridge for bridge in piece.bridges if _lies_in(bridge, part.shape))
    proof = replace(
        piece.proof,
        parts=1,
        narrowest_mm=part.neck.width_mm,
        narrowest_at=part.neck.at,
        bridges=len(own),
    )
    return Part(part.shape, proof, own, _board_of(piece, part))


def _board_of(piece: Piece, part: CutPart) -> BoardPart | None:
    """What of a board with an outline of its own lies below a part."""
    if piece.board is None:
        return None
    proof = piece.board.proof
    below = part_alike(part, piece.board.outline, proof.required_mm)
    if below is None:
        return None
    neck = below.neck
    return BoardPart(
        below.shape, replace(proof, narrowest_mm=neck.width_mm, narrowest_at=neck.at, bridges=0)
    )


def _lies_in(bridge: Bridge, part: Polygon) -> bool:
    return bool(shapely.intersection(bridge.shape, part).area > bridge.shape.area / 2)


def _told(found: Split, rule: JointRule) -> tuple[Finding, ...]:
    """How many parts, and where keys were asked for and have no room."""
    told = [
        note(
            "cut-in-parts",
            f"The piece is cut in {len(found.parts)} parts; the assembly picture on the work card "
            "shows how they go together.",
        )
    ]
    if rule.kind == "keyed" and found.bare:
        joints = "1 stretch of a joint" if found.bare == 1 else f"{found.bare} stretches of joints"
        what = "is straight there. Glue it" if found.bare == 1 else "are straight there. Glue them"
        told.append(
            warn(
                WITHOUT_KEY,
                f"{joints} had no room for a key clear of edges and lettering and {what} onto a "
                "strip behind, or give other lines or a smaller key_mm in the template's [joint].",
            )
        )
    small = [_small(n, part) for n, part in enumerate(found.parts, start=1)]
    return (*told, *(finding for finding in small if finding))


def _small(number: int, part: CutPart) -> Finding | None:
    """A warning of a part that is easily lost and hardly glued."""
    x0, y0, x1, y1 = part.shape.bounds
    if max(x1 - x0, y1 - y0) >= SMALL_MM:
        return None
    return warn(
        "joint-leaves-small-part",
        f"Part {number} is only {x1 - x0:.1f} × {y1 - y0:.1f} mm (at x {(x0 + x1) / 2:.1f}, "
        f"y {(y0 + y1) / 2:.1f} mm): easily lost and hard to glue. Move the line away from there "
        "in the template's [joint].",
    )


def _crossing(
    text: Lettering, lines: Sequence[JointLine], piece: Piece, order: JointOrder
) -> Finding | None:
    """A warning where a given line goes through a text; the front's lines are looked at."""
    shape = text.shape if text.face == "front" else None
    if shape is None:
        shape = shapely.intersection(order.ink, piece.outline)
    near = [line for line in lines if shapely.intersects(line.line, shape)]
    if not near:
        return None
    at = shapely.intersection(near[0].line, shape).representative_point()
    return warn(
        "joint-crosses-text",
        f'A joint line crosses "{text.text}" (text "{text.box}", {text.face}, at x {at.x:.1f}, '
        f"y {at.y:.1f} mm). Move the line in the template's [joint], or leave the lines out: they "
        "are then found beside the lettering.",
    )


def _too_thin(part: CutPart, required_mm: float) -> Finding:
    x, y = part.tips[0] if part.tips else (part.neck.at or part.shape.centroid.coords[0])
    what = (
        f"a corner thinner than {required_mm:g} mm"
        if part.tips
        else f"a place of {part.neck.width_mm:.2f} mm"
    )
    return hold(
        "joint-leaves-thin-part",
        f"The joint lines leave {what} at x {x:.1f}, y {y:.1f} mm; this material needs "
        f"{required_mm:g} mm. Move the line away from there in the template's [joint].",
    )


def _not_found(piece: Piece, sizes: Sequence[Size], order: JointOrder) -> Finding:
    """No line will do: say what was asked of it."""
    width, height = piece.size_mm
    count = fewest(piece.outline, sizes, order)
    room = " or ".join(f"{w:.1f} × {h:.1f} mm" for w, h in sizes)
    if not count:
        why = f"a sheet takes parts of {room}, too little for parts with such keys"
    else:
        why = (
            f"a sheet takes parts of {room}, and no lines were found that split it into {count} "
            f"of them or a few more, keep {order.required_mm:g} mm clear of lettering and holes "
            "and leave nothing thinner than that"
        )
    return hold(
        "joint-not-found",
        f"The piece is {width:.1f} × {height:.1f} mm; {why}. Take a larger sheet, set the text "
        "smaller or apart, or give the lines in the template's [joint] (at_x_mm, at_y_mm).",
    )
