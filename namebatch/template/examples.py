"""Which parts of a workshop file still hold the values that come with the program."""

from collections.abc import Iterable
from functools import lru_cache

from namebatch.template.model import Template
from namebatch.template.workshop import Printer, Workshop
from namebatch.template.workshop_file import load_workshop


def example_parts(template: Template, workshop: Workshop) -> tuple[str, ...]:
    """Parts of a workshop file that a template uses and nobody has entered values for.

    A part counts as somebody's own as soon as anything in it is another than in the example, its
    name for people too.

    Args:
        template: what is made.
        workshop: what it is made with.

    Returns:
        Words for people: ``the printer``, ``the cutter``, titles of materials. Empty for the
        built-in workshop, all of which is an example.
    """
    if workshop.built_in:
        return ()
    used = {template.material, template.board}
    return _parts(workshop, template.build != "bare", used)


def all_example_parts(workshop: Workshop) -> tuple[str, ...]:
    """The same for a whole workshop file, whatever is made."""
    return () if workshop.built_in else _parts(workshop, True, workshop.materials)


def listed_parts(parts: tuple[str, ...]) -> str:
    """``the printer, the cutter and Birch plywood 3 mm``."""
    return " and ".join(filter(None, (", ".join(parts[:-1]), parts[-1])))


def _parts(workshop: Workshop, printed: bool, used: Iterable[str | None]) -> tuple[str, ...]:
    first, names = _example(), set(used)
    found = []
    if printed and _same_printer(workshop.printer, first.printer):
        found.append("the printer")
    if workshop.cutter == first.cutter:
        found.append("the cutter")
    for name, material in workshop.materials.items():
        if name in names and material in first.materials.values():
            found.append(material.title)
    return tuple(found)


def _same_printer(one: Printer, other: Printer) -> bool:
    """Also where its page was turned for a job, see `turned.printer_for`."""
    if one.is_turned:  # sheet and margins are those of the turned page; what was measured is kept
        kept = ("name", "scale", "correct")
        return all(getattr(one, name) == getattr(other, name) for name in kept)
    return one == other


@lru_cache(maxsize=1)
def _example() -> Workshop:
    return load_workshop(None)
