"""What the cutter does on each material of a job."""

from collections.abc import Sequence

from namebatch.sheet.model import Jig, Operation, Sheet
from namebatch.template.model import Template


def operations_on(
    sheets: Sequence[Sheet], jig: Jig | None, template: Template
) -> dict[str, set[Operation]]:
    """Material → what is done on it; a jig counts with what is printed on, if that is a page.

    Args:
        sheets: of the job.
        jig: of the job.
        template: what the job makes.
    """
    done: dict[str, set[Operation]] = {}
    for sheet in sheets:
        done.setdefault(sheet.material, set()).update(cut.operation for cut in sheet.cuts)
    if jig is not None and not template.finish.mounted:
        done.setdefault(template.material, set()).update(cut.operation for cut in jig.cuts)
    return done
