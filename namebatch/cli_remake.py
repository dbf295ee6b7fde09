"""The command that makes spoiled pieces again: words in, a call out, heavy rooms when used."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from namebatch.errors import SettingsError

if TYPE_CHECKING:
    from namebatch.sheet.model import PlacedFace

FACES: tuple[PlacedFace, ...] = ("front", "back", "board")


def remake(
    job: Annotated[Path, typer.Argument(metavar="JOB", help="Folder of a job that was made.")],
    piece: Annotated[
        list[str] | None,
        typer.Option(
            "--piece", metavar="ID", help="Spoiled piece, as L14-2; L14 for all of a line."
        ),
    ] = None,
    file: Annotated[
        Path | None,
        typer.Option("--file", metavar="FILE", help="Spoiled pieces, one id a line (text, CSV)."),
    ] = None,
    out: Annotated[
        str | None,
        typer.Option("--out", metavar="DIR", help="Folder for the remake (JOB/remakes/001 …)."),
    ] = None,
    face: Annotated[
        list[str] | None,
        typer.Option("--face", metavar="FACE", help="Only front, back or board of the pieces."),
    ] = None,
    onto: Annotated[
        list[str] | None,
        typer.Option(
            "--onto", metavar="ID", help="Board of the job to cut from again, as board-002."
        ),
    ] = None,
    part_used: Annotated[
        Path | None,
        typer.Option(
            "--part-used", metavar="FILE", help="Part-used boards, to be filled first (TOML)."
        ),
    ] = None,
    sheet: Annotated[
        str | None,
        typer.Option("--sheet", metavar="SIZE", help="Other sheets than the job's: a5, WxH …"),
    ] = None,
    template: Annotated[
        str | None,
        typer.Option("--template", metavar="NAME|DIR", help="Where the template lies now."),
    ] = None,
    workshop: Annotated[
        Path | None,
        typer.Option("--workshop", metavar="FILE", help="Where the workshop file lies now."),
    ] = None,
    as_now: Annotated[
        bool,
        typer.Option(
            "--as-now", help="Take template, typefaces and workshop file even if they changed."
        ),
    ] = False,
    workers: Annotated[
        int,
        typer.Option("--workers", metavar="N", min=1, max=256, help="Processes for the pieces."),
    ] = 1,
    strict: Annotated[
        bool, typer.Option("--strict", help="Make nothing if any row is held.")
    ] = False,
    replace: Annotated[
        bool, typer.Option("--replace", help="Replace another job in the folder.")
    ] = False,
) -> None:
    """Make spoiled pieces of a job again, the same as they were, on new sheets."""
    from namebatch.remake import Wish, alone, ids_of_file, next_folder
    from namebatch.summary import remake_and_tell

    said = [*(piece or []), *(ids_of_file(file) if file is not None else ())]
    with alone(job):
        wish = Wish(
            job=job,
            out=next_folder(job) if out is None else _folder(out),
            pieces=tuple(said),
            template=template,
            workshop=workshop,
            sheet=sheet,
            part_used=part_used,
            onto=_words(onto),
            faces=_faces(face),
            as_now=as_now,
            workers=workers,
        )
        held = remake_and_tell(wish, replace=replace, strict=strict)
    raise typer.Exit(1 if held else 0)


def _folder(text: str) -> Path:
    if not text.strip():
        raise SettingsError('--out is empty. Name a folder for the remake, or "." for this one.')
    return Path(text)


def _words(options: list[str] | None) -> tuple[str, ...]:
    """Repeated options, or one with commas."""
    parts = (part.strip() for option in options or [] for part in option.split(","))
    return tuple(dict.fromkeys(filter(None, parts)))


def _faces(options: list[str] | None) -> tuple[PlacedFace, ...]:
    words = _words(options)
    wrong = [word for word in words if word not in FACES]
    if wrong:
        raise SettingsError(f'--face takes {", ".join(FACES)}, not "{wrong[0][:40]}".')
    return tuple(face for face in FACES if face in words)
