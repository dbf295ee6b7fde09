"""The job folder from its sections: files linked, pages joined, one manifest."""

import os
import shutil
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from namebatch.job import Job, Section
from namebatch.output import held, jig
from namebatch.output.docpage import (
    Block,
    counted,
    document_of,
    flow,
    heading,
    minutes,
    text_block,
    write_pages,
)
from namebatch.output.manifest import FILE as MANIFEST
from namebatch.output.paper import paper_of
from namebatch.output.target import digest_of
from namebatch.output.workcard import front_blocks
from namebatch.sections.book import write_manifest
from namebatch.sections.facts import Facts
from namebatch.sections.pdfs import merge
from namebatch.sections.section import FILES
from namebatch.sections.task import Whole
from namebatch.sections.whole import Gathered

JOINED: Final = ("print.pdf", "proof.pdf", "customer-proof.pdf", "labels.pdf", "workcard.pdf")
"""Files that every section may have, and the job one of."""
_CARD: Final = "workcard.pdf"
_FRONT: Final = ".front.pdf"


@dataclass(frozen=True, slots=True)
class Sections:
    """The sections of a job, whole, in their order.

    Attributes:
        folders: where they lie.
        wholes: what they are.
        facts: what is known of them.
        owners: of each row of the list, in its order, the place of its section.
    """

    folders: Sequence[Path]
    wholes: Sequence[Whole]
    facts: Sequence[Facts]
    owners: Sequence[int]


def assemble(
    whole: Gathered, sections: Sections, folder: Path, progress: Callable[[int, int], None]
) -> tuple[str, ...]:
    """Put a job folder together; the sections stay as they are.

    Args:
        whole: the job.
        sections: its sections.
        folder: the job folder being filled.
        progress: called with steps done and in all.

    Returns:
        Paths below the folder, the manifest's last.
    """
    found = _shared_out(sections)
    joined = {name: some for name, some in found.items() if len(some) > 1 or name in JOINED}
    digests: dict[str, str] = {}
    steps = len(joined) + 2
    alone = {name: some[0] for name, some in found.items() if name not in joined}
    for place in {name.rpartition("/")[0] for name in alone}:
        (folder / place).mkdir(parents=True, exist_ok=True)
    for name, (source, digest) in alone.items():
        _link(source, f"{folder}/{name}")
        digests[name] = digest
    progress(1, steps)
    front = _write_front(whole, sections, folder)
    first = Section(1, len(sections.folders)).words
    for number, (name, some) in enumerate(joined.items(), start=2):
        sources = [Path(source) for source, _ in some]
        target = folder / name
        target.parent.mkdir(parents=True, exist_ok=True)
        if name == _CARD:
            sources.insert(0, front)
        merge(sources, target, lambda done, total: None, first)
        progress(number, steps)
    if _CARD in joined:
        front.unlink()
    else:
        front.rename(folder / _CARD)
    jig.write(whole.job, folder, lambda done, total: None)
    held.write(whole.job, folder, lambda done, total: None)
    for where, _, names in os.walk(folder):
        below = "".join(f"{part}/" for part in Path(where).relative_to(folder).parts)
        for name in names:
            if below + name not in digests:
                digests[below + name] = digest_of(Path(where, name))
    write_manifest(folder / MANIFEST, whole, sections.folders, sections.owners, digests)
    progress(steps, steps)
    return (*sorted(digests), MANIFEST)


def _shared_out(sections: Sections) -> dict[str, list[tuple[str, str]]]:
    """Path below the job folder → files of the sections for it with their digests, in order.

    Paths of files are text here: there may be one for every name of a long list.
    """
    found: dict[str, list[tuple[str, str]]] = {}
    for folder, whole in zip(sections.folders, sections.wholes, strict=True):
        for path, digest in sorted(whole.files.items()):
            begin, _, name = path.partition("/")
            if begin == FILES:
                found.setdefault(name, []).append((f"{folder}/{path}", digest))
    return found


def _link(source: str, target: str) -> None:
    """The same file under another name, so that the section stays whole till the job stands."""
    try:
        os.link(source, target, follow_symlinks=False)
    except (OSError, NotImplementedError):
        shutil.copyfile(source, target, follow_symlinks=False)


def _write_front(whole: Gathered, sections: Sections, folder: Path) -> Path:
    """The first pages of the work card: the job as a whole, and what its parts are."""
    job, path = whole.job, folder / _FRONT
    paper = paper_of(job)
    pages = flow([*front_blocks(job, whole.small), *_parts(job, sections)], paper.room)
    write_pages(path, document_of(job, "Work card"), pages, lambda number: None, paper)
    return path


def _parts(job: Job, sections: Sections) -> Iterator[Block]:
    """The table of the parts."""
    if not job.pieces:
        return
    yield heading("In parts", "each has a card, a proof and labels of its own, which follow")
    total = len(sections.wholes)
    rows: list[list[int]] = [[] for _ in sections.folders]
    for row, owner in zip(job.rows, sections.owners, strict=True):
        rows[owner].append(row.line)
    word, parted = job.names.place.lower(), list(sections.owners) != sorted(sections.owners)
    for place, (part, facts) in enumerate(zip(sections.wholes, sections.facts, strict=True)):
        said = [f"Part {part.number} of {total}: {_lines(rows[place], word, parted)}"]
        said.append(counted(sum(made.copies for made in facts.made), "piece"))
        for kind in ("face", "board"):
            ids = [sheet.id for sheet in facts.sheets if sheet.kind == kind]
            said += [ids[0] if len(ids) == 1 else f"{ids[0]} … {ids[-1]}"] if ids else []
        if part.counts.pages:
            first, last = part.before.pages + 1, part.before.pages + part.counts.pages
            said.append(f"page {first:,}" if first == last else f"pages {first:,} to {last:,}")
        said.append(f"about {minutes(sum(sheet.seconds for sheet in facts.sheets))} at the cutter")
        yield text_block("  ·  ".join(said), 9, after=1.5)


def _lines(lines: Sequence[int], place: str, parted: bool) -> str:
    """Which rows of the list; of orders they need not follow one another."""
    if len(lines) == 1:
        return f"{place} {lines[0]}"
    many = f"{len(lines):,} {place}s, {lines[0]} to {lines[-1]}"
    return f"{many}, as the orders are" if parted else many
