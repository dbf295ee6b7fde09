"""Holes whose place is found for every piece, from the tables ``[[hole]]`` with ``find``."""

from collections.abc import Mapping
from typing import Any

from namebatch.template.model import FoundHole
from namebatch.template.problems import Problems, did_you_mean, shown, validated
from namebatch.template.schema import FINDS, FindSlot

WAYS = ("at_mm", "find", "near_mm")


def is_found(entry: object) -> bool:
    """True if a table of ``[[hole]]`` leaves its place to be found."""
    return isinstance(entry, dict) and ("find" in entry or "near_mm" in entry)


def read_found(entry: Mapping[str, Any], place: str, problems: Problems) -> FoundHole | None:
    """One hole; None with problems noted.

    Args:
        entry: the table.
        place: where it is, ``hole[2]``.
        problems: gets one line for each.
    """
    ways = [key for key in WAYS if key in entry]
    if len(ways) > 1:
        problems.add(place, f"has {' and '.join(ways)}; keep one of them.")
        return None
    kind = entry.get("shape")
    model = FINDS.get(kind) if isinstance(kind, str) else None
    if model is None:
        said = f"{shown(kind)} is not a hole known here" if kind is not None else "is missing"
        problems.add(f"{place}.shape", f"{said}; {did_you_mean(kind, FINDS)}")
        return None
    table = validated(model, entry, place, problems)
    if table is None:
        return None
    near = table.find if table.find is not None else (table.near_mm or [0.0, 0.0])
    at = near if isinstance(near, str) else (near[0], near[1])
    if not isinstance(table, FindSlot):
        diameter = table.diameter_mm
        return FoundHole("round", diameter, diameter, at, table.wall_mm, table.tab)
    if table.length_mm < table.width_mm:
        problems.add(
            f"{place}.length_mm",
            f"a slot of {table.length_mm:g} mm is shorter than its width of {table.width_mm:g} mm; "
            "length_mm is the overall length.",
        )
    return FoundHole("slot", table.width_mm, table.length_mm, at, table.wall_mm, table.tab)
