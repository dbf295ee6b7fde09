"""How long a change by hand takes until its piece is made anew and proved, by template.

Every row of the example lists in turn, the same changes for all: another text, another typeface,
a smaller size, a shift, wider bridges where there are any. Nothing has been made before; times
are those of the processor, in ms. Run: ``python -m tests.bench.bench_mend``.
"""

import sys
import time
from collections.abc import Iterator
from statistics import quantiles

from namebatch.errors import MendError
from namebatch.mends import Mend, TextMend
from namebatch.names.row import Row
from namebatch.pipeline import Plan, Settings, plan_job
from namebatch.resources import bundled
from namebatch.single import make_one
from namebatch.template import bundled_templates

ROWS = 12
TYPEFACES = ("Lobster", "Fredoka SemiBold", "Oswald")


def mends(plan: Plan, row: Row, number: int) -> Iterator[Mend]:
    """The changes that are made in one row."""
    box = next(box for box in plan.template.boxes if not box.is_fixed)
    said = row.fields[box.fields[0]]
    yield Mend(fields={box.fields[0]: f"{said[:1]}a{said[1:]}"})
    yield Mend(font=TYPEFACES[number % len(TYPEFACES)])
    yield Mend(texts={box.name: TextMend(most_mm=max(box.min_height_mm, 0.7 * box.max_height_mm))})
    yield Mend(texts={box.name: TextMend(shift_mm=(0.5, 0.0))})
    if plan.template.rule != "base":
        yield Mend(bridge_mm=1.2 * plan.maker.limits.required_mm)


def main() -> None:
    """Print the median, the 95th percentile and the most, by template and over all."""
    everything: list[float] = []
    for name in bundled_templates():
        plan = plan_job(bundled("examples") / f"{name}.csv", Settings(name))
        make_one(plan, plan.names.rows[0], None)  # compiled code is loaded once in a process
        took: list[float] = []
        for number, row in enumerate(plan.names.rows[:ROWS]):
            for mend in mends(plan, row, number):
                start = time.process_time()
                try:
                    make_one(plan, row, mend)
                except MendError as error:
                    sys.exit(str(error))
                took.append(1000 * (time.process_time() - start))
        everything += took
        _tell(name, took)
    _tell("all", everything)


def _tell(name: str, took: list[float]) -> None:
    cuts = quantiles(took, n=20, method="inclusive")
    print(f"{name:<15} {len(took):>4} {cuts[9]:>8.1f} {cuts[18]:>8.1f} {max(took):>8.1f}")


if __name__ == "__main__":
    main()
