"""The basic shapes of SVG (SVG 2, chapter 10) as paths in user units."""

from itertools import pairwise

from namebatch.curves import Path, Point, Recorder
from namebatch.template.svg.node import Node
from namebatch.template.svg.path_data import arc, read_path
from namebatch.template.svg.units import diagonal, length, numbers

SHAPES = ("path", "rect", "circle", "ellipse", "line", "polyline", "polygon")


def element_path(node: Node, viewport: tuple[float, float]) -> Path:
    """The path of a shape element; empty when SVG says that it is not drawn.

    Args:
        node: one of `SHAPES`.
        viewport: width and height that percentages count from.

    Raises:
        ValueError: what cannot be understood.
    """
    width, height = viewport

    def across(name: str) -> float:
        return length(node.get(name) or "0", width)

    def up(name: str) -> float:
        return length(node.get(name) or "0", height)

    match node.tag:
        case "path":
            return read_path(node.get("d") or "")
        case "rect":
            return _rect(node, viewport, (across("x"), up("y"), across("width"), up("height")))
        case "circle":
            r = length(node.get("r") or "0", diagonal(width, height))
            return _ellipse(across("cx"), up("cy"), r, r)
        case "ellipse":
            rx, ry = _auto(node, "rx", width), _auto(node, "ry", height)
            rx, ry = (ry if rx is None else rx) or 0.0, (rx if ry is None else ry) or 0.0
            return _ellipse(across("cx"), up("cy"), rx, ry)
        case "line":
            return _poly([(across("x1"), up("y1")), (across("x2"), up("y2"))], closed=False)
        case _:
            values = numbers(node.get("points") or "")
            if len(values) % 2:
                raise ValueError("points needs an even count of numbers")
            pairs = list(zip(values[::2], values[1::2], strict=True))
            return _poly(pairs, closed=node.tag == "polygon")


def _auto(node: Node, name: str, whole: float) -> float | None:
    """A radius, or None when the other one decides."""
    text = node.get(name)
    value = None if text is None or text == "auto" else length(text, whole)
    if value is not None and value < 0:
        raise ValueError(f"{name} is below zero")
    return value


def _rect(
    node: Node, viewport: tuple[float, float], box: tuple[float, float, float, float]
) -> Path:
    """A rectangle, its corners rounded by rx and ry."""
    x, y, w, h = box
    if w < 0 or h < 0:
        raise ValueError("width or height is below zero")
    if w == 0 or h == 0:
        return ()
    rx, ry = _auto(node, "rx", viewport[0]), _auto(node, "ry", viewport[1])
    rx, ry = (ry if rx is None else rx) or 0.0, (rx if ry is None else ry) or 0.0
    rx, ry = min(rx, w / 2), min(ry, h / 2)
    if rx == 0 or ry == 0:
        return _poly([(x, y), (x + w, y), (x + w, y + h), (x, y + h)], closed=True)
    out = Recorder()
    out.move(x + rx, y)
    stops = [
        ((x + w - rx, y), (x + w, y + ry)),
        ((x + w, y + h - ry), (x + w - rx, y + h)),
        ((x + rx, y + h), (x, y + h - ry)),
        ((x, y + ry), (x + rx, y)),
    ]
    for begin, end in stops:
        out.line(*begin)
        for c1, c2, to in arc(begin, end, [rx, ry, 0.0, 0.0, 1.0]):
            out.cubic(*c1, *c2, *to)
    out.close()
    return out.path


def _ellipse(cx: float, cy: float, rx: float, ry: float) -> Path:
    """A whole ellipse as four quarter arcs."""
    if rx < 0 or ry < 0:
        raise ValueError("a radius is below zero")
    if rx == 0 or ry == 0:
        return ()
    out = Recorder()
    points = [(cx + rx, cy), (cx, cy + ry), (cx - rx, cy), (cx, cy - ry), (cx + rx, cy)]
    out.move(*points[0])
    for begin, end in pairwise(points):
        for c1, c2, to in arc(begin, end, [rx, ry, 0.0, 0.0, 1.0]):
            out.cubic(*c1, *c2, *to)
    out.close()
    return out.path


def _poly(points: list[Point], closed: bool) -> Path:
    """Straight lines through points."""
    out = Recorder()
    for index, (x, y) in enumerate(points):
        (out.line if index else out.move)(x, y)
    if closed and points:
        out.close()
    return out.path
