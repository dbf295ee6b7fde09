"""A typeface at one setting of its axes: shaping and glyph outlines, in font units."""

import unicodedata
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from hashlib import sha256
from pathlib import Path

import shapely
import uharfbuzz as hb
from shapely import MultiPolygon

from namebatch.curves import Sink
from namebatch.errors import FontError
from namebatch.ordinary import open_ordinary
from namebatch.text.glyphs import GlyphFlattener, TooIntricate, polygons_of, without_specks
from namebatch.text.languages import likely_language
from namebatch.text.runs import NEUTRAL, Item, items_of

FILE_LIMIT = 64 * 2**20
UNITS_PER_EM = (16, 16384)  # OpenType `head`
MOST_EMS = 50
"""How far a glyph may reach; the longest swashes take ten."""
CAPITALS = 0.714
"""Height of capitals in ems of the Noto family, which covers most scripts (read in the file)."""
SPACED_SCRIPTS = frozenset({"Latn", "Cyrl", "Grek", "Hebr", "Armn", "Geor", "Zyyy", "Zinh"})
"""Scripts whose letters may be spaced out; the others join or stack."""


@dataclass(frozen=True, slots=True)
class Glyph:
    """One placed glyph, in font units.

    Attributes:
        gid: glyph id in the font.
        x, y: its origin, from the start of the line and the baseline.
        cluster: index of the first character that it stands for.
    """

    gid: int
    x: float
    y: float
    cluster: int


@dataclass(frozen=True, slots=True)
class GlyphRun:
    """A shaped text, in font units.

    Attributes:
        glyphs: in visual order, left to right.
        advance: its width.
        missing: characters that the font cannot set, in text order, each once.
    """

    glyphs: tuple[Glyph, ...]
    advance: float
    missing: tuple[str, ...]


