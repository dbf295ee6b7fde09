"""The mean of repeated readings and how far it can be trusted."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt


@dataclass(frozen=True, slots=True)
class Mean:
    """A mean with its standard uncertainty, in the readings' unit."""

    value: float
    uncertainty: float
    count: int


def mean_of(readings: Sequence[float], reading_error: float) -> Mean:
    """The mean of readings, one or more.

    Two things make it uncertain (JCGM 100:2008, the guide to the expression of uncertainty in
    measurement, 4.2.3 and 4.3.7, from memory): the spread of the readings, s/√m, and the reading
    error ±a that all of them share and no repetition lessens, a/√3. They add as squares.

    Args:
        readings: of the same length.
        reading_error: a.
    """
    count = len(readings)
    value = sum(readings) / count
    squares = sum((reading - value) ** 2 for reading in readings)
    spread = squares / (count - 1) / count if count > 1 else 0.0
    return Mean(value, sqrt(reading_error**2 / 3 + spread), count)
