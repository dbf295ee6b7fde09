"""Errors that make a whole job impossible; one subclass a room.

What is wrong with a single row is a `Finding`, never an exception.
"""

from collections.abc import Sequence


class NamebatchError(Exception):
    """Base of all errors that a user may be shown.

    Args:
        what: one sentence that says what is wrong, where, and what to do.
        problems: further lines, one a problem, when several were found at once.
    """

    def __init__(self, what: str, problems: Sequence[str] = ()) -> None:
        super().__init__(what)
        self.what = what
        self.problems = tuple(problems)

    def __str__(self) -> str:
        """The sentence, then one line a problem."""
        return "\n".join([self.what, *(f"  - {problem}" for problem in self.problems)])


class ListError(NamebatchError):
    """A list file cannot be read at all (`names/`)."""


class TemplateError(NamebatchError):
    """A template folder is not usable (`template/`)."""


class WorkshopError(NamebatchError):
    """A workshop file is not usable (`template/workshop`)."""


class FontError(NamebatchError):
    """A face is missing or its file is broken (`text/`)."""


class OutlineError(NamebatchError):
    """Geometry that no row can be made with (`outline/`)."""


class SheetError(NamebatchError):
    """No sheet can take the pieces (`sheet/`)."""


class OutputError(NamebatchError):
    """Files cannot be written (`output/`)."""


class RegistrationError(NamebatchError):
    """Marks that were measured do not fit the sheet (`registration/`)."""


class MeasureError(NamebatchError):
    """Measurements, or what they belong to, cannot be used (`measured/`)."""


class MendError(NamebatchError):
    """Changes by hand do not fit the list or the template (`mends/`)."""


class StoreError(NamebatchError):
    """What was kept cannot be opened, or is not there (`store/`)."""


class DiskFullError(StoreError):
    """There is no room left on the disk; nothing was changed."""


class RemakeError(NamebatchError):
    """Pieces of an earlier job cannot be made again (`remake/`)."""


class SettingsError(NamebatchError):
    """The settings of a job contradict each other (`pipeline`)."""


class WorkerError(NamebatchError):
    """A process that made pieces ended without a word (`sections/`, `workers`)."""


class ClusterError(WorkerError):
    """A cluster cannot be had, or is gone (`cluster/`)."""


class DeskError(NamebatchError):
    """What was asked for on the page cannot be done (`desk/`)."""


class NotThereError(DeskError):
    """A docket, a line, a template or a file that was named is not there."""


class NoDocketError(StoreError, NotThereError):
    """A docket that was named is not kept (any more)."""
