"""Lines of a base drawing that text follows, hidden ones among them."""

from collections.abc import Iterable

import numpy as np
from shapely import LineString

from namebatch.curves import Flattener, Path, compose, draw, transform
from namebatch.template.problems import FileProblem, Problems, did_you_mean, shown
from namebatch.template.svg import references
from namebatch.template.svg.elements import SHAPES, element_path
from namebatch.template.svg.extent import path_bounds
from namebatch.template.svg.node import Node, parse
from namebatch.template.svg.outline import FARTHEST_MM, MOST_POINTS, chords
from namebatch.template.svg.style import computed, initial, style_sheet
from namebatch.template.svg.units import transform as map_of
from namebatch.template.svg.walk import root_frame

CHORD_MM = 0.0005
"""Letters turn with the line, so it is flattened finer than what is cut."""
NEAREST_MM = 0.001
"""Points that are nearer say nothing about the direction of the line."""
PLAIN = ("svg", "g", "a", "defs")


def guide_lines(
    data: bytes, name: str, ids: Iterable[str], problems: Problems
) -> dict[str, LineString]:
    """The lines with these ids, in mm of the drawing, y up; hidden ones too.

    Args:
        data: the file's bytes.
        name: of the file, for messages.
        ids: of elements in it, each one unbroken line.
        problems: gets one line for each id that gives no such line.

    Returns:
        Line by id, in the direction in which it is drawn; a closed one ends where it begins.
    """
    found: dict[str, LineString] = {}
    try:
        root = parse(data, name)
    except FileProblem:
        return found  # told with the base
    chains = _chains(root)
    for wanted in dict.fromkeys(ids):
        chain = chains.get(wanted)
        if chain is None:
            known = [key for key, nodes in chains.items() if nodes[-1].tag in SHAPES]
            hint = did_you_mean(wanted, known)
            problems.add(name, f"has no element with the id {shown(wanted)}; {hint}")
            continue
        try:
            found[wanted] = _line(_path(chain, name))
        except ValueError as error:
            problems.add(f"{name} {chain[-1].label}", f"{error}.")
    return found


def _chains(root: Node) -> dict[str, tuple[Node, ...]]:
    """Every element with an id, with all that it stands in before it."""
    first = references.by_id(root)
    chains: dict[str, tuple[Node, ...]] = {}
    stack: list[tuple[Node, ...]] = [(root,)]
    while stack:
        chain = stack.pop()
        name = chain[-1].get("id")
        if name is not None and first[name] is chain[-1]:
            chains[name] = chain
        stack += [(*chain, child) for child in reversed(chain[-1].children)]
    return chains


def _path(chain: tuple[Node, ...], name: str) -> Path:
    """What an element draws, in mm."""
    *around, node = chain
    if node.tag not in SHAPES:
        raise ValueError("is no single line; give the id to the path itself")
    odd = next((n.tag for n in around[1:] if n.tag not in PLAIN[1:]), None)
    if odd is not None:
        raise ValueError(f"stands inside <{odd[:30]}>; draw it in a plain group")
    sheet = style_sheet(chain[0], name, Problems())  # told with the base
    affine, viewport, _, _ = root_frame(chain[0])
    style = initial()
    for step in chain:
        style = computed(style, sheet.declared(step))
        affine = compose(affine, map_of(style["transform"]))
    path = element_path(node, viewport)
    reach = path_bounds(path, affine) if path else (0.0, 0.0, 0.0, 0.0)
    if max(map(abs, reach)) > FARTHEST_MM:
        raise ValueError("lies more than 10 m away; look at transform and viewBox")
    return transform(path, affine)


def _line(path: Path) -> LineString:
    """A path as one line."""
    if chords(path, CHORD_MM) > MOST_POINTS:
        raise ValueError(f"takes more than {MOST_POINTS} points; simplify the curve")
    flattener = Flattener(CHORD_MM)
    draw(path, flattener)
    rings = flattener.finish()
    if len(rings) != 1:
        raise ValueError(
            f"has {len(rings)} separate lines; text follows one line, so give each its own id"
        )
    points = np.array(rings[0] + rings[0][:1] if flattener.closed[0] else rings[0])
    steps = np.hypot(*np.diff(points, axis=0).T)
    points = points[np.concatenate([[True], steps > NEAREST_MM])]
    if len(points) < 2:
        raise ValueError("is a point; text needs a line")
    return LineString(points)
