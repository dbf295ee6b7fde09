"""What there is: templates and typefaces, as a table or as JSON."""

import json
import sys
from collections.abc import Sequence
from math import isfinite

from namebatch.errors import SettingsError
from namebatch.facecheck import Answer, SetBy, open_all, ways_to_set
from namebatch.strokes import Stroke
from namebatch.template import bundled_templates, find_template, load_template
from namebatch.template.workshop import Material, Workshop
from namebatch.text import FaceInfo, load_catalogue
from namebatch.text.characters import describe
from namebatch.text.fallback import remedies_for

TOLD_AT_MM = 10.0
LEAST_HEIGHT_MM = 0.5
MOST_HEIGHT_MM = 2000.0


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
    """Print every typeface that can be called by name; a broken file is told and left out."""
    opened, problems = open_all(load_catalogue())
    _tell_left_out(problems)
    _print_faces([info for info, _ in opened], as_json=as_json)


def check_fonts(text: str, height_mm: float | None, workshop: Workshop, *, as_json: bool) -> bool:
    """Print the typefaces that can set a text, and whether their strokes can be cut.

    Where none sets all of it, each is told that can lead with others helping out.

    Args:
        text: one line.
        height_mm: of capitals, at which the thinnest stroke is told; `TOLD_AT_MM` if None.
        workshop: whose materials are asked.
        as_json: for programs.

    Returns:
        True if it can be set.

    Raises:
        SettingsError: there is no text, or the height is none that can be cut.
    """
    text = " ".join(text.split())
    if not text:
        raise SettingsError(
            '--check is empty. Give the text that is to be set, for example --check "Zoë".'
        )
    height_mm = TOLD_AT_MM if height_mm is None else height_mm
    if not LEAST_HEIGHT_MM <= height_mm <= MOST_HEIGHT_MM:
        raise SettingsError(
            f"--height {height_mm:g} is not a height of letters that can be cut. "
            f"Give {LEAST_HEIGHT_MM:g} to {MOST_HEIGHT_MM:g} mm, measured on a capital."
        )
    catalogue = load_catalogue()
    answer = ways_to_set(text, catalogue)
    _tell_left_out(answer.problems)
    materials = sorted(workshop.materials.values(), key=lambda m: (m.minimum_width_mm, m.name))
    if as_json:
        _print_json([_way_entry(way, height_mm, materials) for way in answer.ways])
    elif answer.ways:
        if not answer.alone:
            print(f'No typeface here sets all of "{text}"; these do with the help of others.')
        _print_ways(answer, height_mm, materials)
    if not answer.ways:
        signs = ", ".join(describe(sign) for sign in answer.lacking[:5])
        told = [
            f'No typeface here can set all of "{text}": none has {signs}. Leave that out, or put '
            "a TTF or OTF file that has it into fonts/."
        ]
        # in JSON an empty list is all of the answer; why is told beside it
        stream = sys.stderr if as_json else sys.stdout
        print("\n".join([*told, *remedies_for(text, catalogue)]), file=stream)
    return bool(answer.ways)


def _way_entry(way: SetBy, height_mm: float, materials: Sequence[Material]) -> dict[str, object]:
    """A typeface with what it does with the text; `text_faces` are all that take part."""
    entry = {**_face_entry(way.info), "text_faces": list(way.faces)}
    if way.stroke is not None:
        entry["text_stroke_ratio"] = round(way.stroke.ratio, 4)
        entry["text_stroke_mm"] = round(way.stroke.at(height_mm), 3)
        entry["text_stroke_at"] = {"letter": way.stroke.letter, "face": way.stroke.face}
        entry["least_height_mm"] = {
            material.name: round(least, 1)
            for material in materials
            if isfinite(least := way.stroke.least_height(material.minimum_width_mm))
        }
    return entry


def _print_ways(answer: Answer, height_mm: float, materials: Sequence[Material]) -> None:
    """One line a typeface: its thinnest stroke in this text, and from which height it is cut."""
    rows = []
    for way in answer.ways:
        helpers = " + ".join(name for name in way.faces if name != way.info.name)
        cells = [way.info.name, way.info.style] if answer.alone else [way.info.name, helpers]
        rows.append((*cells, *_figures(way.stroke, height_mm, materials, alone=answer.alone)))
    heads = [f"{m.name} ({m.minimum_width_mm:g})" for m in materials]
    second = "style" if answer.alone else "with"
    # the letter stands last: letters of other scripts are wider than a column reckons
    _print_table(("name", second, f"thinnest at {height_mm:g} mm", *heads, "where"), rows)
    print(
        "All in mm. Heights are those of capitals. Under each material, with its least width: from "
        "which height this text can be cut as it is drawn; below that, thin strokes are widened."
    )


def _figures(
    stroke: Stroke | None, height_mm: float, materials: Sequence[Material], *, alone: bool
) -> list[str]:
    """The thinnest stroke, the least height for each material, and where the stroke is."""
    if stroke is None:
        return [""] * (len(materials) + 2)
    where = stroke.letter if alone else f"{stroke.letter} ({stroke.face})"
    least = [stroke.least_height(material.minimum_width_mm) for material in materials]
    heights = [f"{value:.1f}" if isfinite(value) else "never" for value in least]
    return [f"{stroke.at(height_mm):.2f}", *heights, where]


def _tell_left_out(problems: Sequence[str]) -> None:
    for problem in problems:
        print(f"namebatch: {problem}", file=sys.stderr)


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
