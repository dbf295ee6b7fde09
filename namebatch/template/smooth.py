"""A traced ring without stair-steps: faired between its corners, and nowhere far from itself.

The edge that was drawn lies within half a pixel of an edge of hard pixels, and much nearer
where pixels are partly covered. Within that tube short waves are taken out of the ring as far
as it goes. Long ones are not touched, so curves do not shrink.
"""

from typing import TypeAlias

import numpy as np
import numpy.typing as npt

Ring: TypeAlias = npt.NDArray[np.float64]
Line: TypeAlias = npt.NDArray[np.complex128]
"""Points as x + iy: the Fourier transform then takes both at once."""

SPACING = 0.5
"""Points are spread evenly, so many pixels apart."""

LOOK = 6.0
"""A corner is looked for over so many pixels on both sides."""

CORNER_DEG = 40.0
SUDDEN = 0.7
"""The least turn over that length, and the least share of it that is made in half the length:
of a corner all is, of a round half."""

BLUNT = 2.0
"""So many pixels before a corner are drawn anew: pixels show it blunted."""

FARTHEST = 1.5
"""A corner is put where its sides meet if that is no more pixels away than this."""

BLURRED, SLACK = 0.4, 0.2
"""Or if blurring puts it so far away: 0.77 of the blur's deviation, which is half a pixel of
those that are meant here, at a right angle (Φ(x)² = ½), and about as 1 / tan of half the angle
at others."""

SHORTER = 3.0
"""Waves in a soft edge are so much shorter than a corner needs to be known, at least."""

ROUNDS = 60


def smoothed(ring: Ring, reach: float, wave: float, softness: float = 1.0) -> Ring:
    """Smooth a closed ring within a tube round itself.

    Args:
        ring: points in pixels, the last equal to the first.
        reach: half width of the tube in pixels.
        wave: waves shorter than so many pixels are taken out; those of twice the length stay.
        softness: 1 of sharp edges; a soft edge shows no more than pixels so many times as
            large would, and all lengths here are that much longer.

    Returns:
        Points without a repeated last one.
    """
    finer = max(1.0, softness / SHORTER) / softness
    faired = softness * _smoothed(
        _even(ring / softness), finer * reach, finer * wave, FARTHEST / softness
    )
    return np.column_stack([faired.real, faired.imag])


def _smoothed(points: Line, reach: float, wave: float, farthest: float) -> Line:
    corners = _corners(points)
    sides = np.diff(np.append(corners, corners[:1] + len(points)))
    tips = [
        _tip(points, corner, int(min(sides[i - 1], sides[i])), farthest)
        for i, corner in enumerate(corners)
    ]
    known = [(corner, tip) for corner, tip in zip(corners, tips, strict=True) if tip is not None]
    if not known:
        return _faired(points, reach, wave)
    first = known[0][0]
    points = np.roll(points, -first)
    around = np.append(points, points[0])
    starts = [int(corner - first) for corner, _ in known]
    return np.concatenate(
        [
            _side(around[start : end + 1], tip, known[(i + 1) % len(known)][1], reach, wave)
            for i, (start, end, (_, tip)) in enumerate(
                zip(starts, [*starts[1:], len(points)], known, strict=True)
            )
        ]
    )


def _even(ring: Ring) -> Line:
    """Points at even distances along a closed ring."""
    steps = np.hypot(*np.diff(ring, axis=0).T)
    along = np.concatenate([[0.0], np.cumsum(steps)])
    count = max(8, round(along[-1] / SPACING))
    at = np.linspace(0.0, along[-1], count, endpoint=False)
    x, y = (np.interp(at, along, ring[:, axis]) for axis in (0, 1))
    return np.asarray(x + 1j * y)


def _corners(points: Line) -> npt.NDArray[np.int64]:
    """Where the ring turns sharply: largest turns first, none within the look of another."""
    look = round(LOOK / SPACING)
    if len(points) < 4 * look:
        return np.empty(0, dtype=np.int64)
    turn = _turn(points, look)
    found: list[int] = []
    free = (turn >= np.radians(CORNER_DEG)) & (_turn(points, look // 2) >= SUDDEN * turn)
    for index in np.argsort(-turn, kind="stable"):
        if not free[index]:
            continue
        found.append(int(index))
        free[np.arange(index - look, index + look + 1) % len(points)] = False
    return np.array(sorted(found), dtype=np.int64)


def _turn(points: Line, look: int) -> npt.NDArray[np.float64]:
    """By how much the way ahead differs from the way behind, in radians."""
    before = points - np.roll(points, look)
    after = np.roll(points, -look) - points
    return np.asarray(np.abs(np.angle(after / np.where(before == 0, 1.0, before))))


def _tip(points: Line, corner: int, side: int, farthest: float) -> complex | None:
    """Where the two sides of a corner meet; None where a soft edge shows it as a round.

    Of short sides too little is seen to say: a corner of sharp edges stays as it is.
    """
    here = complex(points[corner])
    kept = here if farthest == FARTHEST else None
    near, far = round(BLUNT / SPACING), min(round(LOOK / SPACING), side // 2)
    if far - near < 4:
        return kept
    before = points[np.arange(corner - far, corner - near + 1) % len(points)]
    after = points[np.arange(corner + near, corner + far + 1) % len(points)]
    a, u = before.mean(), before[-1] - before[0]
    b, v = after.mean(), after[-1] - after[0]
    cross = (u.conjugate() * v).imag
    if abs(cross) < 1e-9:
        return kept
    meet = complex(a + u * ((b - a).conjugate() * v).imag / cross)
    half = (np.pi - abs(np.angle(v / u))) / 2
    return meet if abs(meet - here) <= max(farthest, BLURRED / np.tan(half) + SLACK) else kept


def _side(points: Line, start: complex, end: complex, reach: float, wave: float) -> Line:
    """The ring from one corner to the next, the last point left out."""
    blunt = min(round(BLUNT / SPACING), (len(points) - 1) // 2)
    points = points.copy()
    share = np.linspace(0.0, 1.0, blunt + 1)
    points[: blunt + 1] = start + share * (points[blunt] - start)
    points[len(points) - blunt - 1 :] = points[-blunt - 1] + share * (end - points[-blunt - 1])
    straight = start + np.linspace(0.0, 1.0, len(points)) * (end - start)
    bend = points - straight
    # Mirrored through its ends the bend is periodic, and its ends stay where they are.
    mirrored = np.concatenate([bend, -bend[-2:0:-1]])
    return np.asarray(straight + _faired(mirrored, reach, wave)[: len(points)])[:-1]


def _faired(points: Line, reach: float, wave: float) -> Line:
    """The ring in the tube with the least of short waves in it.

    Alternating directions (Boyd et al. 2011): one step makes the waves' energy least near the
    last guess, which is a filter; the other puts the guess into the tube.
    """
    waves = np.abs(np.fft.fftfreq(len(points), SPACING)) * wave
    keep = 1.0 / (1.0 + np.maximum(2 * waves - 1, 0.0) ** 6)
    inside, debt = points, np.zeros_like(points)
    smooth = points
    for _ in range(ROUNDS):
        smooth = np.fft.ifft(np.fft.fft(inside - debt) * keep)
        away = smooth + debt - points
        length = np.maximum(np.abs(away), 1e-12)
        inside = points + away * np.minimum(1.0, reach / length)
        debt = debt + smooth - inside
    return np.asarray(smooth)