class Face:
    """A font file at fixed axes. Not picklable: workers open their own.

    Args:
        name: as catalogue and template call it.
        path: TTF or OTF.
        axes: variable-font axes, for example ``{"wght": 700}``.
        helps_out: it sets only what the other faces of a chain lack.

    Raises:
        FontError: the file is missing, too large or not a usable font.
    """

    def __init__(
        self,
        name: str,
        path: Path,
        axes: Mapping[str, float] | None = None,
        helps_out: bool = False,
    ) -> None:
        self.name = name
        self.path = path
        self.axes = dict(axes or {})
        self.helps_out = helps_out
        data = _read(name, path)
        self.digest = sha256(data).hexdigest()
        self._hb_face = hb.Face(hb.Blob(data))
        self.units_per_em = int(self._hb_face.upem)
        head = self._hb_face.reference_table("head").data
        stated = int.from_bytes(head[18:20], "big") if len(head) >= 54 else 0
        if not self._hb_face.glyph_count or not self._hb_face.unicodes:
            raise FontError(_broken(name, path, "it has no characters"))
        if not UNITS_PER_EM[0] <= stated <= UNITS_PER_EM[1]:
            raise FontError(
                _broken(name, path, f"its units per em are {stated}; 16 to 16384 are possible")
            )
        self._font = hb.Font(self._hb_face)
        _check_axes(name, path, self.axes, self._hb_face)
        if self.axes:
            self._font.set_variations(self.axes)
        self._pens = _draw_functions()
        self._shapes: dict[tuple[int, float], MultiPolygon] = {}
        self._masses: dict[int, tuple[float, float]] = {}
        self.cap_height = self._measure_cap_height()

    def shape(self, text: str, tracking: float = 0.0, language: str = "") -> GlyphRun:
        """Set one line of text in this face alone.

        Every stretch is shaped as its script asks and set in visual order (UAX #9); kerning
        and ligatures are on.

        Args:
            text: any Unicode text, NFC.
            tracking: extra space after each letter, as a share of the capitals' height;
                ignored in scripts that join or stack. Ligatures are off where it applies.
            language: BCP 47 tag; the likely one of each script if empty.
        """
        glyphs: list[Glyph] = []
        x = 0.0
        items = items_of(text)
        for index, item in enumerate(items):
            run = self.shape_item(text, item, tracking, language)
            glyphs += (
                [Glyph(g.gid, g.x + x, g.y, g.cluster) for g in run.glyphs] if x else run.glyphs
            )
            x += run.advance + (self.space_after(item, tracking) if index + 1 < len(items) else 0.0)
        return GlyphRun(tuple(glyphs), x, _missing(text, len(text), glyphs))

    def space_after(self, item: Item, tracking: float) -> float:
        """Extra space behind each letter of a stretch, in font units."""
        return tracking * self.cap_height if item.script in SPACED_SCRIPTS else 0.0

    def shape_item(
        self, text: str, item: Item, tracking: float = 0.0, language: str = ""
    ) -> GlyphRun:
        """Shape one stretch of a line from x = 0; what stands round it shapes its joins.

        Args:
            text: the whole line.
            item: the stretch; clusters of the glyphs count from the start of the line.
            tracking: as `shape`; none follows the last letter.
            language: as `shape`.
        """
        return _shaped(self, text, item, tracking, language)

    def _shape_item(self, text: str, item: Item, tracking: float, language: str) -> GlyphRun:
        extra = self.space_after(item, tracking)
        buffer = hb.Buffer()
        codes = [ord(character) for character in text]
        buffer.add_codepoints(codes, item.start, item.end - item.start)
        buffer.guess_segment_properties()
        if item.script not in NEUTRAL:
            buffer.script = item.script
        buffer.direction = "rtl" if item.right_to_left else "ltr"
        # HarfBuzz would take the language from this machine's locale: the same list must
        # give the same piece everywhere.
        buffer.language = likely_language(item.script, text, language)
        try:
            hb.shape(self._font, buffer, {"liga": False, "clig": False} if extra else {})
        except MemoryError:
            why = "its rules put ever more glyphs in the place of one"
            raise FontError(_broken(self.name, self.path, why)) from None
        glyphs: list[Glyph] = []
        x = 0.0
        infos = buffer.glyph_infos
        for index, (info, at) in enumerate(zip(infos, buffer.glyph_positions, strict=True)):
            glyphs.append(Glyph(info.codepoint, x + at.x_offset, at.y_offset, info.cluster))
            x += at.x_advance
            ends = index + 1 < len(infos) and infos[index + 1].cluster != info.cluster
            x += extra if ends else 0.0
        return GlyphRun(tuple(glyphs), x, _missing(text, item.end, glyphs))

    def draw(self, gid: int, sink: Sink) -> None:
        """Draw a glyph's outline, in font units, into any sink."""
        self._font.draw_glyph(gid, self._pens, sink)

    def glyph_shape(self, gid: int, tolerance: float) -> MultiPolygon:
        """A glyph as polygons, chords within `tolerance` font units of the curve; cached.

        Raises:
            FontError: the glyph is damaged, or too intricate for any letter.
        """
        key = (gid, tolerance)
        shape = self._shapes.get(key)
        if shape is None:
            filled = self._filled(gid, tolerance)
            shape = self._shapes[key] = without_specks(filled, (self.units_per_em / 100) ** 2)
        return shape

    def _filled(self, gid: int, tolerance: float) -> MultiPolygon:
        """A glyph as polygons, specks included."""
        flattener = GlyphFlattener(tolerance)
        self.draw(gid, flattener)
        rings = flattener.finish()
        far = MOST_EMS * self.units_per_em
        if any(max(map(abs, point)) > far for ring in rings for point in ring):
            why = f"its glyph {gid} is more than {MOST_EMS} times as large as its em"
            raise FontError(_broken(self.name, self.path, why))
        try:
            if not flattener.full:
                return polygons_of(rings)
        except TooIntricate:
            pass
        except (shapely.GEOSException, ValueError) as error:
            why = f"the shape of its glyph {gid} makes no sense"
            raise FontError(_broken(self.name, self.path, why)) from error
        why = f"its glyph {gid} is drawn with too many points, parts or crossings to be worked on"
        raise FontError(_broken(self.name, self.path, why))

    def mass(self, gid: int) -> tuple[float, float]:
        """Area of a glyph and x of its centre of mass, in font units; roughly, cached."""
        found = self._masses.get(gid)
        if found is None:
            shape = self.glyph_shape(gid, self.units_per_em / 500)
            found = (shape.area, shape.centroid.x) if not shape.is_empty else (0.0, 0.0)
            self._masses[gid] = found
        return found

    def width(self, gid: int) -> float:
        """How wide a glyph's ink is, in font units; roughly. 0 without ink."""
        shape = self.glyph_shape(gid, self.units_per_em / 500)
        return 0.0 if shape.is_empty else float(shape.bounds[2] - shape.bounds[0])

    def axis(self, tag: str) -> tuple[float, float, float] | None:
        """Least, greatest and default value of a variation axis; None without it."""
        axis = next((axis for axis in self._hb_face.axis_infos if axis.tag == tag), None)
        return (axis.min_value, axis.max_value, axis.default_value) if axis else None

    @property
    def line(self) -> tuple[float, float]:
        """From where to where a line reaches, as the face states it; in font units."""
        stated = self._font.get_font_extents("ltr")
        return float(stated.descender), float(stated.ascender)

    def can_set(self, text: str) -> bool:
        """True if the face has every character of the text."""
        return not self.shape(text).missing

    def circled(self, text: str, item: Item) -> tuple[int, ...]:
        """Where shaping a stretch inserts dotted circles: indices of clusters, in text order."""
        gid = self._font.get_nominal_glyph(ord("\u25cc"))
        glyphs = self.shape_item(text, item).glyphs if gid else ()
        return tuple(sorted({glyph.cluster for glyph in glyphs if glyph.gid == gid}))

    def has_circle(self, text: str) -> bool:
        """True if setting a text inserts a dotted circle."""
        return any(self.circled(text, item) for item in items_of(text))

    def _measure_cap_height(self) -> float:
        """Height of a capital H as drawn, else of the capitals that the face is drawn to go with.

        Faces of scripts without capitals state the height of their own letters, which differs;
        at one size of the em they stand well beside capitals of `CAPITALS`.
        """
        gid = self._font.get_nominal_glyph(ord("H"))
        if gid:
            bounds = self.glyph_shape(gid, self.units_per_em / 2000).bounds
            if bounds[3] > 0:
                return float(bounds[3])
        return CAPITALS * self.units_per_em


