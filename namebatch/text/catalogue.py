"""The typefaces that there are: the font catalogue, a workshop's own, and files by path."""

import re
import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from difflib import get_close_matches
from functools import lru_cache
from importlib.util import find_spec
from pathlib import Path

from namebatch.errors import FontError
from namebatch.resources import bundled
from namebatch.text.face import Face

SUFFIXES = (".ttf", ".otf", ".ttc")
AXIS = re.compile(r"\s+([A-Za-z]{4})=(-?\d+(?:\.\d+)?)$")
"""A setting of an OpenType variation axis behind a name: ``Harbour wght=600``."""


@dataclass(frozen=True, slots=True)
class FaceInfo:
    """What the catalogue says of a typeface.

    Attributes:
        name: as templates call it, for example ``Fredoka SemiBold``.
        family: name of the family.
        style: ``script``, ``rounded``, ``serif``, ``sans``, ``condensed``, ``stencil`` …
        package: the font package it comes from, empty for a workshop's own file.
        licence: SPDX identifier, empty when unknown.
        scripts: ISO 15924 tags that it covers well.
        thinnest_stroke_ratio: thinnest stroke of A–Z, a–z, 0–9 over the capitals' height.
        path: the font file.
        axes: settings of a variable font.
    """

    name: str
    family: str
    style: str
    package: str
    licence: str
    scripts: tuple[str, ...]
    thinnest_stroke_ratio: float | None
    path: Path
    axes: tuple[tuple[str, float], ...] = ()


@dataclass(frozen=True, slots=True)
class AbsentFace:
    """A typeface of the catalogue whose package is not installed.

    Attributes:
        name: as templates call it.
        scripts: ISO 15924 tags that it would cover.
        package: the font package it comes from.
        extra: of namebatch that brings the package; empty when every installation has it.
        signs: symbols that it has and the faces of every installation lack.
    """

    name: str
    scripts: tuple[str, ...]
    package: str
    extra: str
    signs: str = ""

    @property
    def remedy(self) -> str:
        """What it needs and how to get it, as a sentence."""
        if self.extra:
            return (
                f'The typeface "{self.name}" needs the extra "{self.extra}": '
                f'pip install "namebatch[{self.extra}]"'
            )
        return (
            f'The typeface "{self.name}" needs the package {self.package}: '
            f"pip install {self.package}"
        )


class Catalogue:
    """All typefaces that can be called by name.

    Args:
        infos: the typefaces; of equal names the last counts.
        folder: of the template, which may name font files in it and none elsewhere.
        chosen: the typeface that whoever runs the job named, which may be any file.
        absent: typefaces that are listed but not installed.
    """

    def __init__(
        self,
        infos: Sequence[FaceInfo],
        folder: Path | None = None,
        chosen: str | None = None,
        absent: Sequence[AbsentFace] = (),
    ) -> None:
        self._infos = {info.name.casefold(): info for info in infos}
        self._absent = {face.name.casefold(): face for face in absent}
        self._folder = folder
        self._chosen = chosen or ""
        while (setting := AXIS.search(self._chosen)) is not None:
            self._chosen = self._chosen[: setting.start()]

    @property
    def infos(self) -> tuple[FaceInfo, ...]:
        """Every typeface in order of name."""
        return tuple(sorted(self._infos.values(), key=lambda info: info.name.casefold()))

    @property
    def absent(self) -> tuple[AbsentFace, ...]:
        """Typefaces that would be there with one more package, in order of name."""
        return tuple(face for key, face in sorted(self._absent.items()) if key not in self._infos)

    def info(self, name: str) -> FaceInfo:
        """Look a typeface up by name or file; axes may follow, ``Harbour wght=600``.

        Raises:
            FontError: there is none (the nearest names are suggested) or it is not installed.
        """
        setting = AXIS.search(name)
        if setting is not None:
            info = self.info(name[: setting.start()])
            axes = {**dict(info.axes), setting[1]: float(setting[2])}
            return replace(info, name=name, axes=tuple(sorted(axes.items())))
        found = self._infos.get(name.casefold())
        if found is not None:
            return found
        if name.lower().endswith(SUFFIXES):
            return self._from_file(name)
        absent = self._absent.get(name.casefold())
        if absent is not None:
            raise FontError(absent.remedy)
        near = get_close_matches(name.casefold(), self._infos, n=3, cutoff=0.5)
        hint = ", ".join(f'"{self._infos[key].name}"' for key in near)
        raise FontError(
            f'There is no typeface "{name}". '
            + (f"Did you mean {hint}? " if hint else "")
            + "`namebatch fonts` lists all; a TTF or OTF file in fonts/ is called by its name "
            "without the ending."
        )

    def open(self, name: str) -> Face:
        """Open a typeface; opened once in a process."""
        return open_face(self.info(name))

    def open_spare(self, name: str) -> Face:
        """Open a typeface to help out where a template's own lack something."""
        return _open_spare(self.info(name))

    def _from_file(self, name: str) -> FaceInfo:
        if self._folder is not None:
            # a template comes from anywhere, so it never opens files outside of its folder
            path = self._folder / name
            if path.is_file() and path.resolve().is_relative_to(self._folder.resolve()):
                return own_file(path)
        anywhere = self._folder is None or name == self._chosen
        if anywhere and Path(name).is_file():
            return own_file(Path(name))
        by_name = "fonts/ and call it by its name without the ending."
        if anywhere:
            raise FontError(
                f'There is no font file "{name}". Give its whole path, or put it into {by_name}'
            )
        raise FontError(
            f'There is no font file "{name}" in the template\'s folder. Put it there, or into '
            f"{by_name}"
        )


