"""What of a manifest is needed to make pieces again; everything else in it is passed over."""

from collections.abc import Mapping
from typing import Any, Literal, TypeAlias

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from namebatch.errors import RemakeError
from namebatch.finding import Finding, Severity
from namebatch.output.difference import REMAKE
from namebatch.output.manifest import FILE

Words: TypeAlias = dict[str, Any]
"""Texts of a list, which may hold what is no proper text (half a surrogate pair)."""


class _Part(BaseModel):
    model_config = ConfigDict(extra="ignore", frozen=True, strict=False)


class FindingRecord(_Part):
    """A finding of a row."""

    code: str
    severity: Severity
    message: Any
    found: Literal["list", "making"] = Field(alias="from", default="list")

    @property
    def finding(self) -> Finding:
        """As the rows have it."""
        return Finding(self.code, self.severity, str(self.message))


class _ReadRecord(_Part):
    """A row before anything was changed in it by hand."""

    quantity: int = Field(ge=0)
    findings: tuple[FindingRecord, ...]


class MendRecord(_Part):
    """What was changed by hand in a row."""

    model_config = ConfigDict(extra="allow", frozen=True)
    read: _ReadRecord

    @property
    def table(self) -> dict[str, Any]:
        """As it was asked for; nobody has looked at it yet."""
        return dict(self.__pydantic_extra__ or {})


class RowRecord(_Part):
    """A line of the list."""

    line: int = Field(ge=1)
    status: Literal["made", "held"]
    values: Words
    quantity: int = Field(ge=0)
    order: Any
    pieces: tuple[str, ...]
    findings: tuple[FindingRecord, ...]
    mend: MendRecord | None = None


class PieceRecord(_Part):
    """What was measured on a piece; mm."""

    id: str
    line: int
    copy_number: int = Field(alias="copy", ge=1)
    text: Words
    size_mm: tuple[float, float]
    area_mm2: float
    parts: int
    narrowest_mm: float
    bridges: int
    text_heights_mm: dict[str, float]


class SheetRecord(_Part):
    """A sheet or a board."""

    id: str
    kind: Literal["face", "board"]


class ListRecord(_Part):
    """Where the rows came from."""

    source: str
    sha256: str
    reading: str
    headers: tuple[Any, ...]
    columns: dict[str, Any]
    place: Literal["Line", "Row"]


class WorkshopRecord(_Part):
    """The workshop file."""

    name: str
    sha256: str


class SettingsRecord(_Part):
    """What was chosen."""

    template_sha256: str
    fonts_sha256: dict[str, str]
    workshop: WorkshopRecord
    sheet_mm: tuple[float, float]
    gap_mm: float
    font: str | None
    material: str | None = None
    board: str | None = None


class SoftwareRecord(_Part):
    """What made it."""

    version: str


class Record(_Part):
    """A manifest."""

    format: Literal[1]
    template: str
    list: ListRecord
    settings: SettingsRecord
    software: SoftwareRecord
    rows: tuple[RowRecord, ...]
    pieces: tuple[PieceRecord, ...]
    sheets: tuple[SheetRecord, ...]


def read_record(manifest: Mapping[str, object], name: str) -> Record:
    """The manifest of a first job.

    Args:
        manifest: as it was read.
        name: of the job, for messages.

    Raises:
        RemakeError: it is that of a remake, or not as this version writes it.
    """
    if REMAKE in manifest:
        raise RemakeError(
            f"{name} is itself a remake. Name the folder of the first job: its pieces have the "
            "same ids, and the sizes that all of them share are told there alone."
        )
    try:
        return Record.model_validate(manifest)
    except ValidationError as error:
        where = ".".join(str(step) for step in error.errors()[0]["loc"])
        raise RemakeError(
            f"{FILE} of {name} is not as this version writes it (at {where}): from an earlier "
            "version, or changed by hand. Make the job again from its list."
        ) from error
