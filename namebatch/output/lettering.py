"""Text on document pages: a legible face where it has the letters, shaped outlines elsewhere.

Coordinates and sizes are PDF points, y up, the baseline at y. Names come in any script, so a
text is cut into runs: what the document face has is real text, the rest is drawn as ink.
"""

import re
import unicodedata
from collections.abc import Iterable
from functools import lru_cache
from io import BytesIO
from itertools import groupby
from typing import Any, Literal, TypeAlias

import fontpkg
from fontTools.pens.basePen import BasePen
from fontTools.ttLib import TTFont
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont as EmbeddedFont
from shapely import MultiPolygon

from namebatch.curves import Path, Recorder
from namebatch.output.picture_data import pdf_path
from namebatch.text.bidi import levels

Weight: TypeAlias = Literal[400, 700]
MM = 72 / 25.4
FAMILY = "Atkinson Hyperlegible"
_SHAPE_EM_MM = 10.0
_ELLIPSIS = "…"
_LEFT_TO_RIGHT = "\u200e"
_HYPHENED = re.compile("[^-]+-*|-+")


class _Face:
    """The document face in one weight, with figures of equal width."""

    def __init__(self, weight: Weight) -> None:
        font = TTFont(str(fontpkg.path(FAMILY, weight)), recalcTimestamp=False)
        characters = _with_tabular_figures(font)
        for table in ("GSUB", "GPOS", "GDEF"):
            if table in font:
                del font[table]
        data = BytesIO()
        font.save(data)
        data.seek(0)
        self.name = f"namebatch-page-{weight}"
        pdfmetrics.registerFont(EmbeddedFont(self.name, data))
        self.characters = frozenset(characters)
        self.glyph_names = characters
        self.glyphs = font.getGlyphSet()
        self.units_per_em = float(font["head"].unitsPerEm)


def _with_tabular_figures(font: Any) -> dict[int, str]:
    """Point the ten figures at their tabular forms; gives the changed character map."""
    features = font["GSUB"].table.FeatureList.FeatureRecord
    lookups = font["GSUB"].table.LookupList.Lookup
    wanted = {i for f in features if f.FeatureTag == "tnum" for i in f.Feature.LookupListIndex}
    swap: dict[str, str] = {}
    for index in sorted(wanted):
        for subtable in lookups[index].SubTable:
            swap |= getattr(getattr(subtable, "ExtSubTable", subtable), "mapping", {})
    for table in font["cmap"].tables:
        if not table.isUnicode():
            continue
        for figure in range(ord("0"), ord("9") + 1):
            glyph = table.cmap.get(figure)
            table.cmap[figure] = swap.get(glyph, glyph)
    best: dict[int, str] = font.getBestCmap()
    return best


@lru_cache(maxsize=2)
def _face(weight: Weight) -> _Face:
    """Load and register a weight; reportlab keeps registered faces for the whole process."""
    return _Face(weight)


class _PathPen(BasePen):  # type: ignore[misc]  # fontTools has no types
    """A fontTools pen that draws into a recorder, scaled."""

    def __init__(self, glyphs: Any, scale: float, shift: float, into: Recorder) -> None:
        super().__init__(glyphs)
        self._scale, self._shift, self._into = scale, shift, into

    def _at(self, *points: tuple[float, float]) -> Iterable[float]:
        for x, y in points:
            yield x * self._scale + self._shift
            yield y * self._scale

    def _moveTo(self, pt: tuple[float, float]) -> None:
        self._into.move(*self._at(pt))

    def _lineTo(self, pt: tuple[float, float]) -> None:
        self._into.line(*self._at(pt))

    def _curveToOne(
        self, pt1: tuple[float, float], pt2: tuple[float, float], pt3: tuple[float, float]
    ) -> None:
        self._into.cubic(*self._at(pt1, pt2, pt3))

    def _qCurveToOne(self, pt1: tuple[float, float], pt2: tuple[float, float]) -> None:
        self._into.quad(*self._at(pt1, pt2))

    def _closePath(self) -> None:
        self._into.close()


