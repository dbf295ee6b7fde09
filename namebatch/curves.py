"""Curves: the one drawing protocol, a recorded path, and flattening. Units are the caller's.

Sources (HarfBuzz glyphs, SVG path data, recorded paths) draw into sinks (a recorder, a
flattener, a PDF path).
"""

from collections.abc import Iterable
from dataclasses import dataclass, field
from math import ceil, hypot, sqrt
from typing import Literal, Protocol, TypeAlias

Point: TypeAlias = tuple[float, float]
Verb: TypeAlias = Literal["M", "L", "Q", "C", "Z"]
Affine: TypeAlias = tuple[float, float, float, float, float, float]
"""a, b, c, d, e, f: x' = a·x + c·y + e and y' = b·x + d·y + f, as in SVG and PDF."""

IDENTITY: Affine = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)


class Sink(Protocol):
    """What outlines are drawn into. Every contour begins with `move`."""

    def move(self, x: float, y: float) -> None:
        """Begin a contour."""

    def line(self, x: float, y: float) -> None:
        """A straight line to a point."""

    def quad(self, x1: float, y1: float, x: float, y: float) -> None:
        """A quadratic Bézier through one control point."""

    def cubic(self, x1: float, y1: float, x2: float, y2: float, x: float, y: float) -> None:
        """A cubic Bézier through two control points."""

    def close(self) -> None:
        """A straight line back to the contour's beginning."""


@dataclass(frozen=True, slots=True)
class Segment:
    """One step of a path: the verb and its points, control points first."""

    verb: Verb
    points: tuple[Point, ...] = ()


Path: TypeAlias = tuple[Segment, ...]


@dataclass(slots=True)
class Recorder:
    """A sink that keeps what is drawn; `path` gives it back."""

    segments: list[Segment] = field(default_factory=list)

    def move(self, x: float, y: float) -> None:
        """Begin a contour."""
        self.segments.append(Segment("M", ((x, y),)))

    def line(self, x: float, y: float) -> None:
        """A straight line."""
        self.segments.append(Segment("L", ((x, y),)))

    def quad(self, x1: float, y1: float, x: float, y: float) -> None:
        """A quadratic Bézier."""
        self.segments.append(Segment("Q", ((x1, y1), (x, y))))

    def cubic(self, x1: float, y1: float, x2: float, y2: float, x: float, y: float) -> None:
        """A cubic Bézier."""
        self.segments.append(Segment("C", ((x1, y1), (x2, y2), (x, y))))

    def close(self) -> None:
        """Close the contour."""
        self.segments.append(Segment("Z"))

    @property
    def path(self) -> Path:
        """All that was drawn so far."""
        return tuple(self.segments)


def draw(path: Path, sink: Sink) -> None:
    """Draw a recorded path into a sink."""
    for segment in path:
        match segment.verb:
            case "M":
                sink.move(*segment.points[0])
            case "L":
                sink.line(*segment.points[0])
            case "Q":
                sink.quad(*segment.points[0], *segment.points[1])
            case "C":
                sink.cubic(*segment.points[0], *segment.points[1], *segment.points[2])
            case "Z":
                sink.close()


def apply(affine: Affine, point: Point) -> Point:
    """One point through an affine map."""
    a, b, c, d, e, f = affine
    x, y = point
    return a * x + c * y + e, b * x + d * y + f


def compose(outer: Affine, inner: Affine) -> Affine:
    """The map that does `inner` first, then `outer`."""
    a, b, c, d, e, f = outer
    p, q, r, s, t, u = inner
    return (
        a * p + c * q,
        b * p + d * q,
        a * r + c * s,
        b * r + d * s,
        a * t + c * u + e,
        b * t + d * u + f,
    )


def transform(path: Path, affine: Affine) -> Path:
    """A path through an affine map; Béziers stay Béziers."""
    return tuple(
        Segment(segment.verb, tuple(apply(affine, point) for point in segment.points))
        for segment in path
    )


def ring_path(rings: Iterable[Iterable[Point]]) -> Path:
    """Closed polygons as a path; a repeated last point is left out."""
    recorder = Recorder()
    for ring in rings:
        points = list(ring)
        if len(points) > 1 and points[0] == points[-1]:
            points.pop()
        for index, (x, y) in enumerate(points):
            (recorder.line if index else recorder.move)(x, y)
        recorder.close()
    return recorder.path


class Flattener:
    """A sink that turns curves into chords no farther than `tolerance` from them.

    A Bézier cut into n equal parts of its parameter leaves its chords by at most
    d·(d−1)/8/n² times its largest second difference of control points, d its degree
    (Wang's formula; Goldman, Pyramid Algorithms, 2003).

    Attributes:
        rings: finished contours, open or closed, without a repeated last point.
        closed: for each ring, whether it was closed explicitly or came back to its start.
    """

    def __init__(self, tolerance: float) -> None:
        if not tolerance > 0:
            raise ValueError(f"tolerance must be above zero, not {tolerance}")
        self.tolerance = tolerance
        self.rings: list[list[Point]] = []
        self.closed: list[bool] = []
        self._ring: list[Point] = []

    def move(self, x: float, y: float) -> None:
        """Begin a contour; one that is still open is kept as open."""
        self._finish(closed=False)
        self._ring = [(x, y)]

    def line(self, x: float, y: float) -> None:
        """A straight line."""
        self._ring.append((x, y))

    def quad(self, x1: float, y1: float, x: float, y: float) -> None:
        """A quadratic Bézier, as chords."""
        x0, y0 = self._ring[-1]
        bend = hypot(x0 - 2 * x1 + x, y0 - 2 * y1 + y)
        n = max(1, ceil(sqrt(bend / (4 * self.tolerance))))
        for i in range(1, n):
            t = i / n
            u = 1 - t
            self._ring.append(
                (
                    u * u * x0 + 2 * u * t * x1 + t * t * x,
                    u * u * y0 + 2 * u * t * y1 + t * t * y,
                )
            )
        self._ring.append((x, y))

    def cubic(self, x1: float, y1: float, x2: float, y2: float, x: float, y: float) -> None:
        """A cubic Bézier, as chords."""
        x0, y0 = self._ring[-1]
        bend = max(
            hypot(x0 - 2 * x1 + x2, y0 - 2 * y1 + y2), hypot(x1 - 2 * x2 + x, y1 - 2 * y2 + y)
        )
        n = max(1, ceil(sqrt(0.75 * bend / self.tolerance)))
        for i in range(1, n):
            t = i / n
            u = 1 - t
            b0, b1, b2, b3 = u * u * u, 3 * u * u * t, 3 * u * t * t, t * t * t
            self._ring.append(
                (b0 * x0 + b1 * x1 + b2 * x2 + b3 * x, b0 * y0 + b1 * y1 + b2 * y2 + b3 * y)
            )
        self._ring.append((x, y))

    def close(self) -> None:
        """Close the contour; a segment that follows would begin at its start."""
        start = self._ring[0] if self._ring else None
        self._finish(closed=True)
        if start is not None:
            self._ring = [start]

    def finish(self) -> list[list[Point]]:
        """End the drawing and give all rings."""
        self._finish(closed=False)
        return self.rings

    def _finish(self, closed: bool) -> None:
        ring = self._ring
        self._ring = []
        if len(ring) < 2:
            return
        if ring[0] == ring[-1]:
            closed = True
            ring.pop()
        self.rings.append(ring)
        self.closed.append(closed)
