"""What the workshop wrote down for its machine, as it stands in the workshop file."""

from namebatch.job import Job
from namebatch.output.materials import OPERATION_WORDS
from namebatch.sheet.operations import operations_on


def machine_lines(job: Job) -> tuple[str, ...]:
    """The workshop's own words for what this job does, operation and material before them.

    They are not read, only handed on; nothing is sent to a machine.
    """
    done = operations_on(job.sheets, job.jig, job.template)
    materials = [job.workshop.materials[name] for name in done if name in job.workshop.materials]
    return tuple(
        f"{words}, {material.title}: {material.at_the_machine[operation]}"
        for operation, words in OPERATION_WORDS.items()
        for material in materials
        if operation in done[material.name] and operation in material.at_the_machine
    )
