"""Test sheets for printer and cutter, and what was measured on them put into the workshop file."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path
from typing import Final
from zipfile import ZIP_DEFLATED, ZipFile, ZipInfo

from namebatch.desk.shop import WRITING, begun
from namebatch.errors import MeasureError, NamebatchError
from namebatch.measured import bars
from namebatch.measured.calibrating import (
    kerf_lines,
    kerf_test_files,
    kerf_test_of,
    material_of,
    print_test_files,
    scale_lines,
)
from namebatch.measured.kerf import SLOT, STRIPS, kerf_of
from namebatch.measured.print_scale import print_scale_of
from namebatch.measured.readings import LARGEST_MM, Reading
from namebatch.measured.workshop_edit import set_values
from namebatch.template import load_workshop

MOST_READINGS: Final = 20
"""Of one bar, or of the strips or slots of one direction."""
_BEGUN: Final = (
    "The workshop file was begun with it; all other values in it are still examples. Look through "
    "them."
)
_FOLLOWS: Final = (
    "Cut files and jig will follow the print, and pieces be off as much. If prints are to come out "
    "true instead, choose that for the printer."
)
_WAYS: Final = (
    ("the bar x and y", "the bar across nor of the one up"),
    ("bar x", "bar across"),
    ("bar y", "bar up"),
    ("lengths in x", "lengths across"),
    ("lengths in y", "lengths up"),
    ('"The readings" has', "The readings have"),
)
_TRUE: Final = "Print files will be drawn so that the prints come out true."


@dataclass(frozen=True, slots=True)
class PrintTestView:
    """The printer's test.

    Attributes:
        lengths_mm: of the level and the upright bar; None if the sheet is too small for them.
        scale: measured over nominal length in x and y, as stored.
        correct: what gives way to it.
        problem: why there is no test, else empty.
    """

    lengths_mm: tuple[float, float] | None
    scale: tuple[float, float]
    correct: str
    problem: str


@dataclass(frozen=True, slots=True)
class KerfTestView:
    """The cutter's test in a material.

    Attributes:
        name, title: of the material.
        kerf_mm: in x and y, as stored.
        strips: how many are laid together; 0 if there is no room for the test.
        width_mm: of one strip, and of a slot, as drawn.
        problem: why there is no test, else empty.
    """

    name: str
    title: str
    kerf_mm: tuple[float, float]
    strips: int
    width_mm: float
    problem: str


@dataclass(frozen=True, slots=True)
class CalibrationView:
    """What can be measured: the printer, and the kerf of every material."""

    print: PrintTestView
    kerf: tuple[KerfTestView, ...]


@dataclass(frozen=True, slots=True)
class KerfMeasured:
    """What was read on a kerf test, in mm, each once or several times.

    Attributes:
        x_strips, y_strips: of all strips of a direction laid together.
        x_slots, y_slots: widths of slots.
    """

    x_strips: Sequence[float] = ()
    y_strips: Sequence[float] = ()
    x_slots: Sequence[float] = ()
    y_slots: Sequence[float] = ()


def calibration_view(path: Path) -> CalibrationView:
    """The tests that suit the workshop, and what they gave last.

    Args:
        path: the workshop file; it need not be there.

    Raises:
        WorkshopError: it is there and not usable.
    """
    workshop = load_workshop(_known(path))
    printer = workshop.printer
    try:
        lengths, problem = bars.print_test(printer).lengths_mm, ""
    except MeasureError as error:
        lengths, problem = None, error.what
    found = []
    for name, material in workshop.materials.items():
        try:
            test = kerf_test_of(workshop, name)
            strips, width, none = test.strips, test.width_mm, ""
        except MeasureError as error:
            strips, width, none = 0, 0.0, error.what
        found.append(KerfTestView(name, material.title, material.kerf_mm, strips, width, none))
    return CalibrationView(
        PrintTestView(lengths, printer.scale, printer.correct, problem), tuple(found)
    )


def print_test_zip(path: Path) -> bytes:
    """The printer's test as a ZIP archive.

    Raises:
        NamebatchError: it cannot be made.
    """
    return _zipped(print_test_files(load_workshop(_known(path)).printer))


def kerf_test_zip(path: Path, material: str) -> bytes:
    """The cutter's test in a material as a ZIP archive.

    Raises:
        NamebatchError: there is no such material, or no room for the test.
    """
    return _zipped(kerf_test_files(load_workshop(_known(path)), material))


def store_print(path: Path, x_mm: Sequence[float], y_mm: Sequence[float]) -> tuple[str, ...]:
    """Store the printer's scale.

    Args:
        path: the workshop file; it is begun from the example values if it is not there.
        x_mm: lengths of the level bar, one a print.
        y_mm: lengths of the upright bar.

    Returns:
        What was found and done, in sentences.

    Raises:
        NamebatchError: the lengths cannot be right, or nothing can be stored; nothing was changed.
    """
    lengths = bars.print_test(load_workshop(_known(path)).printer).lengths_mm
    readings = [
        Reading(f"Reading {n} of the bar {bar}", bar, {"mm": length})
        for bar, some in (("x", x_mm), ("y", y_mm))
        for n, length in enumerate(_checked(some), start=1)
    ]
    try:
        found = print_scale_of(readings, lengths, "The readings")
    except MeasureError as error:
        raise MeasureError(_ways(error.what)) from None
    x, y = found
    told = _stored(path, {("printer", "scale"): (x.scale, y.scale)})
    now = load_workshop(path).printer
    return (
        *(_ways(line) for line in scale_lines(found)),
        f"Stored with the printer: {x.scale:g} across, {y.scale:g} up.",
        _FOLLOWS if now.correct == "cut" else _TRUE,
        *told,
    )


def store_kerf(path: Path, material: str, measured: KerfMeasured) -> tuple[str, ...]:
    """Store the kerf of a material.

    Args:
        path: the workshop file; it is begun from the example values if it is not there.
        material: by its name.
        measured: what was read on the test.

    Returns:
        What was found and done, in sentences.

    Raises:
        NamebatchError: the widths cannot be right, or nothing can be stored; nothing was changed.
    """
    workshop = load_workshop(_known(path))
    title = material_of(workshop, material).title
    test = kerf_test_of(workshop, material)
    readings = [
        Reading(
            f"Reading {n} of the {kind} for {axis}",
            f"{axis}-{kind}",
            {"mm": mm, "nominal_mm": test.width_mm, "count": count},
        )
        for axis, kind, count, some in (
            ("x", STRIPS, test.strips, measured.x_strips),
            ("y", STRIPS, test.strips, measured.y_strips),
            ("x", SLOT, 1, measured.x_slots),
            ("y", SLOT, 1, measured.y_slots),
        )
        for n, mm in enumerate(_checked(some), start=1)
    ]
    found = kerf_of(readings, "The readings")
    x, y = (one.mm for one in found)
    told = _stored(path, {("material", material, "kerf_mm"): (x, y)})
    stored = f"Stored with {title}: {x:g} mm in x, {y:g} mm in y."
    return (*kerf_lines(found), stored, *told)


def _ways(text: str) -> str:
    """A sentence of the printer's test with the ways as the page calls them."""
    for words, instead in _WAYS:
        text = text.replace(words, instead)
    return text


