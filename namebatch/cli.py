"""The command line: words in, pipeline calls out. Heavy rooms are imported only when used."""

from __future__ import annotations

import signal
import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, TypeVar

import typer

from namebatch import __version__
from namebatch.cli_measured import align, calibrate
from namebatch.cli_remake import remake
from namebatch.cli_serve import serve
from namebatch.errors import NamebatchError, SettingsError

if TYPE_CHECKING:
    from namebatch.crew import Crew
    from namebatch.mends import Mend

IMPOSSIBLE = 2
SOME_HELD = 1
STOPPED = 130

app = typer.Typer(
    name="namebatch",
    help="From a list of names and a template to sheets that can be printed and cut.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
)

ListFile = Annotated[
    Path, typer.Argument(metavar="LIST", help="CSV, TSV, TXT, XLSX or ODS file of names.")
]
TemplateName = Annotated[
    str, typer.Option("--template", metavar="NAME|DIR", help="Bundled template or a folder.")
]
OutFolder = Annotated[str, typer.Option("--out", metavar="DIR", help="Folder for the job.")]
WorkshopFile = Annotated[
    Path | None,
    typer.Option("--workshop", metavar="FILE", help="Printer, cutter and materials (TOML)."),
]
SheetName = Annotated[
    str | None,
    typer.Option("--sheet", metavar="SIZE", help="a4, a5, a3, letter or WxH in mm."),
]
Gap = Annotated[
    float | None,
    typer.Option("--gap", metavar="MM", help="Least distance of two cut lines (3 if not given)."),
]
Columns = Annotated[
    list[str] | None,
    typer.Option(
        "--column", metavar="FIELD=HEADER", help="Which column feeds a field; FIELD= for none."
    ),
]
FontName = Annotated[
    str | None, typer.Option("--font", metavar="FACE", help="Typeface tried before the others.")
]
Fill = Annotated[
    str,
    typer.Option(
        "--fill", metavar="WAY", help="How sheets are filled: fast, or tight for fewer sheets."
    ),
]
Seconds = Annotated[
    float | None,
    typer.Option("--seconds", metavar="N", help="Time for --fill tight (30 if not given)."),
]
KeepOrder = Annotated[bool, typer.Option("--keep-order", help="Keep list order along the sheets.")]
ByOrder = Annotated[
    bool,
    typer.Option(
        "--by-order", help="Keep the pieces of an order together on as few sheets as it takes."
    ),
]
Spare = Annotated[
    str | None,
    typer.Option("--spare", metavar="N|P%", help="Spares: N more of each piece, or P% of all."),
]
MaterialName = Annotated[
    str | None,
    typer.Option(
        "--material", metavar="NAME", help="Material of the workshop file, not the template's."
    ),
]
BoardName = Annotated[
    str | None,
    typer.Option("--board", metavar="NAME", help="The same for the boards under the prints."),
]
PartUsed = Annotated[
    Path | None,
    typer.Option(
        "--part-used", metavar="FILE", help="Part-used boards, to be filled first (TOML)."
    ),
]
MendsFile = Annotated[
    Path | None,
    typer.Option("--mends", metavar="FILE", help="Changes by hand, by line (TOML or JSON)."),
]
Workers = Annotated[
    int | None,
    typer.Option(
        "--workers",
        metavar="N",
        min=1,
        max=256,
        help="Processes for the pieces; as many as the machine offers if left out.",
    ),
]
ClusterAddress = Annotated[
    str | None,
    typer.Option(
        "--cluster",
        metavar="ADDRESS",
        help="A long list is made by the workers of the dask scheduler there (HOST:PORT).",
    ),
]
Strict = Annotated[bool, typer.Option("--strict", help="Make nothing if any row is held.")]
Replace = Annotated[bool, typer.Option("--replace", help="Replace another job in the folder.")]
Json = Annotated[bool, typer.Option("--json", help="Print JSON.")]

Result = TypeVar("Result")


def main() -> None:
    """Entry point of the `namebatch` command."""
    signal.signal(signal.SIGTERM, _stop)
    _run(app)


def _stop(signum: int, frame: object) -> None:
    """A polite end is treated as Ctrl-C: half-made files are taken away."""
    raise KeyboardInterrupt


def _run(call: Callable[[], Result]) -> Result:
    """Call and turn an impossible job into one paragraph on standard error, exit 2."""
    try:
        return call()
    except NamebatchError as error:
        print(f"namebatch: {error}", file=sys.stderr)
        raise SystemExit(IMPOSSIBLE) from error
    except RuntimeError as error:  # what Python before 3.13 makes of a link that never ends
        before, loop, where = str(error).partition("Symlink loop from ")
        if before or not loop:
            raise
        print(f"namebatch: {where} is a link that leads back to itself.", file=sys.stderr)
        raise SystemExit(IMPOSSIBLE) from error
    except KeyboardInterrupt:
        _tell_stopped()
        raise SystemExit(STOPPED) from None
    except SystemExit as end:  # the option parser's own answer to Ctrl-C
        if end.code == STOPPED:
            _tell_stopped()
        raise


def _tell_stopped() -> None:
    print("namebatch: stopped; nothing was left half written.", file=sys.stderr)


def _version(wanted: bool) -> None:
    if wanted:
        print(f"namebatch {__version__}")
        raise typer.Exit


@app.callback()
def _options(
    version: Annotated[
        bool, typer.Option("--version", callback=_version, is_eager=True, help="Show the version.")
    ] = False,
) -> None:
    """From a list of names and a template to sheets that can be printed and cut."""


