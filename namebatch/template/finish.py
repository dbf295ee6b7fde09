"""The table ``[finish]``: whether prints are laminated, where tape is laid, mounting first."""

from typing import Annotated

from pydantic import Field

from namebatch.template.model import Build, Finish, Laminate, Tape
from namebatch.template.problems import Problems, validated
from namebatch.template.schema import Table


class FinishTable(Table):
    """``[finish]``."""

    laminate: Laminate = "none"
    laminate_mm: Annotated[float, Field(ge=0.01, le=0.5)] | None = None
    tape: Tape = "none"
    tape_mm: Annotated[float, Field(ge=0.02, le=2.0)] | None = None
    mounted: bool = False


def read_finish(data: object, build: Build | None, backs: bool, problems: Problems) -> Finish:
    """What is done to a print beside printing and cutting; nothing without the table.

    Args:
        data: the table.
        build: of the template, if it is known.
        backs: something is printed on the back.
        problems: gets one line for each thing in the way.
    """
    table = None if data is None else validated(FinishTable, data, "finish", problems)
    if table is None:
        return Finish()
    if build == "bare" and table.laminate != "none":
        problems.add("finish.laminate", 'nothing is printed with build = "bare"; leave it out.')
    if table.mounted and build not in (None, "printed"):
        problems.add(
            "finish.mounted", f'goes only with build = "printed", not "{build}"; leave it out.'
        )
    if table.mounted and build == "printed" and backs:
        problems.add("finish.mounted", "hides the back; leave it out, or the back.")
    if table.tape != "none" and not table.mounted and build not in (None, "faced"):
        problems.add("finish.tape", "goes only with prints that are mounted; leave it out.")
    if table.laminate != "none" and table.laminate_mm is None:
        problems.add(
            "finish.laminate_mm",
            "is missing; give the thickness of one side, 0.08 for 80 microns.",
        )
    for key, given, used in (
        ("laminate_mm", table.laminate_mm, table.laminate),
        ("tape_mm", table.tape_mm, table.tape),
    ):
        if given is not None and used == "none":
            problems.add(f"finish.{key}", f"goes only with {key.removesuffix('_mm')}.")
    return Finish(
        table.laminate, table.laminate_mm or 0.0, table.tape, table.tape_mm, table.mounted
    )
