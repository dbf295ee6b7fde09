"""One finished piece with its proof against the bare-library floor, side by side.

Floor: HarfBuzz shape, placing of cached glyph polygons, one union, one buffer of the kerf, one
erosion of half the least width, of the same glyphs. Run: ``python -m tests.bench.bench_piece``.
"""

import sys
import time
from collections import Counter
from statistics import median

import shapely
from shapely import box

from namebatch.outline import Limits, Order, Outline, finish
from namebatch.template.model import TextBox
from namebatch.text.fit import SetText, fit
from namebatch.text.setting import ink_of, set_line
from tests.bench.corpus import Sample, samples

HEIGHT_MM = 14.0
WIDTH_MM = 1.2
KERF_MM = 0.18
BAR = box(-2, -4, 400, 1.5)


def _box(made: str) -> TextBox:
    return TextBox(
        "name", "name", "", "front", (0, -10, 395, 60), (), made, None,  # type: ignore[arg-type]
        "left", "baseline", 10, 0.5, HEIGHT_MM, 0.0, False,
    )  # fmt: skip


def floor(sample: Sample) -> shapely.Geometry:
    """What no program that does the job could leave out."""
    line = set_line(sample.face, sample.text, HEIGHT_MM)
    ink = ink_of(line, HEIGHT_MM / sample.face.cap_height, 0.0, 0.0)
    shapely.buffer(ink, KERF_MM / 2, join_style="mitre")
    return shapely.buffer(ink, -WIDTH_MM / 2, quad_segs=8)


def piece(sample: Sample) -> Outline:
    """Set, joined with the bar, mended, proven."""
    result = fit(sample.text, [sample.face], _box("outline"))
    if not isinstance(result, SetText):
        raise ValueError(result.message)
    letters = result.letters
    limits = Limits(WIDTH_MM, KERF_MM)
    return finish(Order("weld", BAR, limits, result.shape, letters))


def main(count: int) -> None:
    """Print the table."""
    names = samples(count)
    for sample in names[:200]:  # warm glyph caches and compiled loops
        floor(sample)
        piece(sample)
    floors, pieces, codes = [], [], Counter[str]()
    held = 0
    for sample in names:
        start = time.perf_counter()
        floor(sample)
        middle = time.perf_counter()
        outline = piece(sample)
        end = time.perf_counter()
        floors.append(middle - start)
        pieces.append(end - middle)
        codes.update(finding.code for finding in outline.findings)
        bad = [f for f in outline.findings if f.severity == "hold"]
        held += bool(bad)
        if bad:
            print("held:", sample.text, sample.face.name, bad[0].message)
    print(f"{count} names, held {held}")
    for word, values in (("floor", floors), ("piece", pieces)):
        ordered = sorted(values)
        print(
            f"{word}: mean {1e3 * sum(values) / count:.2f} ms, median {1e3 * median(values):.2f}, "
            f"p95 {1e3 * ordered[int(0.95 * count)]:.2f}"
        )
    print(f"ratio of means {sum(pieces) / sum(floors):.2f}")
    print(dict(codes))


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 500)
