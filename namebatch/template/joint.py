"""The table ``[joint]``: how pieces that are larger than a sheet are put together from parts."""

from typing import Annotated

from pydantic import AfterValidator, Field

from namebatch.template.model import JointKind, JointRule
from namebatch.template.problems import Problems, validated
from namebatch.template.schema import FARTHEST_MM, Coordinate, Table

MOST_LINES = 50


def _apart(values: list[float]) -> list[float]:
    """Lines in rising order, each once."""
    if sorted(set(values)) != values:
        raise ValueError("must rise, each line once, for example [200, 400].")
    return values


Lines = Annotated[list[Coordinate], Field(max_length=MOST_LINES), AfterValidator(_apart)]


class Joint(Table):
    """``[joint]``."""

    kind: JointKind = "straight"
    fit_mm: Annotated[float, Field(ge=0.0, le=2.0)] = 0.1
    key_mm: Annotated[float, Field(ge=1.0, le=100.0)] | None = None
    at_x_mm: Lines = Field(default_factory=list)
    at_y_mm: Lines = Field(default_factory=list)


def read_joint(
    data: object, size_mm: tuple[float, float] | None, rule: str, problems: Problems
) -> JointRule | None:
    """How pieces are split; None without the table.

    Args:
        data: the table.
        size_mm: of the base, if it is known.
        rule: the outline rule: only with ``base`` every piece ends where the base does.
        problems: gets one line for each thing in the way.
    """
    if data is None:
        return None
    table = validated(Joint, data, "joint", problems)
    if table is None:
        return None
    if table.key_mm is not None and table.kind != "keyed":
        problems.add("joint.key_mm", 'goes only with kind = "keyed".')
    for key, lines, axis in (("at_x_mm", table.at_x_mm, 0), ("at_y_mm", table.at_y_mm, 1)):
        end = size_mm[axis] if size_mm and rule == "base" else FARTHEST_MM
        outside = [line for line in lines if rule == "base" and not 0.0 < line < end]
        if outside:
            problems.add(
                f"joint.{key}",
                f"has a line at {outside[0]:g} mm, outside of the base, which reaches from 0 to "
                f"{end:g} mm.",
            )
    return JointRule(
        table.kind, table.fit_mm, tuple(table.at_x_mm), tuple(table.at_y_mm), table.key_mm
    )
