"""From measured marks to the map by which the cut is moved, or the reason why there is none."""

from collections.abc import Sequence
from itertools import combinations
from math import dist, radians, sqrt
from typing import Final

import numpy as np

from namebatch.errors import RegistrationError
from namebatch.registration.choose import (
    LIMIT_MM,
    READING_MM,
    Trial,
    carried,
    fault,
    ruled,
    tried,
)
from namebatch.registration.culprit import suspicion
from namebatch.registration.fit import Fit, Mark, Model, Ruler, rotation_deg, scales
from namebatch.registration.solve import Floats, uncertainty

ALIKE_MM: Final = 0.6
"""Two readings of one mark are farther apart than this only by a slip."""
LEAST_APART_MM: Final = 20.0
"""Marks closer together than this, on the sheet, say nothing of how it is turned."""
_TOGETHER: Final = 0.2
"""Of the distance that the other marks would lead one to expect."""
_AT_ONE_PLACE: Final = 0.02
_OF_TWENTY: Final = 2.1
"""19 of 20 sheets stay below so many deviations at the worst place (2,000 simulated sheets each
of all three models: 2.0 to 2.1)."""


def fit_marks(
    marks: Sequence[Mark],
    model: Model | None = None,
    ruler: Ruler | None = None,
    limit_mm: float = LIMIT_MM,
) -> Fit:
    """The map from the sheet to the marks as they were measured.

    Two marks give turn, shift and one scale. From three on a scale each for x and y is taken if
    the marks ask for it, and skew only if they ask for it clearly.

    Args:
        marks: two or more, each of its own name.
        model: the kind of map, if it must be that one.
        ruler: the frame as it was measured with a ruler, to be taken together with the marks.
        limit_mm: a larger residual is refused.

    Raises:
        RegistrationError: too few marks, marks in one place or on a line, swapped, mirrored, off
            in scale by more than 3 %, or farther off than the limit; with the likely culprit.
    """
    _check_marks(marks)
    names = [mark.name for mark in marks]
    sheet = np.array([mark.sheet for mark in marks], dtype=np.float64)
    measured = np.array([mark.measured for mark in marks], dtype=np.float64)
    weights = np.array([len(mark.read) for mark in marks], dtype=np.float64)
    if ruler is None:
        _check_model(model, sheet)
        trial = tried(sheet, measured, weights, model)
    else:
        trial = ruled(sheet, measured, weights, ruler)
    wrong = fault(trial, names, limit_mm)
    if wrong is not None:
        why = ""
        if model is not None or ruler is not None:
            why = _would_fit(names, sheet, measured, weights, limit_mm, ruler)
        raise RegistrationError(f"{wrong} {why or _likely(names, sheet, measured, limit_mm)}")
    return Fit(
        trial.model,
        trial.affine,
        dict(zip(names, trial.gaps, strict=True)),
        _expected(trial, sheet, weights, ruler),
        ruled=ruler is not None,
    )


def _would_fit(
    names: Sequence[str],
    sheet: Floats,
    measured: Floats,
    weights: Floats,
    limit_mm: float,
    ruler: Ruler | None,
) -> str:
    """Whether the marks are sound by themselves; then the kind of map or the ruler is to blame."""
    own = tried(sheet, measured, weights)
    if len(names) < 3 or fault(own, names, limit_mm) is not None:
        return ""
    if ruler is None:
        return (
            "With another kind of map they do, so the print is stretched unevenly: let the kind be "
            "chosen by the marks."
        )
    width, height = (
        scale * size for scale, size in zip(scales(own.affine), ruler.frame_mm, strict=True)
    )
    return (
        f"Without the ruler they do, and by them the frame is {width:.1f} × {height:.1f} mm. "
        "Measure it again, or leave the ruler out."
    )


def _expected(trial: Trial, sheet: Floats, weights: Floats, ruler: Ruler | None) -> float:
    """How close the cut stays to the print between the marks, in 19 of 20 sheets.

    Marks that lie farther off than readings of 0.1 mm do (a kind of map that does not suit, a
    wider limit) are taken to have been read as badly as that.
    """
    (x0, y0), (x1, y1) = sheet.min(axis=0), sheet.max(axis=0)
    corners = np.array([[x0, y0], [x1, y0], [x1, y1], [x0, y1]])
    turn = radians(rotation_deg(trial.affine))
    found = uncertainty(trial.model, turn, sheet, weights, corners, ruler)
    worse = trial.squares > trial.by_chance and trial.freedom > 0
    reading = READING_MM * (sqrt(trial.squares / trial.freedom) if worse else 1.0)
    return max(_OF_TWENTY * reading * found, *trial.gaps)


def _likely(names: Sequence[str], sheet: Floats, measured: Floats, limit_mm: float) -> str:
    """Two marks can only be told their distance; more of them betray the slip."""
    if len(names) > 2:
        return suspicion(names, sheet, measured, limit_mm)
    return (
        f"{names[0]} and {names[1]} were measured {dist(*measured):.1f} mm apart and are "
        f"{dist(*sheet):.1f} mm apart on the sheet. See that these are the right two, and measure "
        "again."
    )


def _check_marks(marks: Sequence[Mark]) -> None:
    if len(marks) < 2:
        raise RegistrationError(
            "At least two different marks are needed to see how the print lies; four are better."
        )
    for mark in marks:
        apart = max((dist(a, b) for a, b in combinations(mark.read, 2)), default=0.0)
        if apart > ALIKE_MM:
            raise RegistrationError(
                f"The readings of {mark.name} are up to {apart:.1f} mm apart; one of them is a "
                "slip. Measure that mark again."
            )
    _check_apart(marks)
    if max(dist(a.sheet, b.sheet) for a, b in combinations(marks, 2)) < LEAST_APART_MM:
        raise RegistrationError(
            f"All marks lie within {LEAST_APART_MM:g} mm on the sheet, too close together to see "
            "how it is turned. Take marks farther apart."
        )


def _check_apart(marks: Sequence[Mark]) -> None:
    """No two marks in one place, whatever the unit of the readings."""
    pairs = [(one, other) for one, other in combinations(marks, 2) if one.sheet != other.sheet]
    shares = [dist(a.measured, b.measured) / dist(a.sheet, b.sheet) for a, b in pairs]
    least = max(_TOGETHER * max(shares, default=0.0), _AT_ONE_PLACE)
    for (one, other), share in zip(pairs, shares, strict=True):
        if share < least:
            raise RegistrationError(
                f"{one.name} and {other.name} were measured in almost the same place and are "
                f"{dist(one.sheet, other.sheet):.0f} mm apart on the sheet. Measure both again."
            )


def _check_model(model: Model | None, sheet: Floats) -> None:
    if model is not None and model not in carried(sheet):
        raise RegistrationError(
            f'A fit with "{model}" needs three marks that are not on one line. Measure the other '
            "corners of the frame too, or take a similarity."
        )