@lru_cache(maxsize=2048)
def figure_path(text: str, size: float, weight: Weight = 400) -> tuple[Path, float]:
    """A short text of our own (a figure, a unit) as outlines of the document face.

    Args:
        text: letters that the document face has; others are left out.
        size: height of the em, in the unit wanted.
        weight: 400 or 700.

    Returns:
        The path from x = 0 on the baseline y = 0, and its advance width, both in that unit.
    """
    face = _face(weight)
    scale, x, recorder = size / face.units_per_em, 0.0, Recorder()
    for character in text:
        name = face.glyph_names.get(ord(character))
        if name is None:
            continue
        glyph = face.glyphs[name]
        glyph.draw(_PathPen(face.glyphs, scale, x, recorder))
        x += glyph.width * scale
    return recorder.path, x


@lru_cache(maxsize=8192)
def runs(text: str, weight: Weight = 400) -> tuple[tuple[str, bool], ...]:
    """Cut a text into runs: (text, True if the document face has it).

    A mark goes with the letter that it sits on, and blanks between two foreign words stay
    with them. A stretch of right-to-left letters is one run; so is a whole line that begins with
    them: their order is that of the line.
    """
    have = _face(weight).characters
    tidy = "".join(" " if c in "\t\r\n\u2028\u2029\u00a0" else c for c in text)
    heights = levels(tidy)
    if not any(level % 2 for level in heights):
        return _known_runs(tidy, have)
    if 0 not in heights:  # the line itself runs from right to left
        return ((tidy, False),)
    found: list[tuple[str, bool]] = []
    for turned, group in groupby(zip(tidy, heights, strict=True), key=lambda item: item[1] > 0):
        stretch = "".join(c for c, _ in group)
        if turned:
            found.append((stretch, False))
        else:
            found += _known_runs(stretch.replace(_LEFT_TO_RIGHT, ""), have)
    return tuple(found)


def _known_runs(tidy: str, have: frozenset[int]) -> tuple[tuple[str, bool], ...]:
    """Runs of a text that is written from left to right; characters that a face has."""
    known = [ord(c) in have for c in tidy]
    for i in range(len(tidy) - 1, 0, -1):
        if not known[i] and unicodedata.category(tidy[i]).startswith("M"):
            known[i - 1] = False
    last: int | None = None
    for i, character in enumerate(tidy):
        if known[i] and character not in " -'.":
            last = None
        elif not known[i]:
            if last is not None:
                known[last:i] = [False] * (i - last)
            last = i
    return tuple(
        ("".join(c for c, _ in group), key)
        for key, group in groupby(zip(tidy, known, strict=True), key=lambda item: item[1])
    )


def apart(text: str) -> str:
    """A name to stand among other words: written from right to left, it does not turn them too."""
    return f"{_LEFT_TO_RIGHT}{text}{_LEFT_TO_RIGHT}" if any(n % 2 for n in levels(text)) else text


@lru_cache(maxsize=8192)
def _ink(text: str, bold: bool) -> tuple[MultiPolygon, float]:
    """Shaped ink and advance of a run, at the one size that is kept; mm."""
    from namebatch.text import label_shape  # late: shaping is not needed for most pages

    shape, width = label_shape(text, _SHAPE_EM_MM, bold)
    return shape, width


@lru_cache(maxsize=8192)
def _ink_code(text: str, bold: bool) -> str:
    """PDF path operators of a run's ink, at the kept size in mm."""
    shape, _ = _ink(text, bold)
    return pdf_path(shape)


def text_width(text: str, size: float, weight: Weight = 400) -> float:
    """Advance width of a text on one line, in points."""
    width = 0.0
    for run, known in runs(text, weight):
        if known:
            width += pdfmetrics.stringWidth(run, _face(weight).name, size)
        else:
            width += _ink(run, weight == 700)[1] / _SHAPE_EM_MM * size
    return width


