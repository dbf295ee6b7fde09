"""From how far letters can be read; for information only, eyes and light differ."""

from math import radians, tan

FAA_SHARE = 200
"""Viewing distance over height of capitals (FAA Human Factors Design Standard)."""
ISO_ARCMIN = 16.0
"""Least angle of a capital's height (ISO 9241-3, 1992: 2.33 mm at 500 mm)."""


def reading_distance_mm(height_mm: float) -> float:
    """The distance at which capitals of a height are comfortable to read: 200 heights."""
    return FAA_SHARE * height_mm


def least_height_mm(distance_mm: float) -> float:
    """The height of capitals that subtends 16 minutes of arc, the least that ISO 9241-3 takes.

    Half the angle stands on either side of the middle: 2 · d · tan(16′ / 2).
    """
    return 2 * distance_mm * tan(radians(ISO_ARCMIN / 60 / 2))


def reading_note(smallest_mm: float, largest_mm: float) -> str:
    """A sentence for the end of a job."""
    near, far = (reading_distance_mm(mm) / 1000 for mm in (smallest_mm, largest_mm))
    low, high = f"{smallest_mm:.1f}", f"{largest_mm:.1f}"
    if low == high:
        return (
            f"Letters are {low} mm high and read well up to about {near:.1f} m away "
            f"(1/{FAA_SHARE} of the distance; for information)."
        )
    return (
        f"Letters are {low} to {high} mm high; the smallest read well up to about {near:.1f} m, "
        f"the largest up to about {far:.1f} m away (1/{FAA_SHARE} of the distance; for "
        "information)."
    )
