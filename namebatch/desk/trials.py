"""Templates that are being made on the page: drafts with their picture, tried, kept or dropped."""

import logging
import shutil
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from threading import Lock
from typing import Final

from pydantic import ValidationError

from namebatch.desk.apart import Apart
from namebatch.desk.disk import remedy_for
from namebatch.desk.own_templates import keep, name_for
from namebatch.desk.trial_first import Begun, begin
from namebatch.desk.trial_made import Outcome, ready, tried
from namebatch.desk.trial_picture import Picture, kind_of
from namebatch.desk.trial_spec import ENDINGS, TrialSpec
from namebatch.errors import (
    DeskError,
    NamebatchError,
    NotThereError,
    OutputError,
    TemplateError,
)
from namebatch.store import Deleted

log = logging.getLogger("namebatch.desk")

FOLDER: Final = "trials"
SPEC: Final = "filled-in.json"
LAST: Final = "last"
"""File with the highest number that was given, so that none is given twice."""
MOST_DRAFTS: Final = 12
"""At a time: each holds a picture."""
_SIZED: Final = "sized"
_LEAVING: Final = ".leaving-"


@dataclass(frozen=True, slots=True)
class Trial:
    """A draft.

    Attributes:
        id: counted up; never that of another one before.
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
        self._finish_dropping()

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
            NamebatchError: it is no picture that can be used, it cannot be kept, or there are as
                many drafts as are kept.
        """
        self._refuse_more()
        kind_of(data)  # what is too large, or no picture, is not even handed over
        begun: Begun = self._apart.run(begin, data, title, self._workshop_file())
        picture, spec = begun.picture, begun.spec
        try:
            with self._lock:
                self._refuse_more()
                number = self._next_number()
                self._lay_down(number, picture, spec)
        except OSError as error:
            raise OutputError(
                f"The picture cannot be kept: {error.strerror}. Nothing was begun. "
                f"{remedy_for(error, self._home)}"
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
            raise OutputError(
                f"The draft cannot be kept: {error.strerror}. {remedy_for(error, self._home)}"
            ) from error
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
        if all(sample.svg is None for sample in outcome.samples):
            raise TemplateError(
                "None of the names can be made with it, so it is not kept yet. Change it, or the "
                "names, until one comes out.",
                tuple(finding.message for one in outcome.samples for finding in one.findings),
            )
        keep(self._own, name, outcome.files)
        try:
            self.drop(number)
        except NamebatchError as error:  # the template is kept all the same
            log.warning("%s", error)
        return name

    def drop(self, number: int) -> Deleted:
        """Drop a draft.

        Returns:
            What of it could not be removed; that is tried again at the next start.

        Raises:
            NotThereError: there is none of that number.
            OutputError: it cannot be removed, and is there as before.
        """
        with self._lock:
            if number not in self._numbers():
                raise _gone(number)
            leaving = self._home / f"{_LEAVING}{number:04d}"
            try:
                # out of sight in one step, so that it is never seen half gone
                self._folder(number).rename(leaving)
            except OSError as error:
                raise OutputError(
                    f"Draft {number} cannot be thrown away: {error.strerror}. It is there as "
                    f"before. {remedy_for(error, self._home)}"
                ) from error
            left = _removed(leaving)
        return Deleted(left is None, () if left is None else (left,))

    def _finish_dropping(self) -> None:
        """Remove what drafts that were dropped, or never came to be, have left."""
        with suppress(OSError):
            for path in sorted(self._home.iterdir()):
                number = path.name.removeprefix(_LEAVING).removeprefix(".")
                if path.name.startswith(".") and number.isascii() and number.isdecimal():
                    left = _removed(path)
                    if left:
                        log.warning("a draft that was thrown away is not gone: %s", left)

    def _refuse_more(self) -> None:
        """Refuse another draft where there are as many as are kept.

        Raises:
            DeskError: there are.
        """
        if len(self._numbers()) >= MOST_DRAFTS:
            raise DeskError(
                f"There are {MOST_DRAFTS} drafts that are not finished, and no more are kept at a "
                "time. Keep one of them as a template, or throw one away; then begin with this "
                "picture."
            )

    def _next_number(self) -> int:
        """A number that was never given, noted before it is used."""
        path = self._home / LAST
        try:
            last = int(path.read_text(encoding="ascii"))
        except (OSError, ValueError):  # of a folder from before numbers were noted, too
            last = 0
        number = max(last, *self._numbers(), 0) + 1
        self._home.mkdir(parents=True, exist_ok=True)
        fresh = path.with_suffix(".new")
        fresh.write_text(f"{number}\n", encoding="ascii")
        fresh.replace(path)
        return number

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


def _removed(folder: Path) -> str | None:
    """Remove a folder; what is left of it, for people, None if nothing is."""
    try:
        shutil.rmtree(folder)
    except FileNotFoundError:
        return None
    except OSError as error:
        return f"{folder}: {error.strerror}"
    return None


def _gone(number: int) -> DeskError:
    return NotThereError(
        f"There is no draft {number} here any more. Begin a new one with the picture."
    )
