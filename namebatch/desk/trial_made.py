"""A template tried: its files put together, its shape drawn, sample names made with it."""

import csv
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from io import StringIO
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Final

from namebatch.desk.trial_ground import Ground, ground_alone, ground_of
from namebatch.desk.trial_picture import Picture, drawing_of, scaled_drawing
from namebatch.desk.trial_room import further
from namebatch.desk.trial_spec import (
    DRAWING,
    ENDINGS,
    TrialSpec,
    columns_of,
    has_artwork,
    tables_of,
    toml_of,
    traced_table,
)
from namebatch.desk.trial_words import place_told
from namebatch.errors import NamebatchError, TemplateError
from namebatch.finding import Finding
from namebatch.names import NameList, read_pasted
from namebatch.output.preview import artwork_svg, preview_svg
from namebatch.pipeline import Plan, Settings, plan_rows
from namebatch.single import make_one
from namebatch.template import load_template, load_workshop
from namebatch.template.folder import TOML_NAME, listed
from namebatch.template.model import Template
from namebatch.template.optional import optional_fields
from namebatch.template.problems import Problems
from namebatch.template.traced import Traced, read_traced
from namebatch.template.workshop import Workshop

_PAPER: Final = "#fbfaf6"


@dataclass(frozen=True, slots=True)
class Sample:
    """A sample name as it comes out; no picture where it is held."""

    text: str
    svg: str | None
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class Outcome:
    """What came of trying.

    Attributes:
        problems: why it cannot be a template yet, in sentences.
        findings: about the template.
        ground: None where there is no shape yet.
        samples: as many as there are, or none with problems.
        room: for another text, as `TextSpec.box_mm`; None where there is none, or no shape yet.
        files: of the template's folder; empty with problems.
    """

    problems: tuple[str, ...]
    findings: tuple[Finding, ...] = ()
    ground: Ground | None = None
    samples: tuple[Sample, ...] = ()
    files: Mapping[str, bytes] | None = None
    room: tuple[float, float, float, float] | None = None


@dataclass(frozen=True, slots=True)
class _Seen:
    """What a picture of a piece is drawn from."""

    template: Template
    workshop: Workshop


def ready() -> None:
    """Nothing: whoever can call this has loaded all that trying takes."""


def tried(picture: Picture, spec: TrialSpec, workshop_file: Path | None) -> Outcome:
    """Try a template.

    Args:
        picture: that it is made from.
        spec: what is filled in.
        workshop_file: None for the built-in example values.
    """
    try:
        workshop = load_workshop(workshop_file)
        tint = (
            workshop.materials[spec.material].colour
            if spec.material in workshop.materials
            else _PAPER
        )
        with TemporaryDirectory(prefix="namebatch-trial-") as home:
            folder = Path(home) / "trial"
            folder.mkdir()
            files, told = _files(picture, spec)
            for name, data in files.items():
                (folder / name).write_bytes(data)
            return _made(folder, files, told, spec, workshop, tint)
    except NamebatchError as error:
        return Outcome(_sentences(error))
    except OSError as error:
        return Outcome((f"The trial cannot be written to the disk: {error.strerror}.",))


def _files(picture: Picture, spec: TrialSpec) -> tuple[dict[str, bytes], tuple[Finding, ...]]:
    """The files of the template's folder, and what was found in tracing for a bare base."""
    files = {TOML_NAME: toml_of(tables_of(spec, picture.kind)).encode()}
    if has_artwork(spec):
        files[f"front.{ENDINGS[picture.kind]}"] = picture.data
    if spec.base.kind == "drawing":
        if picture.kind != "svg":
            raise TemplateError(
                "Only an SVG has lines to cut along. Let the picture's edge be the line instead.",
            )
        files[DRAWING] = scaled_drawing(picture.data, spec.base.width_mm, spec.base.height_mm)
        return files, ()
    if spec.base.kind == "trace" and spec.build == "bare":
        traced = _traced(picture, spec)
        files[DRAWING] = drawing_of(traced.base)
        return files, traced.warnings
    return files, ()


