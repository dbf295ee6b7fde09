"""What there is: templates and typefaces, as a table or as JSON."""

import json
from collections.abc import Sequence

from rich.console import Console
from rich.table import Table

from namebatch.template import bundled_templates, find_template, load_template
from namebatch.text import FaceInfo, load_catalogue


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
    table = _table("name", "title", "build", "rule", "faces", "fields", "size (mm)")
    for template in templates:
        width, height = template.size_mm
        table.add_row(
            template.name,
            template.title,
            template.build,
            template.rule,
            ", ".join(template.faces),
            ", ".join(template.fields),
            f"{width:g} × {height:g}",
        )
    Console().print(table)


def list_fonts(*, as_json: bool) -> None:
    """Print every typeface that can be called by name."""
    _print_faces(load_catalogue().infos, as_json=as_json)


def check_fonts(text: str, *, as_json: bool) -> bool:
    """Print the typefaces that can set a text.

    Returns:
        True if there is at least one.
    """
    catalogue = load_catalogue()
    able = [info for info in catalogue.infos if catalogue.open(info.name).can_set(text)]
    if able or as_json:
        _print_faces(able, as_json=as_json)
    else:
        Console().print(f'No typeface here can set all of "{text}".', markup=False)
    return bool(able)


def _print_faces(infos: Sequence[FaceInfo], *, as_json: bool) -> None:
    if as_json:
        _print_json([_face_entry(info) for info in infos])
        return
    table = _table("name", "style", "scripts", "thinnest stroke", "licence", "package")
    for info in infos:
        ratio = info.thinnest_stroke_ratio
        table.add_row(
            info.name,
            info.style,
            " ".join(info.scripts),
            "" if ratio is None else f"{100 * ratio:.1f} % of capitals",
            info.licence,
            info.package or "own file",
        )
    Console().print(table)


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


def _table(*headers: str) -> Table:
    table = Table(box=None, pad_edge=False, header_style="bold")
    for header in headers:
        table.add_column(header)
    return table


def _print_json(entries: Sequence[dict[str, object]]) -> None:
    print(json.dumps(entries, ensure_ascii=False, indent=1, sort_keys=True))
