"""Sheets: how many, how long, how fast; ways to fill side by side on the same lists.

Run: ``python -m tests.bench.bench_fill names|mixed|equal|many|strips [count] [--draw FOLDER]
[--seconds N]``. Without seconds ``tight`` is left out. Times are those of the clock on the wall.
``strips`` reads published strip-packing instances from the folder in ``NAMEBATCH_PACKING``. Every
sheet is checked again on its true shapes.
"""

import json
import os
import sys
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from faker import Faker
from shapely import Point, Polygon, affinity, box, union_all

from namebatch.sheet.blocks import Block
from namebatch.sheet.bounds import lower_bounds
from namebatch.sheet.fill import FILLS, FillFunction
from namebatch.sheet.model import Placement, Rect
from namebatch.sheet.shelves import shelves
from namebatch.sheet.strip_shapes import Frame
from namebatch.sheet.tight import SEED, ladder
from namebatch.sheet.tight_clock import Clock
from namebatch.sheet.tight_stuff import Stuff, Wanted
from namebatch.sheet.tries import in_tries
from namebatch.sheet.wishes import Wishes
from namebatch.text import load_catalogue
from namebatch.text.setting import ink_of, set_line
from tests.sheet.shapes import block_of, placed_shapes, proven, used_length

GAP_MM = 2.0
NAMES_SHEET: Rect = (5.0, 5.0, 200.0, 287.0)
QUARTERS = (0.0, 90.0, 180.0, 270.0)


def _boxes(
    blocks: Sequence[Block], usable: Rect, gap_mm: float, wishes: Wishes
) -> list[list[Placement]]:
    return shelves(blocks, usable, gap_mm, wishes.keep_order)


WAYS: dict[str, FillFunction] = {"shelves": _boxes, **FILLS}
GOLDEN = 0.6180339887498949
BEST_KNOWN = {
    "swim": 79.826, "shirts": 90.920, "trousers": 92.615, "albano": 89.821, "dagli": 90.172,
    "shapes1": 76.719, "blaz1": 86.224, "marques": 92.015, "mao": 86.867, "fu": 92.396,
    "jakobs1": 89.247, "jakobs2": 87.717, "shapes0": 69.978,
}  # fmt: skip
"""Density in per cent: Gardeyn et al., arXiv 2509.13329."""


@dataclass(frozen=True, slots=True)
class Asked:
    """Folder for pictures, and seconds for ``tight``; none if empty or 0."""

    draw: str
    seconds: float


def name_outlines(count: int, face: str, height_mm: float) -> list[Polygon]:
    """Outlines of so many different names: ink of one height, a contour of 2 mm round it."""
    fake = Faker("en_GB")
    fake.seed_instance(7)
    opened = load_catalogue().open(face)
    outlines: list[Polygon] = []
    seen: set[str] = set()
    while len(outlines) < count:
        text = fake.first_name()
        while text in seen:
            text = f"{fake.first_name()} {fake.random_letter()}"
        seen.add(text)
        ink = ink_of(set_line(opened, text, 10.0), 10.0 / opened.cap_height, 0.0, 0.0)
        scale = height_mm / (ink.bounds[3] - ink.bounds[1])
        ink = affinity.scale(ink, scale, scale, origin=(0, 0))
        whole = ink.buffer(3.0).buffer(-1.0)
        part = max(getattr(whole, "geoms", [whole]), key=lambda one: one.area)
        outlines.append(Polygon(part.exterior))
    return outlines


def report(title: str, blocks: Sequence[Block], usable: Rect, gap_mm: float, asked: Asked) -> None:
    """Fill in every way, prove, print a line each."""
    bounds = lower_bounds(blocks, usable, gap_mm)
    draw = asked.draw
    for name, way in WAYS.items():
        if name == "tight" and not asked.seconds:
            continue
        start = time.monotonic()
        sheets = way(blocks, usable, gap_mm, Wishes(seconds=asked.seconds))
        spent = time.monotonic() - start
        fault = proven(sheets, blocks, usable, gap_mm)
        print(
            f"{title:28}{name:9}{len(sheets):4} sheets {used_length(sheets, blocks, usable):8.2f}"
            f" long  at most {max(map(len, sheets)):4} a sheet {spent:7.2f} s"
            f"  bounds {bounds.area} {bounds.sheets} {fault}",
            flush=True,
        )
        if draw:
            picture(Path(draw) / f"{title.replace(' ', '-')}-{name}.svg", sheets, blocks, usable)


def picture(
    path: Path, sheets: Sequence[Sequence[Placement]], blocks: Sequence[Block], usable: Rect
) -> None:
    """The first sheets beside each other, as SVG."""
    path.parent.mkdir(parents=True, exist_ok=True)
    x, y, width, height = usable
    shown = [*sheets[:5], *sheets[5:][-1:]]
    parts = []
    for number, sheet in enumerate(shown):
        left = number * (width + 8)
        parts.append(
            f'<rect x="{left:.2f}" y="0" width="{width}" height="{height}" fill="#f4f4f4" '
            'stroke="#888" stroke-width="0.4"/>'
        )
        for shape in placed_shapes(sheet, blocks):
            for face in shape.geoms:
                points = " ".join(
                    f"{px - x + left:.2f},{height - (py - y):.2f}"
                    for px, py in face.exterior.coords
                )
                parts.append(f'<polygon points="{points}" fill="#56b4e9" stroke="#000" '
                             'stroke-width="0.2"/>')  # fmt: skip
    wide = len(shown) * (width + 8)
    path.write_text(
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide:.0f}" height="{height:.0f}" '
        f'viewBox="0 0 {wide:.2f} {height:.2f}">' + "".join(parts) + "</svg>",
        encoding="utf-8",
    )


