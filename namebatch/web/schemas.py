"""What is sent to the interface, and answers that are put together here.

Numbers and texts have bounds that no honest request meets; what a job can be made with is for the
rooms below to say.
"""

from collections.abc import Mapping
from dataclasses import dataclass, fields
from typing import Annotated, Any, Literal

from pydantic import AfterValidator, BaseModel, ConfigDict, Field

from namebatch.desk.row_model import RowDetail, Tried
from namebatch.mends.file import MendTable
from namebatch.names.limits import CELL_CHARACTERS, COLUMNS
from namebatch.names.mend import Mend, mend_of
from namebatch.sheet.fill import FILLS
from namebatch.text.catalogue import SUFFIXES
from namebatch.web.depends import MOST_NUMBER

SVG = "image/svg+xml"
LONGEST_NAME = 200
LONGEST_DIGEST = 128
MOST_LINES = 1_000_000
MOST_TEXTS = 200
MOST_MM = 10_000.0
MOST_SECONDS = 86_400.0


def _no_file(name: str) -> str:
    """A typeface is called by its name; the command line takes files as well, the page does not."""
    if any(sign in name for sign in "/\\") or any(end in name.lower() for end in SUFFIXES):
        raise ValueError("give the name of a typeface, not a file")
    return name


def _way_to_fill(name: str) -> str:
    if name not in FILLS:
        raise ValueError(f"choose one of {', '.join(FILLS)}")
    return name


Name = Annotated[str, Field(max_length=LONGEST_NAME)]
FontName = Annotated[str, Field(max_length=LONGEST_NAME), AfterValidator(_no_file)]
Cell = Annotated[str, Field(max_length=CELL_CHARACTERS)]
Line = Annotated[int, Field(ge=1, le=MOST_NUMBER)]
Digest = Annotated[str, Field(max_length=LONGEST_DIGEST)]
Millimetres = Annotated[float, Field(ge=-MOST_MM, le=MOST_MM, allow_inf_nan=False)]


class Sent(BaseModel):
    """Something that is sent; keys that nobody knows are refused rather than overlooked."""

    model_config = ConfigDict(extra="forbid")


class NewTitle(Sent):
    """Another title."""

    title: Name


class CopyTitle(Sent):
    """The title of a copy; that of the first one with a word added if there is none."""

    title: Name | None = None


class SettingsChange(Sent):
    """Settings that are changed, by the names of the command line; null takes one away."""

    template: Name | None = None
    columns: Annotated[dict[Name, Cell], Field(max_length=COLUMNS)] | None = None
    sheet: Name | None = None
    material: Name | None = None
    board: Name | None = None
    gap_mm: Millimetres | None = None
    font: FontName | None = None
    fill: Annotated[Name, AfterValidator(_way_to_fill)] | None = None
    seconds: Annotated[float, Field(ge=0.0, le=MOST_SECONDS, allow_inf_nan=False)] | None = None
    keep_order: bool | None = None
    by_order: bool | None = None
    spare: Name | None = None

    @property
    def wanted(self) -> dict[str, Any]:
        """Only what was sent."""
        return self.model_dump(exclude_unset=True)


class Mended(Sent):
    """A change by hand, as a file of such changes has it; null takes all of it away."""

    mend: MendTable | None

    @property
    def wanted(self) -> Mend | None:
        """The change."""
        return None if self.mend is None else mend_of(self.mend.model_dump(exclude_none=True))


class Approvals(Sent):
    """Line → digest of the picture that was seen and is approved; null takes it back."""

    lines: Annotated[dict[Line, Digest | None], Field(max_length=MOST_LINES)]


class AlikeChange(Sent):
    """Parts of a row's change that all of a group shall have.

    Attributes:
        line: whose change it is.
        group: key of one of its groups of rows alike.
        keys: parts of the change.
    """

    line: Line
    group: Annotated[str, Field(max_length=CELL_CHARACTERS + LONGEST_NAME)]
    keys: Annotated[list[Name], Field(max_length=MOST_TEXTS)]


@dataclass(frozen=True, slots=True)
class TriedRow(RowDetail):
    """A row with a change that is not kept, and how it would look; null if it would be held."""

    picture_svg: str | None


def tried_row(tried: Tried) -> TriedRow:
    """A trial as one table."""
    known = {one.name: getattr(tried.detail, one.name) for one in fields(RowDetail)}
    return TriedRow(**known, picture_svg=tried.picture_svg)


@dataclass(frozen=True, slots=True)
class SampleList:
    """The example list of a template: name of its file, and what stands in it."""

    name: str
    text: str


@dataclass(frozen=True, slots=True)
class WhatIsLeft:
    """What became of a deletion: whether nothing is left on the disk, and what is."""

    complete: bool
    left: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Readiness:
    """Whether pieces can be drawn: False only while the first start compiles what draws them."""

    ready: bool


FormPart = Literal["text", "file"]


def form_of(parts: Mapping[str, FormPart], required: tuple[str, ...] = ()) -> dict[str, Any]:
    """A form with a file for the description of the interface, as ``openapi_extra``.

    Args:
        parts: name → what it is.
        required: names that must be there.
    """
    kinds = {"text": {"type": "string"}, "file": {"type": "string", "format": "binary"}}
    schema = {
        "type": "object",
        "properties": {name: kinds[kind] for name, kind in parts.items()},
        "required": list(required),
        "additionalProperties": False,
    }
    content = {"multipart/form-data": {"schema": schema}}
    return {"requestBody": {"required": True, "content": content}}
