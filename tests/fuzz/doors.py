"""Where files of strangers come in: what reads their bytes, and what sound ones look like.

A door lets nothing out but what a person is told: any other exception is a find.
"""

import atexit
import shutil
import tempfile
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Final

from fontTools import subset
from fontTools.ttLib import TTFont

from namebatch.errors import ListError, NamebatchError
from namebatch.finding import Finding
from namebatch.mends import read_mends
from namebatch.names import read_list
from namebatch.resources import bundled
from namebatch.template import load_template, load_workshop
from namebatch.template.artwork import read_raster
from namebatch.template.builtin_workshop import BUILTIN_TOML
from namebatch.template.part_used import load_part_used
from namebatch.template.problems import FileProblem, Problems
from namebatch.template.svg import picture
from namebatch.template.svg.outline import outline_from_svg
from namebatch.text import load_catalogue
from namebatch.text.face import Face
from namebatch.text.fit import SetText, fit
from tests.template.folders import WHOLE
from tests.template.images import gradient, saved
from tests.text.conftest import text_box

LEAST: Final = "ABij"
"""A typeface of so few letters is small enough for a fuzzer to get anywhere."""
BOARDS: Final = """\
[[board]]
name = "left over"
material = "plywood-3"
size_mm = [600, 300]
used_mm = [[0, 0, 310, 300]]
"""
CHANGES: Final = """\
format = 1
[line.14]
quantity = 2
fields = { name = "Zoë" }
[line.14.text.name]
lines = ["Ada", "Teasel"]
shift_mm = [0.5, -0.25]
"""


Feed = Callable[[bytes], bool]


@dataclass(frozen=True, slots=True)
class Door:
    """One way in.

    Attributes:
        feed: whether bytes could be read; raises what no person is told.
        seeds: sound files to begin with.
    """

    feed: Feed
    seeds: Callable[[], tuple[bytes, ...]]


@cache
def _folder() -> Path:
    """A place of this process for the file that is read; gone when the process ends."""
    folder = Path(tempfile.mkdtemp(prefix="namebatch-fuzz-"))
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    return folder


def _file(name: str, data: bytes) -> Path:
    path = _folder() / name
    path.write_bytes(data)
    return path


def _list(name: str) -> Feed:
    def feed(data: bytes) -> bool:
        """Every row that is kept has a name that can be written."""
        try:
            found = read_list(_file(name, data), ["name"])
        except ListError:
            return False
        for row in found.rows:
            row.fields["name"].encode()
            if not row.held and not row.fields["name"]:
                raise AssertionError(f"{row.place} is kept without a name")
        return True

    return feed


def _drawing(data: bytes) -> bool:
    """A base and an artwork: a shape, or problems."""
    problems, told = Problems(), Problems()
    found = outline_from_svg(data, "base.svg", problems)
    if (found is None) != bool(problems):
        raise AssertionError("a shape and problems, or neither")
    if found is not None and not found.polygon.is_valid:
        raise AssertionError("a shape that is not sound")
    drawn = picture.read_artwork(data, "art.svg", told)
    if (drawn is None) != bool(told):
        raise AssertionError("a picture and problems, or neither")
    return found is not None or drawn is not None


def _picture(data: bytes) -> bool:
    try:
        read_raster(data, "kite.png")
    except FileProblem:
        return False
    return True


def _typeface(data: bytes) -> bool:
    """A text is set or held, or the typeface is refused."""
    try:
        face = Face("Stranger", _file("stranger.ttf", data))
        found = fit("Abij", [face], text_box())
    except NamebatchError:
        return False
    if not isinstance(found, Finding | SetText):
        raise AssertionError(f"neither set nor held: {found!r}")
    return isinstance(found, SetText)


def _table(name: str, read: Callable[[Path], object]) -> Feed:
    def feed(data: bytes) -> bool:
        try:
            read(_file(name, data))
        except NamebatchError:
            return False
        return True

    return feed


def _lists() -> tuple[bytes, ...]:
    text = 'name;quantity\nZoë;2\n"O\'Brien; Ada";1\n'
    return tuple(text.encode(codec) for codec in ("utf-8-sig", "utf-16", "cp1252"))


def _books() -> tuple[bytes, ...]:
    from openpyxl import Workbook

    book = Workbook()
    book.active.append(["name", "quantity"])
    book.active.append(["Zoë", 2])
    book.save(_folder() / "seed.xlsx")
    return ((_folder() / "seed.xlsx").read_bytes(),)


def _drawings() -> tuple[bytes, ...]:
    return tuple(path.read_bytes() for path in sorted(bundled("templates").glob("*/*.svg")))


def _pictures() -> tuple[bytes, ...]:
    image = gradient(12, 9)
    return (saved(image, "PNG"), saved(image, "JPEG"), saved(image, "JPEG", progressive=True))


def _typefaces() -> tuple[bytes, ...]:
    """A few letters of two bundled faces, one of them variable."""
    found = []
    for name in ("Pacifico", "Fredoka SemiBold"):
        options = subset.Options(layout_features=["*"], notdef_outline=True)
        font = TTFont(load_catalogue().open(name).path)
        chosen = subset.Subsetter(options)
        chosen.populate(text=LEAST + LEAST.lower())
        chosen.subset(font)
        font.save(_folder() / "seed.ttf")
        found.append((_folder() / "seed.ttf").read_bytes())
    return tuple(found)


def _load_template(path: Path) -> object:
    return load_template(path.parent)


DOORS: Final[Mapping[str, Door]] = {
    "lists": Door(_list("list.csv"), _lists),
    "spreadsheets": Door(_list("list.xlsx"), _books),
    "drawings": Door(_drawing, _drawings),
    "pictures": Door(_picture, _pictures),
    "typefaces": Door(_typeface, _typefaces),
    "templates": Door(_table("template.toml", _load_template), lambda: (WHOLE.encode(),)),
    "workshops": Door(_table("workshop.toml", load_workshop), lambda: (BUILTIN_TOML.encode(),)),
    "boards": Door(_table("boards.toml", load_part_used), lambda: (BOARDS.encode(),)),
    "changes": Door(_table("changes.toml", read_mends), lambda: (CHANGES.encode(),)),
}
"""By what a stranger may send."""
