"""Templates by name: the bundled ones, and the workshop's own."""

from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path

from namebatch.errors import NotThereError
from namebatch.names.characters import shown
from namebatch.resources import bundled
from namebatch.template import bundled_templates, load_template
from namebatch.template.folder import TOML_NAME
from namebatch.template.model import Template


def own_names(own: Path) -> tuple[str, ...]:
    """Names of the workshop's own templates, sorted.

    Args:
        own: the folder that they lie in; it need not be there.
    """
    try:
        return tuple(sorted(path.name for path in own.iterdir() if (path / TOML_NAME).is_file()))
    except OSError:
        return ()


def template_folder(own: Path, name: str) -> Path:
    """The folder of a template; the name is looked up among those that there are, never a path.

    Args:
        own: folder of the workshop's own templates.
        name: of the template; a bundled one comes before an own one of the same name.

    Raises:
        NotThereError: there is none.
    """
    folder = _bundled().get(name)
    if folder is not None:
        return folder
    if name in own_names(own):
        return own / name
    raise NotThereError(
        f'There is no template "{shown(name, 60)}" any more. Choose one of those that there are.'
    )


def template_source(own: Path, name: str) -> str:
    """What `pipeline.Settings` calls a template: a bundled one by its name, another by its folder.

    Raises:
        NotThereError: there is none.
    """
    folder = template_folder(own, name)
    return name if name in _bundled() else str(folder)


def template_of(own: Path, name: str) -> Template:
    """A template, read; the same one again as long as its description is the same.

    Raises:
        NotThereError: there is none.
        TemplateError: it cannot be used.
    """
    folder = template_folder(own, name)
    at = (folder / TOML_NAME).stat()
    return _loaded(folder, at.st_mtime_ns, at.st_size)


@lru_cache(maxsize=1)
def _bundled() -> Mapping[str, Path]:
    """Bundled templates and their folders; they stay as they are while the program runs."""
    return {name: bundled("templates") / name for name in bundled_templates()}


@lru_cache(maxsize=64)
def _loaded(folder: Path, changed: int, size: int) -> Template:
    return load_template(folder)