def own_file(path: Path, name: str | None = None) -> FaceInfo:
    """A workshop's own font file; called by its stem unless a name is given."""
    return FaceInfo(name or path.stem, path.stem, "own file", "", "", (), None, path)


@lru_cache(maxsize=256)
def open_face(info: FaceInfo) -> Face:
    """Open a typeface, once in a process; glyph shapes are kept with it."""
    return Face(info.name, info.path, dict(info.axes))


@lru_cache(maxsize=64)
def _open_spare(info: FaceInfo) -> Face:
    return Face(info.name, info.path, dict(info.axes), helps_out=True)


def load_catalogue(folder: Path | None = None, chosen: str | None = None) -> Catalogue:
    """The catalogue, then font files in ``fonts/`` of the program and of the current folder.

    Args:
        folder: the template's folder, for faces that lie beside it.
        chosen: the typeface named for the whole job, which may lie anywhere.

    Raises:
        FontError: the catalogue itself is damaged.
    """
    own: list[FaceInfo] = []
    for place in (bundled("fonts"), Path.cwd() / "fonts"):
        if place.is_dir():
            files = sorted(
                p for p in place.iterdir() if p.suffix.lower() in SUFFIXES and p.is_file()
            )
            own += [own_file(path) for path in files]
    listed = _listed(bundled("fonts") / "fonts.toml")
    infos = [face for face in listed if isinstance(face, FaceInfo)]
    absent = [face for face in listed if isinstance(face, AbsentFace)]
    return Catalogue([*infos, *own], folder, chosen, absent)


@lru_cache(maxsize=4)
def _listed(path: Path) -> tuple[FaceInfo | AbsentFace, ...]:
    """Entries of a catalogue file, installed or not."""
    try:
        entries = tomllib.loads(path.read_text(encoding="utf-8"))["face"]
        return tuple(_entry(entry) for entry in entries)
    except (OSError, KeyError, TypeError, ValueError) as error:
        raise FontError(f"The font catalogue {path.name} cannot be read: {error}.") from error


def _entry(entry: Mapping[str, object]) -> FaceInfo | AbsentFace:
    name, package = str(entry["name"]), str(entry["package"])
    axes = entry.get("axes", {})
    scripts = entry["scripts"]
    if not isinstance(axes, dict) or not isinstance(scripts, list):
        raise TypeError(f"face {name}: axes must be a table and scripts a list")
    tags = tuple(str(tag) for tag in scripts)
    spec = find_spec(package.replace("-", "_"))
    if spec is None or not spec.submodule_search_locations:
        extra, signs = (str(entry.get(key, "")) for key in ("extra", "signs"))
        return AbsentFace(name, tags, package, extra, signs)
    ratio = entry.get("thinnest_stroke_ratio")
    return FaceInfo(
        name=name,
        family=str(entry["family"]),
        style=str(entry["style"]),
        package=package,
        licence=str(entry["licence"]),
        scripts=tags,
        thinnest_stroke_ratio=float(ratio) if isinstance(ratio, int | float) else None,
        path=Path(spec.submodule_search_locations[0]) / str(entry["file"]),
        axes=tuple((str(tag), float(value)) for tag, value in sorted(axes.items())),
    )
