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


class Catalogue:
    """All typefaces that can be called by name.

    Args:
        infos: the typefaces; of equal names the last counts.
        folder: where a face given as a file name is looked for (the template's folder).
    """

    def __init__(self, infos: Sequence[FaceInfo], folder: Path | None = None) -> None:
        self._infos = {info.name.casefold(): info for info in infos}
        self._folder = folder

    @property
    def infos(self) -> tuple[FaceInfo, ...]:
        """Every typeface in order of name."""
        return tuple(sorted(self._infos.values(), key=lambda info: info.name.casefold()))

    def info(self, name: str) -> FaceInfo:
        """Look a typeface up by name or file; axes may follow, ``Harbour wght=600``.

        Raises:
            FontError: there is none; the nearest names are suggested.
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
        near = get_close_matches(name.casefold(), self._infos, n=3, cutoff=0.5)
        hint = ", ".join(f'"{self._infos[key].name}"' for key in near)
        raise FontError(
            f'There is no typeface "{name}". '
            + (f"Did you mean {hint}? " if hint else "")
            + "`namebatch fonts` lists all; a TTF or OTF file in fonts/ or a path works too."
        )

    def open(self, name: str) -> Face:
        """Open a typeface; opened once in a process."""
        return open_face(self.info(name))

    def _from_file(self, name: str) -> FaceInfo:
        places = [Path(name)] if self._folder is None else [self._folder / name, Path(name)]
        for path in places:
            if path.is_file():
                return own_file(path)
        raise FontError(
            f'There is no font file "{name}". Put it into the template\'s folder or into '
            "fonts/, or give its whole path."
        )


def own_file(path: Path, name: str | None = None) -> FaceInfo:
    """A workshop's own font file; called by its stem unless a name is given."""
    return FaceInfo(name or path.stem, path.stem, "own file", "", "", (), None, path)


@lru_cache(maxsize=256)
def open_face(info: FaceInfo) -> Face:
    """Open a typeface, once in a process; glyph shapes are kept with it."""
    return Face(info.name, info.path, dict(info.axes))


def load_catalogue(folder: Path | None = None) -> Catalogue:
    """The catalogue, then font files in ``fonts/`` of the program and of the current folder.

    Args:
        folder: the template's folder, for faces that lie beside it.

    Raises:
        FontError: the catalogue itself is damaged.
    """
    own: list[FaceInfo] = []
    for place in (bundled("fonts"), Path.cwd() / "fonts"):
        if place.is_dir():
            files = sorted(p for p in place.iterdir() if p.suffix.lower() in SUFFIXES)
            own += [own_file(path) for path in files]
    return Catalogue([*_listed(bundled("fonts") / "fonts.toml"), *own], folder)


@lru_cache(maxsize=4)
def _listed(path: Path) -> tuple[FaceInfo, ...]:
    """Entries of a catalogue file whose font package is installed."""
    try:
        entries = tomllib.loads(path.read_text(encoding="utf-8"))["face"]
        infos = [_entry(entry) for entry in entries]
    except (OSError, KeyError, TypeError, ValueError) as error:
        raise FontError(f"The font catalogue {path.name} cannot be read: {error}.") from error
    return tuple(info for info in infos if info is not None)


def _entry(entry: Mapping[str, object]) -> FaceInfo | None:
    package = str(entry["package"])
    spec = find_spec(package.replace("-", "_"))
    if spec is None or not spec.submodule_search_locations:
        return None
    axes = entry.get("axes", {})
    scripts = entry["scripts"]
    if not isinstance(axes, dict) or not isinstance(scripts, list):
        raise TypeError(f"face {entry['name']}: axes must be a table and scripts a list")
    ratio = entry.get("thinnest_stroke_ratio")
    return FaceInfo(
        name=str(entry["name"]),
        family=str(entry["family"]),
        style=str(entry["style"]),
        package=package,
        licence=str(entry["licence"]),
        scripts=tuple(str(tag) for tag in scripts),
        thinnest_stroke_ratio=float(ratio) if isinstance(ratio, int | float) else None,
        path=Path(spec.submodule_search_locations[0]) / str(entry["file"]),
        axes=tuple((str(tag), float(value)) for tag, value in sorted(axes.items())),
    )
