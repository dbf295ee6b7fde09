"""How wide the cut is, from strips laid together and slots.

A strip drawn w wide loses half a kerf on either side: n of them, laid together, are n·(w − k)
wide, so k = (n·w − total)/n. A reading error counts by a share of n only, which is why strips are
measured together. A slot drawn w wide is w + k wide.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final, TypeAlias

from namebatch.errors import MeasureError
from namebatch.measured.readings import Reading, read_readings
from namebatch.measured.uncertainty import Mean, mean_of
from namebatch.names.characters import shown

READING_MM: Final = 0.05
"""Callipers on wood or card."""
MOST_MM: Final = 1.0
DIGITS: Final = 3
STRIPS: Final = "strips"
SLOT: Final = "slot"
_PLACES: Final = ("x-strips", "y-strips", "x-slot", "y-slot")
_DISAGREE_MM: Final = 0.05
KerfOf: TypeAlias = Callable[[Sequence[Reading]], Mean]


@dataclass(frozen=True, slots=True)
class Kerf:
    """Width of the cut in one direction.

    Attributes:
        axis: ``x`` or ``y``.
        mm: from the strips, or from slots where no strips were measured.
        uncertainty_mm: standard uncertainty.
        strips: how many were laid together; 0 when slots told.
        slot_mm: what the slots say, if both were measured.
        doubt: what looks wrong, for people; empty when nothing does.
    """

    axis: str
    mm: float
    uncertainty_mm: float
    strips: int
    slot_mm: float | None = None
    doubt: str = ""


def strips_kerf(count: int, nominal_mm: float, totals_mm: Sequence[float]) -> Mean:
    """Kerf from the total widths of strips laid together, measured once or several times."""
    total = mean_of(totals_mm, READING_MM)
    kerf = (count * nominal_mm - total.value) / count
    return Mean(kerf, total.uncertainty / count, total.count)


def slot_kerf(nominal_mm: float, widths_mm: Sequence[float]) -> Mean:
    """Kerf from the widths of slots."""
    width = mean_of(widths_mm, READING_MM)
    return Mean(width.value - nominal_mm, width.uncertainty, width.count)


def read_kerf(path: Path) -> tuple[Kerf, Kerf]:
    """Kerf in x and in y from the form of the test, filled in.

    Args:
        path: a table with the columns ``place`` (x-strips, y-strips, x-slot, y-slot), ``count``
            (strips laid together), ``nominal_mm`` (width of one as drawn) and ``mm``.

    Raises:
        MeasureError: a direction is missing, or its widths cannot be right.
    """
    return kerf_of(read_readings(path, "place", ("mm",), ("count", "nominal_mm")), path.name)


def kerf_of(readings: Sequence[Reading], name: str) -> tuple[Kerf, Kerf]:
    """Kerf in x and in y from readings of the test.

    Args:
        readings: with ``count`` and ``nominal_mm``, as the lines of the form.
        name: of what the readings come from, for messages.

    Raises:
        MeasureError: a direction is missing, or its widths cannot be right.
    """
    problems = [
        f'{one.place}: place is "{shown(one.name)}", not one of {", ".join(_PLACES)}'
        for one in readings
        if one.name not in _PLACES
    ]
    problems += [
        f"{one.place}: nominal_mm is missing; take it from the form of the test"
        for one in readings
        if one.values.get("nominal_mm", 0.0) <= 0
    ]
    problems += [
        f"{one.place}: count must say how many strips were laid together, a whole number"
        for one in readings
        if one.name.endswith(STRIPS) and not _whole(one.values.get("count", 0.0))
    ]
    if problems:
        raise MeasureError(f'"{shown(name)}" cannot be used yet.', problems[:20])
    x, y = (_axis(axis, readings, name) for axis in "xy")
    return x, y


def _whole(value: float) -> bool:
    return value >= 1 and value == int(value)


def _axis(axis: str, readings: Sequence[Reading], name: str) -> Kerf:
    """One direction: strips before slots."""
    strips = [one for one in readings if one.name == f"{axis}-{STRIPS}"]
    slots = [one for one in readings if one.name == f"{axis}-{SLOT}"]
    if not strips and not slots:
        raise MeasureError(
            f'"{shown(name)}" has nothing measured in {axis}. A cut may be wider in one direction: '
            "measure both."
        )
    slot = _alike(slots, slot_kerf_of) if slots else None
    if not strips and slot is not None:
        _check(axis, slot.value)
        return Kerf(axis, round(slot.value, DIGITS), slot.uncertainty, 0)
    found = _alike(strips, strips_kerf_of)
    _check(axis, found.value)
    doubt = ""
    if slot is not None:
        apart = 2 * (found.uncertainty**2 + slot.uncertainty**2) ** 0.5 + _DISAGREE_MM
        if abs(found.value - slot.value) > apart:
            doubt = (
                f"In {axis} the strips say {found.value:.3f} mm and the slots {slot.value:.3f} mm. "
                "Were the strips pressed together without gaps, and are the edges upright?"
            )
    return Kerf(
        axis,
        round(found.value, DIGITS),
        found.uncertainty,
        int(strips[0].values["count"]),
        None if slot is None else round(slot.value, DIGITS),
        doubt,
    )


def strips_kerf_of(readings: Sequence[Reading]) -> Mean:
    """Kerf of lines of the form that tell of strips."""
    values = readings[0].values
    totals = [one.values["mm"] for one in readings]
    return strips_kerf(int(values["count"]), values["nominal_mm"], totals)


def slot_kerf_of(readings: Sequence[Reading]) -> Mean:
    """Kerf of lines of the form that tell of slots."""
    return slot_kerf(readings[0].values["nominal_mm"], [one.values["mm"] for one in readings])


def _alike(readings: Sequence[Reading], kerf_of: KerfOf) -> Mean:
    """All lines of one place must tell of the same strips or slots."""
    drawn = {(one.values.get("count"), one.values["nominal_mm"]) for one in readings}
    if len(drawn) > 1:
        raise MeasureError(
            f"{readings[0].name}: count and nominal_mm differ from line to line. Keep them as the "
            "form has them; one form is for one test."
        )
    return kerf_of(readings)


def _check(axis: str, kerf: float) -> None:
    """A kerf that no cutter has."""
    if not 0.0 < kerf <= MOST_MM:
        raise MeasureError(
            f"In {axis} the kerf comes out as {kerf:.3f} mm; it must be above 0 and at most "
            f"{MOST_MM:g} mm. Were all the strips measured, pressed together without gaps, and was "
            "the total written down and not one width?"
        )
