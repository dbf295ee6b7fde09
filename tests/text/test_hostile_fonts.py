"""Font files made to do harm: told at the opening, or the row held; never minutes or gigabytes."""

import os
from collections.abc import Callable, Sequence
from io import BytesIO
from math import cos, pi, sin
from pathlib import Path

import pytest
from fontTools.fontBuilder import FontBuilder
from fontTools.misc.psCharStrings import T2CharString
from fontTools.pens.t2CharStringPen import T2CharStringPen
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.ttLib import TTFont
from hypothesis import given, settings
from hypothesis import strategies as st

from namebatch.errors import FontError
from namebatch.finding import Finding
from namebatch.text.catalogue import load_catalogue
from namebatch.text.face import Face
from namebatch.text.fit import SetText, fit
from tests.text.conftest import text_box

LETTERS = tuple("AHabcdefghij")
Point = tuple[int, int]
BLOCK: tuple[Point, ...] = ((50, 0), (50, 650), (550, 650), (550, 0))


def font(
    contours: Sequence[Sequence[Point]] = (BLOCK,), *, upem: int = 1000, rules: str = ""
) -> bytes:
    """A TrueType font of blocks; the letter a has these contours."""
    names = [".notdef", "space", *LETTERS]
    built = FontBuilder(upem, isTTF=True)
    built.setupGlyphOrder(names)
    built.setupCharacterMap({32: "space", **{ord(letter): letter for letter in LETTERS}})
    glyphs = {}
    for name in names:
        pen = TTGlyphPen(None)
        for contour in contours if name == "a" else (BLOCK,):
            pen.moveTo(contour[0])
            for point in contour[1:]:
                pen.lineTo(point)
            pen.closePath()
        glyphs[name] = pen.glyph()
    built.setupGlyf(glyphs)
    built.setupHorizontalMetrics(dict.fromkeys(names, (700, 50)))
    built.setupHorizontalHeader(ascent=800, descent=-200)
    built.setupOS2(sTypoAscender=800, usWinAscent=800, usWinDescent=200)
    built.setupPost()
    if rules:
        built.addOpenTypeFeatures(rules)
    return saved(built.font)


def saved(made: TTFont) -> bytes:
    """A font as its file's bytes."""
    out = BytesIO()
    made.save(out)
    return out.getvalue()


def postscript(letter: bytes, *routines: bytes) -> bytes:
    """A CFF font whose letter a is this program, with these global routines."""
    names = [".notdef", *LETTERS]
    built = FontBuilder(1000, isTTF=False)
    built.setupGlyphOrder(names)
    built.setupCharacterMap({ord(name): name for name in LETTERS})
    glyphs = {}
    for name in names:
        pen = T2CharStringPen(600, None)
        pen.moveTo(BLOCK[0])
        for point in BLOCK[1:]:
            pen.lineTo(point)
        pen.closePath()
        glyphs[name] = pen.getCharString()
    built.setupCFF("Blocks", {}, glyphs, {})
    built.setupHorizontalMetrics(dict.fromkeys(names, (700, 50)))
    built.setupHorizontalHeader(ascent=800, descent=-200)
    built.setupOS2()
    built.setupPost()
    made = TTFont(BytesIO(saved(built.font)), recalcBBoxes=False)
    table = made["CFF "].cff
    drawn = table.topDictIndex[0].CharStrings["a"]
    drawn.program, drawn.bytecode = None, letter
    for routine in routines:
        table.GlobalSubrs.append(T2CharString(bytecode=routine))
    return saved(made)


def with_table(data: bytes, tag: bytes, change: Callable[[bytes], bytes]) -> bytes:
    """A font one of whose tables has other bytes, as many as before."""
    count = int.from_bytes(data[4:6], "big")
    for at in range(12, 12 + 16 * count, 16):
        if data[at : at + 4] == tag:
            start, size = (int.from_bytes(data[at + i : at + i + 4], "big") for i in (8, 12))
            body = change(data[start : start + size])[:size].ljust(size, b"\0")
            return data[:start] + body + data[start + size :]
    raise KeyError(tag)


def opened(folder: Path, data: bytes) -> Face:
    """A face of these bytes."""
    path = folder / "hostile.ttf"
    path.write_bytes(data)
    return Face("Hostile", path)


def star(count: int) -> tuple[Point, ...]:
    """A star of so many corners whose sides all cross each other."""
    turn = pi * (count - 1) / count
    return tuple((round(9e3 * cos(i * turn)), round(9e3 * sin(i * turn))) for i in range(count))


def circle(count: int) -> tuple[Point, ...]:
    """A ring of so many points."""
    turn = 2 * pi / count
    return tuple((round(9e3 * cos(i * turn)), round(9e3 * sin(i * turn))) for i in range(count))


INTRICATE: dict[str, Callable[[], bytes]] = {
    "points": lambda: font([circle(31_000)]),
    "contours": lambda: font(
        [[(x, y), (x, y + 9), (x + 9, y)] for x in range(0, 990, 30) for y in range(0, 990, 30)]
    ),
    "crossings": lambda: font([star(601)]),
    "one on the other": lambda: font([BLOCK] * 300),
}


@pytest.mark.parametrize("kind", INTRICATE)
def test_letters_too_intricate(tmp_path: Path, kind: str) -> None:
    """A letter of thousands of parts or crossings holds its row; others of the face are set."""
    face = opened(tmp_path, INTRICATE[kind]())
    held = fit("bad", [face], text_box())
    assert isinstance(held, Finding)
    assert held.code == "no-glyph"
    assert '"bad" cannot be set. The typeface "Hostile" cannot be used: its glyph' in held.message
    assert "too many points, parts or crossings" in held.message
    assert isinstance(fit("Hide", [face], text_box()), SetText)


