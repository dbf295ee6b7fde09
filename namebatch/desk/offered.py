"""What there is to choose from: templates with a picture of each, and typefaces."""

import logging
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path

from namebatch.desk.bench import bench_of
from namebatch.desk.shown import Artworks, draw
from namebatch.desk.templates import own_names, template_of, template_source
from namebatch.desk.trial_ground import ground_of
from namebatch.errors import DeskError, NamebatchError
from namebatch.names import read_pasted
from namebatch.pipeline import Settings, plan_list
from namebatch.template import bundled_templates
from namebatch.template.model import Build, FaceName, Rule, Template
from namebatch.template.optional import optional_fields
from namebatch.text import load_catalogue

SAMPLE = "Marlo"
"""Where a template names no sample text for a field that it needs."""
_SMALL = 0.08  # lines are drawn so wide by the size of a piece that a small picture shows them
_PAPER = "#fbfaf6"
"""Of a shape without material."""
log = logging.getLogger("namebatch.desk")


@dataclass(frozen=True, slots=True)
class FieldOffered:
    """A field that a template takes from the list; `required` is False if it may stay empty."""

    name: str
    required: bool


@dataclass(frozen=True, slots=True)
class TemplateOffered:
    """A template to choose.

    Attributes:
        name: of its folder.
        title: for people.
        build, rule, faces: as templates say.
        fields: what it takes from the list.
        size_mm: width and height of its base.
        own: True for one of the workshop's own.
        fonts: typefaces that its text boxes name, each once.
    """

    name: str
    title: str
    build: Build
    rule: Rule
    faces: tuple[FaceName, ...]
    fields: tuple[FieldOffered, ...]
    size_mm: tuple[float, float]
    own: bool
    fonts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class FontOffered:
    """A typeface to choose: its name, its family, its style in a word."""

    name: str
    family: str
    style: str


def templates_offered(own: Path) -> tuple[TemplateOffered, ...]:
    """The bundled templates, then the workshop's own; one that cannot be used is left out.

    Args:
        own: folder of the workshop's own templates.
    """
    return tuple(_offered(own))


def draw_template(own: Path, name: str, workshop: Path | None) -> bytes:
    """Draw a piece of a template with the sample texts that it names, as SVG.

    Where no piece can be made with them, or with the workshop's materials, it is the shape alone.

    Args:
        own: folder of the workshop's own templates.
        name: of the template.
        workshop: workshop file; None for the built-in values.

    Raises:
        NotThereError: there is no such template.
        NamebatchError: nothing of it can be drawn.
    """
    template = template_of(own, name)
    try:
        return _draw_sample(template, template_source(own, name), workshop)
    except NamebatchError as error:
        # its material may be there no longer: the shape alone still shows which it is
        log.warning('the template "%s" is shown without its texts: %s', name, error)
        return ground_of(template.base, template.artwork.get("front"), _PAPER).svg.encode()


def _draw_sample(template: Template, source: str, workshop: Path | None) -> bytes:
    settings = Settings(template=source, workshop=workshop)
    plan = plan_list(partial(read_pasted, _sample_list(template)), settings)
    row, piece = plan.maker.make(plan.rows[0])
    if piece is None:
        told = tuple(finding.message for finding in row.findings)
        raise DeskError("No piece can be made with the sample texts of this template.", told)
    # figure and plumb line are for whoever looks at a piece, not for who chooses one
    bare = replace(piece, proof=replace(piece.proof, narrowest_at=None, hang=None))
    drawing = draw(bench_of(plan), bare, _SMALL * max(piece.size_mm))
    return Artworks(plan.template).put_in(drawing, large=True)


def fonts_offered() -> tuple[FontOffered, ...]:
    """Every typeface that can be called by name, sorted by it."""
    infos = load_catalogue().infos
    return tuple(FontOffered(info.name, info.family, info.style) for info in infos)


def _offered(own: Path) -> Iterator[TemplateOffered]:
    bundled = bundled_templates()
    for name in (*bundled, *(name for name in own_names(own) if name not in bundled)):
        try:
            yield _entry(template_of(own, name), name, name not in bundled)
        except NamebatchError as error:
            log.warning('the template "%s" was left out: %s', name, error)


def _entry(template: Template, name: str, own: bool) -> TemplateOffered:
    optional = optional_fields(template)
    width, height = template.size_mm
    return TemplateOffered(
        name=name,
        title=template.title,
        build=template.build,
        rule=template.rule,
        faces=template.faces,
        fields=tuple(FieldOffered(field, field not in optional) for field in template.fields),
        size_mm=(round(width, 3), round(height, 3)),
        own=own,
        fonts=tuple(dict.fromkeys(font for box in template.boxes for font in box.fonts)),
    )


def _sample_list(template: Template) -> str:
    """A pasted list of one row, with what the template says for its pictures."""
    optional = optional_fields(template)
    texts = [
        template.samples.get(field, "" if field in optional else SAMPLE)
        for field in template.fields
    ]
    return "\n".join("\t".join(cells) for cells in (template.fields, texts))
