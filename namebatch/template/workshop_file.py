"""Reading a workshop file: every problem at once, or a `Workshop`."""

import hashlib
import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from namebatch.errors import WorkshopError
from namebatch.template.builtin_workshop import BUILTIN_TOML
from namebatch.template.dangerous import danger
from namebatch.template.line_colours import check_line_colours
from namebatch.template.paper import sheet_size
from namebatch.template.problems import (
    FileProblem,
    Problems,
    did_you_mean,
    joined,
    printable,
    validated,
)
from namebatch.template.toml_file import parse_toml, read_toml
from namebatch.template.workshop import Cutter, CutterKind, Material, Printer, Workshop
from namebatch.template.workshop_schema import CutterTable, MaterialTable, PrinterTable

TABLES = ("printer", "cutter", "material")
MOST_MATERIALS = 500
BUILTIN_NAME = "built-in"
LEAST_LEFT_MM = 15.0
"""A sheet with less than this inside its margins takes no piece."""


def load_workshop(path: Path | None) -> Workshop:
    """The workshop of a file, or the built-in example without one.

    Args:
        path: a TOML file with ``[printer]``, ``[cutter]``, ``[cutter.colours]`` and one
            ``[material.NAME]`` a material; nothing is taken from the example unnoticed but
            the colours of the lines and the file formats.

    Raises:
        WorkshopError: with all problems of the file, each with its place.
    """
    name = BUILTIN_NAME if path is None else path.name
    try:
        if path is None:
            tables = parse_toml(BUILTIN_TOML.encode(), name)
        else:
            tables, _ = read_toml(path)
    except FileProblem as problem:
        raise WorkshopError(f"The workshop file {problem}") from None
    problems = Problems()
    workshop = _workshop(tables, name, _digest(tables), path is None, problems)
    if workshop is None or problems:
        raise WorkshopError(
            f"The workshop file {printable(name)} cannot be used yet.", problems.told()
        )
    return workshop


def _digest(tables: Mapping[str, Any]) -> str:
    """Of the values alone: a comment, or another way to write a number, is no other workshop."""
    text = json.dumps(_plain(tables), sort_keys=True, ensure_ascii=True, default=str)
    return hashlib.sha256(text.encode()).hexdigest()


def _plain(value: Any) -> Any:
    """Whole numbers as others: ``60`` is ``60.0``."""
    if isinstance(value, dict):
        return {str(key): _plain(one) for key, one in value.items()}
    if isinstance(value, list):
        return [_plain(one) for one in value]
    if isinstance(value, int) and not isinstance(value, bool):
        return float(value) if abs(value) < 2**53 else str(value)
    return value


def _workshop(
    tables: Mapping[str, Any], name: str, digest: str, built_in: bool, problems: Problems
) -> Workshop | None:
    """All tables, or None with every problem noted."""
    for key in tables:
        if key not in TABLES:
            problems.add(
                joined("", [key]), f"there is no such key here; {did_you_mean(key, TABLES)}"
            )
    printer = _printer(tables, problems)
    cutter = _cutter(tables, problems)
    kind = cutter.kind if cutter else "laser"
    materials = _materials(tables, kind, problems)
    if printer is None or cutter is None or problems:
        return None
    return Workshop(name, digest, built_in, printer, cutter, materials)


def _table(tables: Mapping[str, Any], key: str, problems: Problems) -> object:
    """A table that has to be there; a missing one is noted once."""
    if key not in tables:
        problems.add(f"[{key}]", "is missing; this table is needed.")
    return tables.get(key)


def _printer(tables: Mapping[str, Any], problems: Problems) -> Printer | None:
    data = _table(tables, "printer", problems)
    table = validated(PrinterTable, data, "printer", problems) if data is not None else None
    if table is None:
        return None
    top, right, bottom, left = table.margins_mm
    width, height = sheet_size(table.sheet)
    if width - left - right < LEAST_LEFT_MM or height - top - bottom < LEAST_LEFT_MM:
        problems.add(
            "printer.margins_mm",
            f"leave less than {LEAST_LEFT_MM:g} mm of a sheet of {width:g} × {height:g} mm; "
            "give less.",
        )
    margins = (top, right, bottom, left)
    scale = (table.scale[0], table.scale[1])
    return Printer(table.name, table.sheet, margins, scale, table.correct)


