"""The typefaces of the page: its own, and for other scripts those that pieces are set in too.

The page's own face has Latin letters only, and a computer may have no face for a name's script.
So the style sheet offers the program's faces by `unicode-range`: a browser fetches one only when
something on the page needs it, and only if the faces before it lack it.
"""

from bisect import bisect_right
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from importlib.util import find_spec
from pathlib import Path

from fontTools.unicodedata import Blocks, Scripts

from namebatch.text import load_catalogue
from namebatch.text.fallback import BY_SCRIPT

OWN_PACKAGE = "fontpkg_atkinson_hyperlegible"
OWN = frozenset(
    f"AtkinsonHyperlegible-{style}.ttf" for style in ("Regular", "Bold", "Italic", "BoldItalic")
)
FAMILY = "Names of the world"
"""What the style sheets call them all together."""
Range = tuple[int, int]

_SHARED = frozenset(("Zyyy", "Zinh", "Zzzz"))
_FIRST, _LAST = 0x0100, 0x10FFFF
"""Up to U+00FF the page's own face has all."""
_ALSO: dict[str, tuple[Range, ...]] = {
    # accents, letter-like signs, dashes, quotes, currencies: shared by scripts, and in text faces
    "Latn": ((0x02B0, 0x036F), (0x2000, 0x20CF), (0x2100, 0x214F)),
    "Hani": ((0x3000, 0x33FF), (0xFE10, 0xFE1F), (0xFE30, 0xFE6F), (0xFF00, 0xFFEF)),
    # arrows, mathematics, shapes, stars, ticks
    "Zsym": ((0x2150, 0x24FF), (0x2500, 0x27BF), (0x2900, 0x2BFF)),
    "Zsye": ((0x2600, 0x27BF), (0x2B00, 0x2BFF), (0xFE0E, 0xFE0F), (0x1F000, 0x1FAFF)),
}
_ON_COMPUTERS = {
    "Hani": (
        "Noto Sans CJK JP", "Noto Sans CJK SC", "Hiragino Sans", "PingFang SC", "Yu Gothic",
        "Microsoft YaHei", "Malgun Gothic",
    )
}  # fmt: skip
"""Taken instead where a computer has one: the file for Han characters has 33 MB."""


@dataclass(frozen=True, slots=True)
class ScriptFace:
    """A typeface for some scripts.

    Attributes:
        name: of its file in an address.
        path: of its file.
        ranges: first and last code points for which it is offered, in order.
        local: names under which a computer may have one that does as well.
    """

    name: str
    path: Path
    ranges: tuple[Range, ...]
    local: tuple[str, ...] = ()


@lru_cache(maxsize=1)
def files() -> dict[str, Path]:
    """Every file that may be fetched, by its name in an address."""
    return {**_own(), **{face.name: face.path for face in script_faces()}}


@lru_cache(maxsize=1)
def script_faces() -> tuple[ScriptFace, ...]:
    """The faces for other scripts that are installed, in the order in which they are declared.

    Of faces whose ranges overlap a browser tries the one that is declared last first.
    """
    paths = {info.name: info.path for info in load_catalogue().infos}
    tags: dict[Path, list[str]] = {}
    for tag, names in BY_SCRIPT.items():
        found = [paths[name] for name in names if name in paths]
        # of signs that letters' faces lack, pictures have some
        for path in found[: 3 if tag == "Zsym" else 1]:
            tags.setdefault(path, []).append(tag)
    faces = [_face(path, frozenset(of)) for path, of in tags.items()]
    return tuple(reversed(faces))


@lru_cache(maxsize=1)
def script_sheet() -> str:
    """The style sheet that offers them."""
    rules = []
    for face in script_faces():
        where = [f'local("{name}")' for name in face.local] + [f'url("/typefaces/{face.name}")']
        ranges = ", ".join(
            f"U+{first:X}" if first == last else f"U+{first:X}-{last:X}"
            for first, last in face.ranges
        )
        rules.append(
            f'@font-face {{ font-family: "{FAMILY}"; font-weight: 100 900; font-display: swap; '
            f"src: {', '.join(where)}; unicode-range: {ranges}; }}\n"
        )
    return "".join(rules)


def ranges_of(tags: frozenset[str]) -> tuple[Range, ...]:
    """The code points of some scripts (ISO 15924 tags), as few ranges as there can be.

    A block that no other script has letters in belongs to them with all its signs and marks.
    """
    ranges = [item for tag in tags for item in _ALSO.get(tag, ())]
    for first, last in _spans(Blocks.RANGES):
        parts = list(_scripts_in(first, last))
        scripts = {script for script, _ in parts} - _SHARED
        if scripts and scripts <= tags:
            ranges.append((first, last))
        else:
            ranges += [part for script, part in parts if script in tags]
    return tuple(_merged(ranges))


def _face(path: Path, tags: frozenset[str]) -> ScriptFace:
    name = path.stem.partition("[")[0] + path.suffix
    local = tuple(name for tag in sorted(tags) for name in _ON_COMPUTERS.get(tag, ()))
    return ScriptFace(name, path, ranges_of(tags), local)


def _spans(starts: list[int]) -> Iterator[Range]:
    yield from zip(starts, (*(start - 1 for start in starts[1:]), _LAST), strict=True)


def _scripts_in(first: int, last: int) -> Iterator[tuple[str, Range]]:
    at = bisect_right(Scripts.RANGES, first) - 1
    while at < len(Scripts.RANGES) and Scripts.RANGES[at] <= last:
        end = Scripts.RANGES[at + 1] - 1 if at + 1 < len(Scripts.RANGES) else _LAST
        yield Scripts.VALUES[at], (max(first, Scripts.RANGES[at]), min(last, end))
        at += 1


def _merged(ranges: Iterable[Range]) -> list[Range]:
    merged: list[Range] = []
    for first, last in sorted((max(first, _FIRST), last) for first, last in ranges):
        if last < first:
            continue
        if merged and first <= merged[-1][1] + 1:
            merged[-1] = (merged[-1][0], max(last, merged[-1][1]))
        else:
            merged.append((first, last))
    return merged


def _own() -> dict[str, Path]:
    spec = find_spec(OWN_PACKAGE)
    if spec is None or spec.origin is None:
        return {}
    folder = Path(spec.origin).parent / "files"
    return {name: folder / name for name in OWN if (folder / name).is_file()}
