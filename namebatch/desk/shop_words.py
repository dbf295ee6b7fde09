"""Places of a workshop file in the words that stand on its form."""

import re
from collections.abc import Mapping
from typing import Final

_PRINTER: Final[Mapping[str, str]] = {
    "name": "name",
    "sheet": "page it prints on",
    "margins_mm": "margins it cannot print",
    "scale": "printed length over true length",
    "correct": "if its lengths are off",
}
_CUTTER: Final[Mapping[str, str]] = {
    "name": "name",
    "kind": "it cuts with",
    "bed_mm": "bed",
    "files": "cut files",
    "jig": "sheet that jigs are made of",
    "travel_mm_s": "speed between cuts",
    "acceleration_mm_s2": "acceleration",
    "corner_mm": "so far off a corner it may pass",
    "price_per_hour": "price of an hour",
    "colours": "colours of the lines",
    "colours.mark": "colour of marked lines",
    "colours.engrave": "colour of engraved letters",
    "colours.inner": "colour of holes and windows",
    "colours.outer": "colour of outlines",
    "colours.window": "colour of the jig's windows",
}
_MATERIAL: Final[Mapping[str, str]] = {
    "title": "what it is",
    "thickness_mm": "thickness",
    "minimum_width_mm": "nothing may be narrower than",
    "sheet_mm": "sheet",
    "edge_mm": "unusable along the edges",
    "kerf_mm": "kerf",
    "price": "price",
    "colour": "colour",
    "engrave_line_mm": "distance of engraved lines",
    "speeds_mm_s": "speeds",
    "speeds_mm_s.outer": "speed of outlines",
    "speeds_mm_s.inner": "speed of holes",
    "speeds_mm_s.window": "speed of jig windows",
    "speeds_mm_s.mark": "speed of marked lines",
    "speeds_mm_s.engrave": "speed of engraving",
}
_WORDS: Final = {"printer": _PRINTER, "cutter": _CUTTER, "material": _MATERIAL}
_SIDES: Final[Mapping[str, tuple[str, ...]]] = {
    "margins_mm": ("top", "right", "bottom", "left"),
    "scale": ("across", "up"),
    "bed_mm": ("width", "depth"),
    "sheet_mm": ("width", "height"),
    "kerf_mm": ("across", "up"),
}
_PLACE: Final = re.compile(
    r"(?P<table>printer|cutter|material)"
    r'(?:(?<=material)\.(?P<name>"[^"]*"|[\w-]+(?:\.\d+)?))?'
    r"(?:\.(?P<key>[a-z_0-9]+(?:\.[a-z_]+)?))?(?:\[(?P<at>\d+)\])?: "
)


def shop_told(problem: str) -> str:
    """A problem of a workshop file with its place as the form calls it.

    Args:
        problem: as the file's reader tells it: ``printer.margins_mm[1]: must be at least 0``.
    """
    found = _PLACE.match(problem)
    if found is None:
        return problem
    words, key = _WORDS[found["table"]], found["key"]
    place = [found["table"].capitalize()]
    if found["name"]:
        place[0] += f' "{found["name"].strip(chr(34))}"'
    if key:
        place.append(words.get(key, key))
    sides = _SIDES.get(key or "", ())
    if found["at"] and int(found["at"]) <= len(sides):
        place.append(sides[int(found["at"]) - 1])
    return f"{', '.join(place)}: {problem[found.end() :]}"
