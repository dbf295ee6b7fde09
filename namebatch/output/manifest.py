"""`job.json`: what was made, for programs. The words of its keys are fixed by the contract."""

import json
from collections.abc import Iterator, Mapping, Sequence
from math import isfinite

from namebatch import __version__
from namebatch.errors import OutputError
from namebatch.finding import Finding
from namebatch.job import Job, Totals
from namebatch.names.mend import plain_mend
from namebatch.names.row import Row
from namebatch.output.backs import pages_of
from namebatch.output.cautions import cautions
from namebatch.output.difference import REMAKE
from namebatch.output.smallparts import SmallParts
from namebatch.output.truescale import cut_scale, page_scale
from namebatch.piece import Piece
from namebatch.sheet.model import Sheet
from namebatch.sheet.motion import path_length
from namebatch.template.model import Template

FILE = "job.json"
FORMAT = 1
Json = dict[str, object]


def identity(template: Template, settings: Mapping[str, object]) -> Json:
    """What makes a job the same job: its template and its settings (the list among them).

    What it makes again of an earlier job stands among the settings and is told beside them.

    Raises:
        OutputError: when a setting is not a JSON value.
    """
    try:
        kept = json.loads(json.dumps(dict(settings), allow_nan=False))
    except (TypeError, ValueError, RecursionError) as error:
        raise OutputError(
            f"The job's settings cannot be written into job.json: {error}. "
            "Settings may be texts, numbers, lists and tables only."
        ) from error
    told = {"template": template.name, "template_digest": template.digest, "settings": kept}
    if REMAKE in kept:
        told[REMAKE] = kept.pop(REMAKE)
    return told


def manifest(job: Job, files: Mapping[str, str]) -> bytes:
    """The manifest of a job.

    Args:
        job: what was made.
        files: path below the job folder, with ``/`` → SHA-256 in hexadecimal, all files but
            the manifest itself.

    Returns:
        UTF-8 JSON with sorted keys and a line break at its end.

    Raises:
        OutputError: when a setting is not a JSON value or a measure is not finite.
    """
    content: Json = {
        **head(job),
        "rows": list(rows(job)),
        "pieces": list(pieces(job)),
        "sheets": list(sheets(job)),
        "files": dict(files),
    }
    return encoded(json_text(content) + "\n")


def json_text(value: object) -> str:
    """JSON with sorted keys, a value a line."""
    return json.dumps(value, ensure_ascii=False, sort_keys=True, indent=1, allow_nan=False)


def encoded(text: str) -> bytes:
    """UTF-8; half a surrogate pair, which no file can hold, becomes its JSON escape."""
    return text.encode("utf-8", errors="backslashreplace")


def head(job: Job, small: SmallParts | None = None) -> Json:
    """All of a manifest but its four long parts: rows, pieces, sheets, files.

    Args:
        job: what was made.
        small: the result of the small-parts test, where it is known already.
    """
    return {
        **identity(job.template, job.settings),
        "format": FORMAT,
        "software": {"name": "namebatch", "version": __version__},
        "build": job.template.build,
        "list": _list(job),
        "blank_lines": job.names.blank_lines,
        "bleed_mm": _mm(job.bleed_mm),
        "notes": list(job.notes),
        "cautions": [
            {"title": c.title, "text": c.text, "source": c.source, "urgent": c.urgent}
            for c in cautions(job, small)
        ],
        "template_findings": _findings(job.template.warnings),
        "cutter": {"bed_mm": _mms(job.workshop.cutter.bed_mm)},
        "totals": {
            **_totals(job.totals),
            "cut_parts": sum(piece.copies * max(1, len(piece.parts)) for piece in job.pieces),
        },
    }


def rows(job: Job) -> Iterator[Json]:
    """Entries of the list's rows, in list order."""
    ids = {piece.line: piece.cut_ids for piece in job.pieces}
    as_read = {row.line: row for row in job.names.rows}
    for row in job.rows:
        yield row_entry(row, ids.get(row.line, ()), as_read.get(row.line, row))


