"""The commands for what was measured at the bench: words in, calls out, heavy rooms when used."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from namebatch.errors import SettingsError

calibrate = typer.Typer(
    name="calibrate",
    help="Test sheets for printer and cutter, and their results in the workshop file.",
    no_args_is_help=True,
)

Measured = Annotated[
    Path | None,
    typer.Option("--measured", metavar="FILE", help="What was measured (CSV, XLSX, ODS)."),
]
Workshop = Annotated[
    Path | None,
    typer.Option("--workshop", metavar="FILE", help="Printer, cutter and materials (TOML)."),
]
OutFolder = Annotated[
    str | None, typer.Option("--out", metavar="DIR", help="Folder for the test sheet.")
]
Replace = Annotated[
    bool, typer.Option("--replace", help="Write over a test sheet's form that was filled in.")
]


def align(
    job: Annotated[Path, typer.Argument(metavar="JOB", help="Folder of a job that was made.")],
    sheet: Annotated[str, typer.Option("--sheet", metavar="ID", help="Sheet to cut, as face-001.")],
    measured: Annotated[
        Path | None,
        typer.Option(
            "--measured",
            metavar="FILE",
            help="Corners of the printed frame in the cutter's coordinates: mark,x_mm,y_mm.",
        ),
    ] = None,
    mark: Annotated[
        list[str] | None,
        typer.Option("--mark", metavar="NAME=X,Y", help="One mark, as bottom-left=12.3,45.6."),
    ] = None,
    frame: Annotated[
        str | None,
        typer.Option(
            "--frame", metavar="W,H", help="Width and height of the printed frame, by a ruler."
        ),
    ] = None,
    workshop: Workshop = None,
    model: Annotated[
        str,
        typer.Option("--model", metavar="KIND", help="auto, similarity, two-scales or affine."),
    ] = "auto",
    limit: Annotated[
        float,
        typer.Option("--limit", metavar="MM", min=0.05, max=5.0, help="Largest misfit of a mark."),
    ] = 0.3,
    turned: Annotated[
        bool, typer.Option("--turned", help="The print was laid turned by more than 45°.")
    ] = False,
) -> None:
    """Move a sheet's cut files onto its print as it lies under the cutter."""
    from namebatch.measured.telling import align_and_tell

    align_and_tell(job, sheet, measured, mark or [], frame, workshop, model, limit, turned=turned)


@calibrate.command("print")
def calibrate_print(
    out: OutFolder = None,
    measured: Measured = None,
    workshop: Workshop = None,
    replace: Replace = False,
) -> None:
    """A page with long bars to see how true the printer's lengths are, or its result stored."""
    from namebatch.measured.calibrating import print_scale_stored, print_test_written

    folder, table = _one_of(out, measured)
    if folder is not None:
        print_test_written(folder, workshop, replace=replace)
    elif table is not None:
        print_scale_stored(table, workshop)


@calibrate.command("kerf")
def calibrate_kerf(
    material: Annotated[
        str, typer.Option("--material", metavar="NAME", help="Material of the workshop file.")
    ],
    out: OutFolder = None,
    measured: Measured = None,
    workshop: Workshop = None,
    replace: Replace = False,
) -> None:
    """Strips and slots to see how wide the cut is in x and in y, or their result stored."""
    from namebatch.measured.calibrating import kerf_stored, kerf_test_written

    folder, table = _one_of(out, measured)
    if folder is not None:
        kerf_test_written(folder, workshop, material, replace=replace)
    elif table is not None:
        kerf_stored(table, workshop, material)


def _one_of(out: str | None, measured: Path | None) -> tuple[Path | None, Path | None]:
    """Either a folder for the test or what was measured on it."""
    if (out is None) == (measured is None):
        raise SettingsError(
            "Give --out DIR for the test sheet, or --measured FILE to store what was measured on "
            "it; one of the two."
        )
    if out is not None and not out.strip():
        raise SettingsError('--out is empty. Name a folder, or "." for this one.')
    return (None if out is None else Path(out)), measured
