"""Cut order of large sheets: time and length of the way, and of the simple ways beside it.

``python -m tests.bench.bench_tour 1000 10000`` prints for so many closed lines, each with eight
entries, the time of the whole route and its travel, that of the nearest first, and that of the
order as listed.
"""

import sys
import time

import numpy as np

from namebatch.outline.arrays import Floats
from namebatch.sheet.route import route
from namebatch.sheet.tour import way_length
from namebatch.sheet.tour_start import nearest_first

START = (0.0, 0.0)


def rings(count: int) -> list[Floats]:
    """Closed lines of about 20 mm scattered over a square, as eight points of each."""
    rng = np.random.default_rng(count)
    side = 25.0 * np.sqrt(count)
    middles = rng.uniform(0.0, side, (count, 2))
    angle = np.arange(8) * np.pi / 4
    shape = np.column_stack([np.cos(angle), np.sin(angle)])
    return [middle + 10.0 * rng.uniform(0.5, 1.0) * shape for middle in middles]


def main(counts: list[int]) -> None:
    """Print one line a count."""
    warm = rings(20)
    route(warm, np.arange(20), START)
    for count in counts:
        stops = rings(count)
        middles = np.array([points.mean(axis=0) for points in stops])
        begin = time.perf_counter()
        found = route(stops, np.arange(count), START)
        seconds = time.perf_counter() - begin
        at = np.array([stops[stop][entry] for stop, entry in found])
        travel = way_length(at, np.arange(count), START)
        start = np.vstack([middles, [START]])
        nearest = nearest_first(start, np.append(np.arange(count), -1), count, count)[1:]
        print(
            f"{count:6} lines: {seconds:6.2f} s, travel {travel / 1000:8.2f} m; nearest first "
            f"{way_length(middles, nearest, START) / 1000:8.2f} m; as listed "
            f"{way_length(middles, np.arange(count), START) / 1000:8.2f} m"
        )


if __name__ == "__main__":
    main([int(word) for word in sys.argv[1:]] or [100, 1000, 10_000])
