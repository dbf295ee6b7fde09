"""Pieces, the print and the start of the command line, each beside its floor."""

import hashlib
import sys
import time
import zlib
from collections.abc import Iterator
from pathlib import Path
from statistics import fmean

from namebatch.output.coats import painted_texts
from namebatch.output.pdfpath import shape_operators
from namebatch.output.printpdf import print_pdf
from namebatch.piece import cut_pieces
from namebatch.pipeline import Settings, make_job, plan_job
from namebatch.template import find_template
from tests.bench import bench_piece
from tests.bench.corpus import samples
from tests.bench.rows import Row
from tests.bench.runs import best_cpu_seconds, made_up_names

PIECES = 400
PRINTED = 200


def pieces() -> Iterator[Row]:
    """A finished piece beside shaping, one union and two buffers of the same letters."""
    for sample in samples(bench_piece.WARM, seed=1):
        bench_piece.floor(sample)
        bench_piece.lines(bench_piece.piece(sample))
    floor: list[float] = []
    outline: list[float] = []
    whole: list[float] = []
    for sample in samples(PIECES):
        bench_piece.floor(sample)  # its letters are kept from here on
        bench_piece.forget()
        at = [time.process_time()]
        bench_piece.floor(sample)
        at.append(time.process_time())
        bench_piece.forget()
        begun = time.process_time()
        done = bench_piece.piece(sample)
        at.append(time.process_time())
        bench_piece.lines(done)
        floor.append(at[1] - at[0])
        outline.append(at[2] - begun)
        whole.append(time.process_time() - begun)
    beside = f"libraries alone {1e3 * fmean(floor):.2f} ms"
    for what, spent in (("outline with proof", outline), ("and cut line in arcs", whole)):
        yield Row(
            f"{what}, {PIECES} names, mean",
            f"{1e3 * fmean(spent):.2f} ms",
            beside,
            fmean(spent) / fmean(floor),
        )


def print_size(folder: Path) -> Iterator[Row]:
    """``print.pdf`` beside the artwork's file and the vectors of every name, packed."""
    listed = folder / "printed.csv"
    listed.write_text("name\n" + "\n".join(made_up_names(PRINTED)) + "\n", encoding="utf-8")
    for name in ("name-sign", "bag-tag"):
        job = make_job(plan_job(listed, Settings(name)), lambda *_: None)
        size = len(print_pdf(job, lambda *_: None))
        shapes = {  # texts that stand on every piece are needed once
            coat.shape.wkb: coat.shape
            for piece in cut_pieces(job.pieces)
            for face in job.template.faces
            for painted in painted_texts(job.template, piece, face)
            for coat in painted.coats
            if coat.colour
        }
        vectors = sum(
            len(zlib.compress(shape_operators(shape).encode())) for shape in shapes.values()
        )
        source = find_template(name)
        pictures = {art.digest for art in job.template.artwork.values()}
        artwork = sum(
            path.stat().st_size
            for path in source.rglob("*")
            if path.is_file() and _digest(path) in pictures
        )
        least = vectors + artwork
        yield Row(
            f"print.pdf, {PRINTED} of {name}",
            f"{size / 1024:.0f} KiB",
            f"artwork {artwork / 1024:.0f} and vectors {vectors / 1024:.0f} KiB",
            size / least,
        )


def _digest(path: Path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest()


def start() -> Iterator[Row]:
    """``namebatch --help`` beside an interpreter that does nothing; processor time."""
    bare = best_cpu_seconds([sys.executable, "-c", ""])
    ours = best_cpu_seconds([sys.executable, "-m", "namebatch", "--help"])
    yield Row(
        "namebatch --help", f"{1e3 * ours:.0f} ms", f"python -c '' {1e3 * bare:.0f} ms",
        ours / bare, "3",
    )  # fmt: skip
