"""Outlines of real names for tests of widths: many faces, joined roughly into one part."""

from collections.abc import Iterator
from functools import lru_cache

import numpy as np
import shapely
from shapely import MultiPolygon, Polygon, box

from namebatch.outline.gaps import close_gaps
from namebatch.text import load_catalogue
from namebatch.text.setting import ink_of, set_line

NAMES = {
    "Pacifico": ("Jiří", "Ångström-Öhm"),
    "Lobster": ("O'Neill", "Łukasz"),
    "Dancing Script Bold": ("Zuzana", "iiijjj"),
    "Caveat Bold": ("8888", "Etta"),
    "Fredoka SemiBold": ("J. P.", "Đặng Thị Ngọc"),
    "Nunito ExtraBold": ("Karl", "%"),
    "Noto Sans SemiBold": ("Jiří", "Muarra"),
    "Noto Sans Arabic SemiBold": ("محمد",),
    "Noto Sans Devanagari SemiBold": ("क्षितिज",),
    "Noto Sans Thai SemiBold": ("อรุณี",),
    "Heebo Bold": ("שרה",),
}
KERF_MM = 0.15


def real_names(heights: tuple[float, ...] = (15, 20)) -> Iterator[tuple[str, Polygon]]:
    """What it is, and its outline on a base, gaps closed."""
    for face, names in NAMES.items():
        for name in names:
            for height in heights:
                yield f"{name} in {face}, {height} mm", outline(face, name, height)


@lru_cache(maxsize=256)
def outline(face_name: str, text: str, height_mm: float, bar: bool = True) -> Polygon:
    """One part: ink of that height or less, on a bar, loose parts tied on by bars of 1.2 mm."""
    face = load_catalogue().open(face_name)
    line = set_line(face, text, height_mm)
    assert line.bounds is not None
    _, y0, _, y1 = line.bounds
    scale = min(height_mm / (y1 - y0), height_mm / face.cap_height)
    ink: shapely.Geometry = ink_of(line, scale, 0, 0)
    if bar:
        x0, _, x1, _ = ink.bounds
        cap = face.cap_height * scale
        ink = shapely.union(ink, box(x0 - 3, -0.22 * cap, x1 + 3, 0.08 * cap))
    return close_gaps(_tied(ink), KERF_MM)[0]


def _tied(ink: shapely.Geometry) -> Polygon:
    for _ in range(8):
        parts = sorted(shapely.get_parts(ink), key=lambda part: (-part.area, part.bounds))
        if len(parts) == 1:
            break
        bars = [_bar(part, MultiPolygon([p for p in parts if p is not part])) for part in parts[1:]]
        ink = shapely.union_all([*parts, *bars])
    part = max(shapely.get_parts(ink), key=lambda p: p.area)
    assert isinstance(part, Polygon)
    return part


def _bar(part: Polygon, others: MultiPolygon) -> Polygon:
    ends = shapely.get_coordinates(shapely.shortest_line(part, others))
    along = ends[1] - ends[0]
    along = along / max(float(np.hypot(*along)), 1e-9)
    line = shapely.LineString([ends[0] - 0.7 * along, ends[1] + 0.7 * along])
    bar = shapely.buffer(line, 0.612, quad_segs=16)
    assert isinstance(bar, Polygon)
    return bar