def _cutter(tables: Mapping[str, Any], problems: Problems) -> Cutter | None:
    data = _table(tables, "cutter", problems)
    table = validated(CutterTable, data, "cutter", problems) if data is not None else None
    if table is None:
        return None
    colours: dict[str, str] = table.colours.model_dump()
    check_line_colours(colours, problems)
    files = tuple(kind for kind in ("svg", "dxf") if kind in table.files)
    width, depth = table.bed_mm
    return Cutter(
        table.name,
        (width, depth),
        table.travel_mm_s,
        table.acceleration_mm_s2,
        colours,
        files,
        table.corner_mm,
        table.price_per_hour,
        table.kind,
        _jig_sheet(table, problems),
    )


def _jig_sheet(table: CutterTable, problems: Problems) -> tuple[float, float] | None:
    """The sheet that jigs are made of, if the file says which; it has to lie on the bed."""
    if table.jig is None:
        return None
    width, height = sheet_size(table.jig)
    bed = table.bed_mm
    if min(width, height) > min(bed) or max(width, height) > max(bed):
        problems.add(
            "cutter.jig",
            f"is {width:g} × {height:g} mm and does not lie on the bed of {bed[0]:g} × {bed[1]:g} "
            "mm; take a smaller sheet.",
        )
    return width, height


def _materials(
    tables: Mapping[str, Any], kind: CutterKind, problems: Problems
) -> dict[str, Material]:
    """Every material; what must not go into a laser is refused, but for a blade."""
    data = tables.get("material")
    if not isinstance(data, dict) or not data:
        problems.add("[material.NAME]", "is missing; at least one material is needed.")
        return {}
    if len(data) > MOST_MATERIALS:
        problems.add("material", f"holds more than {MOST_MATERIALS} materials; take some out.")
        return {}
    found: dict[str, Material] = {}
    for name, entry in data.items():
        place = joined("material", [name])
        table = validated(MaterialTable, entry, place, problems)
        title = entry.get("title") if isinstance(entry, dict) else None
        reason = danger(name, title if isinstance(title, str) else "")
        if reason and kind == "laser":
            problems.add(place, reason.refusal)
        if table is not None:
            found[name] = _material(name, table, place, problems)
    return found


def _material(name: str, table: MaterialTable, place: str, problems: Problems) -> Material:
    """One material; checks that need two of its values."""
    sheet = None if table.sheet_mm is None else (table.sheet_mm[0], table.sheet_mm[1])
    if sheet is not None and min(sheet) - 2 * table.edge_mm < LEAST_LEFT_MM:
        problems.add(
            f"{place}.edge_mm",
            f"leaves less than {LEAST_LEFT_MM:g} mm of a sheet of {sheet[0]:g} × {sheet[1]:g} mm; "
            "give less.",
        )
    kerf_x, kerf_y = table.kerf_mm
    if table.minimum_width_mm <= max(kerf_x, kerf_y):
        problems.add(f"{place}.minimum_width_mm", "must be wider than the kerf.")
    return Material(
        name=name,
        title=table.title,
        sheet_mm=sheet,
        thickness_mm=table.thickness_mm,
        kerf_mm=(kerf_x, kerf_y),
        minimum_width_mm=table.minimum_width_mm,
        edge_mm=table.edge_mm,
        speeds_mm_s=table.speeds_mm_s.model_dump(exclude_none=True),
        price=table.price,
        colour=table.colour,
        engrave_line_mm=table.engrave_line_mm,
        at_the_machine=table.at_the_machine.model_dump(exclude_none=True)
        if table.at_the_machine
        else {},
    )
