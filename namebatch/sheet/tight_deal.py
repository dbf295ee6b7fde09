"""Which pieces go on which sheet, by area alone. Areas in mm²."""

from collections.abc import Mapping, Sequence

Areas = Mapping[int, float]
"""Of each block by its number."""

LEAST = 1 / 3
"""An exchange brings at least this share of what is asked for."""


def deal(
    numbers: Sequence[int], areas: Areas, rooms: Sequence[float], spill: float
) -> tuple[list[list[int]], list[int]]:
    """Deal blocks to sheets, so that large and small ones lie on each.

    The largest first, always to where the largest share of the room is left.

    Args:
        numbers: of the blocks.
        areas: of each.
        rooms: so much area is wanted on each sheet.
        spill: so much is to be left over; if nothing, the last ones go where most room is left,
            even where that is less than they need.

    Returns:
        The numbers of each sheet, and those that are left over.
    """
    groups: list[list[int]] = [[] for _ in rooms]
    left: list[int] = []
    all_rooms = [*rooms, spill]
    free = list(all_rooms)
    for number in sorted(numbers, key=lambda n: (-areas[n], n)):
        order = sorted(range(len(rooms)), key=lambda k: (-free[k] / all_rooms[k], k))
        fitting = [k for k in order if free[k] >= areas[number]]
        spilling = spill > 0 and (
            not fitting or free[-1] / spill > free[fitting[0]] / all_rooms[fitting[0]]
        )
        if spilling or not order:
            left.append(number)
            free[-1] -= areas[number]
            continue
        into = (fitting or order)[0]
        groups[into].append(number)
        free[into] -= areas[number]
    return groups, left


def reduced(numbers: Sequence[int], areas: Areas, most: float) -> list[int]:
    """Blocks without as little as makes their area at most so much."""
    kept = list(numbers)
    excess = sum(areas[n] for n in kept) - most
    while excess > 0 and kept:
        enough = [n for n in kept if areas[n] >= excess]
        out = (
            min(enough, key=lambda n: (areas[n], n))
            if enough
            else max(kept, key=lambda n: (areas[n], n))
        )
        kept.remove(out)
        excess -= areas[out]
    return kept


def exchange(
    numbers: Sequence[int], others: Sequence[int], areas: Areas, more: float
) -> tuple[int | None, int] | None:
    """One block of a sheet for one from elsewhere, or none for one, for about so much more area.

    Args:
        numbers: on the sheet.
        others: that may come.
        areas: of each.
        more: area that is asked for.

    Returns:
        What goes (None for nothing) and what comes; None if nothing brings enough.
    """
    best: tuple[float, tuple[int | None, int]] | None = None
    for comes in others:
        for goes in (None, *numbers):
            gain = areas[comes] - (0.0 if goes is None else areas[goes])
            if gain < more * LEAST:
                continue
            off = abs(gain - more)
            if best is None or off < best[0]:
                best = off, (goes, comes)
    return None if best is None else best[1]
