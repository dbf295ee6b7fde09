"""Ways to fill sheets side by side, on the same outlines."""

import time
from collections.abc import Iterator, Sequence

import spyrrow

from namebatch.sheet.blocks import Block
from namebatch.sheet.fill import fast, tight
from namebatch.sheet.shelves import shelves
from namebatch.sheet.strip import PROCESSES
from namebatch.sheet.strip_shapes import Frame, item_of, packable_of
from namebatch.sheet.tight import SEED
from namebatch.sheet.wishes import Wishes
from tests.bench.bench_fill import GAP_MM, NAMES_SHEET, QUARTERS, name_outlines
from tests.bench.rows import Row
from tests.sheet.shapes import block_of, used_length

COUNT = 120
SECONDS = 20.0


def fill() -> Iterator[Row]:
    """``fast`` and ``tight`` beside boxes on shelves, and beside one strip at equal time.

    The strip is as wide as a sheet and as long as it gets, in sheets: nothing need fit between two
    edges, so sheets cannot be expected to come to it.
    """
    for face, height in (("Yellowtail", 22.0), ("Lobster", 20.0)):
        outlines = name_outlines(COUNT, face, height)
        blocks = [block_of(k, shape, QUARTERS) for k, shape in enumerate(outlines)]
        boxed = shelves(blocks, NAMES_SHEET, GAP_MM, False)
        on_shelves = used_length(boxed, blocks, NAMES_SHEET)
        begun = time.monotonic()
        quick = fast(blocks, NAMES_SHEET, GAP_MM, Wishes())
        spent = time.monotonic() - begun
        slow = tight(blocks, NAMES_SHEET, GAP_MM, Wishes(seconds=SECONDS))
        for way, sheets, seconds in (("fast", quick, spent), ("tight", slow, SECONDS)):
            length, strip = used_length(sheets, blocks, NAMES_SHEET), _strip(blocks, seconds)
            title = f"{COUNT} names, {face} {height:g} mm: {way}, {seconds:.1f} s"
            ours = f"{len(sheets)} sheets, {length:.2f} long"
            boxes = f"shelves {len(boxed)} sheets, {on_shelves:.2f}"
            yield Row(title, ours, boxes, length / on_shelves, "1")
            yield Row(title, ours, f"one strip, {seconds:.0f} s: {strip:.2f}", length / strip)


def _strip(blocks: Sequence[Block], seconds: float) -> float:
    """Length of one strip as wide as a sheet, packed for so long, in sheets."""
    frame = Frame(NAMES_SHEET, GAP_MM, True)
    items = [item_of(packable_of(block, GAP_MM), 1, frame) for block in blocks]
    strip = spyrrow.StripPackingInstance(
        "strip",
        frame.height,
        [
            spyrrow.Item(str(number), list(item.points), item.demand, list(item.turns_deg))
            for number, item in enumerate(items)
        ],
    )
    asked = spyrrow.StripPackingConfig(
        early_termination=False,
        quadtree_depth=3,
        total_computation_time=max(1, round(seconds)),
        num_workers=PROCESSES,
        seed=SEED,
    )
    return float((strip.solve(asked).width - GAP_MM) / (frame.length - GAP_MM))
