"""Measured marks of a sheet: from a table, or one by one from the command line."""

from collections.abc import Mapping, Sequence
from pathlib import Path

from namebatch.curves import Point
from namebatch.errors import MeasureError
from namebatch.measured.readings import number_of, read_readings
from namebatch.names.characters import shown
from namebatch.registration import Mark

Found = tuple[str, str, Point]
"""Where it was written, the mark's name, where it was found."""


def marks_from_file(path: Path) -> tuple[Found, ...]:
    """Marks of a table with the columns ``mark``, ``x_mm`` and ``y_mm``.

    Raises:
        MeasureError: as `read_readings`.
    """
    readings = read_readings(path, "mark", ("x_mm", "y_mm"))
    return tuple(
        (one.place, _name(one.name), (one.values["x_mm"], one.values["y_mm"])) for one in readings
    )


def marks_from_words(words: Sequence[str]) -> tuple[Found, ...]:
    """Marks written ``bottom-left=12.3,45.6``; with decimal commas a semicolon stands between.

    Raises:
        MeasureError: naming the first that cannot be read.
    """
    found = []
    for word in words:
        name, sign, place = word.partition("=")
        cells = place.split(";") if ";" in place else place.split(",")
        values = [number_of(cell) for cell in cells]
        if not sign or len(values) != 2 or values[0] is None or values[1] is None:
            raise MeasureError(
                "--mark takes NAME=X,Y in mm, for example bottom-left=12.3,45.6, not "
                f'"{shown(word)}".'
            )
        found.append(("--mark", _name(name), (values[0], values[1])))
    return tuple(found)


def _name(word: str) -> str:
    """A mark's name as the sheet has it: ``Bottom left`` is ``bottom-left``."""
    return "-".join(word.lower().replace("_", " ").replace("-", " ").split())


def size_from_words(word: str) -> tuple[float, float]:
    """A measured width and height, ``199.4,284.6``.

    Raises:
        MeasureError: it is none.
    """
    cells = word.lower().replace("x", ";").replace("×", ";")
    values = [number_of(cell) for cell in cells.split(";" if ";" in cells else ",")]
    if len(values) == 2 and values[0] and values[1] and min(values[0], values[1]) > 0:
        return values[0], values[1]
    raise MeasureError(
        "--frame takes the measured width and height of the printed frame in mm, for example "
        f'199.4,284.6, not "{shown(word)}".'
    )


def known_marks(found: Sequence[Found], known: Mapping[str, Point]) -> tuple[Mark, ...]:
    """Marks with their places on the sheet, in its order; readings of one mark together.

    Raises:
        MeasureError: with every name that the sheet does not have.
    """
    wrong = [
        f'{place}: "{shown(name)}" is no mark of this sheet'
        for place, name, _ in found
        if name not in known
    ]
    if wrong:
        raise MeasureError(f"The sheet has the marks {', '.join(known)}.", wrong[:20])
    read: dict[str, list[Point]] = {}
    for _, name, point in found:
        read.setdefault(name, []).append(point)
    return tuple(
        Mark(name, place, tuple(read[name])) for name, place in known.items() if name in read
    )
