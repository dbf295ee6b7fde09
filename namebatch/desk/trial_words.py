"""Places of a template file in the words that stand on the page."""

import re
from collections.abc import Mapping
from typing import Final

_FIELDS: Final[Mapping[str, str]] = {
    "title": "title",
    "build": "build",
    "rule": "cut line",
    "material": "material",
    "board": "board",
    "base": "shape",
    "base.trace": "the picture's edge",
    "base.width_mm": "width",
    "base.height_mm": "height",
    "base.diameter_mm": "diameter",
    "base.corner_mm": "corners",
    "base.chamfer_mm": "cut corners",
    "base.sides": "sides",
    "base.inset_mm": "from the edge by",
    "base.outset_mm": "from the edge by",
    "contour.distance_mm": "distance of the line",
    "artwork.front": "picture",
    "artwork.front.file": "picture",
    "text": "texts",
}
_HOLE: Final[Mapping[str, str]] = {
    "at_mm": "place",
    "find": "place",
    "diameter_mm": "diameter",
    "width_mm": "width",
    "length_mm": "length",
    "wall_mm": "material round it",
}
_TEXT: Final[Mapping[str, str]] = {
    "box_mm": "box",
    "column": "column",
    "line": "words",
    "fonts": "typeface",
    "made": "made as",
    "colour": "colour",
    "baseline_mm": "height of the line",
    "min_height_mm": "smallest letters",
    "max_height_mm": "largest letters",
}
_KEYS: Final[Mapping[str, str]] = {
    "min_height_mm": "the smallest letters",
    "max_height_mm": "the largest letters",
    "baseline_mm": "the height of the line",
    "width_mm": "a width",
    "height_mm": "a height",
    "an inset_mm": "a distance from the edge",
    "inset_mm": "distance from the edge",
    "outside (outset_mm)": "outside of the edge",
    "farther out (outset_mm)": "farther out",
    "outset_mm": "distance outside of the edge",
    "wall_mm": "material round the hole",
    "length_mm": "the length",
}
_PLACE: Final = re.compile(r"(?P<place>[a-z][a-z_]*(?:\[\d+\])?(?:\.[a-z_]+(?:\[\d+\])?)*): ")
_ENTRY: Final = re.compile(r"(?P<kind>hole|text)\[(?P<number>\d+)\](?:\.(?P<key>[a-z_]+).*)?")
_FILES: Final = re.compile(r'"?(?:front\.(?:png|jpg|svg)|base\.svg)"?')


def place_told(problem: str) -> str:
    """A problem of a template with its place as the page calls it.

    Args:
        problem: as the template's reader tells it: ``text[2].box_mm: reaches …``.
    """
    found = _PLACE.match(problem)
    said = problem
    if found:
        said = f"{_named(found['place'])}: {problem[found.end() :]}"
    said = _FILES.sub("the picture", said)
    for key, words in _KEYS.items():
        said = re.sub(rf"\b{re.escape(key)}(?!\w)", words, said)
    return said[:1].upper() + said[1:]


def _named(place: str) -> str:
    entry = _ENTRY.fullmatch(place)
    if entry is None:
        return _FIELDS.get(place, place)
    words = _HOLE if entry["kind"] == "hole" else _TEXT
    key = entry["key"]
    return f"{entry['kind']} {entry['number']}" + (f", {words.get(key, key)}" if key else "")
