"""One finished piece with its proof against the bare-library floor, side by side.

Floor: HarfBuzz shape, placing of cached glyph polygons, one union, one buffer of the kerf, one
erosion of half the least width, of the same glyphs. The piece goes as far as what is cut: its
outline with proof, the line moved for the kerf, arcs, and how far they are from the line. Times
are those of the processor. Run: ``python -m tests.bench.bench_piece``.
"""

import importlib
import sys
import time
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from statistics import fmean, median

import shapely
from shapely import box

from namebatch.outline import Limits, Order, Outline, finish
from namebatch.sheet.lines import Line, cut_lines
from namebatch.template.model import TextBox
from namebatch.template.wording import field_alone
from namebatch.text.fit import SetText, fit
from namebatch.text.setting import ink_of, set_line
from tests.bench.corpus import Sample, samples
from tests.bench.stages import Stage, StopWatch

HEIGHT_MM = 14.0
WIDTH_MM = 1.2
KERF_MM = 0.18
BEYOND_MM = 2.0
"""The bar below a name is longer by this at either end."""
WARM = 200
KEPT = (
    ("namebatch.outline.cores", "_cores"),
    ("namebatch.outline.edged", "_edged"),
    ("namebatch.outline.kerf", "_grown"),
    ("namebatch.outline.kerf", "_offset"),
    ("namebatch.sheet.lines", "_upright"),
    ("namebatch.text.chain", "_stretches"),
    ("namebatch.text.face", "_shaped"),
)
"""Caches of results."""


def _box(made: str) -> TextBox:
    return TextBox(
        "name", field_alone("name"), "front", (0, -10, 395, 60), (), made, None,  # type: ignore[arg-type]
        "left", "baseline", 10, 0.5, HEIGHT_MM, 0.0, False,
    )  # fmt: skip


def floor(sample: Sample) -> shapely.Geometry:
    """What no program that does the job could leave out."""
    line = set_line(sample.face, sample.text, HEIGHT_MM)
    ink = ink_of(line, HEIGHT_MM / sample.face.cap_height, 0.0, 0.0)
    shapely.buffer(ink, KERF_MM / 2, join_style="mitre")
    return shapely.buffer(ink, -WIDTH_MM / 2, quad_segs=8)


def piece(sample: Sample) -> Outline:
    """Set, joined with a bar, mended, proven."""
    result = fit(sample.text, [sample.face], _box("outline"))
    if not isinstance(result, SetText):
        raise ValueError(result.message)
    letters = result.letters
    limits = Limits(WIDTH_MM, KERF_MM)
    left, _, right, _ = result.shape.bounds
    bar = box(left - BEYOND_MM, -4.0, right + BEYOND_MM, 1.5)
    return finish(Order("weld", bar, limits, result.shape, letters))


def lines(outline: Outline) -> tuple[Line, ...]:
    """What is cut: moved for the kerf, as arcs, their deviation measured."""
    return cut_lines(outline.shape, False, 0.0, (KERF_MM, KERF_MM))


STAGES: tuple[Stage, ...] = (
    ("text set", __name__, "fit"),
    ("parts made wide first", "namebatch.outline.rules", "widened"),
    ("parts joined: the rest of it", "namebatch.outline.rules", "join_parts"),
    ("parts joined: cores", "namebatch.outline.join", "cores_of"),
    ("parts joined: candidates", "namebatch.outline.join", "candidates"),
    ("parts joined: thin strokes", "namebatch.outline.join", "links"),
    ("parts joined: bars laid on", "namebatch.outline.join", "add_bars"),
    ("letters seen", "namebatch.outline.finish", "_of_hidden"),
    ("gaps: found and filled", "namebatch.outline.mend", "fill_gaps"),
    ("gaps: kerf taken", "namebatch.outline.gaps", "offset_for_kerf"),
    ("thickening: the rest of it", "namebatch.outline.mend", "thicken"),
    ("thickening: found thin", "namebatch.outline.thicken", "find_thin"),
    ("joined again", "namebatch.outline.mend", "join_parts"),
    ("measured", "namebatch.outline.finish", "_measured"),
    ("measured: narrowest place", "namebatch.outline.finish", "_neck"),
    ("outline: the rest of it", __name__, "finish"),
    ("cut line: the rest of it", __name__, "lines"),
    ("cut line: kerf", "namebatch.sheet.lines", "offset_for_kerf"),
    ("cut line: arcs, deviation", "namebatch.outline.arcs", "fit_outline"),
)


def main(count: int) -> None:
    """Print the tables."""
    for sample in samples(WARM, seed=1):  # glyph caches, compiled loops
        floor(sample)
        lines(piece(sample))
    names = samples(count)
    columns: dict[str, list[float]] = {"floor": [], "outline": [], "piece": []}
    codes = Counter[str]()
    held = 0
    for sample in names:
        floor(sample)  # its glyphs are cached from here on
        forget()
        begun = time.process_time()
        floor(sample)
        columns["floor"].append(time.process_time() - begun)
        forget()
        begun = time.process_time()
        outline = piece(sample)
        columns["outline"].append(time.process_time() - begun)
        lines(outline)
        columns["piece"].append(time.process_time() - begun)
        codes.update(finding.code for finding in outline.findings)
        bad = [f for f in outline.findings if f.severity == "hold"]
        held += bool(bad)
        if bad:
            print("held:", sample.text, sample.face.name, bad[0].message)
    print(f"{count} names, held {held}; {dict(codes)}")
    for line in _ratios(columns):
        print(line)
    for line in _shares(names):
        print(line)


def forget() -> None:
    """Empty what is kept from piece to piece, so that no piece finds its own results."""
    for where in KEPT:
        importlib.import_module(where[0]).__dict__[where[1]].cache_clear()


def _ratios(columns: Mapping[str, Sequence[float]]) -> Iterator[str]:
    """Means and medians beside those of the floor."""
    floors = columns["floor"]
    for word, values in columns.items():
        mean, middle = fmean(values), median(values)
        high = sorted(values)[int(0.95 * len(values))]
        yield (
            f"{word:8} mean {1e3 * mean:6.2f} ms (ratio {mean / fmean(floors):5.2f})"
            f"  median {1e3 * middle:6.2f} (ratio {middle / median(floors):5.2f})"
            f"  p95 {1e3 * high:6.2f}"
        )


def _shares(names: Sequence[Sample]) -> Iterator[str]:
    """The stages of a piece, in a run of their own."""
    watch = StopWatch()
    with watch.on(STAGES):
        for sample in names:
            forget()
            lines(piece(sample))
    yield "stages, means (the watches themselves cost a little):"
    yield from watch.table(len(names))


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 500)
