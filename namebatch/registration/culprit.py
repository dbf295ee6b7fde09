"""What most likely went wrong when marks do not fit: swapped names, exchanged axes, one slip."""

from collections.abc import Iterator, Sequence
from itertools import combinations, permutations
from typing import Final

import numpy as np

from namebatch.registration.choose import Trial, fault, tried
from namebatch.registration.fit import Model, rotation_deg, scales
from namebatch.registration.solve import Floats, mapped

_ALL_ORDERS_UP_TO: Final = 4
_CLEARLY: Final = 4.0
"""How many times smaller the squares without the one mark must be than without any other."""
_PRINTER: Final = 0.006
"""Usual error of a printer's scale, and a little."""


def suspicion(names: Sequence[str], sheet: Floats, measured: Floats, limit_mm: float) -> str:
    """The likeliest slip, as a sentence; a plain request to measure again if there is none."""
    weights = np.ones(len(names))
    return (
        _swapped(names, sheet, measured, weights, limit_mm)
        or _one_off(names, sheet, measured, weights, limit_mm)
        or "Measure the marks again: each where the frame's two lines cross, in millimetres."
    )


def _swapped(
    names: Sequence[str], sheet: Floats, measured: Floats, weights: Floats, limit_mm: float
) -> str | None:
    """The change of names or axes that makes everything fit, the one that turns least."""
    fitting: list[tuple[float, int, str]] = []
    for changed, said, points in _changes(names, measured):
        trial = tried(sheet, points, weights)
        if fault(trial, names, limit_mm) is None:
            fitting.append((round(abs(rotation_deg(trial.affine))), changed, said))
    return min(fitting)[2] if fitting else None


def _changes(names: Sequence[str], measured: Floats) -> Iterator[tuple[int, str, Floats]]:
    """How many names change, what to say, and the points after the change."""
    count = len(names)
    if count < 3:
        return
    yield 0, "Are x and y exchanged? With them changed over the marks fit.", measured[:, ::-1]
    orders = permutations(range(count)) if count <= _ALL_ORDERS_UP_TO else _pairs(count)
    for order in orders:
        moved = [index for index in range(count) if order[index] != index]
        if moved:
            yield len(moved), _said(names, order, moved), measured[list(order)]


def _pairs(count: int) -> Iterator[tuple[int, ...]]:
    """All orders in which two of many are swapped."""
    for one, other in combinations(range(count), 2):
        order = list(range(count))
        order[one], order[other] = other, one
        yield tuple(order)


def _said(names: Sequence[str], order: Sequence[int], moved: Sequence[int]) -> str:
    """A change of names in words."""
    for one, other, axis in (("left", "right", "x"), ("bottom", "top", "y")):
        if len(moved) > 2 and all(
            names[order[index]] == _exchanged(names[index], one, other) for index in moved
        ):
            away = "from the right" if axis == "x" else "downwards"
            return (
                f"Are {one} and {other} swapped? With them changed over the marks fit. It looks "
                f"the same if the cutter counts {axis} {away}: then turn the sign of {axis} round."
            )
    if len(moved) == 2:
        pair = " and ".join(names[index] for index in moved)
        return f"Are {pair} swapped? With them changed over the marks fit."
    pairs = ", ".join(f"{names[order[index]]} as {names[index]}" for index in moved)
    return f"Are the names mixed up? The marks fit if one takes {pairs}."


def _exchanged(name: str, one: str, other: str) -> str:
    """A corner's name on the other side."""
    parts = [{one: other, other: one}.get(part, part) for part in name.split("-")]
    return "-".join(parts)


def _one_off(
    names: Sequence[str], sheet: Floats, measured: Floats, weights: Floats, limit_mm: float
) -> str | None:
    """The one mark without which the others fit, if it is clear which."""
    if len(names) < 3:
        return None
    without: list[tuple[float, int, Trial]] = []
    for index in range(len(names)):
        keep = np.arange(len(names)) != index
        some = [name for name, kept in zip(names, keep, strict=True) if kept]
        trial = tried(sheet[keep], measured[keep], weights[keep], _plain(len(some)))
        if fault(trial, some, limit_mm) is None:
            without.append((_misfit(trial, len(some)), index, trial))
    without.sort()
    if not without or (len(without) > 1 and without[1][0] < _CLEARLY * max(without[0][0], 1.0)):
        return None
    _, index, trial = without[0]
    off = float(np.hypot(*(mapped(trial.affine, sheet[index : index + 1]) - measured[index]).T)[0])
    return (
        f"It is most likely {names[index]}: the others fit, and it lies {off:.1f} mm from where "
        "they put it. Measure that one again."
    )


def _plain(count: int) -> Model | None:
    """Three marks always fit a map with skew; only one without it can tell."""
    return "two-scales" if count >= 3 else None


def _misfit(trial: Trial, count: int) -> float:
    """What is left over, and how unusual the scales are; both about 1 for sound marks."""
    strange = sum(((scale - 1) / _PRINTER) ** 2 for scale in set(scales(trial.affine)))
    return strange + (trial.squares if count > 2 else 0.0)