def _traced(picture: Picture, spec: TrialSpec) -> Traced:
    """The outline of the picture, where it will not be printed."""
    name = f"front.{ENDINGS[picture.kind]}"
    problems = Problems()
    with TemporaryDirectory(prefix="namebatch-trial-") as home:
        (Path(home) / name).write_bytes(picture.data)
        found = read_traced(
            traced_table(spec.base), {"front": {"file": name}}, listed(Path(home)), problems
        )
    if found is None or problems:
        raise TemplateError("The picture's edge cannot be the line yet.", problems.told())
    return found


def _made(
    folder: Path,
    files: Mapping[str, bytes],
    told: tuple[Finding, ...],
    spec: TrialSpec,
    workshop: Workshop,
    tint: str,
) -> Outcome:
    """What comes of the files in a folder."""
    try:
        template = load_template(folder)
    except NamebatchError as error:
        return Outcome(_sentences(error), ground=ground_alone(folder, tint))
    ground = ground_of(template.base, template.artwork.get("front"), tint)
    findings = (*told, *template.warnings)
    try:
        names = _names(spec, template)
        plan = plan_rows(Settings(str(folder)), template, workshop, names)
    except NamebatchError as error:
        return Outcome(_sentences(error), _plain(findings), ground)
    findings = _plain(dict.fromkeys((*told, *plan.template.warnings)))
    room = _room(template, spec)
    return Outcome((), findings, ground, _samples(plan, workshop), files, room)


def _plain(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Findings in the words of the form."""
    return tuple(Finding(f.code, f.severity, place_told(f.message)) for f in findings)


def _room(template: Template, spec: TrialSpec) -> tuple[float, float, float, float] | None:
    """Left, below, width and height of a box in which another text would lie inside the shape."""
    taken = [
        (left, low, left + width, low + height)
        for left, low, width, height in (text.box_mm for text in spec.texts)
    ]
    found = further(template.base, taken)
    if found is None:
        return None
    x0, y0, x1, y1 = found
    return round(x0, 1), round(y0, 1), round(x1 - x0, 1), round(y1 - y0, 1)


def _samples(plan: Plan, workshop: Workshop) -> tuple[Sample, ...]:
    found = []
    art = {face: artwork_svg(picture) for face, picture in plan.template.artwork.items()}
    for row in plan.rows:
        made, piece = make_one(plan, row, None)
        seen = _Seen(plan.template, workshop)
        svg = None if piece is None else preview_svg(seen, piece, art)
        findings = tuple(_without_place(finding, row.where) for finding in made.findings)
        found.append(Sample(next(iter(row.fields.values()), ""), svg, findings))
    return tuple(found)


def _without_place(finding: Finding, where: str) -> Finding:
    """Sample names stand beside what is said of them: no line need be named."""
    message = finding.message
    for start in (f"{where}: ", f"{where}, "):
        message = message.removeprefix(start)
    return Finding(finding.code, finding.severity, message[:1].upper() + message[1:])


def _names(spec: TrialSpec, template: Template) -> NameList:
    """The samples as a list."""
    columns = columns_of(spec)
    said = {text.column: text.sample for text in spec.texts if text.column}
    samples = [plain for sample in spec.samples if (plain := _one_line(sample))]
    if not samples:
        raise TemplateError("There is no name to try it with. Write one or two below.")
    if len(columns) == 1:
        pasted = "\n".join([columns[0], *samples])
    else:
        out = StringIO()
        writer = csv.writer(out, dialect="excel-tab")
        writer.writerow(columns)
        others = [_one_line(said[column]) or column for column in columns[1:]]
        writer.writerows([sample, *others] for sample in samples)
        pasted = out.getvalue()
    own = {column: column for column in columns}
    return read_pasted(pasted, template.fields, own, optional_fields(template))


def _one_line(text: str) -> str:
    return " ".join(text.split())


def _sentences(error: NamebatchError) -> tuple[str, ...]:
    """What is wrong, place by place in the words of the page."""
    if not error.problems:
        return (place_told(error.what),)
    return tuple(place_told(problem) for problem in error.problems)
