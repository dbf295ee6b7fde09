"""Readers of our own files, written apart from the writers."""

import re

from defusedxml.ElementTree import fromstring

SVG = "{http://www.w3.org/2000/svg}"
Ring = list[tuple[float, float]]
Bounds = tuple[float, float, float, float]


def svg_rings(data: bytes) -> dict[tuple[str, str], list[Ring]]:
    """(operation group, owner) → rings, y down as written."""
    result: dict[tuple[str, str], list[Ring]] = {}
    for operation in fromstring(data):
        for owner in operation:
            rings = result.setdefault((operation.get("id", ""), owner.get("id", "")), [])
            for path in owner.iter(f"{SVG}path"):
                for part in re.findall(r"M([^MZ]*)Z", path.get("d", "")):
                    points = (pair.split(",") for pair in part.split("L"))
                    rings.append([(float(x), float(y)) for x, y in points])
    return result


def svg_bounds(data: bytes, height: float) -> dict[tuple[str, str], Bounds]:
    """(operation group, owner) → bounds, y up again."""
    result = {}
    for key, rings in svg_rings(data).items():
        xs = [x for ring in rings for x, _ in ring]
        ys = [height - y for ring in rings for _, y in ring]
        result[key] = (min(xs), min(ys), max(xs), max(ys))
    return result