def pieces(job: Job) -> Iterator[Json]:
    """Entries of everything that is cut, in list order."""
    lengths, deviations = _cut_lengths(job), _deviations(job)
    for piece in job.pieces:
        parts = piece.cut
        for copy in range(piece.copies):
            for part in parts:
                yield _copy(part, copy, len(piece.parts), lengths, deviations)


def sheets(job: Job) -> Iterator[Json]:
    """Entries of the sheets, printed ones first."""
    pages = pages_of(job)
    for sheet in job.sheets:
        yield _sheet(job, sheet, pages.get(sheet.id, ()))


def _list(job: Job) -> Json:
    """Where the rows came from."""
    names = job.names
    return {
        "source": names.source,
        "sha256": names.sha256,
        "reading": names.reading,
        "headers": list(names.headers),
        "columns": dict(names.columns),
        "place": names.place,
        "findings": _findings(names.findings),
    }


def row_entry(row: Row, pieces: tuple[str, ...], read: Row) -> Json:
    """A line of the list and what became of it.

    Args:
        row: with all its findings.
        pieces: ids of what was made of it.
        read: the same as it was read, to tell what was found in the list from what was found in
            making it.
    """
    return {
        "line": row.line,
        "status": "held" if row.held else "made",
        "values": dict(row.values),
        "quantity": row.quantity,
        "order": row.order,
        "mend": _mend(row, read),
        "pieces": list(pieces),
        "findings": [
            {**told, "from": "list" if finding in read.findings else "making"}
            for finding, told in zip(row.findings, _findings(row.findings), strict=True)
        ],
    }


def _mend(row: Row, read: Row) -> Json | None:
    """What was changed by hand, and of what was read that which stands nowhere else then."""
    if row.mend is None:
        return None
    was = {"quantity": read.quantity, "findings": _findings(read.findings)}
    return {**plain_mend(row.mend), "read": was}


def _copy(
    piece: Piece,
    copy: int,
    parts: int,
    lengths: Mapping[str, float],
    deviations: Mapping[str, float],
) -> Json:
    """One thing to cut, with what was measured on it; copies count from 0 here.

    Of a piece that is put together from so many parts this is one part.
    """
    proof = piece.proof
    piece_id = piece.ids[copy]
    heights = {text.box: _mm(text.height_mm) for text in piece.letterings}
    # fixed lines are the template's business; the figure is about the first that the list gave
    given = [height for box, height in heights.items() if box in piece.text]
    return {
        "id": piece_id,
        "line": piece.line,
        "copy": piece.numbers[copy],
        "spare": copy >= piece.ordered,
        "joined": _joined(piece, copy, parts),
        "text": dict(piece.text),
        "size_mm": _mms(piece.size_mm),
        "area_mm2": _mm(piece.outline.area),
        "parts": proof.parts,
        "narrowest_mm": _mm(proof.narrowest_mm),
        "narrowest_at_mm": None if proof.narrowest_at is None else _mms(proof.narrowest_at),
        "required_mm": _mm(proof.required_mm),
        "board": _board(piece),
        "bridges": proof.bridges,
        "text_height_mm": next(iter(given), None),
        "text_heights_mm": heights,
        "hang_tilt_deg": None if proof.hang_tilt_deg is None else _mm(proof.hang_tilt_deg),
        "bridge_places_mm": [[*_mms(b.start), *_mms(b.end)] for b in piece.bridges],
        "deviation_mm": _mm(deviations.get(piece_id, 0.0)),
        "cut_length_mm": _mm(lengths.get(piece_id, 0.0)),
        "findings": _findings(piece.findings),
    }


def _joined(piece: Piece, copy: int, parts: int) -> Json | None:
    """What a part belongs to; None for a whole piece."""
    if not piece.part:
        return None
    return {"piece": f"L{piece.line}-{piece.numbers[copy]}", "part": piece.part, "of": parts}


def _board(piece: Piece) -> Json | None:
    """The board below the print, where its outline is its own; None if it has the print's."""
    if piece.board is None:
        return None
    proof = piece.board.proof
    return {
        "size_mm": _mms(piece.cut_from("board").size_mm),
        "area_mm2": _mm(piece.board.outline.area),
        "narrowest_mm": _mm(proof.narrowest_mm),
        "narrowest_at_mm": None if proof.narrowest_at is None else _mms(proof.narrowest_at),
        "required_mm": _mm(proof.required_mm),
    }


