"""The ``d`` attribute of a path (SVG 2, 9.3) as moves, lines and Béziers."""

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from math import atan2, ceil, cos, hypot, pi, radians, sin, sqrt, tan

from namebatch.curves import Path, Point, Recorder
from namebatch.template.svg.units import NUMBER, number

MOST_SEGMENTS = 200_000
LEAST_RADIUS = 1e-9
"""A flatter arc is a straight line, as SVG wants it for a radius of zero."""
_COUNTS = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "T": 2, "A": 7, "Z": 0}
_SPACE = re.compile(r"[\s,]*")
_NUMBER = re.compile(NUMBER, re.ASCII)


def read_path(text: str) -> Path:
    """Path data as segments; arcs become cubics, and every contour begins with a move.

    Args:
        text: the attribute, in user units.

    Raises:
        ValueError: with the place where it stops making sense.
    """
    pen = _Pen()
    for verb, values in _steps(text):
        pen.step(verb, values)
        if len(pen.out.segments) > MOST_SEGMENTS:
            raise ValueError(f"has more than {MOST_SEGMENTS} parts; simplify it")
    return pen.out.path


def _steps(text: str) -> Iterator[tuple[str, list[float]]]:
    """Each command with its numbers, repeats written out."""
    position = _skip(text, 0)
    verb = ""
    while position < len(text):
        char = text[position]
        if char.upper() in _COUNTS and char.isascii():
            verb = char
            position = _skip(text, position + 1)
        elif verb in ("", "Z", "z"):
            raise ValueError(_stop(text, position))
        elif verb in "Mm":
            # Further pairs after a move are lines.
            verb = "L" if verb == "M" else "l"
        values, position = _values(text, position, verb)
        yield verb, values


def _values(text: str, position: int, verb: str) -> tuple[list[float], int]:
    """The numbers of one command; an arc's two flags are single digits and may touch."""
    values: list[float] = []
    for index in range(_COUNTS[verb.upper()]):
        if verb in "Aa" and index in (3, 4):
            if text[position : position + 1] not in ("0", "1"):
                raise ValueError(_stop(text, position))
            values.append(float(text[position]))
            position = _skip(text, position + 1)
            continue
        match = _NUMBER.match(text, position)
        if match is None:
            raise ValueError(_stop(text, position))
        values.append(number(match[0]))
        position = _skip(text, match.end())
    return values, position


def _skip(text: str, position: int) -> int:
    match = _SPACE.match(text, position)
    return match.end() if match else position


def _stop(text: str, position: int) -> str:
    """Where reading stopped."""
    rest = text[position : position + 20]
    shown = f'at "{rest}"' if rest.isprintable() and rest else "at its end"
    return f"path data stops making sense after {position} characters, {shown}"


@dataclass(slots=True)
class _Pen:
    """The state that relative and smooth commands need."""

    out: Recorder = field(default_factory=Recorder)
    at: Point = (0.0, 0.0)
    start: Point = (0.0, 0.0)
    control: Point = (0.0, 0.0)
    last: str = ""

    def step(self, verb: str, values: list[float]) -> None:
        """Draw one command."""
        kind = verb.upper()
        if not self.last and kind != "M":
            raise ValueError("path data must begin with a move (M)")
        x0, y0 = self.at if verb.islower() else (0.0, 0.0)
        if self.last == "Z" and kind not in "MZ":
            self.out.move(*self.start)
        if kind == "H":
            points = [(values[0] + x0, self.at[1])]
        elif kind == "V":
            points = [(self.at[0], values[0] + y0)]
        else:
            flat = values[-2:] if kind == "A" else values
            points = [(x + x0, y + y0) for x, y in zip(flat[::2], flat[1::2], strict=True)]
        self._draw(kind, points, values)
        self.last = kind

    def _draw(self, kind: str, points: list[Point], values: list[float]) -> None:
        """Draw a command whose points are absolute."""
        end = points[-1] if points else self.start
        match kind:
            case "M":
                self.out.move(*end)
                self.start = end
            case "L" | "H" | "V":
                self.out.line(*end)
            case "C" | "S":
                first = self._mirrored("CS") if kind == "S" else points[0]
                self.control = points[-2]
                self.out.cubic(*first, *self.control, *end)
            case "Q" | "T":
                self.control = self._mirrored("QT") if kind == "T" else points[0]
                self.out.quad(*self.control, *end)
            case "A":
                for c1, c2, to in arc(self.at, end, values):
                    self.out.cubic(*c1, *c2, *to)
            case "Z":
                self.out.close()
        self.at = end

    def _mirrored(self, family: str) -> Point:
        """The last control point mirrored at the pen, if the last command had one."""
        if self.last not in family:
            return self.at
        return 2 * self.at[0] - self.control[0], 2 * self.at[1] - self.control[1]


def arc(begin: Point, end: Point, values: list[float]) -> Iterator[tuple[Point, Point, Point]]:
    """An elliptical arc as cubics of at most an eighth of a turn (SVG 2, appendix B.2).

    An eighth leaves its arc by about 4e-6 of the radius.

    Args:
        begin: where it begins.
        end: where it ends.
        values: rx, ry, angle in degrees, large flag, sweep flag.

    Yields:
        two control points and the end of each cubic.
    """
    rx, ry = abs(values[0]), abs(values[1])
    if begin == end:
        return
    if rx < LEAST_RADIUS or ry < LEAST_RADIUS:
        yield begin, end, end
        return
    c, s = cos(radians(values[2])), sin(radians(values[2]))
    dx, dy = (begin[0] - end[0]) / 2, (begin[1] - end[1]) / 2
    u, v = (c * dx + s * dy) / rx, (c * dy - s * dx) / ry
    # Radii too small to reach are scaled up evenly.
    reach = hypot(u, v)
    if reach > 1:
        rx, ry, u, v = rx * reach, ry * reach, u / reach, v / reach
    (cu, cv), from_angle, sweep = _turn((u, v), values[3] == 1, values[4] == 1)
    mx, my = (begin[0] + end[0]) / 2, (begin[1] + end[1]) / 2

    def out(p: float, q: float) -> Point:
        x, y = rx * (p + cu), ry * (q + cv)
        return c * x - s * y + mx, s * x + c * y + my

    count = max(1, ceil(abs(sweep) / (pi / 4) - 1e-9))
    step = sweep / count
    k = 4 / 3 * tan(step / 4)
    for i in range(count):
        a, b = from_angle + i * step, from_angle + (i + 1) * step
        yield (
            out(cos(a) - k * sin(a), sin(a) + k * cos(a)),
            out(cos(b) + k * sin(b), sin(b) - k * cos(b)),
            end if i == count - 1 else out(cos(b), sin(b)),
        )


def _turn(half: Point, large: bool, sweeping: bool) -> tuple[Point, float, float]:
    """Centre, first angle and turn of an arc of the unit circle from `half` to −`half`."""
    u, v = half
    square = u * u + v * v
    factor = sqrt(max(0.0, 1 / square - 1)) if square > 0 else 0.0
    if large == sweeping:
        factor = -factor
    cu, cv = factor * v, -factor * u
    begin = atan2(v - cv, u - cu)
    turn = atan2(-v - cv, -u - cu) - begin
    if sweeping and turn < 0:
        turn += 2 * pi
    elif not sweeping and turn > 0:
        turn -= 2 * pi
    return (cu, cv), begin, turn
