"""What there is: templates and typefaces, as a table or as JSON."""

import json
import sys
from collections.abc import Sequence
from math import isfinite

from namebatch.errors import FontError
from namebatch.strokes import Stroke, thinnest_stroke
from namebatch.template import bundled_templates, find_template, load_template
from namebatch.template.workshop import Material, Workshop
from namebatch.text import Catalogue, FaceInfo, load_catalogue
from namebatch.text.fallback import fallback_for, remedies_for


def list_templates(*, as_json: bool) -> None:
    """Print the bundled templates."""
    templates = [load_template(find_template(name)) for name in bundled_templates()]
    if as_json:
        entries: list[dict[str, object]] = [
            {
                "name": template.name,
                "title": template.title,
                "build": template.build,
                "rule": template.rule,
                "faces": list(template.faces),
                "fields": list(template.fields),
                "size_mm": [round(value, 3) for value in template.size_mm],
            }
            for template in templates
        ]
        _print_json(entries)
        return
    rows = [
        (
            template.name,
            template.title,
            template.build,
            template.rule,
            ", ".join(template.faces),
            ", ".join(template.fields),
            " × ".join(f"{value:.1f}" for value in template.size_mm),
        )
        for template in templates
    ]
    _print_table(("name", "title", "build", "rule", "faces", "fields", "size (mm)"), rows)


def list_fonts(*, as_json: bool) -> None:
    """Print every typeface that can be called by name."""
    catalogue = load_catalogue()
    _print_faces(_usable(catalogue, ""), as_json=as_json)


def check_fonts(text: str, height_mm: float, workshop: Workshop, *, as_json: bool) -> bool:
    """Print the typefaces that can set a text, and whether their strokes can be cut.

    Args:
        text: one line.
        height_mm: of capitals, at which the thinnest stroke is told.
        workshop: whose materials are asked.
        as_json: for programs.

    Returns:
        True if there is at least one.
    """
    catalogue = load_catalogue()
    able = _usable(catalogue, text)
    strokes = [thinnest_stroke(catalogue.open(info.name), text) for info in able]
    materials = sorted(workshop.materials.values(), key=lambda m: (m.minimum_width_mm, m.name))
    if as_json:
        entries = []
        for info, stroke in zip(able, strokes, strict=True):
            entry = _face_entry(info)
            if stroke is not None:
                entry["text_stroke_ratio"] = round(stroke.ratio, 4)
                entry["text_stroke_mm"] = round(stroke.at(height_mm), 3)
                entry["least_height_mm"] = {
                    material.name: round(least, 1)
                    for material in materials
                    if isfinite(least := stroke.least_height(material.minimum_width_mm))
                }
            entries.append(entry)
        _print_json(entries)
    elif able:
        _print_strokes(able, strokes, height_mm, materials)
    else:
        print(f'No typeface here can set all of "{text}".')
        several = fallback_for(text, catalogue)
        if len(several) > 1:
            print(f"Several together may: {', '.join(several)}.")
        for remedy in remedies_for(text, catalogue):
            print(remedy)
    return bool(able)


def _print_strokes(
    infos: Sequence[FaceInfo],
    strokes: Sequence[Stroke | None],
    height_mm: float,
    materials: Sequence[Material],
) -> None:
    """One line a face: its thinnest stroke in this text, and from which height it can be cut."""
    rows = []
    for info, stroke in zip(infos, strokes, strict=True):
        least = [stroke.least_height(m.minimum_width_mm) if stroke else 0.0 for m in materials]
        figures = [f"{value:.1f}" if isfinite(value) else "never" for value in least]
        at = f"{stroke.at(height_mm):.2f}" if stroke else ""
        rows.append((info.name, info.style, at, *(figures if stroke else [""] * len(figures))))
    heads = [f"{m.name} ({m.minimum_width_mm:g})" for m in materials]
    _print_table(("name", "style", f"thinnest at {height_mm:g} mm", *heads), rows)
    print(
        "All in mm. Heights are those of capitals. Under each material, with its least width: from "
        "which height this text can be cut as it is drawn; below that, thin strokes are widened."
    )


def _usable(catalogue: Catalogue, text: str) -> list[FaceInfo]:
    """Typefaces that open and have every character; a broken file is told and left out."""
    able: list[FaceInfo] = []
    for info in catalogue.infos:
        try:
            if catalogue.open(info.name).can_set(text):
                able.append(info)
        except FontError as error:
            print(f"namebatch: {error}", file=sys.stderr)
    return able


def _print_faces(infos: Sequence[FaceInfo], *, as_json: bool) -> None:
    if as_json:
        _print_json([_face_entry(info) for info in infos])
        return
    rows = []
    for info in infos:
        ratio = info.thinnest_stroke_ratio
        stroke = "" if ratio is None else f"{100 * ratio:.1f} %"
        package = info.package or "own file"
        rows.append((info.name, info.style, " ".join(info.scripts), stroke, info.licence, package))
    _print_table(("name", "style", "scripts", "thinnest stroke", "licence", "package"), rows)
    print("Thinnest stroke: share of the height of capitals.")


def _face_entry(info: FaceInfo) -> dict[str, object]:
    return {
        "name": info.name,
        "family": info.family,
        "style": info.style,
        "package": info.package,
        "licence": info.licence,
        "scripts": list(info.scripts),
        "thinnest_stroke_ratio": info.thinnest_stroke_ratio,
    }


def _print_table(headers: Sequence[str], rows: Sequence[Sequence[str]]) -> None:
    """Columns as wide as their longest cell; what must be typed is never cut."""
    widths = [max(len(row[i]) for row in [headers, *rows]) for i in range(len(headers))]
    for row in [headers, *rows]:
        cells = (cell.ljust(width) for cell, width in zip(row, widths, strict=True))
        print("  ".join(cells).rstrip())


def _print_json(entries: Sequence[dict[str, object]]) -> None:
    print(json.dumps(entries, ensure_ascii=False, indent=1, sort_keys=True))
