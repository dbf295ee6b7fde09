"""Running `calibrate`: tests written, results stored, and what is told of both."""

import tempfile
from pathlib import Path

from namebatch.errors import MeasureError
from namebatch.measured import bars, strips
from namebatch.measured.kerf import Kerf, read_kerf
from namebatch.measured.kerf_page import PDF as KERF_PAGE
from namebatch.measured.kerf_page import write_kerf_page
from namebatch.measured.print_scale import PrintScale, read_print_scale
from namebatch.measured.telling import CAUTION
from namebatch.measured.workshop_edit import set_values
from namebatch.names.characters import shown
from namebatch.output.cutfiles import FORMATS
from namebatch.output.fileset import write_together
from namebatch.template import load_workshop, sheet_size
from namebatch.template.workshop import Material, Printer, Workshop


def print_test_written(out: Path, workshop_file: Path | None, *, replace: bool) -> None:
    """Write the printer's test page and the form for its result.

    Raises:
        NamebatchError: it cannot be done; nothing is written.
    """
    printer = load_workshop(workshop_file).printer
    test = bars.print_test(printer)
    files = print_test_files(printer)
    _keep_filled(out / bars.FORM, files[bars.FORM], replace=replace)
    _tell_written(write_together(out, files))
    print(
        f"Print {bars.PDF} at 100 %, measure the bars ({test.lengths_mm[0]:g} mm across, "
        f"{test.lengths_mm[1]:g} mm up), fill in {bars.FORM}, then: namebatch calibrate "
        f"print --measured {bars.FORM} --workshop FILE"
    )


def print_scale_stored(table: Path, workshop_file: Path | None) -> None:
    """Store the printer's scale in the workshop file.

    Raises:
        NamebatchError: it cannot be done; the workshop file is as it was.
    """
    printer = load_workshop(workshop_file).printer
    found = read_print_scale(table, bars.print_test(printer).lengths_mm)
    x, y = found
    now = set_values(workshop_file, {("printer", "scale"): (x.scale, y.scale)})
    for line in scale_lines(found):
        print(line)
    print(f"[printer] scale = [{x.scale:g}, {y.scale:g}] stored in {workshop_file}.")
    if now.printer.correct == "cut":
        print(
            "Cut files and jig will follow the print, and pieces be off as much. With correct = "
            '"print" in [printer] the prints come out true instead.'
        )
    else:
        print("print.pdf will be drawn so that the prints come out true.")


def print_test_files(printer: Printer) -> dict[str, bytes]:
    """Name → content of the printer's test page and of the form for its result.

    Raises:
        MeasureError: the printer's sheet is too small to measure on.
    """
    test = bars.print_test(printer)
    return {bars.PDF: bars.print_test_pdf(test, printer), bars.FORM: bars.print_form(test)}


def scale_lines(found: tuple[PrintScale, PrintScale]) -> tuple[str, ...]:
    """A printer's scale in x and in y as sentences: twice the standard uncertainty."""
    return tuple(
        f"Printed lengths in {axis} are {100 * one.scale:.2f} % ± {200 * one.uncertainty:.2f} "
        f"% of what they should be ({one.count} readings)."
        for axis, one in zip("xy", found, strict=True)
    )


def kerf_test_written(
    out: Path, workshop_file: Path | None, material_name: str, *, replace: bool
) -> None:
    """Write the cutter's test, its page and the form for its result.

    Raises:
        NamebatchError: it cannot be done; nothing is written.
    """
    workshop = load_workshop(workshop_file)
    files = kerf_test_files(workshop, material_name)
    _keep_filled(out / strips.FORM, files[strips.FORM], replace=replace)
    _tell_written(write_together(out, files))
    print(f"What to do stands in {KERF_PAGE}. {CAUTION}")


def kerf_stored(table: Path, workshop_file: Path | None, material_name: str) -> None:
    """Store the kerf of a material in the workshop file.

    Raises:
        NamebatchError: it cannot be done; the workshop file is as it was.
    """
    material_of(load_workshop(workshop_file), material_name)
    found = read_kerf(table)
    values = tuple(one.mm for one in found)
    set_values(workshop_file, {("material", material_name, "kerf_mm"): values})
    for line in kerf_lines(found):
        print(line)
    print(
        f"[material.{material_name}] kerf_mm = [{values[0]:g}, {values[1]:g}] stored in "
        f"{workshop_file}."
    )


def kerf_test_of(workshop: Workshop, material_name: str) -> strips.KerfTest:
    """The cutter's test in a material, as large as its sheet and the bed take.

    Raises:
        MeasureError: there is no such material, or no room for the test.
    """
    return strips.kerf_test(_room(workshop, material_of(workshop, material_name)))


def kerf_test_files(workshop: Workshop, material_name: str) -> dict[str, bytes]:
    """Name → content of the cutter's test, its page and the form for its result.

    Raises:
        MeasureError: there is no such material, or no room for the test.
    """
    test = kerf_test_of(workshop, material_name)
    colours = workshop.cutter.colours
    files = {
        f"{strips.STEM}.{ending}": drawer(test.cuts, test.size_mm, colours)
        for ending, drawer in FORMATS.items()
        if ending in workshop.cutter.files
    }
    with tempfile.TemporaryDirectory() as folder:
        page = Path(folder) / KERF_PAGE
        write_kerf_page(page, test, material_of(workshop, material_name), workshop)
        return files | {KERF_PAGE: page.read_bytes(), strips.FORM: strips.kerf_form(test)}


def kerf_lines(found: tuple[Kerf, Kerf]) -> tuple[str, ...]:
    """The kerf in x and in y as sentences, and what looks wrong with them."""
    lines: list[str] = []
    for one in found:
        lines.append(_kerf_line(one))
        if one.doubt:
            lines.append(f"Look: {one.doubt}")
    return tuple(lines)


def _kerf_line(one: Kerf) -> str:
    """A kerf with how far it can be trusted: twice the standard uncertainty, 19 times of 20."""
    source = f"{one.strips} strips laid together" if one.strips else "slots; strips tell more"
    slots = "" if one.slot_mm is None else f"; the slots say {one.slot_mm:.3f} mm"
    return (
        f"Kerf in {one.axis}: {one.mm:.3f} mm ± {2 * one.uncertainty_mm:.3f} mm ({source}{slots})."
    )


def material_of(workshop: Workshop, name: str) -> Material:
    """A material of a workshop file by its name.

    Raises:
        MeasureError: there is none of that name.
    """
    if name not in workshop.materials:
        raise MeasureError(
            f'The workshop file {workshop.name} has no material "{shown(name)}". It has: '
            f"{', '.join(workshop.materials)}."
        )
    return workshop.materials[name]


def _room(workshop: Workshop, material: Material) -> tuple[float, float]:
    """What a sheet of the material and the bed leave."""
    size = material.sheet_mm or sheet_size(workshop.printer.sheet)
    bed = workshop.cutter.bed_mm
    return min(size[0], bed[0]), min(size[1], bed[1])


def _keep_filled(form: Path, empty: bytes, *, replace: bool) -> None:
    """A form that somebody filled in is not written over."""
    try:
        there = form.read_bytes() if form.is_file() else empty
    except OSError:
        return
    if there != empty and not replace:
        raise MeasureError(
            f"{form} is there already and may hold readings. Choose another folder, or say "
            "--replace to write over it."
        )


def _tell_written(files: tuple[Path, ...]) -> None:
    names = ", ".join(path.name for path in files)
    print(f"{len(files)} files in {files[0].parent}: {names}")