def test_letters_far_larger_than_the_em(tmp_path: Path) -> None:
    """A glyph that reaches fifty ems away is none."""
    far = ((0, 0), (0, 30_000), (30_000, 30_000), (30_000, 0))
    held = fit("bad", [opened(tmp_path, font([far], upem=500))], text_box())
    assert isinstance(held, Finding)
    assert "more than 50 times as large as its em" in held.message


def test_an_ornate_letter_is_set(tmp_path: Path) -> None:
    """Thousands of points and hundreds of crossings are no more than ornate."""
    face = opened(tmp_path, font([circle(8_000), star(61)]))
    shape = face.glyph_shape(face.shape("a").glyphs[0].gid, 1.0)
    assert shape.area == pytest.approx(pi * 9e3**2, rel=1e-3)


def test_rules_that_never_end(tmp_path: Path) -> None:
    """Substitutions that make ever more glyphs of one hold the row."""
    rules = "".join(f"lookup L{i} {{ sub a by {'a ' * 12}; }} L{i};\n" for i in range(30))
    uses = "".join(f"lookup L{i};" for i in range(30))
    face = opened(tmp_path, font(rules=f"{rules} feature ccmp {{ {uses} }} ccmp;"))
    held = fit("bad", [face], text_box())
    assert isinstance(held, Finding)
    assert "its rules put ever more glyphs in the place of one" in held.message


def test_a_routine_that_calls_itself(tmp_path: Path) -> None:
    """Endless recursion in a CFF font ends, and the letter has no ink or is held."""
    face = opened(tmp_path, postscript(bytes([32, 29, 14]), bytes([32, 29, 11])))
    assert isinstance(fit("a", [face], text_box()), Finding)


def test_routines_that_multiply(tmp_path: Path) -> None:
    """Eight routines that each call the next twenty times draw no billions of lines."""
    calls = (bytes([33 + i, 29] * 20 + [11]) for i in range(8))
    data = postscript(
        bytes([139, 139, 21, 32, 29, 14]), *calls, bytes([149, 149, 5, 129, 139, 5, 11])
    )
    assert isinstance(fit("a", [opened(tmp_path, data)], text_box()), Finding)


@pytest.mark.parametrize(
    ("tag", "start", "value", "told"),
    [
        (b"head", 18, b"\0\0", "its units per em are 0; 16 to 16384"),
        (b"head", 18, b"\0\x0f", "its units per em are 15; 16 to 16384"),
        (b"head", 18, b"\x40\x01", "its units per em are 16385; 16 to 16384"),
        (b"maxp", 4, b"\0\0", "it has no characters"),
        (b"cmap", 0, b"\xff" * 999, "it has no characters"),
    ],
)
def test_broken_at_the_opening(
    tmp_path: Path, tag: bytes, start: int, value: bytes, told: str
) -> None:
    """What makes the whole face useless is told when it is opened."""
    data = with_table(font(), tag, lambda t: t[:start] + value + t[start + len(value) :])
    with pytest.raises(FontError, match=f'"Hostile" cannot be used: {told}'):
        opened(tmp_path, data)


@pytest.mark.parametrize("data", [b"", b"\0\1\0\0", b"ttcf\0\1\0\0\0\0\0\1\0\0\0\0", b"wOFF1234"])
def test_no_font_at_all(tmp_path: Path, data: bytes) -> None:
    """Empty files, collections that hold themselves and web fonts are refused."""
    with pytest.raises(FontError, match=r"cannot be used: .*\(hostile\.ttf\)\. Take another file"):
        opened(tmp_path, data)


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no named pipes")
def test_pipes_and_devices_are_no_typefaces(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Nothing but files counts in fonts/; opened all the same, they are refused at once."""
    (tmp_path / "fonts").mkdir()
    os.mkfifo(tmp_path / "fonts" / "pipe.ttf")
    (tmp_path / "fonts" / "zero.ttf").symlink_to("/dev/zero")
    (tmp_path / "fonts" / "own.ttf").write_bytes(font())
    monkeypatch.chdir(tmp_path)
    names = {info.name for info in load_catalogue().infos}
    assert "own" in names
    assert not names & {"pipe", "zero"}
    for name in ("pipe.ttf", "zero.ttf"):
        with pytest.raises(FontError, match="it is a pipe or a device, not a file"):
            Face(name, tmp_path / "fonts" / name)


GOOD = {"TrueType": font(), "CFF": postscript(bytes([139, 139, 21, 149, 149, 5, 129, 139, 5, 14]))}


@settings(max_examples=80)
@given(
    kind=st.sampled_from(sorted(GOOD)),
    flips=st.lists(st.tuples(st.integers(0, 9_000), st.integers(0, 255)), max_size=6),
    cut=st.one_of(st.just(0), st.integers(0, 2_000)),
    words=st.lists(
        st.tuples(st.integers(0, 4_000), st.sampled_from([0, 1, 0x7FFF, 0x8000, 0xFFFF])),
        max_size=3,
    ),
)
def test_damage(
    tmp_path_factory: pytest.TempPathFactory,
    kind: str,
    flips: list[tuple[int, int]],
    cut: int,
    words: list[tuple[int, int]],
) -> None:
    """Bytes and lengths gone wrong anywhere: a set text, a held row or a FontError."""
    data = bytearray(GOOD[kind])
    for where, value in flips:
        data[where % len(data)] = value
    for where, word in words:
        at = 2 * where % (len(data) - 2)
        data[at : at + 2] = word.to_bytes(2, "big")
    data = data[: len(data) - cut % len(data)]
    try:
        face = opened(tmp_path_factory.mktemp("f"), bytes(data))
    except FontError:
        return
    for text in ("bad", "A ij"):
        assert isinstance(fit(text, [face], text_box()), Finding | SetText)
