"""Everything that writes files of a job, in the order in which they are written."""

from collections.abc import Callable
from dataclasses import dataclass
from importlib import import_module
from pathlib import Path

from namebatch.job import Job


@dataclass(frozen=True, slots=True)
class Writer:
    """One kind of file; its module is read only when it is needed.

    Attributes:
        name: module in `namebatch.output` with ``write(job, folder, progress)``.
        label: what people read while it works.
    """

    name: str
    label: str

    def write(self, job: Job, folder: Path, progress: Callable[[int, int], None]) -> None:
        """Write this kind's files below `folder`; progress gets steps done and in all."""
        import_module(f"namebatch.output.{self.name}").write(job, folder, progress)


WRITERS: tuple[Writer, ...] = (
    Writer("cutfiles", "Cut files"),
    Writer("jig", "Jig"),
    Writer("printpdf", "Print"),
    Writer("held", "Held rows"),
    Writer("proof", "Proof"),
    Writer("customerproof", "Proof for the customer"),
    Writer("labels", "Packing labels"),
    Writer("workcard", "Work card"),
    Writer("preview", "Previews"),
)
"""A new kind of file is one module and one line here."""
