"""Ways to fill sheets side by side, on the same outlines."""

import time
from collections.abc import Iterator

from namebatch.sheet.fill import fast, tight
from namebatch.sheet.shelves import shelves
from namebatch.sheet.strip_shapes import Frame
from namebatch.sheet.tight import SEED, ladder
from namebatch.sheet.tight_clock import Clock
from namebatch.sheet.tight_stuff import Stuff, Wanted
from namebatch.sheet.wishes import Wishes
from tests.bench.bench_fill import GAP_MM, NAMES_SHEET, QUARTERS, name_outlines
from tests.bench.rows import Row
from tests.sheet.shapes import block_of, used_length

COUNT = 120
SECONDS = 20.0


def fill() -> Iterator[Row]:
    """``fast`` and ``tight`` beside boxes on shelves, ``tight`` beside one strip at equal time.

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
        stuff = Stuff(blocks, NAMES_SHEET, GAP_MM)
        stuff.prepare(range(len(blocks)))
        clock = Clock(Wishes(seconds=SECONDS))
        numbers, frame = tuple(range(len(blocks))), Frame(NAMES_SHEET, GAP_MM, True)
        wanted = [
            Wanted(numbers, frame, ladder(len(quick)), SEED + turn, 10**9) for turn in range(2)
        ]
        strips = [got.share for got in stuff.pack(wanted, clock.going_on) if got.share]
        title = f"{COUNT} names, {face} {height:g} mm"
        way_tight = f"tight, {SECONDS:.0f} s"
        lengths = {
            f"fast, {spent:.1f} s": used_length(quick, blocks, NAMES_SHEET),
            way_tight: used_length(slow, blocks, NAMES_SHEET),
        }
        for way, length in lengths.items():
            sheets = len(quick) if way.startswith("fast") else len(slow)
            yield Row(
                f"{title}: {way}", f"{sheets} sheets, {length:.2f} long",
                f"shelves {len(boxed)} sheets, {on_shelves:.2f}", length / on_shelves, "1",
            )  # fmt: skip
        if strips:
            strip = min(strips)
            yield Row(
                f"{title}: {way_tight}",
                f"{len(slow)} sheets, {lengths[way_tight]:.2f} long",
                f"one strip, {SECONDS:.0f} s: {strip:.2f}",
                lengths[way_tight] / strip,
            )  # fmt: skip