def _read(name: str, path: Path) -> bytes:
    try:
        with open_ordinary(path) as file:
            data = file.read(FILE_LIMIT + 1)
    except (OSError, ValueError) as error:
        why = getattr(error, "strerror", None) or "its name cannot be used"
        raise FontError(
            f'The file of the typeface "{name}" cannot be read ({path.name}: {why}). '
            "Install its font package or put the file into fonts/."
        ) from error
    if len(data) > FILE_LIMIT:
        raise FontError(_broken(name, path, f"it is larger than {FILE_LIMIT // 2**20} MiB"))
    if data[:4] not in (b"\0\1\0\0", b"OTTO", b"true", b"ttcf"):
        raise FontError(_broken(name, path, "it is neither a TTF nor an OTF file"))
    return data


def _check_axes(name: str, path: Path, axes: Mapping[str, float], face: hb.Face) -> None:
    """An axis that the font lacks, or a value beyond its ends, would change nothing unseen."""
    there = {axis.tag: axis for axis in face.axis_infos}
    for tag, value in axes.items():
        axis = there.get(tag)
        if axis is None:
            has = ", ".join(there) or "none"
            raise FontError(_broken(name, path, f"it has no axis {tag} (its axes: {has})"))
        if not axis.min_value <= value <= axis.max_value:
            raise FontError(
                _broken(
                    name,
                    path,
                    f"{tag} = {value:g} is outside {axis.min_value:g} to {axis.max_value:g}",
                )
            )


def _broken(name: str, path: Path, why: str) -> str:
    return f'The typeface "{name}" cannot be used: {why} ({path.name}). Take another file.'


@lru_cache(maxsize=64)
def _shaped(face: Face, text: str, item: Item, tracking: float, language: str) -> GlyphRun:
    """The last stretches are kept: whether a face can set a text is asked before it sets it."""
    return face._shape_item(text, item, tracking, language)


def _missing(text: str, end: int, glyphs: Sequence[Glyph]) -> tuple[str, ...]:
    """Characters of the clusters in which a glyph is .notdef, in a text up to `end`."""
    starts = sorted({glyph.cluster for glyph in glyphs})
    ends = dict(zip(starts, [*starts[1:], end], strict=False))
    found: dict[str, None] = {}
    for first in sorted({glyph.cluster for glyph in glyphs if glyph.gid == 0}):
        for character in text[first : ends[first]]:
            if unicodedata.category(character) != "Cf":
                found.setdefault(character)
    return tuple(found)


@lru_cache(maxsize=1)
def _draw_functions() -> hb.DrawFuncs:
    """HarfBuzz's drawing callbacks, passed on to a `Sink`."""
    functions = hb.DrawFuncs()
    functions.set_move_to_func(lambda x, y, sink: sink.move(x, y))
    functions.set_line_to_func(lambda x, y, sink: sink.line(x, y))
    functions.set_quadratic_to_func(lambda a, b, x, y, sink: sink.quad(a, b, x, y))
    functions.set_cubic_to_func(lambda a, b, c, d, x, y, sink: sink.cubic(a, b, c, d, x, y))
    functions.set_close_path_func(lambda sink: sink.close())
    return functions
