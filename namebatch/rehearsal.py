"""What worker processes are split off: imported by a process that does nothing else.

All that makes sections is imported, and a bar with an ear is made and cut once, so that compiled
loops are loaded before there are workers and not by each of them.
"""

from contextlib import suppress
from importlib import import_module

from shapely import MultiPolygon, Point, box

from namebatch.outline import Limits, Order, finish
from namebatch.output.registry import WRITERS
from namebatch.sheet.lines import cut_lines


def rehearse() -> None:
    """Import what makes and writes pieces; make and cut one that is nobody's."""
    import_module("namebatch.sections.section")
    for writer in WRITERS:
        import_module(f"namebatch.output.{writer.name}")
    ear = Point(30, 24).buffer(8) - Point(30, 24).buffer(4)
    limits = Limits(required_mm=1.2, kerf_mm=0.18)
    made = finish(Order("weld", box(0, 0, 60, 20), limits, MultiPolygon([ear])))
    cut_lines(made.shape, mirrored=False, turn_deg=0.0, kerf_mm=(0.18, 0.18))


with suppress(Exception):  # what cannot be done here fails where it matters, and is told there
    rehearse()