def _sheet(job: Job, sheet: Sheet, pages: Sequence[int]) -> Json:
    """A page or a board and where everything lies on it."""
    return {
        "id": sheet.id,
        "kind": sheet.kind,
        "material": sheet.material,
        "size_mm": _mms(sheet.size_mm),
        "usable_mm": _mms(sheet.usable_mm),
        "frame_mm": _mms(sheet.frame_mm),
        "cut_scale": _ratios(cut_scale(job.workshop.printer, sheet.kind)),
        "print_scale": _ratios(page_scale(job.workshop.printer)) if sheet.kind == "face" else None,
        "pages": list(pages),
        "backs": sheet.backs,
        "gap_mm": _mm(sheet.gap_mm),
        "fill": _mm(sheet.fill),
        "part_used": sheet.part_used or None,
        "used_mm": [
            [
                [_mms(point) for point in ring.coords[:-1]]
                for ring in (part.exterior, *part.interiors)
            ]
            for part in sheet.used.geoms
        ],
        "placements": [
            {
                "piece": placement.piece,
                "face": placement.face,
                "x_mm": _mm(placement.x_mm),
                "y_mm": _mm(placement.y_mm),
                "rotation_deg": _mm(placement.rotation_deg),
                "mirrored": placement.mirrored,
            }
            for placement in sheet.placements
        ],
        "cut_length_mm": _mm(sheet.cut_length_mm),
        "travel_mm": _mm(sheet.travel_mm),
        "seconds": _finite(sheet.seconds, 1),
    }


def _totals(totals: Totals) -> Json:
    """The counts; rows = made + held."""
    return {
        "rows": totals.rows,
        "made": totals.made,
        "held": totals.held,
        "pieces": totals.pieces,
        "spares": totals.spares,
        "sheets": totals.sheets,
        "sheets_lower_bound": totals.sheets_lower_bound,
        "sheets_area_bound": totals.sheets_area_bound,
        "boards": totals.boards,
        "boards_lower_bound": totals.boards_lower_bound,
        "boards_area_bound": totals.boards_area_bound,
        "cut_seconds": _finite(totals.cut_seconds, 1),
        "cost": None if totals.cost is None else _finite(totals.cost, 2),
        "cutting_cost": None if totals.cutting_cost is None else _finite(totals.cutting_cost, 2),
    }


def _cut_lengths(job: Job) -> dict[str, float]:
    """Piece id → length of all its cut lines, over every face and sheet; mm."""
    lengths: dict[str, float] = {}
    for sheet in job.sheets:
        for cut in sheet.cuts:
            piece = cut.owner.rpartition(".")[0]
            lengths[piece] = lengths.get(piece, 0.0) + path_length(cut)
    return lengths


def _deviations(job: Job) -> dict[str, float]:
    """Piece id → how far its cut lines are from their true curves at most; mm."""
    worst: dict[str, float] = {}
    for sheet in job.sheets:
        for cut in sheet.cuts:
            piece = cut.owner.rpartition(".")[0]
            worst[piece] = max(worst.get(piece, 0.0), cut.deviation_mm)
    return worst


def _findings(findings: tuple[Finding, ...]) -> list[Json]:
    return [{"code": f.code, "severity": f.severity.value, "message": f.message} for f in findings]


def _mm(value: float) -> float:
    """Millimetres, degrees and ratios: four decimals."""
    return _finite(value, 4)


def _ratios(values: tuple[float, float]) -> list[float]:
    """Scales: eight decimals, 0.00001 mm over a sheet."""
    return [_finite(value, 8) for value in values]


def _mms(values: tuple[float, ...]) -> list[float]:
    return [_mm(value) for value in values]


def _finite(value: float, digits: int) -> float:
    """A rounded number; JSON has no word for infinity."""
    if not isfinite(value):
        raise OutputError(
            f"A measure of this job is {value}, which is no number to cut by. Nothing was "
            "written; send the template and the list to whoever looks after this program."
        )
    return round(float(value), digits) + 0.0