def draw_text(
    canvas: Any, x: float, y: float, text: str, size: float, weight: Weight = 400
) -> float:
    """Draw a text on one line in the canvas's fill colour.

    Args:
        canvas: a reportlab canvas.
        x: start of the baseline, points.
        y: height of the baseline, points.
        text: anything; line breaks and tabs show as blanks.
        size: height of the em, points.
        weight: 400 or 700.

    Returns:
        x where the text ends.
    """
    for run, known in runs(text, weight):
        if known:
            name = _face(weight).name
            canvas.setFont(name, size)
            canvas.drawString(x, y, run)
            x += pdfmetrics.stringWidth(run, name, size)
        else:
            x += _draw_ink(canvas, x, y, run, size, weight == 700)
    return x


def _draw_ink(canvas: Any, x: float, y: float, run: str, size: float, bold: bool) -> float:
    """Draw a run as outlines and give its advance."""
    from reportlab.pdfgen.pathobject import PDFPathObject

    code = _ink_code(run, bold)
    if code:
        canvas.saveState()
        canvas.translate(x, y)
        canvas.scale(size / _SHAPE_EM_MM, size / _SHAPE_EM_MM)
        canvas.drawPath(PDFPathObject([code]), stroke=0, fill=1, fillMode=0)
        canvas.restoreState()
    return _ink(run, bold)[1] / _SHAPE_EM_MM * size


def shorten(text: str, size: float, weight: Weight, width: float) -> str:
    """The text, or as much of its beginning as fits with an ellipsis; points."""
    if len(text) < 2000 and text_width(text, size, weight) <= width:
        return text
    low, high = 0, min(len(text), 400)
    while low < high:
        middle = (low + high + 1) // 2
        if text_width(text[:middle].rstrip() + _ELLIPSIS, size, weight) <= width:
            low = middle
        else:
            high = middle - 1
    return text[:low].rstrip() + _ELLIPSIS


def wrap(text: str, size: float, weight: Weight, width: float, most: int = 12) -> tuple[str, ...]:
    """Break a text into lines no wider than `width` points.

    Words that are wider than a line are cut, at a hyphen of their own if they have one there,
    else with one put in; past `most` lines the last one ends in an ellipsis.
    """
    lines: list[str] = []
    line = ""
    for word in text[:4000].split():
        trial = f"{line} {word}" if line else word
        if text_width(trial, size, weight) <= width:
            line = trial
            continue
        if line:
            lines.append(line)
        while len(lines) <= most and text_width(word, size, weight) > width:
            head, end = _cut(word, size, weight, width)
            lines.append(word[:head] + end)
            word = word[head:]
        line = word
        if len(lines) > most:
            break
    if line:
        lines.append(line)
    if len(lines) > most:
        rest = " ".join(lines[most - 1 :])
        lines = [*lines[: most - 1], shorten(rest + _ELLIPSIS, size, weight, width)]
    return tuple(lines)


def fits_unbroken(text: str, size: float, weight: Weight, width: float, most: int) -> bool:
    """True if a text has room in so many lines, and none of its words is cut but at a hyphen."""
    parts = (part for word in text.split() for part in _HYPHENED.findall(word))
    if any(text_width(part, size, weight) > width for part in parts):
        return False
    return len(wrap(text, size, weight, width, most=most + 1)) <= most


def _cut(word: str, size: float, weight: Weight, width: float) -> tuple[int, str]:
    """How many characters of a long word go on a line, and what is put behind them."""
    head = _head(word, size, weight, width)
    own = word.rfind("-", 1, head) + 1
    if own:
        return own, ""
    if not all(c.lower() != c.upper() for c in word[head - 1 : head + 1]):
        return head, ""  # a sign, a figure, or a script that is broken without a hyphen
    room = width - text_width("-", size, weight)
    return _head(word, size, weight, room), "-"


def _head(word: str, size: float, weight: Weight, width: float) -> int:
    """How many characters of a long word fit on a line; at least one."""
    low, high = 1, min(len(word), 400)
    while low < high:
        middle = (low + high + 1) // 2
        if text_width(word[:middle], size, weight) <= width:
            low = middle
        else:
            high = middle - 1
    return low
