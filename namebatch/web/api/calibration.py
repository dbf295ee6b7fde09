"""Test sheets for printer and cutter, and what was measured on them."""

from typing import Annotated, Any, Final

from fastapi import APIRouter, Path
from fastapi.responses import Response
from pydantic import BaseModel, ConfigDict, Field

from namebatch.desk.calibration import (
    MOST_READINGS,
    CalibrationView,
    KerfMeasured,
    calibration_view,
    kerf_test_zip,
    print_test_zip,
    store_kerf,
    store_print,
)
from namebatch.web.depends import TheDesk
from namebatch.web.problems import REFUSED

router = APIRouter(tags=["calibration"], responses=REFUSED)

_ZIP: Final = "application/zip"
_FILES: Final[dict[int | str, dict[str, Any]]] = {
    200: {"content": {_ZIP: {}}, "description": "The files of the test."}
}

Readings = Annotated[
    list[Annotated[float, Field(gt=0.0, le=10_000.0, allow_inf_nan=False)]],
    Field(max_length=MOST_READINGS),
]
MaterialName = Annotated[str, Path(max_length=120, description="of the workshop file")]


class _Sent(BaseModel):
    model_config = ConfigDict(extra="forbid")


class PrintSent(_Sent):
    """Lengths of the two bars in mm, one a print."""

    x_mm: Readings = []
    y_mm: Readings = []


class KerfSent(_Sent):
    """Widths in mm: of all strips of a direction laid together, and of slots."""

    x_strips: Readings = []
    y_strips: Readings = []
    x_slots: Readings = []
    y_slots: Readings = []


class Told(BaseModel):
    """What was found and done, in sentences."""

    told: tuple[str, ...]


@router.get("/calibration")
def calibration(desk: TheDesk) -> CalibrationView:
    """What can be measured, and what was stored last."""
    return calibration_view(desk.workshop_file())


@router.get("/calibration/print", response_class=Response, responses=_FILES)
def print_test(desk: TheDesk) -> Response:
    """The printer's test page, and a form for its result."""
    return _archive(print_test_zip(desk.workshop_file()), "print-test")


@router.post("/calibration/print")
def print_measured(desk: TheDesk, sent: PrintSent) -> Told:
    """Store the printer's scale."""
    told = store_print(desk.workshop_file(), sent.x_mm, sent.y_mm)
    desk.renew()
    return Told(told=told)


@router.get("/calibration/kerf/{material:path}", response_class=Response, responses=_FILES)
def kerf_test(desk: TheDesk, material: MaterialName) -> Response:
    """The cutter's test in a material, its page, and a form for its result."""
    return _archive(kerf_test_zip(desk.workshop_file(), material), "kerf-test")


@router.post("/calibration/kerf/{material:path}")
def kerf_measured(desk: TheDesk, material: MaterialName, sent: KerfSent) -> Told:
    """Store the kerf of a material."""
    measured = KerfMeasured(sent.x_strips, sent.y_strips, sent.x_slots, sent.y_slots)
    told = store_kerf(desk.workshop_file(), material, measured)
    desk.renew()
    return Told(told=told)


def _archive(data: bytes, name: str) -> Response:
    headers = {"Content-Disposition": f'attachment; filename="{name}.zip"'}
    return Response(data, media_type=_ZIP, headers=headers)
