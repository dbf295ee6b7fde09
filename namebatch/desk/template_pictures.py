"""Pictures of templates, kept in the data folder: drawing all anew takes seconds."""

import logging
from collections.abc import Callable, Iterator
from contextlib import suppress
from hashlib import sha256
from pathlib import Path
from tempfile import NamedTemporaryFile
from threading import Lock
from typing import Final

from namebatch import __version__
from namebatch.desk.disk import remedy_for
from namebatch.desk.offered import draw_template
from namebatch.desk.templates import own_names, template_of
from namebatch.errors import NamebatchError
from namebatch.template import bundled_templates

SUFFIX: Final = ".svg"
log = logging.getLogger("namebatch.desk")


class TemplatePictures:
    """Draws each once for each state of template, workshop file and program; shared by threads.

    Args:
        folder: where they are kept; nothing else lies there.
        own: folder of the workshop's own templates.
        workshop: workshop file; the built-in values count until it is there.
    """

    def __init__(self, folder: Path, own: Path, workshop: Path) -> None:
        self._folder = folder
        self._own = own
        self._workshop = workshop
        # one at a time is quickest, and a browser asks for six at once
        self._drawing = Lock()
        self._told = False

    def picture(self, name: str) -> bytes:
        """A piece of a template with the sample texts that it names, as SVG.

        Raises:
            NotThereError: there is no such template.
            NamebatchError: no piece can be made with its sample texts.
        """
        path = self._path(name)
        with suppress(OSError):
            return path.read_bytes()
        with self._drawing:
            with suppress(OSError):
                return path.read_bytes()  # drawn while this one waited
            svg = draw_template(self._own, name, self._workshop_now())
            self._keep(path, svg)
            return svg

    def draw_all(self, may: Callable[[], bool]) -> None:
        """Draw what is not drawn yet, and drop what no template looks like any more.

        Args:
            may: asked before each one, and may take its time; at the first no this ends.
        """
        current = set()
        for name in self._names():
            if not may():
                return
            try:
                self.picture(name)
                current.add(self._path(name))
            except NamebatchError as error:
                log.warning('the template "%s" has no picture: %s', name, error)
        with suppress(OSError):
            for path in set(self._folder.iterdir()) - current:
                path.unlink(missing_ok=True)

    def _names(self) -> Iterator[str]:
        bundled = bundled_templates()
        yield from bundled
        yield from (name for name in own_names(self._own) if name not in bundled)

    def _path(self, name: str) -> Path:
        workshop = self._workshop_now()
        parts = (
            __version__,
            template_of(self._own, name).digest,
            "" if workshop is None else sha256(workshop.read_bytes()).hexdigest(),
        )
        return self._folder / (sha256("\0".join(parts).encode()).hexdigest() + SUFFIX)

    def _workshop_now(self) -> Path | None:
        return self._workshop if self._workshop.is_file() else None

    def _keep(self, path: Path, svg: bytes) -> None:
        """A picture that cannot be kept is drawn again, and that is all; it is told once."""
        try:
            _write(path, svg)
        except OSError as error:
            if not self._told:
                log.warning(
                    "pictures of templates cannot be kept and are drawn anew each time: %s. %s",
                    error.strerror,
                    remedy_for(error, self._folder),
                )
            self._told = True


def _write(path: Path, data: bytes) -> None:
    """All of it or nothing.

    Raises:
        OSError: it cannot be written.
    """
    path.parent.mkdir(exist_ok=True)
    with NamedTemporaryFile(dir=path.parent, delete=False) as file:
        file.write(data)
    Path(file.name).replace(path)