def _known(path: Path) -> Path | None:
    """The workshop file, None for the example values as long as it is not there."""
    return path if path.exists() else None


def _checked(lengths: Sequence[float]) -> Sequence[float]:
    """Readings that a ruler may have given.

    Raises:
        MeasureError: too many of them, or one that is no length.
    """
    if len(lengths) > MOST_READINGS:
        raise MeasureError(f"More than {MOST_READINGS} readings of one length; give the best ones.")
    wrong = [length for length in lengths if not 0 < length <= LARGEST_MM]
    if wrong:
        raise MeasureError(f"{wrong[0]:g} mm is no length that can be measured here. Correct it.")
    return lengths


def _stored(path: Path, values: Mapping[tuple[str, ...], tuple[float, ...]]) -> tuple[str, ...]:
    """Values set; a sentence more where the file was begun with them."""
    with WRITING:
        fresh = begun(path)
        try:
            set_values(path, values)
        except NamebatchError:
            if fresh:
                path.unlink(missing_ok=True)
            raise
    return (_BEGUN,) if fresh else ()


def _zipped(files: Mapping[str, bytes]) -> bytes:
    """Files in an archive; the same files give the same bytes."""
    out = BytesIO()
    with ZipFile(out, "w", ZIP_DEFLATED) as archive:
        for name, data in files.items():
            entry = ZipInfo(name)  # of 1980-01-01, the earliest that the format knows
            entry.compress_type = ZIP_DEFLATED
            entry.external_attr = 0o644 << 16
            archive.writestr(entry, data)
    return out.getvalue()
