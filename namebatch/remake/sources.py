"""What the first job was made from, found again; and what of it has changed since."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from namebatch.errors import RemakeError, TemplateError, WorkshopError
from namebatch.names.characters import shown
from namebatch.remake.first import FirstJob
from namebatch.template import bundled_templates, find_template, load_template, load_workshop
from namebatch.template.model import Template
from namebatch.template.workshop import Workshop
from namebatch.template.workshop_file import BUILTIN_NAME


@dataclass(frozen=True, slots=True)
class Change:
    """Something that is not as it was when the first job was made.

    Attributes:
        what: for papers and manifest, without any path.
        remedy: how it becomes as it was.
    """

    what: str
    remedy: str

    def __str__(self) -> str:
        """For whoever is to put it right."""
        return f"{self.what}. {self.remedy}"


def template_again(first: FirstJob, given: str | None) -> tuple[Template, tuple[Change, ...]]:
    """The template, and what is to be told if it is not as it was.

    Without a place given it is looked for among the bundled ones, in this folder and beside the
    job; the one that is as it was is taken before others of its name.

    Raises:
        RemakeError: it is not found.
        TemplateError: the one that was given cannot be used.
    """
    name, wanted = first.record.template, first.record.settings.template_sha256
    if given is not None:
        template = load_template(find_template(given))
        return template, () if template.digest == wanted else (_changed(template, given),)
    found: list[Template] = []
    for place in _template_places(name, first.folder):
        try:
            found.append(load_template(find_template(place)))
        except TemplateError:
            continue
        if found[-1].digest == wanted:
            return found[-1], ()
    if not found:
        raise RemakeError(
            f"The template {shown(name)} is neither bundled nor in this folder nor beside the "
            "job. Say where it lies now with --template DIR."
        )
    return found[0], (_changed(found[0], found[0].folder),)


def _template_places(name: str, job: Path) -> Iterator[str]:
    if name in bundled_templates():
        yield name
    for folder in (Path(), Path("templates"), job.resolve().parent, job.resolve().parent.parent):
        if (folder / name).is_dir():
            yield str(folder / name)


def _changed(template: Template, where: object) -> Change:
    return Change(
        f"the template {template.name} is another one",
        f"Looked at was {shown(str(where), 200)}; give the one of that time with --template DIR.",
    )


def workshop_again(first: FirstJob, given: Path | None) -> tuple[Workshop, tuple[Change, ...]]:
    """The workshop file, and what is to be told if it is not as it was.

    Raises:
        RemakeError: it is not found.
        WorkshopError: the one that was given cannot be used.
    """
    was = first.record.settings.workshop
    if given is not None or was.name == BUILTIN_NAME:
        workshop = load_workshop(given)
        return workshop, () if workshop.digest == was.sha256 else (_other(workshop),)
    found: list[Workshop] = []
    for folder in (Path(), first.folder.resolve().parent, first.folder.resolve().parent.parent):
        try:
            found.append(load_workshop(folder / was.name))
        except WorkshopError:
            continue
        if found[-1].digest == was.sha256:
            return found[-1], ()
    if not found:
        raise RemakeError(
            f"The job was made with the workshop file {shown(was.name)}, which is neither in this "
            "folder nor beside the job. Say where it lies with --workshop FILE."
        )
    return found[0], (_other(found[0]),)


def _other(workshop: Workshop) -> Change:
    return Change(
        f"the workshop file {shown(workshop.name)} is another one or has other values",
        "Give the one of that time with --workshop FILE.",
    )


def typefaces_changed(first: FirstJob, now: Mapping[str, str]) -> tuple[Change, ...]:
    """What is to be told of typefaces that are not as they were.

    Args:
        first: the job.
        now: typeface → digest, those that set the spoiled pieces.
    """
    was = first.record.settings.fonts_sha256
    return tuple(
        Change(f"the typeface {shown(name)} is another file", "Put the one of that time back.")
        if name in was
        else Change(
            f"the typeface {shown(name)} was not there", "Take it away while these are made again."
        )
        for name, digest in now.items()
        if was.get(name) != digest
    )
