"""Templates that are being made on the page: drafts with their picture, tried, kept or dropped."""

import shutil
from dataclasses import dataclass
from pathlib import Path
from threading import Lock
from typing import Final

from pydantic import ValidationError

from namebatch.desk.apart import Apart
from namebatch.desk.own_templates import keep, name_for
from namebatch.desk.trial_first import Begun, begin
from namebatch.desk.trial_made import Outcome, ready, tried
from namebatch.desk.trial_picture import Picture, kind_of
from namebatch.desk.trial_spec import ENDINGS, TrialSpec
from namebatch.errors import DeskError, NotThereError, OutputError, TemplateError

FOLDER: Final = "trials"
SPEC: Final = "filled-in.json"
MOST_DRAFTS: Final = 12
"""Older ones go when a new one is begun: each holds a picture."""
_SIZED: Final = "sized"


@dataclass(frozen=True, slots=True)
class Trial:
    """A draft.

    Attributes:
        id: counted up.
        kind: of its picture.
        size: of the picture, in pixels, or in mm of a drawing.
        sized: False for a drawing that does not say how large it is.
        spec: as it was filled in last.
    """

    id: int
    kind: str
    size: tuple[float, float]
    sized: bool
    spec: TrialSpec


class Trials:
    """The drafts in a data folder; may be shared by threads.

    Args:
        data: the data folder.
        own: the folder of the workshop's own templates.
        workshop: the workshop file; it need not be there.
        apart: where pictures are read.
    """

    def __init__(self, data: Path, own: Path, workshop: Path, apart: Apart | None = None) -> None:
        self._home = data / FOLDER
        self._own = own
        self._workshop = workshop
        self._apart = apart or Apart()
        self._lock = Lock()

    def close(self) -> None:
        """End the process that reads pictures."""
        self._apart.close()

    def warm(self) -> None:
        """Get ready for a picture: somebody is choosing one."""
        self._apart.warm(ready)

    def begin(self, data: bytes, title: str = "") -> Trial:
        """Begin a draft with a picture.

        Args:
            data: the picture's file: PNG, JPEG or SVG, told by its content.
            title: for the template; may be empty.

        Raises:
            NamebatchError: it is no picture that can be used, or it cannot be kept.
        """
        kind_of(data)  # what is too large, or no picture, is not even handed over
        begun: Begun = self._apart.run(begin, data, title, self._workshop_file())
        picture, spec = begun.picture, begun.spec
        try:
            with self._lock:
                number = max(self._numbers(), default=0) + 1
                self._lay_down(number, picture, spec)
                for old in self._numbers()[:-MOST_DRAFTS]:
                    shutil.rmtree(self._folder(old), ignore_errors=True)
        except OSError as error:
            raise OutputError(
                f"The picture cannot be kept: {error.strerror}. Nothing was begun."
            ) from error
        return self.trial(number)

    def drafts(self) -> tuple[Trial, ...]:
        """All drafts that can be read, the last one first."""
        found = []
        for number in reversed(self._numbers()):
            try:
                found.append(self.trial(number))
            except NotThereError:
                continue
        return tuple(found)

    def trial(self, number: int) -> Trial:
        """A draft.

        Raises:
            NotThereError: there is none of that number.
        """
        picture = self._picture(number)
        try:
            text = (self._folder(number) / SPEC).read_text(encoding="utf-8")
            spec = TrialSpec.model_validate_json(text)
        except (OSError, ValidationError, UnicodeDecodeError):
            raise _gone(number) from None
        return Trial(number, picture.kind, picture.size, picture.sized, spec)

    def try_out(self, number: int, spec: TrialSpec) -> Outcome:
        """Try a draft with what is filled in now, which is kept with it.

        Raises:
            NamebatchError: there is no such draft, or it cannot be tried.
        """
        picture = self._picture(number)
        try:
            with self._lock:
                path = self._folder(number) / SPEC
                fresh = path.with_suffix(".new")
                fresh.write_text(spec.model_dump_json(), encoding="utf-8")
                fresh.replace(path)
        except OSError as error:
            raise OutputError(f"The draft cannot be kept: {error.strerror}.") from error
        return self._apart.run(tried, picture, spec, self._workshop_file())

    def keep(self, number: int, title: str) -> str:
        """Keep a draft as a template, as it was tried last; the draft is dropped.

        Args:
            number: of the draft.
            title: of the template, which also gives its name.

        Returns:
            The template's name.

        Raises:
            NamebatchError: it cannot be a template yet, or its name is taken.
        """
        spec = self.trial(number).spec.model_copy(update={"title": title.strip()})
        name = name_for(spec.title)
        outcome = self._apart.run(tried, self._picture(number), spec, self._workshop_file())
        if outcome.files is None:
            raise TemplateError("This cannot be a template yet.", outcome.problems)
        keep(self._own, name, outcome.files)
        self.drop(number)
        return name

    def drop(self, number: int) -> None:
        """Drop a draft.

        Raises:
            NotThereError: there is none of that number.
        """
        with self._lock:
            if number not in self._numbers():
                raise _gone(number)
            shutil.rmtree(self._folder(number), ignore_errors=True)

    def _lay_down(self, number: int, picture: Picture, spec: TrialSpec) -> None:
        """Write a new draft: the whole of it, or nothing."""
        fresh = self._home / f".{number:04d}"
        shutil.rmtree(fresh, ignore_errors=True)
        try:
            fresh.mkdir(parents=True)
            (fresh / f"picture.{ENDINGS[picture.kind]}").write_bytes(picture.data)
            (fresh / "size").write_text(_size_text(picture), encoding="ascii")
            (fresh / SPEC).write_text(spec.model_dump_json(), encoding="utf-8")
            fresh.rename(self._home / f"{number:04d}")
        except OSError:
            shutil.rmtree(fresh, ignore_errors=True)
            raise

    def _numbers(self) -> list[int]:
        try:
            names = [path.name for path in self._home.iterdir()]
        except OSError:
            return []
        return sorted(int(name) for name in names if name.isascii() and name.isdecimal())

    def _folder(self, number: int) -> Path:
        return self._home / f"{number:04d}"

    def _picture(self, number: int) -> Picture:
        """The picture of a draft, as it was kept."""
        if number not in self._numbers():
            raise _gone(number)
        folder = self._folder(number)
        try:
            for kind, ending in ENDINGS.items():
                path = folder / f"picture.{ending}"
                if path.is_file():
                    width, height, sized = (folder / "size").read_text(encoding="ascii").split()
                    size = (float(width), float(height))
                    return Picture(kind, path.read_bytes(), size, sized == _SIZED)
        except (OSError, ValueError):
            pass
        raise _gone(number)

    def _workshop_file(self) -> Path | None:
        return self._workshop if self._workshop.exists() else None


def _size_text(picture: Picture) -> str:
    return f"{picture.size[0]!r} {picture.size[1]!r} {_SIZED if picture.sized else 'unsized'}"


def _gone(number: int) -> DeskError:
    return NotThereError(
        f"There is no draft {number} here any more. Begin a new one with the picture."
    )
