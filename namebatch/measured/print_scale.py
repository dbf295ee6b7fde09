"""How true the printer's lengths are, from measured bars."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from namebatch.errors import MeasureError
from namebatch.measured.readings import Reading, read_readings
from namebatch.measured.uncertainty import mean_of
from namebatch.names.characters import shown
from namebatch.registration.choose import SCALE_LIMIT

READING_MM: Final = 0.1
"""A steel rule and a good eye."""
SLIP_MM: Final = 1.5
"""Readings of one bar on several prints are farther apart only by a slip."""
DIGITS: Final = 5


@dataclass(frozen=True, slots=True)
class PrintScale:
    """Measured over nominal length of a bar, its standard uncertainty, and how often read."""

    scale: float
    uncertainty: float
    count: int


def read_print_scale(path: Path, nominal_mm: tuple[float, float]) -> tuple[PrintScale, PrintScale]:
    """The printer's scale in x and in y, from a table with the columns ``bar`` and ``mm``.

    Args:
        path: the table; bars ``x`` and ``y``, each on one line or several. A column
            ``nominal_mm`` tells how long the bars were drawn.
        nominal_mm: taken where there is no such column.

    Raises:
        MeasureError: a bar is missing, or its lengths cannot be right.
    """
    readings = read_readings(path, "bar", ("mm",), ("nominal_mm",))
    return print_scale_of(readings, nominal_mm, path.name)


def print_scale_of(
    readings: Sequence[Reading], nominal_mm: tuple[float, float], name: str
) -> tuple[PrintScale, PrintScale]:
    """The printer's scale in x and in y, from readings of its bars.

    Args:
        readings: of the bars ``x`` and ``y``, in any order.
        nominal_mm: how long the bars were drawn, where a reading does not say it.
        name: of what the readings come from, for messages.

    Raises:
        MeasureError: a bar is missing, or its lengths cannot be right.
    """
    strange = [one for one in readings if one.name not in ("x", "y")]
    if strange:
        raise MeasureError(
            f'"{shown(name)}" cannot be used yet.',
            [f'{one.place}: bar is "{shown(one.name)}", not x or y' for one in strange[:20]],
        )
    by_bar = {bar: [one for one in readings if one.name == bar] for bar in ("x", "y")}
    missing = [bar for bar, some in by_bar.items() if not some]
    if missing:
        raise MeasureError(
            f'"{shown(name)}" has no length of the bar {" and ".join(missing)}. Measure both.'
        )
    x, y = (
        _scale(bar, by_bar[bar], nominal) for bar, nominal in zip("xy", nominal_mm, strict=True)
    )
    return x, y


def _scale(bar: str, readings: list[Reading], drawn: float) -> PrintScale:
    """One bar; prints of several lengths are taken as shares."""
    nominal = [one.values.get("nominal_mm", drawn) for one in readings]
    if min(nominal) <= 0:
        raise MeasureError(f"The bar {bar} cannot be {min(nominal):g} mm long. Correct nominal_mm.")
    shares = [one.values["mm"] / long for one, long in zip(readings, nominal, strict=True)]
    for one, share, long in zip(readings, shares, nominal, strict=True):
        if abs(share - 1) > SCALE_LIMIT:
            raise MeasureError(
                f"{one.place}: the bar {bar} of {long:g} mm was measured {one.values['mm']:g} mm "
                f"long, {100 * share:.1f} %; more than {100 * SCALE_LIMIT:g} % is no printer's "
                "error. Was the page printed to fit? Print it at 100 % and measure again."
            )
    if (max(shares) - min(shares)) * max(nominal) > SLIP_MM:
        raise MeasureError(
            f"The lengths of the bar {bar} are more than {SLIP_MM:g} mm apart: one is a slip, or "
            "the prints were made with different settings. Measure again."
        )
    mean = mean_of(shares, READING_MM / max(nominal))
    return PrintScale(round(mean.value, DIGITS), mean.uncertainty, mean.count)
