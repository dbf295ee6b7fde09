"""Whole jobs: their stages, workers, and how time and memory grow."""

import time
from collections.abc import Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from itertools import pairwise
from math import log
from pathlib import Path

import shapely

from namebatch.outline.contour import FLOW, quarter_chords
from namebatch.output.manifest import manifest
from namebatch.output.registry import WRITERS
from namebatch.pipeline import Settings, make_job, plan_job
from namebatch.sections import SECTION
from namebatch.template.model import Template
from namebatch.text import load_catalogue
from namebatch.text.setting import ink_of, set_line
from tests.bench.rows import Row
from tests.bench.runs import Run, made, made_up_names

TEMPLATE = "place-card"
STAGED = 500
WARM = 20
"""Names for a first run, which may have to compile."""
WORDS = "ornament"
"""A template whose every name is cut along its letters."""
BOTH = 10_000
"""Names for one worker and two: four sections, so that starting weighs as little as in real use."""
APART = ("--gap=3", "--gap=3.0")
"""Equal jobs with folders of their own."""
MANY, FLOOR = 10_000, 400
"""Names of the long list of words, and of those that its floor is measured on."""


class _Laps:
    """Processor time of one stage after the other."""

    def __init__(self) -> None:
        self.seconds: dict[str, float] = {}
        self._last = time.process_time()

    def lap(self, title: str) -> None:
        """All since the last lap was for this."""
        now = time.process_time()
        self.seconds[title] = self.seconds.get(title, 0.0) + now - self._last
        self._last = now

    def heard(self, stage: str, done: int, total: int) -> None:
        """A stage that is done is a lap."""
        if done == total:
            self.lap(stage)


def stages(folder: Path) -> Iterator[Row]:
    """What each stage of a job takes of all its processor time, in one process."""
    for template in (TEMPLATE, WORDS):
        listed = folder / "staged.csv"
        listed.write_text("name\n" + "\n".join(made_up_names(STAGED)) + "\n", encoding="utf-8")
        laps = _Laps()
        plan = plan_job(listed, Settings(template, workers=1))
        laps.lap("plan")
        job = make_job(plan, laps.heard)
        laps.lap("sheets")
        target = folder / f"staged-{template}"
        target.mkdir()
        for writer in WRITERS:
            writer.write(job, target, lambda *_: None)
            laps.lap(writer.label)
        manifest(job, {})
        laps.lap("manifest")
        whole = sum(laps.seconds.values())
        for title, spent in sorted(laps.seconds.items(), key=lambda item: -item[1]):
            if spent > whole / 100:
                yield Row(
                    f"{STAGED} of {template}: {title}", f"{spent:.2f} s",
                    f"the whole {whole:.1f} s", spent / whole,
                )  # fmt: skip


def words(folder: Path, names: int) -> Iterator[Row]:
    """A long list of pieces cut along their letters, two workers, beside what cannot be left out.

    That is half the floor of its names, as there are two workers, and all of writing, as measured
    on one section in one process. A second row halves writing too, as if two wrote without loss.
    """
    count = min(names, MANY)
    listed = folder / "section.csv"
    listed.write_text("name\n" + "\n".join(made_up_names(SECTION)) + "\n", encoding="utf-8")
    plan = plan_job(listed, Settings(WORDS, workers=1))
    floor = _floor(plan.template, made_up_names(FLOOR)) / FLOOR * count / 2
    job = make_job(plan, lambda *_: None)
    laps = _Laps()
    for writer in WRITERS:
        writer.write(job, folder, lambda *_: None)
    manifest(job, {})
    laps.lap("writing")
    writing = laps.seconds["writing"] / SECTION * count
    whole = made(folder, WORDS, count, "--workers", "2")
    for share, what, bar in (
        (writing, "all of writing", "1.3"),
        (writing / 2, "half of writing", ""),
    ):
        yield Row(
            f"{count:,} of {WORDS}, two workers", f"{whole.seconds:.0f} s",
            f"half the libraries alone, {floor:.0f} s, and {what}, {share:.0f} s",
            whole.seconds / (floor + share), bar,
        )  # fmt: skip


def _floor(template: Template, names: Sequence[str]) -> float:
    """Processor time of libraries alone: letters set and united, contour, one erosion."""
    rule, box = template.contour, template.boxes[0]
    if rule is None:
        raise ValueError("the template of words has no contour")
    face = load_catalogue().open(box.fonts[0])
    closing = max(FLOW * rule.distance_mm, rule.inside_radius_mm, rule.gap_mm / 2)
    reach = rule.distance_mm + closing
    spent = 0.0
    for _ in range(2):  # letters are kept from the first time on
        begun = time.process_time()
        for name in names:
            line = set_line(face, name, box.max_height_mm)
            ink = ink_of(line, box.max_height_mm / face.cap_height, 0.0, 0.0)
            both = shapely.union(template.base, ink)
            grown = shapely.buffer(both, reach, quad_segs=quarter_chords(reach))
            line_round = shapely.buffer(grown, -closing, quad_segs=quarter_chords(closing))
            shapely.buffer(line_round, -1.0, quad_segs=8)
        spent = time.process_time() - begun
    return spent


def workers(folder: Path) -> Iterator[Row]:
    """One worker beside two, on the clock; and what two processes come to that share nothing."""
    made(folder, TEMPLATE, WARM)
    one, two = (made(folder, TEMPLATE, BOTH, "--workers", str(number)) for number in (1, 2))
    yield Row(
        f"{BOTH:,} of {TEMPLATE}: workers 1 by 2", f"1: {one.seconds:.0f} s",
        f"2: {two.seconds:.0f} s", one.seconds / two.seconds, "≥ 1.7",
    )  # fmt: skip
    half = BOTH // 2
    alone = made(folder, TEMPLATE, half, "--workers", "1").seconds
    begun = time.monotonic()
    with ThreadPoolExecutor(2) as pool:
        jobs = [pool.submit(made, folder, TEMPLATE, half, "--workers=1", way) for way in APART]
        for job in jobs:
            job.result()
    together = time.monotonic() - begun
    yield Row(
        f"two jobs of {half:,}, one after the other by both at once", f"{2 * alone:.0f} s",
        f"{together:.0f} s", 2 * alone / together,
    )  # fmt: skip


def growth(folder: Path, names: int) -> Iterator[Row]:
    """Time and memory over ten times as many names; the exponent of the time."""
    made(folder, TEMPLATE, WARM)
    counts = [count for count in (1_000, 10_000, 100_000) if count <= names]
    found: dict[int, Run] = {count: made(folder, TEMPLATE, count, watched=True) for count in counts}
    for few, many in pairwise(counts):
        exponent = log(found[many].seconds / found[few].seconds) / log(many / few)
        bar = many == 100_000
        yield Row(
            f"{many:,} of {TEMPLATE}: time, exponent {exponent:.3f}",
            f"{found[many].seconds:.0f} s", f"{few:,}: {found[few].seconds:.0f} s",
            found[many].seconds / found[few].seconds, "exponent 1.05" if bar else "",
        )  # fmt: skip
        yield Row(
            f"{many:,} of {TEMPLATE}: peak memory", f"{found[many].peak_mib:.0f} MiB",
            f"{few:,}: {found[few].peak_mib:.0f} MiB",
            found[many].peak_mib / found[few].peak_mib, "1.5" if bar else "",
        )  # fmt: skip