@app.command()
def make(
    list_file: ListFile,
    template: TemplateName,
    out: OutFolder,
    workshop: WorkshopFile = None,
    sheet: SheetName = None,
    gap: Gap = None,
    column: Columns = None,
    font: FontName = None,
    fill: Fill = "fast",
    keep_order: KeepOrder = False,
    by_order: ByOrder = False,
    spare: Spare = None,
    part_used: PartUsed = None,
    seconds: Seconds = None,
    mends: MendsFile = None,
    material: MaterialName = None,
    board: BoardName = None,
    workers: Workers = None,
    cluster: ClusterAddress = None,
    strict: Strict = False,
    replace: Replace = False,
) -> None:
    """Make a job: sheets to print, files to cut, proof and work card."""
    from namebatch.standby import uninterrupted

    if cluster is None:
        _get_ready(list_file, workers)
    with uninterrupted():
        from namebatch.pipeline import Settings
        from namebatch.summary import make_and_tell

    settings = Settings(
        template,
        workshop,
        sheet,
        gap,
        _columns(column),
        font,
        fill,
        keep_order,
        workers or 0,
        by_order,
        spare,
        part_used,
        seconds,
        _mends(mends),
        material,
        board,
    )
    place, crew = _folder(out), _crew(cluster)
    held = make_and_tell(list_file, settings, place, replace=replace, strict=strict, crew=crew)
    raise typer.Exit(SOME_HELD if held else 0)


@app.command()
def check(
    list_file: ListFile,
    template: TemplateName,
    workshop: WorkshopFile = None,
    sheet: SheetName = None,
    gap: Gap = None,
    column: Columns = None,
    font: FontName = None,
    mends: MendsFile = None,
    material: MaterialName = None,
    board: BoardName = None,
    workers: Workers = None,
    strict: Strict = False,
    as_json: Json = False,
) -> None:
    """Say what is to look at in a list; nothing is written."""
    from namebatch.standby import uninterrupted

    _get_ready(list_file, workers)
    with uninterrupted():
        from namebatch.pipeline import Settings
        from namebatch.summary import check_and_tell

    settings = Settings(
        template,
        workshop,
        sheet,
        gap,
        _columns(column),
        font,
        workers=workers or 0,
        mends=_mends(mends),
        material=material,
        board=board,
    )
    held = check_and_tell(list_file, settings, as_json=as_json)
    raise typer.Exit((IMPOSSIBLE if strict else SOME_HELD) if held else 0)


@app.command()
def demo(
    out: Annotated[
        str, typer.Option("--out", metavar="DIR", help="Folder for the jobs.")
    ] = "namebatch-demo",
    workers: Workers = None,
    replace: Replace = False,
) -> None:
    """Make every bundled template from the example lists."""
    from namebatch.summary import demo_and_tell

    held = demo_and_tell(_folder(out), workers or 0, replace=replace)
    raise typer.Exit(SOME_HELD if held else 0)


@app.command()
def templates(as_json: Json = False) -> None:
    """List the bundled templates."""
    from namebatch.listing import list_templates

    list_templates(as_json=as_json)


@app.command()
def fonts(
    as_json: Json = False,
    check_text: Annotated[
        str | None,
        typer.Option("--check", metavar="TEXT", help="Say which typefaces can set a text."),
    ] = None,
    height: Annotated[
        float | None,
        typer.Option("--height", metavar="MM", help="Height of capitals for --check (10)."),
    ] = None,
    workshop: WorkshopFile = None,
) -> None:
    """List the typefaces, or say which can set a text and how small it can be cut."""
    from namebatch.listing import check_fonts, list_fonts
    from namebatch.template import load_workshop

    if check_text is None:
        if height is not None:
            raise SettingsError("--height goes with --check TEXT. Give the text too.")
        list_fonts(as_json=as_json)
    elif not check_fonts(check_text, height, load_workshop(workshop), as_json=as_json):
        raise typer.Exit(SOME_HELD)


app.command()(remake)
app.command()(align)
app.command()(serve)
app.add_typer(calibrate)


def _get_ready(list_file: Path, workers: int | None) -> None:
    """Have worker processes for a long list get ready while it is read."""
    from namebatch.crew import offered
    from namebatch.standby import stand_by

    if (workers or offered()) > 1:
        stand_by(list_file)


def _folder(text: str) -> Path:
    """A folder from the command line; an empty word would mean the current one by accident."""
    if not text.strip():
        raise SettingsError('--out is empty. Name a folder for the job, or "." for this one.')
    return Path(text)


def _crew(address: str | None) -> Crew | None:
    """The workers of a cluster; None without one."""
    if address is None:
        return None
    from namebatch.cluster import cluster_at

    return cluster_at(address)


def _mends(path: Path | None) -> dict[int, Mend]:
    """Changes by hand from a file; nothing without one."""
    if path is None:
        return {}
    from namebatch.mends import read_mends

    return read_mends(path)


def _columns(pairs: list[str] | None) -> dict[str, str]:
    """``FIELD=HEADER`` options as a mapping."""
    columns: dict[str, str] = {}
    for pair in pairs or []:
        name, sign, header = pair.partition("=")
        if not sign or not name.strip():
            raise SettingsError(
                "--column takes FIELD=HEADER, for example name=Vorname, or village= where the list "
                f'has none; not "{pair}".'
            )
        columns[name.strip()] = header.strip()
    return columns