def names(count: int, asked: Asked) -> None:
    """Different names in script faces on 200 × 287 mm."""
    for face, height in (("Yellowtail", 22.0), ("Oleo Script", 20.0), ("Lobster", 20.0)):
        outlines = name_outlines(count, face, height)
        blocks = [block_of(k, shape, QUARTERS) for k, shape in enumerate(outlines)]
        report(f"{count} {face} {height:g}", blocks, NAMES_SHEET, GAP_MM, asked)


def mixed(count: int, asked: Asked) -> None:
    """A third names, a third discs with a tab, a third tags of many sizes on 200 × 287 mm."""
    outlines = name_outlines(count // 3, "Lobster", 20.0)
    for k in range(count // 3):
        radius = 12.0 + 14.0 * (k * GOLDEN % 1.0)
        outlines.append(Point(0, 0).buffer(radius).union(box(-5, radius - 4, 5, radius + 8)))
        outlines.append(box(0, 0, 30 + 60 * (k * GOLDEN % 1.0), 15 + 40 * (k * GOLDEN**2 % 1.0)))
    blocks = [block_of(k, shape, QUARTERS) for k, shape in enumerate(outlines)]
    report(f"{len(blocks)} mixed", blocks, NAMES_SHEET, GAP_MM, asked)


def equal(count: int, asked: Asked) -> None:
    """Equal pieces on three sheets: 55 × 30 tags; discs of 50 mm with a tab."""
    disc = union_all([Point(25, 25).buffer(25, quad_segs=64), box(20, 45, 30, 58)])
    for title, shape in (("tags", box(0, 0, 55, 30)), ("discs", disc)):
        blocks = [block_of(k, shape, QUARTERS, kind=0) for k in range(count)]
        for width, height in ((210, 297), (300, 200), (600, 300)):
            usable = (2.0, 2.0, width - 4.0, height - 4.0)
            report(f"{title} {width}x{height}", blocks, usable, GAP_MM, asked)


def strips(count: int, asked: Asked) -> None:
    """Published strip-packing instances: density beside the best known."""
    for name, blocks, height in instances(Path(os.environ["NAMEBATCH_PACKING"])):
        area = sum(block.area_mm2 for block in blocks)
        long = 2.0 * area / height
        usable = (0.0, 0.0, long, height)
        start = time.monotonic()
        sheets = [
            [place for _, turned, x, y in sheet for place in turned.place(x, y)]
            for sheet in in_tries(blocks, usable, 0.0, upright=[False])
        ]
        if asked.seconds:
            sheets = _shortened(sheets, blocks, usable, asked.seconds)
        spent = time.monotonic() - start
        fault = proven(sheets, blocks, usable, 0.0)
        far = _end(sheets, blocks)
        density = 100 * area / (far * height)
        print(
            f"{name:10}{len(sheets):3} sheets  density {density:6.2f}  best known "
            f"{BEST_KNOWN[name]:6.2f}  length {BEST_KNOWN[name] / density:5.3f} of the best "
            f"{spent:6.2f} s {fault}",
            flush=True,
        )
        if asked.draw:
            picture(Path(asked.draw) / f"strip-{name}.svg", sheets, blocks, usable)


def _shortened(
    sheets: list[list[Placement]], blocks: Sequence[Block], usable: Rect, seconds: float
) -> list[list[Placement]]:
    """A strip as short as it gets in a time, packed in the way of ``tight``."""
    stuff = Stuff(blocks, usable, 0.0)
    stuff.prepare(range(len(blocks)))
    clock = Clock(Wishes(seconds=seconds))
    numbers, frame = tuple(range(len(blocks))), Frame(usable, 0.0, True)
    wanted = [Wanted(numbers, frame, ladder(1.0), SEED + turn, 10**9) for turn in range(2)]
    found = [one.laid for one in stuff.pack(wanted, clock.going_on) if one.laid]
    ways = [sheets, *(stuff.placements((laid,)) for laid in found)]
    return min(ways, key=lambda way: _end(way, blocks))


def _end(sheets: Sequence[Sequence[Placement]], blocks: Sequence[Block]) -> float:
    return max(float(shape.bounds[2]) for sheet in sheets for shape in placed_shapes(sheet, blocks))


def instances(folder: Path) -> Iterator[tuple[str, list[Block], float]]:
    """Name, blocks and strip height; made as large as a sheet of 200 mm."""
    for path in sorted(folder.glob("*.json")):
        data = json.loads(path.read_text(encoding="utf-8"))
        scale = 200.0 / data["strip_height"]
        blocks: list[Block] = []
        for item in data["items"]:
            shape = affinity.scale(Polygon(item["shape"]["data"]), scale, scale, origin=(0, 0))
            for _ in range(item["demand"]):
                turns = tuple(item["allowed_orientations"])
                blocks.append(block_of(len(blocks), shape, turns, kind=item["id"]))
        yield data["name"], blocks, 200.0


RUNS = {
    "names": (names, 120),
    "mixed": (mixed, 150),
    "equal": (equal, 660),
    "many": (names, 10_000),
    "strips": (strips, 0),
}


def main(words: list[str]) -> None:
    """Run one of the comparisons."""
    options = {"--draw": "", "--seconds": "0"}
    for name in options:
        if name in words:
            at = words.index(name)
            options[name] = words[at + 1]
            del words[at : at + 2]
    run, count = RUNS[words[0]]
    asked = Asked(options["--draw"], float(options["--seconds"]))
    run(int(words[1]) if len(words) > 1 else count, asked)


if __name__ == "__main__":
    main(sys.argv[1:])
